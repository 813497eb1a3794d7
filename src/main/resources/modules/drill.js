// A drill on the device: its questions are fetched beforehand, without their keys, and answered where there is no network.

import { all, change, get } from "./kept.js";
import { enqueue, time } from "./seal.js";
import { here } from "./device.js";

const PACE = 1500; // milliseconds between two questions that are fetched, so that a whole class can start at once

/** Where a form's item stands: {sitting, position, length}. */
export const placeOf = (form) => ({
  sitting: form.dataset.sitting, position: Number(form.dataset.position), length: Number(form.dataset.length),
});

function contentOf(page) {
  const main = page.getElementById("work").cloneNode(true);
  // the session's secret is nobody's to keep, and an answer that is sealed needs none
  main.querySelectorAll("input[name=csrf]").forEach((field) => field.remove());
  return main.innerHTML;
}

async function keepItem({ sitting, position, length }, page, closes) {
  await change(["drills"], ({ drills }) => {
    const request = drills.get(sitting);
    request.onsuccess = () => {
      const drill = request.result ?? { sitting, length, items: {}, answered: {}, closes };
      drills.put({ ...drill, closes, items: { ...drill.items, [position]: { html: contentOf(page), title: page.title } } });
    };
  });
}

/** Fetches the questions that are not kept yet, one after the other; true once the next one can be gone on to. */
export async function fetchAhead(form, closes, told) {
  if (!(await here())) {
    return;
  }
  const place = placeOf(form);
  for (const other of await all("drills")) {
    if (other.sitting !== place.sitting) {
      await change(["drills"], ({ drills }) => drills.delete(other.sitting));
    }
  }
  await keepItem(place, document, closes);
  for (let step = 1; step < place.length; step++) {
    const position = ((place.position - 1 + step) % place.length) + 1;
    const drill = await get("drills", place.sitting);
    if (!drill) {
      return; // signed out meanwhile
    }
    if (!drill.items[position] && !drill.answered[position]) {
      await new Promise((resolve) => setTimeout(resolve, step === 1 ? 200 : PACE));
      const answer = await fetch(`/drill/${place.sitting}/${position}`, { redirect: "error" });
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const item = page.querySelector("[data-answer]");
      if (item) {
        await keepItem(placeOf(item), page, closes);
      } else {
        await noteAnswered(place.sitting, position);
      }
    }
    if (step === 1) {
      told();
    }
  }
  told(true);
}

/** Notes that a question was answered, so that it is not gone on to here. */
export const noteAnswered = (sitting, position) => change(["drills"], (stores) => mark(stores, sitting, position));

function mark({ drills }, sitting, position) {
  const request = drills.get(sitting);
  request.onsuccess = () => request.result && drills.put({
    ...request.result, answered: { ...request.result.answered, [position]: true }, items: { ...request.result.items, [position]: undefined },
  });
}

/** Seals an answer into the queue. */
export async function answerHere(own, { sitting, position }, fields) {
  await enqueue(
    "answer", { sitting, position, fields: fields.filter(([name]) => name !== "csrf"), answeredAt: time(own) }, "", {},
    (stores) => mark(stores, sitting, position),
  );
}

/** The next question that is kept and not answered, after a position; undefined if there is none. */
export function nextOf(drill, position = 0) {
  const open = Object.keys(drill.items).filter((p) => drill.items[p] && !drill.answered[p]).map(Number).sort((a, b) => a - b);
  return open.find((p) => p > position) ?? open[0];
}
