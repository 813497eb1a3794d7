/*
 * <part-drawing>: a drawing to look at closely, move over and point at.
 *
 * It wraps an SVG in which every part is one or more <g class="part" data-shape="7">; a visible point of the part may
 * stand on one of them as data-at="120 85". Without script the drawing is simply there; with it, it can be enlarged and
 * moved, and, with the attribute `choose`, a part can be chosen by mouse, finger or keyboard. The whole drawing is one
 * stop for the Tab key: arrow keys go to the neighbouring part, Home, End, Page Up and Page Down go through the parts in
 * reading order, Enter or Space chooses.
 *
 * Beside the drawing there may be an <svg class="narrow-labels"> with a group of labels and a view box: they take the
 * place of the drawing's own labels in windows too narrow for those.
 *
 * Attributes: choose, quiz (parts are only ever called "part 7 of 42"), names (the id of a list of elements with
 * data-shape, whose text names the parts and whose links a choice follows), into (the id of an input that takes the
 * number of the chosen shape), disabled, label.
 * Events: choose {shape}, cancelable; point {shape or null}.
 * Methods: mark(shape, 'chosen' | 'right' | 'wrong' | 'sought' | ''), clear(), show(shape).
 */

/** The smallest target of a finger, in CSS pixels (WCAG 2.2, 2.5.8). */
const TARGET = 24;
const LARGEST = 8;
const STEP = 1.5;
const DRAG = 5;
/** Narrower windows have no room for terms beside a drawing; see Labelling.TERMS_FROM. */
const NARROW = '(max-width: 65.99rem)';
const SVG = 'http://www.w3.org/2000/svg';
const ARROWS = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowDown: [0, 1], ArrowUp: [0, -1] };
const SIGNS = {
  chosen: 'M-3 0a3 3 0 1 0 6 0a3 3 0 1 0-6 0',
  right: 'M-5 0L-1.5 4L5-4',
  wrong: 'M-4-4L4 4M4-4L-4 4',
  sought: 'M-4.5 0a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0-9 0',
};
const WORDS = { chosen: 'chosen', right: 'right', wrong: 'not right', sought: 'this one was meant' };

/**
 * The point that lies nearest in a direction: first within 45 degrees of it, else within 80. Across the direction,
 * distance counts double, so that an arrow key goes straight on rather than aside.
 *
 * @param points array of {x, y}
 * @param from one of them
 * @param direction [dx, dy], one of the four arrows
 * @returns one of the points, or undefined if there is none that way
 */
export function neighbour(points, from, [dx, dy]) {
  for (const slope of [1, 5.67]) {
    let nearest;
    let least = Infinity;
    for (const point of points) {
      const along = (point.x - from.x) * dx + (point.y - from.y) * dy;
      const across = Math.abs((point.x - from.x) * dy - (point.y - from.y) * dx);
      const cost = along + 2 * across;
      if (point !== from && along > 0 && across <= along * slope && cost < least) {
        nearest = point;
        least = cost;
      }
    }
    if (nearest) {
      return nearest;
    }
  }
  return undefined;
}

class PartDrawing extends HTMLElement {
  static observedAttributes = ['disabled'];

  connectedCallback() {
    this.svg ??= this.querySelector('svg:not(.narrow-labels)');
    if (!this.svg || this.pane) {
      return;
    }
    this.scale = 1;
    this.chosen = null;
    this.marks = new Map();
    this.build();
    this.listen();
  }

  disconnectedCallback() {
    this.sizes?.disconnect();
  }

  attributeChangedCallback() {
    if (this.parts) {
      this.nameParts();
    }
  }

  // ---- what there is

  build() {
    this.pane = element('div', 'drawing-pane');
    this.svg.replaceWith(this.pane);
    this.pane.append(this.svg);
    this.takeLabels();
    this.over = svgElement('g', { class: 'drawing-over', 'aria-hidden': 'true', 'pointer-events': 'none' });
    this.svg.append(this.over);
    this.caption = element('p', 'drawing-caption is-title');
    this.title_ = this.getAttribute('label') ?? '';
    this.caption.textContent = this.title_;
    this.caption.setAttribute('aria-hidden', 'true');
    this.tools = element('div', 'drawing-tools');
    this.smaller = this.tool('−', 'Smaller', () => this.zoom(1 / STEP));
    this.whole = this.tool('Whole', 'Whole drawing', () => this.zoomTo(1));
    this.larger = this.tool('+', 'Larger', () => this.zoom(STEP));
    this.tools.append(this.caption, this.smaller, this.whole, this.larger);
    this.append(this.tools);
    this.groups = new Map();
    for (const group of this.svg.querySelectorAll('g.part[data-shape]')) {
      const shape = Number(group.dataset.shape);
      this.groups.set(shape, [...(this.groups.get(shape) ?? []), group]);
    }
    if (this.choosable) {
      this.prepareChoice();
    } else {
      this.svg.setAttribute('role', 'img');
      if (this.getAttribute('label')) {
        this.svg.setAttribute('aria-label', this.getAttribute('label'));
      }
    }
    this.refreshTools();
    // a drawing that is not shown yet, as on another width of window, is measured when it is
    this.sizes = new ResizeObserver(() => this.resized());
    this.sizes.observe(this.pane);
  }

  takeLabels() {
    const narrow = this.querySelector('svg.narrow-labels');
    if (!narrow) {
      return;
    }
    narrow.remove();
    this.labels = [narrow, this.svg].map((svg) => ({
      viewBox: svg.getAttribute('viewBox'), group: svg.querySelector('.labels'),
    }));
    const query = matchMedia(NARROW);
    query.addEventListener('change', () => this.layLabels(query.matches));
    this.layLabels(query.matches);
  }

  layLabels(isNarrow) {
    const [chosen, other] = isNarrow ? this.labels : [...this.labels].reverse();
    other.group.remove();
    this.svg.insertBefore(chosen.group, this.over ?? null);
    this.svg.setAttribute('viewBox', chosen.viewBox);
    this.drawOver();
  }

  tool(text, title, act) {
    const button = element('button', 'quiet');
    button.type = 'button';
    button.textContent = text;
    button.setAttribute('aria-label', title);
    button.title = title;
    button.addEventListener('click', act);
    return button;
  }

  get choosable() {
    return this.hasAttribute('choose');
  }

  get isQuiz() {
    return this.hasAttribute('quiz');
  }

  prepareChoice() {
    const hint = element('p', 'drawing-hint hidden-label');
    hint.id = `drawing-hint-${Math.random().toString(36).slice(2)}`;
    hint.textContent =
      'Arrow keys go to the neighbouring part, Home and End to the first and the last, Page Up and Page Down to the '
      + 'one before and the next. Enter chooses. Plus and minus make the drawing larger and smaller.';
    this.append(hint);
    this.svg.setAttribute('role', 'group');
    this.svg.setAttribute('aria-label', this.getAttribute('label') ?? 'Drawing');
    this.svg.setAttribute('aria-describedby', hint.id);
    this.measure();
  }

  /** Finds where each part lies, in the units of the drawing; false while the drawing is not shown. */
  measure() {
    if (this.parts) {
      return true;
    }
    const matrix = this.svg.getScreenCTM();
    if (!matrix || this.svg.getBoundingClientRect().width === 0) {
      return false;
    }
    const back = matrix.inverse();
    const all = [...this.groups].map(([shape, groups]) => partOf(shape, groups, back));
    // a part without a place is wholly behind others: nobody can point at it
    const placed = all.filter((part) => part.isPlaced);
    this.parts = placed.length > 0 ? placed : all;
    const band = this.svg.viewBox.baseVal.width / 24 || 40;
    this.parts.sort((a, b) => Math.round(a.x / band) - Math.round(b.x / band) || a.y - b.y || a.shape - b.shape);
    this.byShape = new Map(this.parts.map((part) => [part.shape, part]));
    this.nameParts();
    if (this.choosable) {
      this.parts.forEach((part) => part.handle.setAttribute('tabindex', '-1'));
      this.parts[0]?.handle.setAttribute('tabindex', '0');
    }
    return true;
  }

  nameParts() {
    const list = this.isQuiz ? null : this.names;
    this.parts.forEach((part, i) => {
      const entry = list?.querySelector(`[data-shape="${part.shape}"]`);
      part.link = entry?.closest('a') ?? undefined;
      part.name = entry ? entry.textContent.trim() : `part ${i + 1} of ${this.parts.length}`;
      if (!this.choosable) {
        return;
      }
      const mark = this.marks.get(part.shape);
      part.handle.setAttribute('role', part.link ? 'link' : 'button');
      part.handle.setAttribute('aria-label', mark ? `${part.name}, ${WORDS[mark]}` : part.name);
      part.handle.toggleAttribute('aria-disabled', false);
      if (this.hasAttribute('disabled')) {
        part.handle.setAttribute('aria-disabled', 'true');
      }
    });
  }

  get names() {
    return document.getElementById(this.getAttribute('names') ?? '');
  }

  /** The numbers of the shapes, in reading order. */
  get shapes() {
    this.measure();
    return (this.parts ?? []).map((part) => part.shape);
  }

  resized() {
    this.measure();
    this.drawOver();
  }

  // ---- what people do

  listen() {
    this.addEventListener('keydown', (event) => this.key(event));
    this.pane.addEventListener('wheel', (event) => this.wheel(event), { passive: false });
    this.listenToFingers();
    this.listenToDrag();
    if (!this.choosable) {
      return;
    }
    this.svg.addEventListener('click', (event) => this.click(event));
    this.svg.addEventListener('pointermove', (event) => this.hover(event));
    this.svg.addEventListener('pointerleave', () => this.point(null));
    // not on the SVG itself: a browser takes an SVG that listens to focus for one more stop of the Tab key
    this.pane.addEventListener('focusin', (event) => this.focused(event));
    this.pane.addEventListener('focusout', () => this.blurred());
    if (!this.isQuiz) {
      const shapeOf = (event) => event.target.closest('[data-shape]')?.dataset.shape;
      for (const [come, go] of [['pointerover', 'pointerout'], ['focusin', 'focusout']]) {
        this.names?.addEventListener(come, (e) => shapeOf(e) && this.measure() && this.point(Number(shapeOf(e))));
        this.names?.addEventListener(go, () => this.point(null));
      }
    }
  }

  listenToDrag() {
    let from = null;
    this.pane.addEventListener('pointerdown', (event) => {
      this.finger = event.pointerType === 'touch';
      this.dragged = false;
      if (event.button === 0 && event.pointerType !== 'touch' && this.scale > 1) {
        from = { x: event.clientX, y: event.clientY, left: this.pane.scrollLeft, top: this.pane.scrollTop };
      }
    });
    this.pane.addEventListener('pointermove', (event) => {
      if (!from) {
        return;
      }
      const dx = event.clientX - from.x;
      const dy = event.clientY - from.y;
      if (!this.dragged && Math.hypot(dx, dy) > DRAG) {
        this.dragged = true;
        this.pane.setPointerCapture(event.pointerId);
      }
      if (this.dragged) {
        this.pane.scrollTo(from.left - dx, from.top - dy);
      }
    });
    for (const end of ['pointerup', 'pointercancel', 'lostpointercapture']) {
      this.pane.addEventListener(end, () => { from = null; });
    }
  }

  // One finger scrolls, as everywhere. Two fingers move and enlarge; the browser must then leave them to us.
  listenToFingers() {
    let last = null;
    const two = (event) => {
      const [a, b] = event.touches;
      return {
        x: (a.clientX + b.clientX) / 2,
        y: (a.clientY + b.clientY) / 2,
        apart: Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY),
      };
    };
    this.pane.addEventListener('touchstart', (event) => {
      last = event.touches.length === 2 ? two(event) : null;
      if (last) {
        event.preventDefault();
      }
    }, { passive: false });
    this.pane.addEventListener('touchmove', (event) => {
      if (!last || event.touches.length !== 2) {
        return;
      }
      event.preventDefault();
      const now = two(event);
      this.zoom(now.apart / Math.max(1, last.apart), now.x, now.y);
      this.pane.scrollBy(last.x - now.x, last.y - now.y);
      last = now;
    }, { passive: false });
    this.pane.addEventListener('touchend', () => { last = null; });
  }

  wheel(event) {
    if (event.ctrlKey) {
      event.preventDefault();
      this.zoom(Math.exp(-event.deltaY / 200), event.clientX, event.clientY);
    }
  }

  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches?.('input, select, textarea')) {
      return;
    }
    const act = { '+': () => this.zoom(STEP), '=': () => this.zoom(STEP), '-': () => this.zoom(1 / STEP),
      0: () => this.zoomTo(1) }[event.key] ?? this.keyOnPart(event);
    if (act) {
      event.preventDefault();
      act();
    }
  }

  keyOnPart(event) {
    const part = this.choosable && this.partOfHandle(event.target);
    if (!part) {
      return undefined;
    }
    if (ARROWS[event.key]) {
      return () => this.go(neighbour(this.parts, part, ARROWS[event.key]));
    }
    const at = this.parts.indexOf(part);
    const last = this.parts.length - 1;
    return {
      Home: () => this.go(this.parts[0]),
      End: () => this.go(this.parts[last]),
      PageDown: () => this.go(this.parts[Math.min(last, at + 1)]),
      PageUp: () => this.go(this.parts[Math.max(0, at - 1)]),
      Enter: () => this.choose(part),
      ' ': () => this.choose(part),
    }[event.key];
  }

  partOfHandle(target) {
    return this.parts?.find((part) => part.handle === target);
  }

  go(part) {
    if (!part) {
      return;
    }
    this.parts.forEach((other) => other.handle.setAttribute('tabindex', other === part ? '0' : '-1'));
    part.handle.focus({ preventScroll: true });
    this.bringIntoPane(part);
    part.handle.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  focused(event) {
    const part = this.partOfHandle(event.target);
    this.focus_ = part && event.target.matches(':focus-visible') ? part : undefined;
    if (part) {
      this.point(part.shape);
    }
    this.drawOver();
  }

  blurred() {
    this.focus_ = undefined;
    this.point(null);
    this.drawOver();
  }

  hover(event) {
    if (event.pointerType === 'touch' || event.buttons) {
      return;
    }
    const { clientX, clientY } = event;
    cancelAnimationFrame(this.frame);
    this.frame = requestAnimationFrame(() => this.point(this.nearest(clientX, clientY)?.shape ?? null));
  }

  click(event) {
    if (this.dragged) {
      this.dragged = false;
      return;
    }
    if (this.finger && this.isCrowded(event.clientX, event.clientY)) {
      this.zoom(2.5, event.clientX, event.clientY);
      this.caption.textContent = 'Small parts here: touch again.';
      return;
    }
    const part = this.nearest(event.clientX, event.clientY);
    if (part) {
      this.parts.forEach((other) => other.handle.setAttribute('tabindex', other === part ? '0' : '-1'));
      this.choose(part);
    }
  }

  /** The part at this place of the window, or the nearest within half a target of it. */
  nearest(x, y) {
    if (!this.measure()) {
      return undefined;
    }
    for (let reach = 0; reach <= TARGET / 2; reach += 3) {
      const found = this.around(x, y, reach);
      if (found.length > 0) {
        return found[0];
      }
    }
    return undefined;
  }

  around(x, y, reach) {
    const count = reach === 0 ? 1 : 12;
    const found = [];
    for (let i = 0; i < count; i += 1) {
      const angle = (2 * Math.PI * i) / count;
      const hit = document.elementFromPoint(x + reach * Math.cos(angle), y + reach * Math.sin(angle));
      const shape = this.svg.contains(hit) ? hit.closest('[data-shape]')?.dataset.shape : undefined;
      const part = shape === undefined ? undefined : this.byShape.get(Number(shape));
      if (part && !found.includes(part)) {
        found.push(part);
      }
    }
    return found;
  }

  /** Whether a fingertip here covers several parts of which one is smaller than a target. */
  isCrowded(x, y) {
    if (this.scale >= LARGEST || !this.measure()) {
      return false;
    }
    const hit = document.elementFromPoint(x, y);
    if (hit?.closest('.label-of')) {
      return false;
    }
    const found = new Set([0, 5, 10].flatMap((reach) => this.around(x, y, reach)));
    const unit = this.pixelsPerUnit();
    return found.size > 1 && [...found].some((part) => Math.min(part.width, part.height) * unit < TARGET);
  }

  // ---- what follows

  choose(part) {
    if (this.hasAttribute('disabled')) {
      return;
    }
    const event = new CustomEvent('choose', { detail: { shape: part.shape }, bubbles: true, cancelable: true });
    const input = document.getElementById(this.getAttribute('into') ?? '');
    if (this.chosen !== null && this.marks.get(this.chosen) === 'chosen') {
      this.mark(this.chosen, '');
    }
    this.chosen = part.shape;
    if (input) {
      input.value = String(part.shape);
      input.dispatchEvent(new Event('input', { bubbles: true }));
    }
    if (this.isQuiz || !part.link) {
      this.mark(part.shape, 'chosen');
    }
    if (this.dispatchEvent(event)) {
      part.link?.click();
    }
  }

  point(shape) {
    if (this.pointed === shape) {
      return;
    }
    this.setClass(this.pointed, 'is-pointed', false);
    this.pointed = shape;
    this.setClass(shape, 'is-pointed', true);
    this.caption.textContent = this.byShape?.get(shape)?.name ?? this.title_;
    this.caption.classList.toggle('is-title', shape === null);
    this.dispatchEvent(new CustomEvent('point', { detail: { shape }, bubbles: true }));
  }

  setClass(shape, name, on) {
    this.svg.querySelectorAll(`[data-shape="${shape}"]`).forEach((group) => group.classList.toggle(name, on));
  }

  /** Marks a part, by an outline and a sign; an empty state takes the mark off. */
  mark(shape, state) {
    Object.keys(SIGNS).forEach((name) => this.setClass(shape, `is-${name}`, name === state));
    if (state) {
      this.marks.set(shape, state);
    } else {
      this.marks.delete(shape);
    }
    if (this.measure()) {
      this.nameParts();
    }
    this.drawOver();
  }

  /** Takes all marks off. */
  clear() {
    [...this.marks.keys()].forEach((shape) => this.mark(shape, ''));
    this.chosen = null;
  }

  /** Brings a part into view, enlarged if it is smaller than a target. */
  show(shape) {
    const part = this.measure() && this.byShape.get(shape);
    if (!part) {
      return;
    }
    const size = Math.min(part.width, part.height) * this.pixelsPerUnit();
    if (size < TARGET) {
      this.zoomTo(Math.min(LARGEST, (this.scale * 2 * TARGET) / Math.max(size, 1)));
    }
    this.bringIntoPane(part);
  }

  bringIntoPane(part) {
    if (this.scale === 1) {
      return;
    }
    const box = part.handle.getBoundingClientRect();
    const pane = this.pane.getBoundingClientRect();
    const inside = box.left >= pane.left && box.right <= pane.right && box.top >= pane.top && box.bottom <= pane.bottom;
    if (!inside) {
      this.pane.scrollBy((box.left + box.right - pane.left - pane.right) / 2,
        (box.top + box.bottom - pane.top - pane.bottom) / 2);
    }
  }

  zoom(factor, x, y) {
    this.zoomTo(this.scale * factor, x, y);
  }

  /** Shows the drawing so many times as large; the given place of the window, or the middle, stays where it is. */
  zoomTo(scale, x, y) {
    const to = Math.min(LARGEST, Math.max(1, scale));
    const pane = this.pane.getBoundingClientRect();
    const centre = this.focus_?.handle.getBoundingClientRect();
    const cx = x ?? (centre ? (centre.left + centre.right) / 2 : pane.left + pane.width / 2);
    const cy = y ?? (centre ? (centre.top + centre.bottom) / 2 : pane.top + pane.height / 2);
    if (this.scale === 1 && to > 1) {
      this.pane.style.height = `${Math.max(pane.height, Math.min(300, window.innerHeight / 2))}px`;
    }
    const before = this.svg.getBoundingClientRect();
    const u = (cx - before.left) / before.width;
    const v = (cy - before.top) / before.height;
    this.scale = to;
    this.svg.style.width = to === 1 ? '' : `${to * 100}%`;
    this.classList.toggle('is-large', to > 1);
    if (to === 1) {
      this.pane.style.height = '';
    }
    const after = this.svg.getBoundingClientRect();
    this.pane.scrollBy(after.left + u * after.width - cx, after.top + v * after.height - cy);
    this.refreshTools();
    this.drawOver();
  }

  refreshTools() {
    this.smaller.disabled = this.scale <= 1;
    this.whole.disabled = this.scale <= 1;
    this.larger.disabled = this.scale >= LARGEST;
  }

  pixelsPerUnit() {
    return this.svg.getScreenCTM()?.a || 1;
  }

  // ---- the ring and the signs, which keep their size on the screen

  drawOver() {
    this.over?.replaceChildren();
    if (!this.parts) {
      return;
    }
    const unit = this.pixelsPerUnit();
    if (this.focus_) {
      this.over.append(...ring(this.focus_, unit));
    }
    for (const [shape, state] of this.marks) {
      const part = this.byShape.get(shape);
      if (part) {
        this.over.append(sign(this.placeOfSign(part, unit), state, unit));
      }
    }
  }

  /** On the part where it shows, or, lest a sign cover a small part, off its upper right corner. */
  placeOfSign(part, unit) {
    const isSmall = Math.min(part.width, part.height) * unit < 1.5 * TARGET;
    return isSmall
      ? { x: part.left + part.width + 10 / unit, y: part.top - 10 / unit }
      : part;
  }
}

function partOf(shape, groups, back) {
  const boxes = groups.map((group) => group.getBoundingClientRect());
  const areas = boxes.map((box) => box.width * box.height);
  const handle = groups[areas.indexOf(Math.max(...areas))];
  const upper = new DOMPoint(
    Math.min(...boxes.map((box) => box.left)), Math.min(...boxes.map((box) => box.top))).matrixTransform(back);
  const lower = new DOMPoint(
    Math.max(...boxes.map((box) => box.right)), Math.max(...boxes.map((box) => box.bottom))).matrixTransform(back);
  const width = lower.x - upper.x;
  const height = lower.y - upper.y;
  const place = groups.map((group) => group.dataset.at).find(Boolean);
  const [x, y] = place ? place.split(' ').map(Number) : [upper.x + width / 2, upper.y + height / 2];
  return { shape, groups, handle, isPlaced: Boolean(place), left: upper.x, top: upper.y, width, height, x, y };
}

function ring(part, unit) {
  const pad = 4 / unit;
  const width = Math.max(part.width + 2 * pad, TARGET / unit);
  const height = Math.max(part.height + 2 * pad, TARGET / unit);
  const box = {
    x: part.left + part.width / 2 - width / 2, y: part.top + part.height / 2 - height / 2, width, height, rx: 3 / unit,
  };
  return ['drawing-ring-halo', 'drawing-ring'].map((name) => svgElement('rect', { class: name, ...box }));
}

function sign(at, state, unit) {
  const group = svgElement('g', {
    class: `drawing-sign is-${state}`, transform: `translate(${at.x} ${at.y}) scale(${1 / unit})`,
  });
  group.append(svgElement('circle', { r: 10 }), svgElement('path', { d: SIGNS[state] }));
  return group;
}

function element(name, className) {
  const made = document.createElement(name);
  made.className = className;
  return made;
}

function svgElement(name, attributes) {
  const made = document.createElementNS(SVG, name);
  Object.entries(attributes).forEach(([key, value]) => made.setAttribute(key, value));
  return made;
}

customElements.define('part-drawing', PartDrawing);
