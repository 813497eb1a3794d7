// Moves steps without a round trip, lets them be dragged, and prints the bench sheet. Without it the buttons go through
// the server.

for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}

for (const list of document.querySelectorAll("[data-order]")) {
  order(list, list.closest("form").querySelector("[data-say]"));
}

function order(list, say) {
  const steps = () => [...list.children];
  list.classList.add("can-drag");

  function renumber(moved) {
    const all = steps();
    all.forEach((step, i) => {
      step.querySelector(".place").textContent = i + 1;
      step.classList.toggle("just-moved", step === moved);
      for (const button of step.querySelectorAll("button")) {
        const up = button.dataset.by === "-1";
        button.value = `${up ? "up" : "down"}-${i + 1}`;
        button.disabled = up ? i === 0 : i === all.length - 1;
      }
    });
  }

  function tell(step) {
    say.textContent = `${step.querySelector(".what").textContent} is now step ${steps().indexOf(step) + 1} of ${steps().length}.`;
  }

  list.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-by]");
    if (!button) {
      return;
    }
    event.preventDefault();
    const step = button.closest("li");
    if (button.dataset.by === "-1") {
      step.previousElementSibling?.before(step);
    } else {
      step.nextElementSibling?.after(step);
    }
    renumber(step);
    // at an end of the list the pressed button is off: stay in the step by its other button
    (button.disabled ? step.querySelector("button:not(:disabled)") : button).focus();
    tell(step);
  });

  let dragged = null;

  list.addEventListener("pointerdown", (event) => {
    const handle = event.target.closest(".handle");
    if (handle && event.button === 0) {
      dragged = handle.closest("li");
      dragged.classList.add("dragged");
      event.preventDefault();
    }
  });

  // on the window, for a step that is taken out and put elsewhere loses the pointer
  window.addEventListener("pointermove", (event) => {
    if (!dragged) {
      return;
    }
    const over = steps().find((step) => {
      const box = step.getBoundingClientRect();
      return step !== dragged && event.clientY >= box.top && event.clientY <= box.bottom;
    });
    if (over) {
      const box = over.getBoundingClientRect();
      const lowerHalf = event.clientY > box.top + box.height / 2;
      const movesDown = steps().indexOf(over) > steps().indexOf(dragged);
      if (movesDown && lowerHalf) {
        over.after(dragged);
      } else if (!movesDown && !lowerHalf) {
        over.before(dragged);
      }
    }
  });

  function drop() {
    if (dragged) {
      dragged.classList.remove("dragged");
      renumber(dragged);
      tell(dragged);
      dragged = null;
    }
  }

  window.addEventListener("pointerup", drop);
  window.addEventListener("pointercancel", drop);
}
