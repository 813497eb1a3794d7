// Signs what is made here with this browser's own key, which cannot be taken out of it, and seals it to the server's: what
// is sealed can be read by the school's server alone, by nobody who holds this device. See ferrule.device.Envelope.

import { change, changeMe, me, putMe } from "./kept.js";

const CURVE = { name: "ECDSA", namedCurve: "P-256" };
const bytes = (words) => new TextEncoder().encode(words);

function base64(buffer) {
  let text = "";
  for (const byte of new Uint8Array(buffer)) {
    text += String.fromCharCode(byte);
  }
  return btoa(text);
}

const fromBase64 = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0));

/** Whether this browser can do it: by https or on this machine itself. */
export const possible = () => isSecureContext && "indexedDB" in globalThis && "locks" in navigator && !!crypto.subtle;

/** The time by the server's clock, as far as this device's went evenly since they last spoke. */
export const time = (own) => new Date(Date.now() + own.offset).toISOString();

/** Notes what time it is at the server. */
export const heard = (now) => changeMe(() => ({ offset: Date.parse(now) - Date.now(), heardAt: now }));

/** Makes this browser known to the server as this person's; once. */
export async function known(person, csrf) {
  return navigator.locks.request("ferrule known", async () => {
    const there = await me();
    if (there) {
      return there.person === person ? there : undefined;
    }
    const pair = await crypto.subtle.generateKey(CURVE, false, ["sign", "verify"]);
    const answer = await fetch("/device", {
      method: "POST",
      headers: { "X-CSRF-Token": csrf },
      body: new URLSearchParams({ verifyKey: base64(await crypto.subtle.exportKey("spki", pair.publicKey)) }),
      redirect: "error",
    });
    if (!answer.ok) {
      throw new Error(`the device was not made known: ${answer.status}`);
    }
    const { id, sealKey, now } = await answer.json();
    await putMe({
      person, device: id, csrf, sealKey, signKey: pair.privateKey, seq: 0, offset: Date.parse(now) - Date.now(), heardAt: now,
    });
    return me();
  });
}

async function sealed(own, outside, content) {
  const to = await crypto.subtle.importKey("spki", fromBase64(own.sealKey), { name: "ECDH", namedCurve: "P-256" }, false, []);
  const once = await crypto.subtle.generateKey({ name: "ECDH", namedCurve: "P-256" }, false, ["deriveBits"]);
  const shared = await crypto.subtle.deriveBits({ name: "ECDH", public: to }, once.privateKey, 256);
  const key = await crypto.subtle.deriveKey(
    { name: "HKDF", hash: "SHA-256", salt: new Uint8Array(), info: bytes("ferrule envelope") },
    await crypto.subtle.importKey("raw", shared, "HKDF", false, ["deriveKey"]),
    { name: "AES-GCM", length: 256 }, false, ["encrypt"],
  );
  const iv = crypto.getRandomValues(new Uint8Array(12));
  const cipher = await crypto.subtle.encrypt(
    { name: "AES-GCM", iv, additionalData: bytes(outside) }, key, bytes(JSON.stringify(content)),
  );
  return { key: base64(await crypto.subtle.exportKey("spki", once.publicKey)), iv: base64(iv), sealed: new Blob([cipher]) };
}

/**
 * Signs and seals something, and puts it into the queue.
 *
 * @param kind what it is, such as "grade"
 * @param said what is signed
 * @param label words for its owner, for as long as they are signed in here
 * @param extra {pin, photos: [Blob]}
 * @param also changes that are kept together with it: (stores) => ..., of drafts and drills
 */
export async function enqueue(kind, said, label, extra = {}, also = () => {}) {
  await navigator.locks.request("ferrule seal", async () => {
    const own = await me();
    if (!own) {
      throw new Error("nobody is at this device");
    }
    const id = crypto.randomUUID();
    const seq = own.seq + 1;
    const statement = JSON.stringify({ ...said, id, device: own.device, kind, seq });
    const signature = await crypto.subtle.sign({ name: "ECDSA", hash: "SHA-256" }, own.signKey, bytes(statement));
    const photos = await Promise.all((extra.photos ?? []).map(async (p) => base64(await p.arrayBuffer())));
    const envelope = await sealed(
      own, `${own.device}|${id}|${seq}|${kind}`,
      { statement, signature: base64(signature), pin: extra.pin ?? "", photos },
    );
    await change(["me", "queue", "drafts", "drills"], (stores) => {
      const request = stores.me.get("me");
      request.onsuccess = () => stores.me.put({ ...request.result, seq }, "me");
      stores.queue.add({ id, device: own.device, seq, kind, person: own.person, label, ...envelope });
      also(stores);
    });
  });
}
