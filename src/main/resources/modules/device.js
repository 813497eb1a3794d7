// On every page: looks after what is kept on this device. Whoever is signed in sees only what is theirs; what another left
// is sealed at once and the rest removed; envelopes that wait are delivered; signing out leaves nothing to read.

import { all, change, changeMe, forget, get, me } from "./kept.js";
import { deliver } from "./deliver.js";
import { enqueue, known, possible, time } from "./seal.js";

const STATE = "ferrule-state";
const SIGNED_OUT = "/signed-out-here";
const ANSWER = "answer ";

export const person = document.querySelector("meta[name=person]")?.content ?? "";
export const csrf = () => document.querySelector("input[name=csrf]")?.value ?? "";

/** This browser as this person's, made known to the server if it was not; undefined where that is not possible. */
export async function here() {
  await ready;
  return possible() && person ? known(person, csrf()) : undefined;
}

/** What a draft says when it is sealed. */
export function saidOf(own, draft, task, extra = {}) {
  return {
    draft: draft.id, apprentice: draft.apprentice, apprenticeName: draft.apprenticeName, task: draft.task, tag: draft.tag,
    corrects: draft.corrects, knownAt: draft.knownAt, base: draft.base, entries: draft.entries, herePhotos: draft.herePhotos,
    edition: task?.edition ?? "", criteriaAre: task?.criteriaAre ?? "", signedAt: time(own), ...extra,
  };
}

/** Seals what was entered here and is not at the server yet. */
export async function sealDrafts(own) {
  for (const draft of await all("drafts")) {
    if (draft.dirty) {
      const task = await get("tasks", draft.task);
      await enqueue(
        "draft", saidOf(own, draft, task), `${draft.apprenticeName}, ${task?.title ?? draft.task}: a draft`,
        { photos: draft.photos }, ({ drafts }) => drafts.delete(draft.id),
      );
    }
  }
}

async function sealAnswers(own) {
  for (const key of Object.keys(localStorage).filter((k) => k.startsWith(ANSWER))) {
    const [, sitting, position] = /\/drill\/([^/]+)\/(\d+)/.exec(key) ?? [];
    if (sitting) {
      const fields = JSON.parse(localStorage.getItem(key));
      await enqueue("answer", { sitting, position: Number(position), fields, answeredAt: time(own) }, "");
    }
    localStorage.removeItem(key);
  }
}

/** Leaves nothing on this device that anybody could read. */
export async function leave() {
  const own = await me();
  if (own) {
    await sealDrafts(own);
    await sealAnswers(own);
  }
  await forget();
}

const HELD_FOR = 12 * 3600 * 1000; // as long as a session lives without use

/** Removes what is kept when its time is over, also where no server says so. */
export async function leaveIfOver() {
  const own = await me();
  if (own && Date.parse(time(own)) > Date.parse(own.heardAt) + HELD_FOR) {
    await leave();
    return true;
  }
  return false;
}

/** Signs out where there is no network: everything is sealed and removed, and the session is closed before any page is shown again. */
export async function signOutWithoutNetwork() {
  const secret = csrf() || (await me())?.csrf || "";
  await leave();
  await (await caches.open(STATE)).put(SIGNED_OUT, new Response(secret));
}

export const signedOutHere = async () => !!(await (await caches.open(STATE)).match(SIGNED_OUT));

// -- the strip that says what waits and what has arrived

const strip = document.querySelector("[data-waiting]");

export async function showWaiting() {
  if (!strip) {
    return;
  }
  const waiting = await all("queue");
  const arrived = (await all("arrived")).filter((a) => a.person === person);
  strip.replaceChildren();
  strip.hidden = !waiting.length && !arrived.length;
  if (waiting.length) {
    const line = document.createElement("p");
    const what = waiting.length === 1 ? "One thing that was made without a network waits" : `${waiting.length} things that were made without a network wait`;
    line.textContent = `${what} on this device to be delivered. ${waiting.find((e) => e.refused)?.refused ?? ""}`;
    strip.append(line);
  }
  for (const { words, link, state } of arrived) {
    const line = document.createElement("p");
    line.className = state === "entered" || state === "kept" ? "arrived" : "arrived held";
    line.append(`${{ entered: "Entered", kept: "Kept", held: "Not entered", late: "Too late" }[state] ?? ""}: `, words, " ");
    if (link) {
      const to = document.createElement("a");
      to.href = link;
      to.textContent = "Look at it";
      line.append(to);
    }
    strip.append(line);
  }
  if (arrived.length) {
    const seen = document.createElement("button");
    seen.type = "button";
    seen.className = "quiet";
    seen.textContent = "Seen";
    seen.addEventListener("click", async () => {
      await change(["arrived"], (stores) => arrived.forEach((a) => stores.arrived.delete(a.n)));
      showWaiting();
    });
    strip.append(seen);
  }
}

/** Delivers what waits, and says so; true if nothing waits any more. */
export async function deliverAll() {
  const before = (await all("queue")).length;
  const left = before && csrf() ? await deliver(csrf()) : before;
  await showWaiting();
  if (left < before) {
    dispatchEvent(new Event("delivered"));
  }
  return left === 0;
}

// -- signing out

function watchSignOut(form) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    form.querySelector("button").disabled = true;
    signOut(form);
  });
}

async function signOut(form) {
  try {
    const own = await me();
    await leave();
    await deliver(csrf());
    if (own) {
      await fetch("/device/end", {
        method: "POST", headers: { "X-CSRF-Token": csrf() }, body: new URLSearchParams({ device: own.device }),
        signal: AbortSignal.timeout(5000),
      });
    }
  } catch {
    // no network, which the next step tells
  }
  try {
    await fetch("/sign-out", { method: "POST", headers: { "X-CSRF-Token": csrf() }, redirect: "manual" });
    location.assign("/sign-in");
  } catch {
    await signOutWithoutNetwork();
    location.assign("/sign-in");
  }
}

// -- when a page is opened

async function begin() {
  if (!possible()) {
    return;
  }
  const own = await me();
  if (own && own.person !== person) {
    await leave();
  } else if (own) {
    // a page of this person came, so that the session lives; its secret closes it where there is no network
    await changeMe(() => ({ heardAt: time(own), csrf: csrf() }));
  }
}

/** After this nobody else's things are on the device. */
export const ready = document.querySelector("meta[name=person]") ? begin().catch(console.error) : Promise.resolve();

if (document.querySelector("meta[name=person]") && possible()) {
  document.querySelectorAll("form[data-sign-out]").forEach(watchSignOut);
  if (person && "serviceWorker" in navigator) {
    navigator.serviceWorker.register("/service-worker.js").catch(console.error);
  }
  const go = () => ready.then(deliverAll).catch(console.error);
  go();
  addEventListener("online", go);
  setInterval(go, 30000);
}
