// The sheet of the room: pick one, or draw one, and see what it is to dancers.
import { draw, el, later, say } from "./elements.js";
import { changed, hear, state } from "./store.js";
import { roomFile } from "./files.js";
import { readRoom, roomChoices } from "./rooms.js";
import { boxOf, editor, lengthOf, middleOf, resize, shift, stretch } from "./outline.js";
import { keeper } from "./keeper.js";
import { count, metres, number } from "./words.js";

let plan = null, edit = null, drawn = false;

export function open(root) {
  const pick = el("select", { id: "room-pick" });
  const svg = draw("svg", { class: "drawing outline", role: "group", "aria-label": "Plan of the room; every corner and every thing is a handle" });
  const facts = el("dl", { class: "facts", id: "room-facts" });
  const walls = el("table", { class: "beside" });
  const error = el("p", { class: "error", role: "alert" });
  const name = el("input", { id: "room-name", maxlength: 60 });
  const margin = el("input", { id: "room-margin", type: "number", min: 0, max: 2, step: 0.05, placeholder: "0.1" });
  const posted = el("input", { id: "room-capacity", type: "number", min: 0, max: 5000, placeholder: "as the venue posts" });
  const sides = el("tbody"), things = el("div");

  edit = editor(svg, { changed: (ended) => { drawn = true; edit.show(plan, null); if (ended) { lists(); ask(); } }, said: say });

  // ask has the program look at the plan; what it says is used at once.
  const ask = later(250, async () => {
    const text = roomFile(plan), mine = plan;
    try {
      const room = await readRoom(text);
      if (mine !== plan || text !== roomFile(plan)) return;
      error.textContent = "";
      Object.assign(state.room, { name: "", file: text, data: room, saved: "" });
      edit.show(plan, room);
      tell(room);
      changed("room");
    } catch (e) {
      if (mine !== plan) return;
      error.textContent = e.message.replace(/^room\.yaml:\d+: /, "");
    }
  });

  // redo draws after something was typed.
  const redo = () => { drawn = true; edit.show(plan, null); lists(); ask(); };

  function lists() {
    const n = plan.outline.length;
    sides.replaceChildren(...plan.outline.map((a, i) => {
      const b = plan.outline[(i + 1) % n];
      const length = el("input", { type: "number", min: 0.1, max: 500, step: 0.1, value: Math.round(lengthOf(a, b) * 100) / 100, "aria-label": `Length of side ${i + 1} in metres`, "data-side": i, onchange: () => { stretch(plan.outline, i, Number(length.value)); redo(); } });
      const words = el("input", { value: plan.walls[i] || "", maxlength: 40, placeholder: `side ${i + 1}`, "aria-label": `Name of side ${i + 1}`, onchange: () => { plan.walls[i] = words.value; redo(); } });
      return el("tr", {}, el("th", { scope: "row", text: i + 1 }), el("td", {}, words), el("td", {}, length),
        el("td", {}, el("button", { type: "button", "aria-label": `New corner in the middle of side ${i + 1}`, title: "New corner in its middle", onclick: () => { plan.outline.splice(i + 1, 0, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }); plan.walls.splice(i + 1, 0, ""); redo(); } }, "+"),
          " ", el("button", { type: "button", disabled: n <= 3, "aria-label": `Delete corner ${i + 1}, where side ${i + 1} begins`, title: "Delete the corner at its beginning", onclick: () => { plan.outline.splice(i, 1); plan.walls.splice(i, 1); redo(); } }, "✕")));
    }));
    things.replaceChildren(...(plan.obstacles.length ? plan.obstacles.map(thingRow) : [el("p", { class: "quiet", text: "Nothing: the floor is free." })]));
  }

  // thingRow is what can be typed of a column or of something with corners.
  function thingRow(o, i) {
    const field = (label, value, set) => { const f = el("input", { type: "number", step: 0.1, value: Math.round(value * 100) / 100, "data-thing": i, "data-field": label, onchange: () => { set(Number(f.value)); redo(); } }); return el("label", {}, label, f); };
    const words = el("input", { value: o.name, maxlength: 40, onchange: () => { o.name = words.value; redo(); } });
    const m = middleOf(o), round = !o.outline.length, b = round ? null : boxOf(o);
    return el("div", { class: "thing-row", role: "group", "aria-label": o.name || `Thing ${i + 1}` }, el("label", { class: "name" }, "Name", words),
      el("button", { type: "button", "aria-label": `Delete ${o.name || "thing " + (i + 1)}`, onclick: () => { plan.obstacles.splice(i, 1); redo(); } }, "✕"),
      field("Middle x", m.x, (v) => shift(o, v, middleOf(o).y)), field("Middle y", m.y, (v) => shift(o, middleOf(o).x, v)),
      round ? field("Radius", o.radius, (v) => { if (v > 0) o.radius = v; }) : [field("Width", b.w, (v) => { if (v > 0) resize(o, v, boxOf(o).h); }), field("Depth", b.h, (v) => { if (v > 0) resize(o, boxOf(o).w, v); })]);
  }

  function tell(room) {
    const rows = [["Floor to dance on", `${number(room.area, 1)} m²`], ["Size", `${number(room.length)} × ${number(room.breadth)} m`],
      ["Once round", `${metres(room.lap_length, 1)} along the middle of the lane`], ["Couples", `${room.couples} move freely, ${room.couples_at_most} at the closest`],
      ["Posted limit", room.capacity ? count(room.capacity, "couple") : "none given"], ["Kept free at walls", metres(room.margin)]];
    facts.replaceChildren(...rows.map(([a, b]) => el("div", {}, el("dt", { text: a }), el("dd", { text: b }))));
    walls.replaceChildren(el("caption", { text: "Walls in the order of the line of dance" }), el("thead", {}, el("tr", {}, ["Wall", "Name", "Kind", "Length", "Lane"].map((t) => el("th", { scope: "col", text: t })))),
      el("tbody", {}, room.walls.map((w) => el("tr", {}, [w.number, w.name, w.kind, metres(w.length), metres(w.lane)].map((t) => el("td", { text: t }))))));
  }

  const fresh = (p) => { plan = p; drawn = true; name.value = p.name; margin.value = p.margin; posted.value = p.capacity || ""; redo(); };
  const take = () => {
    const room = state.room.data;
    if (!room) return;
    roomChoices.fill(pick);
    if (drawn && state.room.file && plan && roomFile(plan) === state.room.file) return;
    drawn = false;
    plan = planOf(room);
    name.value = plan.name;
    margin.value = plan.margin;
    posted.value = plan.capacity || "";
    edit.show(plan, room);
    lists();
    tell(room);
  };
  name.addEventListener("change", () => { plan.name = name.value; redo(); });
  margin.addEventListener("change", () => { plan.margin = margin.value === "" ? "" : Number(margin.value); redo(); });
  posted.addEventListener("change", () => { plan.capacity = Number(posted.value); redo(); });
  pick.addEventListener("change", () => { drawn = false; roomChoices.choose(pick.value).catch((e) => { error.textContent = e.message; }); });
  hear("room", take);

  const add = (o) => { plan.obstacles.push(o); redo(); };
  const inside = () => { const c = plan.outline; return { x: Math.round(c.reduce((s, p) => s + p.x, 0) / c.length * 10) / 10, y: Math.round(c.reduce((s, p) => s + p.y, 0) / c.length * 10) / 10 }; };
  root.replaceChildren(el("div", { class: "room-grid" },
    el("div", { class: "sheet" }, el("label", { class: "row" }, "Room", pick),
      el("p", { class: "quiet" }, "Drag a corner or a thing, or reach it with Tab and move it with the arrow keys; with Shift it goes a whole metre. What you change becomes a room of your own."),
      svg, error,
      el("p", { class: "actions" }, el("button", { type: "button", id: "room-new", onclick: () => fresh(rectangle(14, 9)) }, "Begin with a rectangle"),
        el("button", { type: "button", id: "room-column", onclick: () => add({ name: `column ${plan.obstacles.length + 1}`, outline: [], centre: inside(), radius: 0.3 }) }, "Add a column"),
        el("button", { type: "button", id: "room-stage", onclick: () => { const m = inside(); add({ name: "stage", centre: null, radius: 0, outline: [[-1.5, -0.5], [1.5, -0.5], [1.5, 0.5], [-1.5, 0.5]].map(([x, y]) => ({ x: m.x + x, y: m.y + y })) }); } }, "Add a stage")),
      el("h2", { text: "To dancers" }), facts,
      el("p", { class: "guide" }, "The number of couples is a guide: the limit that the venue posts, local rules and those in charge of the floor decide."), walls),
    el("div", { class: "sheet" }, el("h2", { text: "In numbers" }), el("label", {}, "Name", name),
      el("div", { class: "two" }, el("label", {}, "Kept free at walls, m", margin), el("label", {}, "Posted limit, couples", posted)),
      el("table", { class: "sides" }, el("caption", { text: "Sides" }), el("thead", {}, el("tr", {}, [["", "slim"], ["Name", "broad"], ["Length, m"], ["Corners"]].map(([t, c]) => el(t ? "th" : "td", { scope: t && "col", class: c, text: t })))), sides),
      el("h3", { text: "What stands in it" }), things,
      keeper("rooms", { what: "room", text: () => roomFile(plan), name: () => plan.name, onchange: () => roomChoices.fill(pick), load: async (n) => { drawn = false; await roomChoices.choose("s:" + n); } }))));
  take();
}

// rectangle is a hall to begin with.
const rectangle = (w, h) => ({ name: "Our hall", outline: [{ x: 0, y: 0 }, { x: w, y: 0 }, { x: w, y: h }, { x: 0, y: h }], margin: "", capacity: 0, obstacles: [], walls: ["", "", "", ""] });

// planOf is a room as something that can be drawn. A side has the name of the wall
// that runs along its middle.
function planOf(room) {
  const outline = room.outline.map((p) => ({ ...p }));
  const walls = outline.map((a, i) => {
    const b = outline[(i + 1) % outline.length], m = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
    const wall = room.walls.find((w) => away(m, w.from, w.to) < 0.05);
    return wall ? wall.name : "";
  });
  return { name: room.full_name, outline, margin: room.margin, capacity: room.capacity, obstacles: room.obstacles.map((o) => ({ name: o.name, outline: o.outline.map((p) => ({ ...p })), centre: o.centre && { ...o.centre }, radius: o.radius })), walls };
}

function away(p, a, b) {
  const l2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2 || 1;
  const s = Math.max(0, Math.min(1, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / l2));
  return Math.hypot(p.x - a.x - s * (b.x - a.x), p.y - a.y - s * (b.y - a.y));
}
