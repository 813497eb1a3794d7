// Delivers the envelopes that wait here: one after the other, in the order in which they were sealed, each until the
// server has said what became of it. One that was sent twice, because a reply was lost, is the same envelope to the server.

import { all, change, put } from "./kept.js";
import { heard } from "./seal.js";

/**
 * @param csrf the secret of whoever is here now, who need not be the one whose they are
 * @returns how many wait still
 */
export async function deliver(csrf) {
  await navigator.locks.request("ferrule deliver", async () => {
    const stuck = new Set(); // devices of which one had to wait: what was sealed on them later waits too
    for (const envelope of await all("queue")) {
      if (!stuck.has(envelope.device) && !(await bring(envelope, csrf))) {
        stuck.add(envelope.device);
      }
    }
  });
  return (await all("queue")).length;
}

async function bring(envelope, csrf) {
  const form = new FormData();
  form.set("csrf", csrf);
  for (const name of ["id", "device", "seq", "kind", "key", "iv"]) {
    form.set(name, envelope[name]);
  }
  form.set("sealed", envelope.sealed, "sealed");
  let answer;
  try {
    answer = await fetch("/device/envelopes", {
      method: "POST", headers: { "X-CSRF-Token": csrf }, body: form, redirect: "error", signal: AbortSignal.timeout(60000),
    });
  } catch {
    return false; // no network: it waits
  }
  if (answer.status === 404) {
    await put("queue", { ...envelope, refused: "It was made for another programme: go over to that one." });
    return false;
  }
  if (!answer.ok) {
    return false;
  }
  const receipt = await answer.json();
  if (receipt.state === "again") {
    await put("queue", { ...envelope, refused: receipt.words });
    return false;
  }
  await change(["queue", "arrived"], ({ queue, arrived }) => {
    queue.delete(envelope.n);
    if (receipt.state !== "kept" || envelope.label) {
      arrived.add({ person: envelope.person, kind: envelope.kind, state: receipt.state, words: receipt.words, link: receipt.link });
    }
  });
  await heard(receipt.now);
  return true;
}
