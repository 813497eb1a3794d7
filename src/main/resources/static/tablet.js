// Locks a shared tablet soon after the last touch, and tells the server that it is in use while somebody only types.

const lock = document.getElementById("tablet-lock");
const warning = document.getElementById("tablet-warning");
const idle = Number(lock.dataset.idle) * 1000;
const WARN = 20_000;
const TELL_EVERY = 30_000;
let touched = Date.now();
let told = Date.now();

async function tell() {
  told = Date.now();
  const answer = await fetch("/tablet-in-use", {
    method: "POST",
    headers: { "X-CSRF-Token": lock.elements.csrf.value },
  }).catch(() => null);
  if (answer && answer.status === 403) location.assign("/tablet"); // locked already, from elsewhere or by time
}

async function leave() {
  clearInterval(watch);
  lock.elements.path.value = location.pathname + location.search;
  // the session may have ended on the server a moment ago: the way leads to the tablet's door in any case
  await fetch("/tablet-lock", { method: "POST", body: new URLSearchParams(new FormData(lock)) }).catch(() => null);
  location.assign("/tablet");
}

function touch() {
  touched = Date.now();
  warning.textContent = "";
  if (touched - told > TELL_EVERY) tell();
}

for (const kind of ["pointerdown", "keydown", "input", "scroll"]) addEventListener(kind, touch, { capture: true, passive: true });
lock.addEventListener("submit", () => { lock.elements.path.value = location.pathname + location.search; });
const watch = setInterval(() => {
  const left = idle - (Date.now() - touched);
  if (left <= 0) leave();
  else if (left <= WARN) warning.textContent = "This tablet locks in a few seconds. Touch it to stay.";
}, 1000);
