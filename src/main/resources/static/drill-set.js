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
if (picks) {
  picks.hidden = false;
}
picks?.addEventListener("click", (event) => {
  const pick = event.target.closest("[data-pick]");
  if (pick) {
    boxes.forEach((b) => (b.checked = pick.dataset.pick === "all"));
    update();
  }
});

// whoever picks a kind or fills a row means that choice
form.querySelectorAll(".own-mix").forEach((own) => {
  own.addEventListener("change", () => {
    own.querySelector("[name=mix]").checked = true;
  });
});

// only those of the chosen cohort can be picked, and only where some of it take the drill
const cohort = form.querySelector("#cohort");
const groups = [...form.querySelectorAll("[data-members]")];

function showMembers() {
  const some = form.querySelector("[name=who][value=some]").checked;
  groups.forEach((group) => { group.hidden = !some || group.dataset.members !== cohort.value; });
}

form.addEventListener("change", showMembers);
showMembers();
