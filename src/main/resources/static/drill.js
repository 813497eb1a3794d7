// What goes on beside the drawing of an item: the drawing itself takes the pointing (drawing.js).

const form = document.querySelector("[data-answer]");
const field = form.querySelector("[data-focus]");
const confirm = form.querySelector("[data-confirm]");

// a keyboard that slides up over the drawing would hide what is asked
if (field && matchMedia("(hover: hover) and (pointer: fine)").matches) {
  field.focus();
}

if (confirm) {
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
