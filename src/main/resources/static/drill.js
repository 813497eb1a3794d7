// Pointing at a part: by tap or click, with some room round small parts, or by keyboard. The server knows which part a
// shape's number stands for; nothing here does.

const NEAR = 14; // CSS px: half a fingertip

const figure = document.querySelector("[data-pointing]");
const form = document.querySelector("[data-answer]");
const field = document.querySelector("[data-focus]");

// a keyboard that slides up over the drawing would hide what is asked
if (field && matchMedia("(hover: hover) and (pointer: fine)").matches) {
  field.focus();
}

if (figure && form) {
  point(figure.querySelector("svg"), form);
}

function point(svg, form) {
  const shapes = gather(svg);
  const order = [...shapes.keys()].sort((a, b) => readingOrder(shapes.get(a), shapes.get(b)));
  const confirm = form.querySelector("[data-confirm]");

  svg.setAttribute("role", "group");
  svg.setAttribute("aria-label", "The drawing: " + order.length + " parts");
  svg.setAttribute("aria-describedby", "how");
  order.forEach((number, i) => {
    const stop = shapes.get(number).stop;
    stop.setAttribute("role", "button");
    stop.setAttribute("tabindex", i === 0 ? "0" : "-1");
    stop.setAttribute("aria-label", "Part " + (i + 1) + " of " + order.length);
    stop.setAttribute("aria-pressed", "false");
    stop.addEventListener("focus", () => aim(number, true));
    stop.addEventListener("blur", () => aim(number, false));
  });

  svg.addEventListener("click", (event) => {
    const part = event.target.closest(".part[data-shape]");
    const number = part ? part.dataset.shape : near(svg, event.clientX, event.clientY);
    if (number !== null) {
      choose(number);
    }
  });

  svg.addEventListener("keydown", (event) => {
    const here = event.target.closest("[data-shape]");
    if (!here) {
      return;
    }
    const number = here.dataset.shape;
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      choose(number);
      confirm.focus();
      return;
    }
    const next = neighbour(number, event.key);
    if (next !== null) {
      event.preventDefault();
      move(next);
    }
  });

  function choose(number) {
    shapes.forEach((shape, n) => {
      shape.groups.forEach((g) => g.classList.toggle("lit", n === number));
      shape.stop.setAttribute("aria-pressed", String(n === number));
      shape.stop.setAttribute("tabindex", n === number ? "0" : "-1");
    });
    form.elements.shape.value = number;
    confirm.disabled = false;
  }

  function aim(number, on) {
    shapes.get(number).groups.forEach((g) => g.classList.toggle("aim", on));
  }

  function move(number) {
    shapes.forEach((shape, n) => shape.stop.setAttribute("tabindex", n === number ? "0" : "-1"));
    shapes.get(number).stop.focus({ preventScroll: false });
  }

  function neighbour(number, key) {
    if (key === "Home") {
      return order[0];
    }
    if (key === "End") {
      return order[order.length - 1];
    }
    const direction = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
    if (!direction) {
      return null;
    }
    const from = shapes.get(number);
    let best = null;
    let least = Infinity;
    shapes.forEach((shape, n) => {
      const along = (shape.x - from.x) * direction[0] + (shape.y - from.y) * direction[1];
      const aside = Math.abs((shape.x - from.x) * direction[1]) + Math.abs((shape.y - from.y) * direction[0]);
      const cost = along + 2 * aside;
      if (n !== number && along > 0.0005 && cost < least) {
        least = cost;
        best = n;
      }
    });
    return best;
  }
}

// A part can be drawn in several pieces with the same number; the largest one takes the focus. Places are shares of the
// drawing's width, so that they hold at any size.
function gather(svg) {
  const frame = svg.getBoundingClientRect();
  const shapes = new Map();
  svg.querySelectorAll(".part[data-shape]").forEach((g) => {
    const box = g.getBoundingClientRect();
    const size = box.width * box.height;
    const shape = shapes.get(g.dataset.shape) || { groups: [], size: -1 };
    shape.groups.push(g);
    if (size > shape.size) {
      const x = (box.left + box.width / 2 - frame.left) / frame.width;
      const y = (box.top + box.height / 2 - frame.top) / frame.width;
      Object.assign(shape, { stop: g, size, x, y });
    }
    shapes.set(g.dataset.shape, shape);
  });
  return shapes;
}

// Rows from the top, each from the left: near enough in height counts as the same row.
function readingOrder(a, b) {
  const row = Math.floor(a.y * 25) - Math.floor(b.y * 25);
  return row !== 0 ? row : a.x - b.x;
}

// The number of the nearest shape within reach of a fingertip round a point that is on none.
function near(svg, x, y) {
  const step = 3.5;
  for (let reach = step; reach <= NEAR; reach += step) {
    for (let i = 0; i < 12; i++) {
      const angle = (2 * Math.PI * i) / 12;
      const hit = document.elementFromPoint(x + reach * Math.cos(angle), y + reach * Math.sin(angle));
      const part = hit && svg.contains(hit) ? hit.closest(".part[data-shape]") : null;
      if (part) {
        return part.dataset.shape;
      }
    }
  }
  return null;
}
