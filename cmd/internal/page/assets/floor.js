// Draw the floor of a room: walls, what stands in it, the lane along the line of
// dance. Places are metres; y is turned over, as screens count downwards.
import { draw } from "./elements.js";

export const at = (p) => `${(Math.round(p.x * 1000) / 1000)},${(Math.round(-p.y * 1000) / 1000)}`;
const line = (points) => points.map(at).join(" ");

// around is the frame of a room with a rim for the names of its walls.
export function around(room, rim = 0.75) {
  const xs = room.outline.map((p) => p.x), ys = room.outline.map((p) => p.y);
  const x = Math.min(...xs) - rim, y = Math.min(...ys) - rim;
  return { x, y, w: Math.max(...xs) + rim - x, h: Math.max(...ys) + rim - y };
}

export const viewBox = (f) => `${f.x} ${-f.y - f.h} ${f.w} ${f.h}`;

// floorOf draws a room into a group.
export function floorOf(room) {
  const g = draw("g", { class: "floor-of" });
  g.append(draw("polygon", { class: "floor", points: line(room.outline) }));
  const lane = room.walls.map((w) => w.lanes_meet).filter(Boolean);
  if (lane.length > 2) g.append(draw("polygon", { class: "lane", points: line([lane[lane.length - 1], ...lane.slice(0, -1)]) }));
  for (const o of room.obstacles) g.append(obstacle(o));
  g.append(draw("polygon", { class: "walls", points: line(room.outline) }));
  for (const w of room.walls) {
    g.append(...wallName(w), dance(w));
  }
  return g;
}

function obstacle(o) {
  const g = draw("g", { class: "obstacle" });
  if (o.outline.length) g.append(draw("polygon", { points: line(o.outline) }));
  else g.append(draw("circle", { cx: o.centre.x, cy: -o.centre.y, r: o.radius }));
  const middle = o.outline.length
    ? { x: o.outline.reduce((s, p) => s + p.x, 0) / o.outline.length, y: o.outline.reduce((s, p) => s + p.y, 0) / o.outline.length }
    : { x: o.centre.x, y: o.centre.y };
  if (o.name && o.outline.length) {
    const xs = o.outline.map((p) => p.x), ys = o.outline.map((p) => p.y);
    const upright = Math.max(...ys) - Math.min(...ys) > Math.max(...xs) - Math.min(...xs);
    const long = Math.max(Math.max(...ys) - Math.min(...ys), Math.max(...xs) - Math.min(...xs));
    g.append(draw("text", { class: "thing", dy: "0.35em", "data-at": at(middle), "data-turn": upright ? -90 : 0, "data-long": long, transform: `translate(${at(middle)})${upright ? " rotate(-90)" : ""}`, text: o.name }));
  }
  g.append(draw("title", { text: o.name || "obstacle" }));
  return g;
}

// wallName writes a wall's number and name outside it, along it.
function wallName(w) {
  const middle = { x: (w.from.x + w.to.x) / 2, y: (w.from.y + w.to.y) / 2 };
  const turn = Math.atan2(w.to.y - w.from.y, w.to.x - w.from.x);
  const out = { x: middle.x + 0.4 * Math.sin(turn), y: middle.y - 0.4 * Math.cos(turn) };
  let degrees = -turn * 180 / Math.PI;
  if (degrees > 91 || degrees < -91) degrees += 180;
  return [draw("text", { class: "wall-name", "data-at": at(out), "data-turn": degrees.toFixed(1), transform: `translate(${at(out)}) rotate(${degrees.toFixed(1)})`, dy: "0.12", text: `${w.number} ${w.name}` })];
}

// dance is an arrow in the lane: which way one dances along a wall.
function dance(w) {
  const turn = Math.atan2(w.to.y - w.from.y, w.to.x - w.from.x);
  const inward = { x: -Math.sin(turn), y: Math.cos(turn) };
  const middle = { x: (w.from.x + w.to.x) / 2 + inward.x * w.lane, y: (w.from.y + w.to.y) / 2 + inward.y * w.lane };
  return draw("path", { class: "way-of-dance", d: "M-0.3,-0.22 L0.05,0 L-0.3,0.22", transform: `translate(${at(middle)}) rotate(${(-turn * 180 / Math.PI).toFixed(1)})` });
}
