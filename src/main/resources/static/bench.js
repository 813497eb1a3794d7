// Keeps the draft after every entry and shows the verdict that comes back. Without it, the form keeps on its buttons.

const form = document.querySelector("form[data-keep]");
const kept = document.getElementById("kept");
const PAUSE = 350; // milliseconds without a key before what was typed is kept

let timer = 0;
let going = Promise.resolve();
let wanted = 0;

function show(answer) {
  for (const line of answer.lines) {
    const verdict = document.getElementById(`verdict.${line.id}`);
    verdict.className = `verdict ${line.state}`;
    if (verdict.textContent !== line.words) {
      verdict.textContent = line.words;
    }
  }
  for (const { id, words } of answer.summaries) {
    const summary = document.getElementById(id);
    if (summary.textContent !== words) {
      summary.textContent = words;
    }
  }
  // what the page complained of when it was loaded is not how it stands now
  document.querySelector(".problem[role=alert]")?.remove();
}

async function keep(turn) {
  if (turn !== wanted) {
    return; // a later entry is waiting and takes this one along
  }
  const body = new URLSearchParams(new FormData(form));
  try {
    const answer = await fetch(form.dataset.keep, {
      method: "POST",
      headers: { "X-CSRF-Token": form.elements.csrf.value },
      body,
      redirect: "error",
    });
    if (!answer.ok) {
      kept.textContent = "Not kept: load the page again.";
      return;
    }
    if (turn === wanted) {
      show(await answer.json());
    }
    kept.textContent = "Kept.";
  } catch {
    kept.textContent = "Not kept: no connection. What you entered is still on this page.";
  }
}

// one after the other, so that an older state never arrives last
function keepSoon(pause) {
  clearTimeout(timer);
  timer = setTimeout(() => {
    const turn = ++wanted;
    going = going.then(() => keep(turn));
  }, pause);
}

if (form) {
  form.addEventListener("change", () => keepSoon(0));
  form.addEventListener("input", (event) => {
    if (event.target.type !== "radio") {
      keepSoon(PAUSE);
    }
  });
}

// a photo is sent as soon as it is chosen, after what was typed is kept
const photo = document.querySelector("form[data-send]");
if (photo) {
  photo.addEventListener("change", () => {
    keepSoon(0);
    setTimeout(() => going.then(() => photo.requestSubmit()), 0);
  });
}
