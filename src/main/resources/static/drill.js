// What goes on beside the drawing of an item: the drawing itself takes the pointing (drawing.js).
//
// An answer is sent by script, so that a dropped connection loses nothing: it is kept on this device under the page's
// address until the server has it, and sent again when the connection is back or the page is opened again. It carries a
// key, so that it counts once however often it is sent. Without script the form is sent as any other. The other questions
// are fetched meanwhile, so that the drill goes on where the network stays away (modules/drill.js).

import { answerHere, fetchAhead, nextOf, noteAnswered, placeOf } from "/modules/drill.js";
import { confirmPlaces, runClock } from "/modules/item.js";
import { get, me } from "/modules/kept.js";

const form = document.querySelector("[data-answer]");
const here = `answer ${location.pathname}`;

const kept = {
  read() {
    try {
      return JSON.parse(localStorage.getItem(here));
    } catch {
      return null;
    }
  },
  write(fields) {
    try {
      localStorage.setItem(here, JSON.stringify(fields));
    } catch {
      // a device that keeps nothing sends all the same
    }
  },
  remove() {
    try {
      localStorage.removeItem(here);
    } catch {
      // nothing was kept
    }
  },
};

function takeAnswers() {
  const field = form.querySelector("[data-focus]");
  const confirm = form.querySelector("[data-confirm]");

  // a keyboard that slides up over the drawing would hide what is asked
  if (field && matchMedia("(hover: hover) and (pointer: fine)").matches) {
    field.focus();
  }
  if (confirm) {
    confirmPlaces(confirm);
  }
  form.addEventListener("submit", (event) => {
    if (event.defaultPrevented || event.submitter?.name === "move") {
      return; // a step of an order is moved, which is no answer yet
    }
    event.preventDefault();
    const pressed = event.submitter?.name ? [[event.submitter.name, event.submitter.value]] : [];
    send([...new FormData(form), ...pressed]);
  });
  form.querySelector("[data-send-now]").addEventListener("click", () => retry());
  form.querySelector("[data-go-on]").addEventListener("click", () => goOnWithoutNetwork());
  addEventListener("online", () => retry());
  document.addEventListener("visibilitychange", () => document.hidden || retry());
  const waiting = kept.read();
  if (waiting) {
    send(waiting);
  }
}

let closes;
let ahead = false; // whether the next question is on this device

let unsent = null;
let sending = false;
let wait = 2000;
let timer;

/** Sends an answer; a second tap while it is under way, or while it waits for the connection, sends nothing more. */
async function send(fields) {
  if (sending) {
    return;
  }
  sending = true;
  clearTimeout(timer);
  unsent ??= fields;
  kept.write(unsent);
  const slow = setTimeout(() => say("Your answer is on its way.", false), 1000);
  const body = new URLSearchParams(unsent);
  body.set("csrf", form.elements.csrf.value);
  try {
    const answer = await fetch(form.action, {
      method: "POST", body, headers: { "X-Answer": "script" }, signal: AbortSignal.timeout(10000),
    });
    if (answer.status >= 500) {
      throw new Error(String(answer.status));
    }
    if (answer.ok && !answer.redirected) {
      kept.remove();
      const { sitting, position } = placeOf(form);
      await noteAnswered(sitting, position).catch(() => {});
      location.assign(await answer.text());
    } else if (answer.redirected) {
      location.reload(); // signed out meanwhile: the answer waits here until its page is opened again
    } else {
      kept.remove();
      refused(unsent);
    }
  } catch {
    sending = false;
    later();
  } finally {
    clearTimeout(slow);
  }
}

/** Sends the form as without script, so that the page says what is wrong with it. */
function refused(fields) {
  for (const [name, value] of fields) {
    if (!form.elements[name] || form.elements[name].type === "submit") {
      const pressed = document.createElement("input");
      pressed.type = "hidden";
      pressed.name = name;
      pressed.value = value;
      form.append(pressed);
    }
  }
  form.submit();
}

function later() {
  say("No connection. Your answer is kept on this device and is sent again by itself as soon as the connection is back.", true);
  timer = setTimeout(retry, wait);
  wait = Math.min(30000, wait * 2);
}

/** Seals the answer and goes on with the next question that is on this device. */
async function goOnWithoutNetwork() {
  clearTimeout(timer);
  const fields = unsent;
  if (!fields || sending) {
    return;
  }
  sending = true;
  await answerHere(await me(), placeOf(form), fields);
  kept.remove();
  const { sitting, position } = placeOf(form);
  const next = nextOf(await get("drills", sitting), position);
  location.assign(`/drill/${sitting}${next ? `/${next}` : ""}`);
}

// what was answered without a network has arrived: the page that follows from it
addEventListener("delivered", () => form && !unsent && location.assign(`/drill/${placeOf(form).sitting}`));

function say(words, canRetry) {
  const box = form.querySelector("[data-sending]");
  box.hidden = false;
  box.querySelector("[data-sending-words]").textContent = words;
  box.querySelector("[data-send-now]").hidden = !canRetry;
  box.querySelector("[data-go-on]").hidden = !(canRetry && ahead);
}

function retry() {
  if (unsent && !sending) {
    send(unsent);
  }
}

// -- the clock of a drill that closes

/** What is typed or chosen goes off by itself just before nothing is taken any more. */
function atTheEnd(after, grace) {
  const given = form && [...new FormData(form)].some(([n, v]) => n !== "csrf" && n !== "key" && String(v).trim() !== "");
  if (given && after > grace - 5000 && !unsent) {
    send([...new FormData(form)]);
  } else if (after > grace + 1500 && !sending) {
    location.assign(location.pathname.replace(/\/[^/]*$/, ""));
  }
}

if (form) {
  takeAnswers();
} else {
  kept.remove();
}

const clock = document.querySelector("[data-millis-left]");
if (clock) {
  const grace = 1000 * Number(clock.dataset.grace || 30);
  closes = { end: Date.now() + Number(clock.dataset.millisLeft), grace };
  runClock(clock, closes.end, grace, (after) => atTheEnd(after, grace));
}

if (form) {
  fetchAhead(form, closes, (whole) => {
    ahead = true;
    form.dataset.ahead = whole ? "whole" : "next";
  }).catch(() => {}); // no network, or a device that keeps nothing
}
