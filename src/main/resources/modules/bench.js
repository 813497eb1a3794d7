// Grading on the device: drafts and tasks as they are kept here, what was entered judged, and signing into the queue.

import { all, change, changeDraft, changeMe, get, me } from "./kept.js";
import { grading, outcome, summary, wanting } from "./judge.js";
import { enqueue, heard, time } from "./seal.js";
import { csrf, deliverAll, here, saidOf, sealDrafts } from "./device.js";

export { csrf, deliverAll, here };

const NONE = { cautionsConfirmed: false, levels: {}, readings: {}, lowers: {}, uppers: {}, note: "", reason: "" };
const LONGEST_SIDE = 1600;

/** Keeps what the server sent: tasks, drafts, and whom and what to choose from. A draft that is ahead here stays. */
export async function keepMaterial(material) {
  const there = new Map((await all("drafts")).map((d) => [d.id, d]));
  await change(["tasks", "drafts"], ({ tasks, drafts }) => {
    for (const task of material.tasks) {
      tasks.put({ ...task, edition: material.edition, restsWith: material.restsWith });
    }
    for (const draft of material.drafts) {
      if (!there.get(draft.id)?.dirty) {
        drafts.put({ ...draft, photos: [], dirty: false });
      }
    }
  });
  await changeMe((own) => ({
    name: material.person.name,
    tags: material.tags,
    knownAt: material.now,
    apprentices: [...new Map([...(own.apprentices ?? []), ...material.apprentices].map((a) => [a.id, a])).values()],
    taken: [...new Set([...(own.taken ?? []), ...(material.signsUntil ? material.tasks.map((t) => t.id) : [])])],
    ...(material.signsUntil && { signsUntil: material.signsUntil, signsUntilWords: material.signsUntilWords }),
  }));
  await heard(material.now);
}

/** Asks the server for what a draft needs and keeps it; undefined if this cannot be done here or now. */
export async function fetchDraft(id) {
  const own = await here();
  if (!own) {
    return undefined;
  }
  const answer = await fetch("/bench/along/material", {
    method: "POST", headers: { "X-CSRF-Token": csrf() }, body: new URLSearchParams({ draft: id }), redirect: "error",
  });
  if (answer.ok) {
    await keepMaterial(await answer.json());
  }
  return get("drafts", id);
}

/**
 * Sends what was entered here while there was no network; true if the server had something else until now.
 *
 * @param shown gives what the server has
 */
export async function catchUp(id, shown) {
  const own = await here();
  const draft = own && (await get("drafts", id));
  if (!draft?.dirty) {
    return false;
  }
  if (!draft.photos.length && same(shown(draft.entries), draft.entries)) {
    await changeDraft(id, () => ({ dirty: false }));
    return false;
  }
  await sealDrafts(own);
  return deliverAll();
}

function same(a, b) {
  const sorted = (value) => (value && typeof value === "object"
    ? Object.fromEntries(Object.keys(value).sort().map((k) => [k, sorted(value[k])])) : value);
  return JSON.stringify(sorted(a)) === JSON.stringify(sorted(b));
}

/** What a form holds, as a draft's entries. */
export function entriesOf(form, before) {
  const entries = { ...structuredClone(NONE), cautionsConfirmed: before.cautionsConfirmed, note: "", reason: "" };
  for (const [name, value] of new FormData(form)) {
    const [, field, id] = /^(level|reading|lower|upper)\.(.+)$/.exec(name) ?? [];
    const typed = String(value).replaceAll("\r\n", "\n").trim();
    if (field === "level") {
      entries.levels[id] = Number(typed);
    } else if (field) {
      if (typed) {
        entries[`${field}s`][id] = typed;
      }
    } else if (name === "note" || name === "reason") {
      entries[name] = typed;
    }
  }
  return entries;
}

/** The same with every rating that is still open at the lowest level that passes. */
export function restAsExpected(task, entries) {
  const levels = { ...entries.levels };
  task.criteria.filter((c) => !c.measured).forEach((c) => { levels[c.id] ??= c.pass; });
  return { ...entries, levels };
}

export const keepEntries = (id, entries) => changeDraft(id, () => ({ entries, dirty: true, touchedAt: Date.now() }));

/** Notes that the server has what was entered. */
export const synced = (id, entries, base) => changeDraft(id, () => ({ entries, base, dirty: false }));

export async function addPhoto(id, file) {
  const photo = await smaller(file);
  await changeDraft(id, (draft) => ({ photos: [...draft.photos, photo].slice(0, 6), dirty: true }));
}

export const removePhoto = (id, index) =>
  changeDraft(id, (draft) => ({ photos: draft.photos.filter((p, i) => i !== index), dirty: true }));

async function smaller(file) {
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, LONGEST_SIDE / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", 0.9));
}

/** A draft with its task, judged; undefined if it is not kept here. */
export async function look(id) {
  const draft = await get("drafts", id);
  const task = draft && (await get("tasks", draft.task));
  if (!task) {
    return undefined;
  }
  const lines = grading(task, draft.entries);
  return {
    draft, task, lines, summary: summary(task, draft, lines), wanting: wanting(task, draft, lines),
    outcome: lines.every((l) => l.found) ? outcome(task, lines) : undefined,
  };
}

/** Begins a draft on the device. */
export async function begin(task, apprentice, tag) {
  const own = await me();
  const draft = {
    id: crypto.randomUUID(), apprentice: apprentice.id, apprenticeName: apprentice.name, task: task.id, tag, corrects: "",
    knownAt: own.knownAt, base: "", herePhotos: [], photos: [], dirty: true, touchedAt: Date.now(),
    entries: { ...structuredClone(NONE), lowers: task.lowers, uppers: task.uppers },
  };
  await change(["drafts"], ({ drafts }) => drafts.put(draft));
  return draft;
}

export const putAside = (id) => change(["drafts"], ({ drafts }) => drafts.delete(id));

/** Why nobody can sign here now, in a sentence; empty if they can. */
export function whyNotSigned(own, task) {
  if (task.outside) {
    return task.outside;
  }
  if (!own.signsUntil) {
    return "You have not taken this device along: signing without a network asks for your PIN beforehand, where there is one. "
      + "What you entered is kept here and sent when the network is back; sign then.";
  }
  return time(own) > own.signsUntil
    ? "The time is over for which you had taken this device along. What you entered is kept here and sent when the network is back; sign then."
    : "";
}

/** Signs a draft into the queue: the PIN is sealed with it and kept nowhere. */
export async function sign({ draft, task, lines, outcome: result }, pin) {
  const own = await me();
  const states = Object.fromEntries(lines.map((l) => [l.criterion.id, l.state]));
  await enqueue(
    "grade", saidOf(own, draft, task, { shown: { standing: result.standing, states } }),
    `${draft.apprenticeName}, ${task.title}, instrument ${draft.tag}`,
    { pin, photos: draft.photos }, ({ drafts }) => drafts.delete(draft.id),
  );
}
