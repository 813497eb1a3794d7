// Entering points from paper without loading the page for each tap. Every tap is kept by the server before it shows, so
// that what is seen pressed is kept; a tap that does not get through says so and changes nothing.

const list = document.querySelector("[data-marks]");

if (list && !("entered" in list.dataset)) {
  const rows = [...list.querySelectorAll(".mark-row")];
  const undo = document.querySelector("[data-undo] button");
  const enter = document.querySelector("[data-enter]");
  let here = Math.max(0, rows.findIndex((row) => !row.dataset.mark));
  let waiting = Promise.resolve();

  const move = (to, focus) => {
    rows[here].classList.remove("is-here");
    here = Math.max(0, Math.min(rows.length - 1, to));
    rows[here].classList.add("is-here");
    if (focus) {
      rows[here].querySelector(".taps button").focus({ preventScroll: true });
      rows[here].scrollIntoView({ block: "nearest" });
    }
  };

  const say = (row, text) => { row.querySelector(".verdict").textContent = text; };

  const show = (view) => {
    view.rows.forEach((item) => {
      const row = rows[item.number - 1];
      row.dataset.mark = item.mark;
      row.querySelectorAll(".taps button").forEach((button) => {
        button.setAttribute("aria-pressed", String(button.value === item.mark));
      });
      const verdict = row.querySelector(".verdict");
      verdict.textContent = "";
      if (item.word) {
        const tag = document.createElement("span");
        tag.className = `tag ${item.state}`;
        tag.textContent = item.word;
        verdict.append(tag, ` ${item.reason}`);
      }
      const field = row.querySelector(".written input[name=written]");
      if (field && document.activeElement !== field) {
        field.value = item.written;
      }
    });
    document.querySelector("[data-points]").textContent = view.points;
    document.querySelector("[data-marked]").textContent = view.marked;
    undo.disabled = view.steps === 0;
    enter.disabled = view.marked < rows.length;
  };

  // one after the other, so that the last tap is the last that is kept
  const send = (form, submitter, row) => {
    const fields = new URLSearchParams(new FormData(form));
    if (submitter && submitter.name) {
      fields.set(submitter.name, submitter.value);
    }
    waiting = waiting.then(async () => {
      try {
        const answer = await fetch(form.action, {
          method: "POST", body: fields, headers: { Accept: "application/json" }, redirect: "error",
        });
        if (!answer.ok) {
          throw new Error(String(answer.status));
        }
        show(await answer.json());
      } catch (e) {
        say(row, "That was not kept. Check the connection and tap again.");
      }
    });
    return waiting;
  };

  document.addEventListener("submit", (event) => {
    const form = event.target;
    const row = form.closest(".mark-row");
    if (row || form.matches("[data-rest], [data-undo]")) {
      event.preventDefault();
      send(form, event.submitter, row || rows[here]);
      if (row) {
        move(rows.indexOf(row) + 1, form.matches(".written"));
      }
    }
  });

  const keys = { r: "right", h: "half", w: "wrong", 0: "blank" };

  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches("input, textarea, select")) {
      if (event.key === "Escape") {
        move(here, true);
      }
      return;
    }
    const key = event.key.toLowerCase();
    const value = keys[key] || (/^[a-f]$/.test(key) ? key : "");
    const button = value && rows[here].querySelector(`.taps [value="${value}"]`);
    if (button) {
      send(button.form, button, rows[here]);
      move(here + 1, true);
    } else if (key === "t" && rows[here].querySelector(".written")) {
      rows[here].querySelector(".written input[name=written]").focus();
    } else if (key === "u" && !undo.disabled) {
      send(undo.form, null, rows[here]);
    } else if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      move(here + (event.key === "ArrowDown" ? 1 : -1), true);
    } else {
      return;
    }
    event.preventDefault();
  });

  list.addEventListener("focusin", (event) => {
    const row = event.target.closest(".mark-row");
    if (row) {
      move(rows.indexOf(row), false);
    }
  });

  move(here, false);
}
