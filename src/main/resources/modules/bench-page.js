// The page on which a device is taken along.

import { me } from "./kept.js";
import { possible } from "./seal.js";
import { csrf, here, ready } from "./device.js";
import { keepMaterial } from "./bench.js";

const form = document.querySelector("form[data-along]");
const problem = document.querySelector("[data-problem]");
const taken = document.querySelector("[data-taken]");

function complain(words) {
  problem.textContent = words;
  problem.hidden = !words;
  if (words) {
    problem.scrollIntoView({ block: "center" });
  }
}

async function showTaken() {
  const own = await me();
  for (const tag of document.querySelectorAll("[data-this-device]")) {
    tag.hidden = tag.dataset.thisDevice !== own?.device;
  }
  if (own?.signsUntil && Date.parse(own.signsUntil) > Date.now() + own.offset) {
    const names = own.apprentices.length === 1 ? "1 apprentice" : `${own.apprentices.length} apprentices`;
    const tasks = own.taken.length === 1 ? "1 task" : `${own.taken.length} tasks`;
    taken.innerHTML = "<p><strong></strong> <span></span></p><p class='small muted'></p>";
    taken.querySelector("strong").textContent = "This device is ready.";
    taken.querySelector("span").textContent = `It holds ${tasks} and ${names}, and you can sign on it until ${own.signsUntilWords}.`;
    taken.querySelector(".small").textContent = "Open the bench page as usual when there is no network. Sign out where there is one when you are done.";
    taken.hidden = false;
  }
}

async function take(event) {
  event.preventDefault();
  complain("");
  const button = form.querySelector("button");
  button.disabled = true;
  try {
    const own = await here();
    const registration = await navigator.serviceWorker.register("/service-worker.js");
    await navigator.serviceWorker.ready;
    const body = new URLSearchParams(new FormData(form));
    body.set("device", own.device);
    const answer = await fetch(form.action, { method: "POST", headers: { "X-CSRF-Token": csrf() }, body, redirect: "error" });
    const material = answer.headers.get("Content-Type")?.includes("json") ? await answer.json() : {};
    form.elements.pin.value = "";
    if (!answer.ok || !registration) {
      complain(material.problem ?? "It was not taken along. Load the page again.");
      return;
    }
    await keepMaterial(material);
    await navigator.storage?.persist?.();
    await showTaken();
    taken.scrollIntoView({ block: "center" });
  } catch (e) {
    console.error(e);
    complain("It was not taken along: no connection, or this browser keeps nothing. Try again.");
  } finally {
    button.disabled = false;
  }
}

if (!possible() || !("serviceWorker" in navigator)) {
  complain("This browser cannot go on without a network here: it needs https, and a window that keeps data.");
  form?.remove();
} else {
  form?.addEventListener("submit", take);
  ready.then(showTaken);
}
