// The page in place of any page that cannot be fetched: what is kept on this device of the address that was asked for.

import { all, get, me } from "./kept.js";
import { leaveIfOver, signedOutHere, signOutWithoutNetwork } from "./device.js";
import { possible } from "./seal.js";
import {
  addPhoto, begin, entriesOf, keepEntries, look, putAside, removePhoto, restAsExpected, sign, whyNotSigned,
} from "./bench.js";
import { showDrill } from "./drill-page.js";

const main = document.getElementById("work");
const path = location.pathname;

/** An element: el("p", {class: "note"}, "words", child, ...). What is given as text stays text. */
export function el(name, attributes = {}, ...content) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith("on")) {
      element.addEventListener(key.slice(2), value);
    } else if (value === true) {
      element.setAttribute(key, "");
    } else if (value !== false && value !== undefined) {
      element.setAttribute(key, value);
    }
  }
  element.append(...content.flat().filter((c) => c !== "" && c !== undefined && c !== null && c !== false));
  return element;
}

function title(words) {
  document.title = `${words} · Ferrule`;
  return el("h1", {}, words);
}

function show(...content) {
  main.replaceChildren(...content.flat().filter(Boolean));
}

const link = (to, words, kind = "button quiet") => el("a", { class: kind, href: to }, words);
const button = (words, act, kind = "") => el("button", { type: "button", class: kind, onclick: act }, words);

async function header(own) {
  const who = document.querySelector("[data-who]");
  who.replaceChildren(el("span", { class: "name" }, own.name ?? "", own.name ? ", instructor" : ""), button("Sign out", async () => {
    await signOutWithoutNetwork();
    location.reload();
  }, "button"));
}

// -- the bench

function begun(draft, task) {
  return el("li", { class: "row apart" },
    el("div", {}, el("strong", {}, draft.apprenticeName), `, ${task?.title ?? draft.task}, instrument ${draft.tag}`, el("br"),
      el("span", { class: "small muted" }, draft.dirty ? "entries that are only on this device" : "as the server has it")),
    el("div", { class: "row" },
      link(`/bench/drafts/${draft.id}`, "Go on", "button"),
      draft.base ? "" : button("Put aside", async () => {
        await putAside(draft.id);
        location.reload();
      }, "quiet")));
}

function waiting(queue, own) {
  const mine = queue.filter((e) => e.person === own.person);
  return mine.length && el("section", { class: "sheet stack", "aria-labelledby": "waits" },
    el("h2", { id: "waits" }, "Waits to be delivered"),
    el("ol", { class: "lines" }, mine.map((e) => el("li", {}, e.kind === "grade" ? "Signed: " : "", e.label,
      e.refused ? el("span", { class: "line caution-note small" }, e.refused) : ""))),
    el("p", { class: "small muted" }, "Sealed: it cannot be read or changed here any more. It is sent by itself, in this order, "
      + "when a page is opened where there is a network, whoever is signed in then."));
}

function choices(name, legend, options, kind) {
  return el("fieldset", { class: "field wide" }, el("legend", {}, legend),
    el("div", { class: `choices ${kind}` }, options.map(({ value, words, small }) => el("label", { class: "choice" },
      el("input", { type: "radio", name, value, required: true }), " ",
      el("span", {}, words, small ? [el("br"), el("span", { class: "small muted" }, small)] : "")))));
}

async function showBench(own) {
  const tasks = (await all("tasks")).filter((t) => own.taken?.includes(t.id));
  const drafts = (await all("drafts")).sort((a, b) => (b.touchedAt ?? 0) - (a.touchedAt ?? 0));
  const titles = new Map((await all("tasks")).map((t) => [t.id, t]));
  const form = el("form", { class: "sheet stack grade-start", onsubmit: async (event) => {
    event.preventDefault();
    const { task, apprentice, tag } = Object.fromEntries(new FormData(event.target));
    const draft = await begin(titles.get(task), own.apprentices.find((a) => a.id === apprentice), tag);
    location.assign(`/bench/drafts/${draft.id}`);
  } },
  el("h2", {}, "Grade a piece of work"),
  choices("task", "The work", tasks.map((t) => ({ value: t.id, words: t.title, small: t.outside })), ""),
  choices("apprentice", "The apprentice", (own.apprentices ?? []).map((a) => ({ value: a.id, words: a.name })), "tiles"),
  choices("tag", "The instrument's tag", (own.tags ?? []).map((t) => ({ value: t.tag, words: t.tag })), "tags"),
  el("div", { class: "bar" }, el("button", { type: "submit" }, "Begin")));
  show(title("At the bench, without a network"), waiting(await all("queue"), own),
    drafts.length && el("section", { class: "sheet stack" }, el("h2", {}, "Begun and not signed"),
      el("ul", { class: "lines" }, drafts.map((d) => begun(d, titles.get(d.task))))),
    tasks.length && own.apprentices?.length ? form
      : el("p", { class: "sheet" }, "No task was taken along to begin with. Where there is a network, “Take along” on the bench page makes this device ready."));
}

// -- one draft

const cautions = (task) => [
  el("ul", { class: "lines cautions" }, task.cautions.map((c) => el("li", {}, el("strong", {}, `${c.title}.`), ` ${c.hazard} ${c.measure}`))),
  el("p", {}, task.restsWith),
];

function head({ draft, task }) {
  return [title(task.title), el("p", {}, draft.corrects ? "Correction of a record. " : "", el("strong", {}, draft.apprenticeName), `, instrument ${draft.tag}`)];
}

function showBefore(seen) {
  show(head(seen), el("section", { class: "caution stack", "aria-label": "Cautions before work starts" }, cautions(seen.task),
    button("All of these are in place: begin", async () => {
      await keepEntries(seen.draft.id, { ...seen.draft.entries, cautionsConfirmed: true });
      showDraft(seen.draft.id);
    })), el("p", {}, link("/bench", "Not now")));
}

function rated({ id, levels, pass }, entries) {
  return el("div", { class: "levels" }, levels.map((wording, i) => el("label", { class: "choice" },
    el("input", { type: "radio", name: `level.${id}`, value: i + 1, checked: entries.levels[id] === i + 1 }), " ",
    el("span", {}, el("span", { class: "small muted" }, `${i + 1}, ${i + 1 >= pass ? "passes" : "does not pass"}`), el("br"), wording))));
}

function field(name, id, words, value) {
  const full = `${name}.${id}`;
  return el("div", { class: "field" }, el("label", { for: full }, words),
    el("input", { id: full, name: full, type: "text", autocomplete: "off", maxlength: 40, value: value ?? "" }));
}

function measured({ id, measured: m }, entries) {
  const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);
  return [
    el("p", {}, `${capital(m.quantity)}${m.nominal ? `, ideally ${m.nominal} ${m.unit}` : ""}`),
    el("p", { class: "small muted" }, `${capital(m.gauge)}; ${m.rule}. ${m.limits ? `Limits: ${m.limits.words} (${m.limits.source}).`
      : "No limit is published: set your own for this instrument."}`),
    el("div", { class: "readings" },
      m.limits ? "" : field("lower", id, `At least, ${m.unit}`, entries.lowers[id]),
      m.limits ? "" : field("upper", id, `At most, ${m.unit}`, entries.uppers[id]),
      field("reading", id, `Reading, ${m.unit}`, entries.readings[id])),
  ];
}

function criterion(line, entries, asked) {
  const c = line.criterion;
  return el("fieldset", { class: "sheet stack criterion", "data-criterion": c.id },
    el("legend", {}, c.title, c.critical ? [" ", el("span", { class: "critical" }, "critical")] : ""),
    c.measured ? measured(c, entries) : rated(c, entries),
    el("p", { class: `verdict ${line.state}${asked && line.state === "open" ? " asked" : ""}`, id: `verdict.${c.id}`, "aria-live": "polite" }, line.words));
}

function photos({ draft, task }) {
  return el("section", { class: "sheet stack", id: "photos", "aria-labelledby": "photos-title" },
    el("h2", { id: "photos-title" }, "Photos"),
    el("p", {}, task.photoAsked ? "This work asks for a photo. " : "", "JPEG or PNG. No faces."),
    draft.herePhotos.length ? el("p", { class: "small muted" }, `${draft.herePhotos.length} at the server, not shown here.`) : "",
    draft.photos.length ? el("ul", { class: "photos" }, draft.photos.map((photo, i) => el("li", {}, picture(photo, i),
      button("Take out", async () => {
        await removePhoto(draft.id, i);
        showDraft(draft.id);
      }, "quiet")))) : "",
    el("div", { class: "field" }, el("label", { for: "photo" }, "Take or choose a photo"),
      el("input", { id: "photo", type: "file", accept: "image/jpeg,image/png", capture: "environment", onchange: async (event) => {
        try {
          await addPhoto(draft.id, event.target.files[0]);
          showDraft(draft.id);
        } catch {
          event.target.insertAdjacentElement("afterend", el("p", { class: "problem" }, "This is no picture that can be read. Send a JPEG or a PNG."));
        }
      } })));
}

function picture(photo, i) {
  const canvas = el("canvas", { role: "img", "aria-label": `Photo ${i + 1} of the work` });
  createImageBitmap(photo).then((bitmap) => {
    canvas.width = 320;
    canvas.height = Math.round(320 * bitmap.height / bitmap.width);
    canvas.getContext("2d").drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  });
  return canvas;
}

async function showDraft(id, asked = false) {
  const seen = await look(id);
  if (!seen) {
    showNothing();
    return;
  }
  const { draft, task, lines } = seen;
  if (!draft.entries.cautionsConfirmed) {
    showBefore(seen);
    return;
  }
  const says = el("span", { id: "summary", "aria-live": "polite" }, seen.summary);
  const keptSays = el("span", { id: "kept", class: "small muted", role: "status" }, draft.dirty ? "Kept on this device." : "");
  let going = Promise.resolve();
  const keep = (form) => {
    const entries = entriesOf(form, draft.entries);
    going = going.then(() => keepEntries(id, entries)).then(async () => {
      const now = await look(id);
      now.lines.forEach((line) => {
        const verdict = document.getElementById(`verdict.${line.criterion.id}`);
        verdict.className = `verdict ${line.state}`;
        verdict.textContent = line.words;
      });
      says.textContent = now.summary;
      keptSays.textContent = "Kept on this device.";
    });
    return going;
  };
  const form = el("form", { class: "grading stack", oninput: (event) => keep(event.currentTarget), onsubmit: async (event) => {
    event.preventDefault();
    const go = event.submitter?.value;
    if (go === "expected") {
      Object.entries(restAsExpected(task, entriesOf(form, draft.entries)).levels).forEach(([criterion, level]) => {
        form.querySelector(`[name="level.${CSS.escape(criterion)}"][value="${level}"]`).checked = true;
      });
    }
    await keep(form);
    const now = await look(id);
    if (go === "expected") {
      return; // to be changed where it differs
    }
    if (go === "later") {
      location.assign("/bench");
    } else if (now.wanting) {
      showDraft(id, true);
    } else {
      location.assign(`/bench/drafts/${id}/review`);
    }
  } },
  lines.map((line) => criterion(line, draft.entries, asked)),
  el("div", { class: "sheet stack" },
    draft.corrects ? el("div", { class: "field" }, el("label", { for: "reason" }, "Why the record is corrected"),
      el("textarea", { id: "reason", name: "reason", maxlength: 2000 }, draft.entries.reason)) : "",
    el("div", { class: "field" }, el("label", { for: "note" }, "Note ", el("span", { class: "hint" }, "anything that should stand in the record")),
      el("textarea", { id: "note", name: "note", maxlength: 2000 }, draft.entries.note))),
  el("div", { class: "bar" }, el("p", { class: "grow" }, says, " ", keptSays),
    el("button", { class: "quiet", type: "submit", name: "go", value: "expected" }, "Rest as expected"),
    el("button", { class: "quiet", type: "submit", name: "go", value: "later" }, "Finish later"),
    el("button", { type: "submit", name: "go", value: "review" }, "Look it over and sign")));
  show(head(seen), asked && seen.wanting && el("p", { class: "problem", role: "alert" }, `${seen.wanting} What you entered is kept.`),
    el("details", { class: "caution" }, el("summary", {}, "Cautions, confirmed before work started"), cautions(task)),
    form, photos(seen));
}

const WORDS = { good: "passes", bad: "does not pass", open: "cannot tell" };

function finding(line) {
  const c = line.criterion;
  return el("li", {}, el("div", { class: "row apart" },
    el("strong", {}, c.title, c.critical ? [" ", el("span", { class: "critical" }, "critical")] : ""),
    el("span", { class: "row" }, el("span", { class: "small muted" }, `weight ${c.weight}`), " ", el("span", { class: `tag ${line.state}` }, WORDS[line.state]))),
  el("p", {}, `${line.sentence.charAt(0).toUpperCase()}${line.sentence.slice(1)}.`));
}

function whole({ draft, task, lines, outcome }) {
  const fact = (term, ...words) => [el("dt", {}, term), el("dd", {}, ...words)];
  return el("section", { class: "sheet stack", "aria-label": "What you are about to sign" },
    el("dl", { class: "facts" },
      draft.corrects ? fact("Why it is corrected", draft.entries.reason) : "",
      fact("Apprentice", draft.apprenticeName), fact("Work", task.title), fact("Instrument", `${task.instrument}, tag ${draft.tag}`),
      fact("The work stands as", el("span", { class: `tag ${outcome.standing === "not yet" ? "bad" : "good"}` }, outcome.standing), " ",
        outcome.reasons.map((r) => el("span", { class: "line" }, `${r.charAt(0).toUpperCase()}${r.slice(1)}.`))),
      draft.entries.note ? fact("Note", el("span", { class: "prewrap" }, draft.entries.note)) : "",
      fact("Cautions confirmed", task.cautions.map((c) => c.title).join("; "))),
    draft.photos.length ? el("ul", { class: "photos" }, draft.photos.map((p, i) => el("li", {}, picture(p, i)))) : "",
    el("h2", {}, "What was found"),
    el("ul", { class: "lines findings" }, lines.map(finding)),
    el("p", { class: "small muted" }, "Curriculum edition ", el("span", { class: "mono" }, task.edition)));
}

async function showReview(own, id, first = "") {
  const seen = await look(id);
  if (!seen) {
    showNothing();
    return;
  }
  if (seen.wanting) {
    showDraft(id, true);
    return;
  }
  const whyNot = whyNotSigned(own, seen.task);
  const pin = el("input", { id: "pin", name: "pin", type: "password", inputmode: "numeric", autocomplete: "off", pattern: "[0-9]{4,12}", required: true });
  const form = el("form", { class: "sheet stack", onsubmit: async (event) => {
    event.preventDefault();
    event.submitter.disabled = true;
    const typed = pin.value;
    pin.value = "";
    const now = await look(id);
    if (now) {
      await sign(now, typed);
    }
    location.replace("/bench");
  } },
  seen.task.secondSignature && seen.outcome.standing !== "not yet"
    ? el("p", {}, el("strong", {}, "This work can hurt somebody if it is done badly: it counts when a second instructor has signed it too.")) : "",
  el("p", {}, "There is no network. What you sign is sealed and waits on this device; it enters the record when it is received, with the time of "
    + "signing and the time of receipt, if your PIN is right and nobody has signed the same work meanwhile. Nobody can change it afterwards."),
  whyNot ? el("p", { class: "problem" }, whyNot) : el("div", { class: "field pin" }, el("label", { for: "pin" }, "Your PIN"), pin,
    el("label", { class: "choice" }, el("input", { type: "checkbox", onchange: (e) => { pin.type = e.target.checked ? "text" : "password"; } }), " Show the digits"),
    el("p", { class: "small muted" }, "It cannot be checked here. A wrong one is told when it is received, and you sign again then.")),
  el("div", { class: "row" }, whyNot ? "" : el("button", { type: "submit" }, `Sign on this device as ${own.name}`),
    link(`/bench/drafts/${id}`, "Go back and change it")));
  show(title("You are about to sign this"), first && el("p", { class: "caution-note" }, first), whole(seen), form);
}

// -- what cannot be shown

function showNothing() {
  show(title("No network"), el("section", { class: "sheet stack" },
    el("p", {}, "This page is not on this device. Load it again when there is a network."),
    el("div", { class: "row" }, link(path, "Try again", "button"), link("/bench", "What is on this device"))));
}

function showOver(words) {
  show(title("No network"), el("section", { class: "sheet stack" }, el("p", {}, words), link("/sign-in", "Try again", "button")));
}

async function start() {
  if (!possible()) {
    showNothing();
    return;
  }
  if (await signedOutHere()) {
    showOver("You are signed out on this device. What was signed on it waits, sealed, to be delivered. Everything else was removed.");
    return;
  }
  if (await leaveIfOver()) {
    showOver("It is too long since this device had a network: what was kept to read was removed, what was signed or entered waits, sealed, to be delivered.");
    return;
  }
  const own = await me();
  if (!own) {
    showOver("Nothing is kept on this device. Load the page again when there is a network.");
    return;
  }
  if (path.startsWith("/tablet") && whyNotSigned(own, {})) {
    // a shared tablet locked itself, and no PIN opens it here: only who took it along by PIN goes on
    await signOutWithoutNetwork();
    location.reload();
    return;
  }
  await header(own);
  const [, draft, rest] = /^\/bench\/drafts\/([0-9a-f-]{36})(\/\w+)?$/.exec(path) ?? [];
  const [, sitting, position] = /^\/drill\/([0-9a-f-]{36})(?:\/(\d+))?$/.exec(path) ?? [];
  if (sitting && (await get("drills", sitting))) {
    await showDrill(main, own, sitting, position);
  } else if (draft && rest === "/sign") {
    await showReview(own, draft, "The network was lost while you signed, so that it is not known here whether it arrived. If you sign here too, it still enters the record once.");
  } else if (draft && rest === "/review") {
    await showReview(own, draft);
  } else if (draft) {
    await showDraft(draft);
  } else if (path.startsWith("/bench") || path.startsWith("/tablet")) {
    await showBench(own);
  } else {
    showNothing();
  }
  addEventListener("online", () => {
    const note = document.querySelector("[data-offline]");
    note.replaceChildren("The network is back. ", el("a", { href: location.href }, "Load the page again"), " to deliver what waits.");
  });
  setInterval(async () => {
    if (await leaveIfOver()) {
      location.reload();
    }
  }, 60000);
}

start();
