// An outline that can be drawn: corners and things that are dragged, or moved with
// the arrow keys. Lengths are metres.
import { draw } from "./elements.js";
import { at, floorOf } from "./floor.js";

const snap = (x) => Math.round(x * 10) / 10;

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
  let plan = null, view = null, held = null;

  const toRoom = (e) => {
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return { x: p.x, y: -p.y };
  };

  // parts are what can be moved: corners, and things by their middle.
  const parts = () => [
    ...plan.outline.map((p, i) => ({ key: "c" + i, name: `Corner ${i + 1}`, where: () => p, move: (x, y) => { p.x = x; p.y = y; } })),
    ...plan.obstacles.map((o, i) => ({ key: "o" + i, name: o.name || `Thing ${i + 1}`, where: () => middleOf(o), move: (x, y) => shift(o, x, y) })),
  ];

  function frame() {
    const xs = plan.outline.map((p) => p.x), ys = plan.outline.map((p) => p.y);
    const rim = Math.max(1, 0.09 * Math.max(Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)));
    return { x: Math.min(...xs) - rim, y: Math.min(...ys) - rim, w: Math.max(...xs) - Math.min(...xs) + 2 * rim, h: Math.max(...ys) - Math.min(...ys) + 2 * rim };
  }

  // show draws the plan; room is what the program makes of it, or null.
  function show(newPlan, room) {
    plan = newPlan;
    if (!held) view = frame();
    svg.setAttribute("viewBox", `${view.x} ${-view.y - view.h} ${view.w} ${view.h}`);
    const unit = view.w / Math.max(280, svg.clientWidth || 600); // metres in a pixel
    svg.style.setProperty("--px", unit);
    const focused = svg.contains(document.activeElement) ? document.activeElement.dataset.key : null;
    const points = plan.outline.map(at).join(" ");
    const g = draw("g");
    if (room) g.append(floorOf(room));
    else g.append(draw("polygon", { class: "floor", points }), ...plan.obstacles.map(thing));
    g.append(draw("polygon", { class: "walls", points }));
    plan.outline.forEach((a, i) => {
      const b = plan.outline[(i + 1) % plan.outline.length], l = lengthOf(a, b) || 1;
      const side = around(plan.outline) > 0 ? 1 : -1;
      const out = { x: (a.x + b.x) / 2 + side * (b.y - a.y) / l * 24 * unit, y: (a.y + b.y) / 2 - side * (b.x - a.x) / l * 20 * unit };
      g.append(draw("text", { x: out.x, y: -out.y, dy: "0.35em", text: `${Math.round(lengthOf(a, b) * 100) / 100} m` }));
    });
    for (const part of parts()) {
      const p = part.where();
      g.append(draw("g", { class: "handle", tabindex: 0, role: "button", "data-key": part.key, "aria-label": `${part.name} at ${Math.round(p.x * 100) / 100}, ${Math.round(p.y * 100) / 100}: arrow keys move it`, transform: `translate(${at(p)})` },
        draw("circle", { class: "hit", r: 17 * unit }), draw("circle", { r: 8 * unit }), draw("title", { text: part.name })));
    }
    svg.replaceChildren(g);
    if (focused) svg.querySelector(`[data-key="${focused}"]`)?.focus({ preventScroll: true });
  }

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
  return { show };
}

// around is more than 0 where the corners go round to the left.
const around = (points) => points.reduce((sum, a, i) => { const b = points[(i + 1) % points.length]; return sum + a.x * b.y - b.x * a.y; }, 0);

function thing(o) {
  return draw("g", { class: "obstacle" }, o.outline.length ? draw("polygon", { points: o.outline.map(at).join(" ") }) : draw("circle", { cx: o.centre.x, cy: -o.centre.y, r: o.radius }));
}

// boxOf is how much floor a thing with corners takes.
export function boxOf(o) {
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
