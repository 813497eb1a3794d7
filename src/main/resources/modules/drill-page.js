// A drill that goes on without a network: each question as it was fetched, its answer sealed into the queue.

import { all, get } from "./kept.js";
import { answerHere, nextOf } from "./drill.js";
import { confirmPlaces, runClock } from "./item.js";

const load = (name) => import(document.querySelector(`link[data-module=${name}]`).href);

function words(main, title, lines) {
  document.title = `${title} · Ferrule`;
  const heading = document.createElement("h1");
  heading.textContent = title;
  const sheet = document.createElement("section");
  sheet.className = "sheet stack";
  lines.forEach((line) => {
    const paragraph = document.createElement("p");
    paragraph.textContent = line;
    sheet.append(paragraph);
  });
  const again = document.createElement("a");
  again.className = "button";
  again.href = location.href;
  again.textContent = "Try again";
  sheet.append(again);
  main.replaceChildren(heading, sheet);
}

/** Shows a question of a drill that is kept here, or how it stands. */
export async function showDrill(main, own, sitting, asked) {
  const drill = await get("drills", sitting);
  const waiting = (await all("queue")).filter((e) => e.kind === "answer").length;
  const counts = drill.closes ? "This drill closes: what has not arrived by then does not count, whatever this device's clock says." : "";
  const wait = waiting === 1 ? "One answer waits on this device and is sent by itself when the network is back."
    : `${waiting} answers wait on this device and are sent by themselves when the network is back.`;
  const position = Number(asked) || nextOf(drill);
  if (drill.closes && Date.now() > drill.closes.end + drill.closes.grace) {
    words(main, "Time is up", [wait, counts]);
    return;
  }
  if (!position || (!drill.items[position] && !nextOf(drill))) {
    const left = drill.length - Object.keys(drill.answered).length;
    words(main, left > 0 ? "No more questions are on this device" : "All questions are answered",
      [wait, left > 0 ? "The others come with the network." : "", counts, "The verdicts are shown then: their keys are not on this device."].filter(Boolean));
    return;
  }
  if (!drill.items[position]) {
    location.replace(`/drill/${sitting}/${nextOf(drill, position)}`);
    return;
  }
  await showItem(main, own, drill, position, counts);
}

async function showItem(main, own, drill, position, counts) {
  const { html, title } = drill.items[position];
  document.title = title;
  main.innerHTML = html;
  const form = main.querySelector("[data-answer]");
  const box = form.querySelector("[data-sending]");
  box.hidden = false;
  box.querySelector("[data-sending-words]").textContent = `No network: your answer is kept on this device, and you go on. ${counts}`;
  box.querySelector("[data-send-now]").hidden = true;
  // it could not be loaded in the other way of answering
  form.querySelectorAll("a").forEach((a) => a.remove());
  if (main.querySelector("part-drawing")) {
    await load("drawing");
  }
  if (main.querySelector("[data-order]")) {
    await load("procedure");
  }
  const confirm = form.querySelector("[data-confirm]");
  if (confirm) {
    confirmPlaces(confirm);
  }
  const clock = main.querySelector("[data-millis-left]");
  if (clock && drill.closes) {
    runClock(clock, drill.closes.end, drill.closes.grace, (after) => after > drill.closes.grace && location.reload());
  }
  let given = false;
  form.addEventListener("submit", async (event) => {
    if (event.defaultPrevented || event.submitter?.name === "move") {
      return;
    }
    event.preventDefault();
    const pressed = event.submitter?.name ? [[event.submitter.name, event.submitter.value]] : [];
    const fields = [...new FormData(form), ...pressed];
    const said = fields.some(([name, value]) => name !== "key" && String(value).trim());
    if (given || !said) {
      return;
    }
    given = true;
    await answerHere(own, { sitting: drill.sitting, position }, fields);
    const next = nextOf(await get("drills", drill.sitting), position);
    location.assign(`/drill/${drill.sitting}${next ? `/${next}` : ""}`);
  });
}
