// An outline that can be drawn: corners and things that are dragged, or moved with
// the arrow keys. Lengths are metres.
import { draw } from "./elements.js";
import { at, floorOf } from "./floor.js";
import { lettered, rims } from "./labels.js";

export const snap = (x) => Math.round(x * 10) / 10;

// lengthOf is the length of a side.
export const lengthOf = (a, b) => Math.hypot(b.x - a.x, b.y - a.y);

// stretch gives a side a new length. The next side keeps its own where it stands at
// a right angle, so that a rectangle stays one.
export function stretch(outline, i, length) {
  const n = outline.length, a = outline[i], b = outline[(i + 1) % n], was = lengthOf(a, b);
  if (!(was > 0) || !(length > 0)) return;
  const by = { x: (b.x - a.x) / was * (length - was), y: (b.y - a.y) / was * (length - was) };
  const c = outline[(i + 2) % n];
  const square = Math.abs((b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y)) < 0.02 * was * lengthOf(b, c);
  const move = (p) => { p.x = tidy(p.x + by.x); p.y = tidy(p.y + by.y); };
  move(b);
  if (square && n > 3) move(c);
}

const tidy = (x) => Math.round(x * 1000) / 1000;

// editor draws a plan with handles. changed is called after every change, said with
// words for those who listen.
export function editor(svg, { changed, said }) {
  let plan = null, shown = null, view = null, held = null, drawnFor = "";

  const toRoom = (e) => {
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return { x: p.x, y: -p.y };
  };

  // parts are what can be moved: corners, and things by their middle.
  const parts = () => [
    ...plan.outline.map((p, i) => ({ key: "c" + i, name: `Corner ${i + 1}`, mark: i + 1, where: () => p, move: (x, y) => { p.x = x; p.y = y; } })),
    ...plan.obstacles.map((o, i) => ({ key: "o" + i, name: o.name || `Thing ${i + 1}`, where: () => middleOf(o), move: (x, y) => shift(o, x, y) })),
  ];

  // frame is what the picture shows: the walls and all things, those outside too, with a rim
  // in which lengths can be read. unit is how many metres a pixel has.
  function frame(letters) {
    const xs = plan.outline.map((p) => p.x), ys = plan.outline.map((p) => p.y);
    for (const b of plan.obstacles.map(boxOf)) { xs.push(b.x, b.x + b.w); ys.push(b.y, b.y + b.h); }
    const x = Math.min(...xs), y = Math.min(...ys), w = Math.max(0.5, Math.max(...xs) - x), h = Math.max(0.5, Math.max(...ys) - y);
    const rim = rims(plan.outline.map((a, i) => lengthWords(a, plan.outline[(i + 1) % plan.outline.length])), letters, 20);
    const wide = svg.clientWidth || 600, high = Math.max(200, innerHeight * 0.7 - 4);
    const unit = Math.max(w / Math.max(80, wide - 2 * rim.x), h / Math.max(80, high - 2 * rim.y));
    const all = { w: wide * unit, h: h + 2 * rim.y * unit };
    return { unit, x: x + w / 2 - all.w / 2, y: y - rim.y * unit, ...all };
  }

  // show draws the plan; room is what the program makes of it, or null.
  function show(newPlan, room) {
    plan = newPlan;
    shown = room;
    const rem = parseFloat(getComputedStyle(document.documentElement).fontSize) || 16, letters = 0.75 * rem, handle = 0.6 * rem;
    if (!held) view = frame(letters);
    drawnFor = sizes();
    svg.setAttribute("viewBox", `${view.x} ${-view.y - view.h} ${view.w} ${view.h}`);
    const unit = view.unit;
    svg.style.setProperty("--px", unit);
    const focused = svg.contains(document.activeElement) ? document.activeElement.dataset.key : null;
    const points = plan.outline.map(at).join(" ");
    const g = draw("g");
    if (room) g.append(floorOf(room));
    else g.append(draw("polygon", { class: "floor", points }), ...plan.obstacles.map(thing));
    g.append(draw("polygon", { class: "walls", points }));
    g.append(...words(letters, handle));
    for (const part of parts()) {
      const p = part.where();
      g.append(draw("g", { class: "handle", tabindex: 0, role: "button", "data-key": part.key, "aria-label": `${part.name} at ${Math.round(p.x * 100) / 100}, ${Math.round(p.y * 100) / 100}: arrow keys move it`, transform: `translate(${at(p)})` },
        draw("circle", { class: "hit", r: rem * unit }), draw("circle", { r: handle * unit }), part.mark && draw("text", { dy: "0.36em", text: part.mark }), draw("title", { text: part.name })));
    }
    svg.replaceChildren(g);
    if (focused) svg.querySelector(`[data-key="${focused}"]`)?.focus({ preventScroll: true });
  }

  // words are the lengths of the sides and the names of the things, where they can be read.
  function words(letters, handle) {
    const px = (p) => ({ x: (p.x - view.x) / view.unit, y: (view.y + view.h - p.y) / view.unit });
    const side = around(plan.outline) > 0 ? 1 : -1;
    const sides = plan.outline.map((a, i) => {
      const b = plan.outline[(i + 1) % plan.outline.length], long = lengthOf(a, b);
      const out = long > 0 ? { x: side * (b.y - a.y) / long, y: side * (b.x - a.x) / long } : { x: 0, y: -1 };
      return { words: lengthWords(a, b), long, out, ...px({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }) };
    });
    const things = plan.obstacles.filter((o) => o.name).map((o) => ({ words: o.name, ...px(middleOf(o)) }));
    return lettered({ sides, things, taken: parts().map((p) => px(p.where())), walls: plan.outline.map((a, i) => [px(a), px(plan.outline[(i + 1) % plan.outline.length])]), size: letters, width: view.w / view.unit, height: view.h / view.unit, handle })
      .map((l) => draw("text", { class: l.kind, dy: "0.35em", x: view.x + l.x * view.unit, y: -(view.y + view.h) + l.y * view.unit, text: l.words }));
  }

  // The picture is drawn anew for another size, since letters and handles keep theirs.
  const sizes = () => `${svg.clientWidth} ${innerHeight}`;
  const resized = () => { if (plan && !held && svg.clientWidth && sizes() !== drawnFor) show(plan, shown); };
  new ResizeObserver(resized).observe(svg);
  addEventListener("resize", resized);

  svg.addEventListener("pointerdown", (e) => {
    const handle = e.target.closest(".handle");
    if (!handle || !plan) return;
    held = handle.dataset.key;
    svg.setPointerCapture(e.pointerId);
    e.preventDefault();
    handle.focus({ preventScroll: true });
  });
  svg.addEventListener("pointermove", (e) => {
    if (!held) return;
    const p = toRoom(e), part = parts().find((x) => x.key === held);
    part.move(snap(p.x), snap(p.y));
    changed(false);
  });
  const drop = () => { if (held) { held = null; changed(true); } };
  svg.addEventListener("pointerup", drop);
  svg.addEventListener("pointercancel", drop);
  svg.addEventListener("keydown", (e) => {
    const handle = e.target.closest(".handle");
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
    if (!handle || !by) return;
    e.preventDefault();
    const part = parts().find((x) => x.key === handle.dataset.key), p = part.where(), far = e.shiftKey ? 1 : 0.1;
    part.move(tidy(p.x + by[0] * far), tidy(p.y + by[1] * far));
    changed(true);
    said(`${part.name} at ${part.where().x}, ${part.where().y}`);
  });
  // reach puts the focus on the handle of a thing.
  const reach = (i) => svg.querySelector(`[data-key="o${i}"]`)?.focus();
  return { show, reach };
}

const lengthWords = (a, b) => `${Math.round(lengthOf(a, b) * 100) / 100} m`;

// around is more than 0 where the corners go round to the left.
const around = (points) => points.reduce((sum, a, i) => { const b = points[(i + 1) % points.length]; return sum + a.x * b.y - b.x * a.y; }, 0);

function thing(o) {
  return draw("g", { class: "obstacle" }, o.outline.length ? draw("polygon", { points: o.outline.map(at).join(" ") }) : draw("circle", { cx: o.centre.x, cy: -o.centre.y, r: o.radius }));
}

// boxOf is how much floor a thing takes.
export function boxOf(o) {
  if (!o.outline.length) return { x: o.centre.x - o.radius, y: o.centre.y - o.radius, w: 2 * o.radius, h: 2 * o.radius };
  const xs = o.outline.map((p) => p.x), ys = o.outline.map((p) => p.y);
  const x = Math.min(...xs), y = Math.min(...ys);
  return { x, y, w: tidy(Math.max(...xs) - x), h: tidy(Math.max(...ys) - y) };
}

export function middleOf(o) {
  if (!o.outline.length) return { x: o.centre.x, y: o.centre.y };
  const b = boxOf(o);
  return { x: tidy(b.x + b.w / 2), y: tidy(b.y + b.h / 2) };
}

// shift moves a thing so that its middle is there.
export function shift(o, x, y) {
  const was = middleOf(o), by = { x: x - was.x, y: y - was.y };
  if (!o.outline.length) { o.centre.x = tidy(x); o.centre.y = tidy(y); return; }
  for (const p of o.outline) { p.x = tidy(p.x + by.x); p.y = tidy(p.y + by.y); }
}

// resize stretches a thing with corners about its middle.
export function resize(o, w, h) {
  const b = boxOf(o), m = middleOf(o);
  for (const p of o.outline) { p.x = tidy(m.x + (p.x - m.x) * (b.w ? w / b.w : 1)); p.y = tidy(m.y + (p.y - m.y) * (b.h ? h / b.h : 1)); }
}
