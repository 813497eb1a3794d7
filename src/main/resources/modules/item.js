// What a question's page does with and without a network: confirming a place that was pointed at, and the clock.

/** Lets a place be confirmed once one is chosen on the drawing. */
export function confirmPlaces(confirm) {
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

/**
 * Runs the clock of a drill that closes.
 *
 * @param end in milliseconds by this device's clock
 * @param grace in milliseconds
 * @param atTheEnd told every second after the end how many milliseconds ago it was
 */
export function runClock(clock, end, grace, atTheEnd) {
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
      atTheEnd(Date.now() - end);
    }
  };
  tick();
  setInterval(tick, 1000);
}
