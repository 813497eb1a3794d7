// What goes on beside the drawing of an item: the drawing itself takes the pointing (drawing.js).
//
// An answer is sent by script, so that a dropped connection loses nothing: it is kept on this device under the page's
// address until the server has it, and sent again when the connection is back or the page is opened again. It carries a
// key, so that it counts once however often it is sent. Without script the form is sent as any other.

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
  addEventListener("online", () => retry());
  document.addEventListener("visibilitychange", () => document.hidden || retry());
  const waiting = kept.read();
  if (waiting) {
    send(waiting);
  }
}

function confirmPlaces(confirm) {
  let byKey = false;
  document.addEventListener("keydown", () => { byKey = true; }, true);
  document.addEventListener("pointerdown", () => { byKey = false; }, true);
  document.addEventListener("choose", (event) => {
    confirm.disabled = false;
    document.querySelectorAll(".part[data-shape]").forEach((group) => {
      group.classList.toggle("lit", Number(group.dataset.shape) === event.detail.shape);
    });
    if (byKey) {
      confirm.focus();
    }
  });
}

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

function say(words, canRetry) {
  const box = form.querySelector("[data-sending]");
  box.hidden = false;
  box.querySelector("[data-sending-words]").textContent = words;
  box.querySelector("[data-send-now]").hidden = !canRetry;
}

function retry() {
  if (unsent && !sending) {
    send(unsent);
  }
}

// -- the clock of a drill that closes

function runClock(end, grace) {
  const words = clock.querySelector("[data-clock]");
  const told = document.createElement("span");
  told.className = "hidden-label";
  told.setAttribute("role", "status");
  clock.append(told);
  const tellAt = [300, 60].filter((seconds) => end - Date.now() > 1000 * seconds);
  const tick = () => {
    const left = Math.ceil((end - Date.now()) / 1000);
    if (left > 0) {
      words.textContent = `, ${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")} left`;
      if (left <= tellAt[0]) {
        told.textContent = tellAt.shift() === 300 ? "Five minutes left." : "One minute left.";
      }
    } else {
      words.textContent = `. Time is up; an answer that arrives within ${grace / 1000} seconds counts.`;
      clock.classList.add("late");
      told.textContent = "Time is up.";
      atTheEnd(Date.now() - end, grace);
    }
  };
  tick();
  setInterval(tick, 1000);
}

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
  runClock(Date.now() + Number(clock.dataset.millisLeft), 1000 * Number(clock.dataset.grace || 30));
}
