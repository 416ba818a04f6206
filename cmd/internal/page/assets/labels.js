// Where the words on a plan stand: lengths outside the walls, names beside what they name.
// All sizes here are pixels, counted from the upper left of the picture.

// wide is about how wide words are in letters of a size.
const wide = (words, size) => [...words].length * 0.58 * size;

const overlap = (a, b) => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
const boxAt = (x, y, w, h) => ({ x: x - w / 2, y: y - h / 2, w, h });

// rims is how much is left round the plan, for lengths that are written outside.
export function rims(lengths, size, handle) {
  return { x: Math.max(handle, ...lengths.map((l) => wide(l, size) + 12)), y: Math.max(handle, size * 1.3 + 12) };
}

// lettered places the lengths of sides, long ones first, and the names of things. What finds
// no free place is left out: it stands in the lists. sides are {words, x, y, out}, where out
// points out of the room; things are {words, x, y}; taken are places of handles, and walls [from, to], which a name crosses
// only where it finds no other place.
export function lettered({ sides, things, taken, walls, size, width, height, handle }) {
  const full = taken.map((p) => boxAt(p.x, p.y, 2 * handle, 2 * handle)), placed = [];
  const high = size * 1.25;
  const put = (kind, words, places) => {
    const w = wide(words, size);
    const inside = ([x, y]) => [Math.min(Math.max(x, w / 2 + 2), width - w / 2 - 2), Math.min(Math.max(y, high / 2), height - high / 2)];
    const open = places.map(inside).filter(([x, y]) => !full.some((f) => overlap(f, boxAt(x, y, w, high))));
    const found = open.find(([x, y]) => !walls.some(([a, b]) => passes(a, b, boxAt(x, y, w, high)))) || open[0];
    if (!found) return;
    full.push(boxAt(found[0], found[1], w, high));
    placed.push({ kind, words, x: found[0], y: found[1] });
  };
  for (const s of [...sides].sort((a, b) => b.long - a.long)) {
    const away = (Math.abs(s.out.x) * wide(s.words, size) + Math.abs(s.out.y) * high) / 2 + 6;
    put("length", s.words, [1, -1].map((k) => [s.x + k * s.out.x * away, s.y + k * s.out.y * away]));
  }
  const most = Math.max(4, Math.floor((width - 8) / (0.58 * size)));
  for (const t of things) {
    const letters = [...t.words], off = handle + high / 2 + 1;
    const words = letters.length > most ? letters.slice(0, most - 1).join("") + "…" : t.words;
    const w = wide(words, size) / 2 + handle + 3;
    put("name", words, [[t.x, t.y + off], [t.x, t.y - off], [t.x + w, t.y], [t.x - w, t.y]]);
  }
  return placed;
}

// passes tells whether a side comes into a box: what is left of it between the box's four
// lines is more than nothing.
export function passes(a, b, box) {
  let from = 0, to = 1;
  for (const [start, by, low, high] of [[a.x, b.x - a.x, box.x, box.x + box.w], [a.y, b.y - a.y, box.y, box.y + box.h]]) {
    if (by === 0) {
      if (start <= low || start >= high) return false;
      continue;
    }
    const [t, u] = [(low - start) / by, (high - start) / by].sort((x, y) => x - y);
    from = Math.max(from, t);
    to = Math.min(to, u);
  }
  return from < to;
}
