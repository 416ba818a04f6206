// Find where a new thing can stand in a room.
import { passes } from "./labels.js";
import { boxOf, snap } from "./outline.js";

// freePlace is a place within the walls, as near to the middle as can be, where something
// of a size stands on nothing else; null where there is none. Where it can be, small things
// are taken for larger ones, so that their handles on the plan stand apart too.
export function freePlace(plan, w, h) {
  const room = boxOf(plan), roomy = 0.15 * Math.max(room.w, room.h);
  return look(plan, room, Math.max(w, roomy), Math.max(h, roomy), roomy) || look(plan, room, w, h, 0);
}

// look looks for it on a grid, with every thing at least so large.
function look(plan, room, w, h, least) {
  const apart = 0.2, step = Math.max(0.25, room.w / 80, room.h / 80);
  const things = plan.obstacles.map((o) => larger(boxOf(o), least));
  const middle = { x: room.x + room.w / 2, y: room.y + room.h / 2 };
  const free = (c) => {
    const r = { x: c.x - w / 2 - apart, y: c.y - h / 2 - apart, w: w + 2 * apart, h: h + 2 * apart };
    return within(plan.outline, c) && !things.some((b) => r.x < b.x + b.w && b.x < r.x + r.w && r.y < b.y + b.h && b.y < r.y + r.h)
      && !plan.outline.some((a, i) => passes(a, plan.outline[(i + 1) % plan.outline.length], r));
  };
  const places = [];
  for (let i = -40; i <= 40; i++) {
    for (let j = -40; j <= 40; j++) places.push({ x: snap(middle.x + i * step), y: snap(middle.y + j * step), far: i * i + j * j });
  }
  const found = places.sort((a, b) => a.far - b.far).find(free);
  return found ? { x: found.x, y: found.y } : null;
}

// larger is a box that is at least so wide and high, about the same middle.
function larger(b, least) {
  const w = Math.max(b.w, least), h = Math.max(b.h, least);
  return { x: b.x - (w - b.w) / 2, y: b.y - (h - b.h) / 2, w, h };
}

// within tells whether a place is inside an outline: a line from it to the right meets an
// odd number of sides.
const within = (outline, p) => outline.filter((a, i) => {
  const b = outline[(i + 1) % outline.length];
  return (a.y > p.y) !== (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x);
}).length % 2 === 1;
