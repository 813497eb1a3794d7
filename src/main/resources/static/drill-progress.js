// Watches how far everyone is with a drill, by asking every few seconds while the page is looked at.
//
// Asking, and not a stream of events: with several nodes, the one that an instructor is connected to does not hear what
// apprentices answer at another, and would have to ask the database itself for each open page, while holding a
// connection for it. Asking needs no state at any node, costs a few indexed reads, stops when nobody looks, and goes on by
// itself after a closed lid or a change of node.

const EVERY = 5000;
const SLOWEST = 60000;

const table = document.querySelector("[data-progress]");
const live = document.querySelector("[data-live]");
let tag = "";
let wait = EVERY;
let timer;

function say(text) {
  live.textContent = text;
}

const clock = () => new Date().toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit", second: "2-digit" });

async function ask() {
  clearTimeout(timer);
  try {
    const answer = await fetch(table.dataset.progress, {
      headers: tag ? { "If-None-Match": tag } : {},
      redirect: "error",
      signal: AbortSignal.timeout(8000),
    });
    if (answer.status === 200) {
      const held = document.activeElement?.closest("[data-progress] a")?.getAttribute("href");
      const left = table.querySelector(".scroll")?.scrollLeft ?? 0;
      table.innerHTML = await answer.text();
      tag = answer.headers.get("ETag") ?? "";
      table.querySelector(".scroll")?.scrollTo({ left });
      if (held) {
        table.querySelector(`a[href="${held}"]`)?.focus();
      }
    } else if (answer.status !== 304) {
      throw new Error(String(answer.status));
    }
    wait = EVERY;
    say(`Live, as of ${clock()}.`);
  } catch {
    wait = Math.min(SLOWEST, wait * 2);
    say(`Not reached since. Asking again in ${Math.round(wait / 1000)} seconds.`);
  }
  plan();
}

function plan() {
  clearTimeout(timer);
  if (!document.hidden) {
    timer = setTimeout(ask, wait);
  }
}

if (table) {
  document.addEventListener("visibilitychange", () => (document.hidden ? clearTimeout(timer) : ask()));
  say("Live.");
  plan();
}
