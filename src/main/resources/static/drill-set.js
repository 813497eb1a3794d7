// Keeps the count of parts in scope up to date while assemblies are picked.

const form = document.querySelector("[data-set-drill]");
const boxes = [...form.querySelectorAll("[data-parts]")];
const count = form.querySelector("[data-in-scope]");

function update() {
  const parts = boxes.filter((b) => b.checked).reduce((sum, b) => sum + Number(b.dataset.parts), 0);
  count.textContent = String(parts);
}

boxes.forEach((b) => b.addEventListener("change", update));
const picks = form.querySelector("[data-all-none]");
picks.hidden = false;
picks.addEventListener("click", (event) => {
  const pick = event.target.closest("[data-pick]");
  if (pick) {
    boxes.forEach((b) => (b.checked = pick.dataset.pick === "all"));
    update();
  }
});
