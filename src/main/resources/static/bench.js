// Keeps the draft after every entry and shows the verdict that comes back. Without it, the form keeps on its buttons.
// Where the network is gone, what is entered is kept on this device and judged there, and the next page is shown from it.

import {
  addPhoto, catchUp, entriesOf, fetchDraft, keepEntries, look, restAsExpected, synced,
} from "/modules/bench.js";

const form = document.querySelector("form[data-keep]");
const kept = document.getElementById("kept");
const PAUSE = 350; // milliseconds without a key before what was typed is kept
const PATIENCE = 8000; // milliseconds after which an answer is taken not to come
const draft = form?.dataset.draft;

let timer = 0;
let going = Promise.resolve();
let wanted = 0;
let here; // the draft as it is kept on this device
let unsent = false; // entered while there was no connection
let pending = false; // entered and not answered yet

function show(lines, summaries) {
  for (const line of lines) {
    const verdict = document.getElementById(`verdict.${line.id}`);
    verdict.className = `verdict ${line.state}`;
    if (verdict.textContent !== line.words) {
      verdict.textContent = line.words;
    }
  }
  for (const { id, words } of summaries) {
    const summary = document.getElementById(id);
    if (summary.textContent !== words) {
      summary.textContent = words;
    }
  }
  // what the page complained of when it was loaded is not how it stands now
  document.querySelector(".problem[role=alert]")?.remove();
}

/** Keeps what was entered at the server, or on this device; true if the server has it. */
async function keep(turn) {
  if (turn !== wanted) {
    return !unsent; // a later entry is waiting and takes this one along
  }
  const body = new URLSearchParams(new FormData(form));
  try {
    const answer = await fetch(form.dataset.keep, {
      method: "POST",
      headers: { "X-CSRF-Token": form.elements.csrf.value },
      body,
      redirect: "error",
      signal: AbortSignal.timeout(PATIENCE),
    });
    if (!answer.ok) {
      kept.textContent = "Not kept: load the page again.";
      return true;
    }
    const { lines, summaries, base } = await answer.json();
    unsent = false;
    pending &&= turn !== wanted;
    if (here) {
      await synced(draft, entriesOf(form, here.entries), base);
    }
    if (turn === wanted) {
      show(lines, summaries);
    }
    kept.textContent = "Kept.";
    return true;
  } catch {
    unsent = true;
    if (!here) {
      kept.textContent = "Not kept: no connection. What you entered is still on this page.";
      return true;
    }
    await keepEntries(draft, entriesOf(form, here.entries));
    const seen = await look(draft);
    if (turn === wanted) {
      show(seen.lines.map((l) => ({ id: l.criterion.id, ...l })), [{ id: "summary", words: seen.summary }]);
    }
    kept.textContent = "No connection. Kept on this device.";
    return false;
  }
}

// one after the other, so that an older state never arrives last
function keepSoon(pause) {
  pending = true;
  clearTimeout(timer);
  timer = setTimeout(keepNow, pause);
}

function keepNow() {
  clearTimeout(timer);
  const turn = ++wanted;
  going = going.then(() => keep(turn));
  return going;
}

if (form) {
  form.addEventListener("change", () => keepSoon(0));
  form.addEventListener("input", (event) => {
    if (event.target.type !== "radio") {
      keepSoon(PAUSE);
    }
  });
  addEventListener("online", () => unsent && keepSoon(0));
}

async function goOnWithoutNetwork(go) {
  if (go === "expected") {
    const seen = await look(draft);
    await keepEntries(draft, restAsExpected(seen.task, seen.draft.entries));
  }
  location.assign({ review: `/bench/drafts/${draft}/review`, later: "/bench" }[go] ?? `/bench/drafts/${draft}`);
}

if (draft) {
  let sent = false;
  form.addEventListener("submit", async (event) => {
    if (sent || !here) {
      return;
    }
    if (navigator.onLine && !unsent) {
      if (pending) {
        // should the form not arrive, the page that stands in for the next one has it from here
        keepEntries(draft, entriesOf(form, here.entries));
      }
      return;
    }
    event.preventDefault();
    const pressed = event.submitter;
    if (await keepNow()) {
      sent = true;
      form.requestSubmit(pressed);
    } else {
      goOnWithoutNetwork(pressed?.value);
    }
  });
  prepare();
}

/** Makes this page ready for the network to go; what was entered without one goes to the server first. */
async function prepare() {
  try {
    if (await catchUp(draft, (before) => entriesOf(form, before))) {
      location.reload();
      return;
    }
    here = await fetchDraft(draft);
    form.toggleAttribute("data-ready", !!here);
  } catch (e) {
    console.error(e);
  }
}

// a photo is sent as soon as it is chosen, after what was typed is kept
const photo = document.querySelector("form[data-send]");

async function sendPhoto() {
  if (await keepNow()) {
    photo.requestSubmit();
  } else {
    await addPhoto(draft, photo.elements.photo.files[0]);
    location.assign(`/bench/drafts/${draft}`);
  }
}

photo?.addEventListener("change", sendPhoto);
// on a slow device somebody may have chosen one before this ran; what a browser puts back on a page gone back to was sent
if (photo?.elements.photo.files.length && performance.getEntriesByType("navigation")[0]?.type === "navigate") {
  sendPhoto();
}
