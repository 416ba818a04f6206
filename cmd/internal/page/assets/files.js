// Write the files of rooms, classes and routines. Texts are written in double
// quotes with escapes, which YAML and JSON share.

const quoted = (words) => JSON.stringify(String(words)).replace(/[\u007f-\u009f\u2028\u2029\ufeff]/g, (c) => "\\u" + c.charCodeAt(0).toString(16).padStart(4, "0"));
const place = (x) => String(Math.round(x * 1e4) / 1e4);
const point = (p) => `[${place(p.x)}, ${place(p.y)}]`;

// nested are the corners of an outline.
const nested = (points) => "[" + points.map(point).join(", ") + "]";

// roomFile writes a room: {name, outline, margin, capacity, obstacles, walls}.
export function roomFile(room) {
  const lines = ["name: " + quoted(room.name || "Our hall"), "outline: " + nested(room.outline)];
  if (room.margin !== "" && room.margin != null) lines.push("margin: " + place(room.margin));
  if (room.capacity > 0) lines.push("capacity: " + Math.round(room.capacity));
  if (room.obstacles.length) {
    lines.push("obstacles:");
    for (const o of room.obstacles) {
      const name = o.name ? "name: " + quoted(o.name) + ", " : "";
      lines.push("  - {" + name + (o.outline.length ? "outline: " + nested(o.outline) : `centre: ${point(o.centre)}, radius: ${place(o.radius)}`) + "}");
    }
  }
  if (room.walls.some(Boolean)) lines.push("walls: [" + room.walls.map((w, i) => quoted(w || "side " + (i + 1))).join(", ") + "]");
  return lines.join("\n") + "\n";
}

// figureLine writes one figure of a routine.
const figureLine = (f) => {
  const more = (f.scale && f.scale !== 1 ? ", scale: " + f.scale : "") + (f.wall ? ", wall: " + f.wall : "");
  return "  - " + (more ? `{figure: ${quoted(f.name)}${more}}` : quoted(f.name));
};

// routineFile writes a routine as it was danced. Each figure says whether it takes
// the next wall; free leaves that open from the figure of that number on, so that
// figures put in before it may move the corner.
export function routineFile(r, { free = Infinity } = {}) {
  const lines = ["name: " + quoted(r.name || "Routine"), "dance: waltz"];
  if (r.room) lines.push("room: " + quoted(r.room));
  if (r.stride > 0) lines.push("stride: " + r.stride);
  if (r.tempo > 0) lines.push("tempo: " + r.tempo);
  if (r.margin != null && r.margin >= 0) lines.push("margin: " + r.margin);
  if (r.laps > 1) lines.push("laps: " + r.laps); else if (r.lap) lines.push("lap: yes");
  const s = r.start;
  lines.push(`start: {at: ${point(s)}, wall: ${s.wall}, facing: ${s.alignment}, free foot: ${s.free_foot}, hold: ${s.hold}}`);
  lines.push("figures:");
  for (const [i, f] of r.figures.entries()) {
    const wall = i >= free ? "" : f.takes_next_wall ? "next" : "same";
    lines.push(figureLine({ name: f.name, scale: f.scale, wall }));
  }
  return lines.join("\n") + "\n";
}

// sheetText is a sheet's routine as a file.
export function sheetText(sheet, more) {
  return routineFile({ ...sheet, ...sheet.routine, room: sheet.roomFile ? "room.yaml" : sheet.roomName }, more);
}

// danced is a sheet with a routine that the program has made and danced without a fault:
// {routine, room, roomFile, roomName, name, stride, tempo, lap}.
export const danced = (of) => another({ margin: of.room.margin, laps: 1, ...of }, of.routine);

// another is a sheet with another routine in place of its own, and with what is wrong with that.
export function another(sheet, routine, faults = []) {
  const next = { ...sheet, routine, faults, repair: null, cost: null, notes: [] };
  return { ...next, text: sheetText(next) };
}

// classFile writes a class: {name, style, room, stride, tempo, weeks}.
export function classFile(c) {
  const lines = ["name: " + quoted(c.name || "Class")];
  if (c.style && c.style !== "all") lines.push("style: " + c.style);
  if (c.room) lines.push("room: " + quoted(c.room));
  if (c.stride) lines.push("stride: " + c.stride);
  if (c.tempo) lines.push("tempo: " + c.tempo);
  lines.push("weeks:");
  for (const week of c.weeks) {
    if (!week.figures.length) continue;
    let first = true;
    const put = (words) => { lines.push((first ? "  - " : "    ") + words); first = false; };
    if (week.title) put("title: " + quoted(week.title));
    if (week.note) put("note: " + quoted(week.note));
    put("figures: [" + week.figures.map(quoted).join(", ") + "]");
  }
  return lines.join("\n") + "\n";
}

// typed is what somebody has written or pasted: a file as it is, or one figure a
// line, which becomes the list of a file, one line longer.
export function typed(text) {
  const lines = text.split(/\r?\n/);
  const told = lines.find((l) => l.trim() && !l.trim().startsWith("#"));
  if (!told) return "";
  if (/^(\s*-\s|\s*[\w ]+:(\s|$)|\s*[{["'%]|---)/.test(told)) return text;
  const rows = lines.map((l) => {
    const name = l.trim().replace(/^\d+[.)]?\s+/, "");
    if (!name || name.startsWith("#")) return { remark: name, names: [] };
    return { remark: "", names: name.split(/,\s*(?![^(]*\))/).map((n) => n.trim()).filter(Boolean) }; // not at commas in brackets
  });
  if (rows.every((r) => r.names.length < 2)) return "figures:\n" + rows.map((r) => r.remark || r.names.map((n) => "  - " + quoted(n)).join("")).join("\n") + "\n";
  return "figures: [\n" + rows.map((r) => r.remark || r.names.map((n) => quoted(n) + ",").join(" ")).join("\n") + "\n]\n";
}

// longer is by how many lines what typed gives is longer than what was written.
export const longer = (text) => (typed(text) === text ? 0 : 1);
