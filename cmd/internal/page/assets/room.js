// The sheet of the room: pick one, or draw one, and see what it is to dancers.
import { draw, el, later, say } from "./elements.js";
import { changed, hear, state } from "./store.js";
import { roomFile } from "./files.js";
import { readRoom, roomChoices } from "./rooms.js";
import { editor } from "./outline.js";
import { freePlace } from "./freeplace.js";
import { numbers } from "./numbers.js";
import { plainly } from "./planwords.js";
import { amiss } from "./amiss.js";
import { keeper } from "./keeper.js";
import { count, metres, number } from "./words.js";

// seen is the room that is shown, or that came of what is drawn.
let plan = null, edit = null, seen = null;

// past are plans as they were, to go back to; last is the one that is shown, as text.
let past = [], last = "";

export function open(root) {
  const pick = el("select", { id: "room-pick" });
  const svg = draw("svg", { class: "drawing outline", role: "group", "aria-label": "Plan of the room; every corner and every thing is a handle" });
  const facts = el("dl", { class: "facts", id: "room-facts" });
  const walls = el("table", { class: "beside", id: "room-walls" });
  const name = el("input", { id: "room-name", maxlength: 60 });
  const margin = el("input", { id: "room-margin", type: "number", min: 0, max: 2, step: "any", placeholder: "0.1" });
  const posted = el("input", { id: "room-capacity", type: "number", min: 1, max: 5000, placeholder: "as posted" });
  const wrong = amiss({ back: () => { seen = null; take(); pick.focus(); say("The last good room is back."); } });

  edit = editor(svg, { changed: (ended) => { edit.show(plan, null); if (ended) { note(); lists.tell(); wrong.heard(); ask(); } }, said: say });
  const lists = numbers({ plan: () => plan, redo: () => redo(), refuse: wrong.refuse, said: say });

  // ask has the program look at the plan; what it says is used at once, and where the plan
  // is no room nothing is told of it but why.
  const ask = later(250, async () => {
    const text = roomFile(plan), mine = plan;
    const stale = () => mine !== plan || text !== roomFile(plan);
    try {
      const room = await readRoom(text);
      if (stale()) return;
      if (wrong.mended()) say("The plan is a room again.");
      Object.assign(state.room, { name: "", file: text, data: room, saved: "" });
      seen = room;
      edit.show(plan, room);
      tell(room);
      changed("room");
    } catch (e) {
      if (stale()) return;
      tell(null);
      wrong.broken(e.code === 2 ? plainly(e.raw, plan) : [e.message], e.code === 2, state.room.data);
    }
  });

  // redo draws after something was typed.
  const redo = () => { note(); wrong.heard(); edit.show(plan, null); ask(); };

  // note puts what the plan was before a change on the pile.
  function note() {
    const now = JSON.stringify(plan);
    if (now === last) return;
    if (last) past.push(last);
    if (past.length > 100) past.shift();
    last = now;
    undo.disabled = !past.length;
  }

  // back takes the last change back.
  function back() {
    if (!past.length) return;
    last = past.pop();
    plan = JSON.parse(last);
    undo.disabled = !past.length;
    limits();
    lists.build();
    wrong.heard();
    edit.show(plan, null);
    ask();
    say("The last change is taken back.");
    if (undo.disabled && document.activeElement === document.body) pick.focus();
  }
  const undo = el("button", { type: "button", id: "room-undo", disabled: true, onclick: back }, "Undo");
  addEventListener("takeback", back);
  root.addEventListener("input", () => wrong.heard());

  // tell says what a room is to dancers; of what is no room nothing is known.
  function tell(room) {
    const unknown = "not known";
    const rows = [["Floor to dance on", room && `${number(room.area, 1)} m²`], ["Size", room && `${number(room.length)} × ${number(room.breadth)} m`],
      ["Once round", room && `${metres(room.lap_length, 1)} along the middle of the lane`], ["Couples", room && `${room.couples} move freely, ${room.couples_at_most} at the closest`],
      ["Posted limit", room && (room.capacity ? count(room.capacity, "couple") : "none given")], ["Kept free at walls", room && metres(room.margin)]];
    facts.replaceChildren(...rows.map(([a, b]) => el("div", {}, el("dt", { text: a }), el("dd", { text: b || unknown }))));
    if (!room) {
      walls.replaceChildren(el("caption", { text: "Walls: not known until the plan is mended" }));
      return;
    }
    walls.replaceChildren(el("caption", { text: "Walls in the order of the line of dance" }), el("thead", {}, el("tr", {}, ["Wall", "Name", "Kind", "Length", "Lane"].map((t) => el("th", { scope: "col", text: t })))),
      el("tbody", {}, room.walls.map((w) => el("tr", {}, [w.number, w.name, w.kind, metres(w.length), metres(w.lane)].map((t) => el("td", { text: t }))))));
  }

  const limits = () => { name.value = plan.name; margin.value = plan.margin; posted.value = plan.capacity || ""; };
  const fresh = (p) => { plan = p; limits(); lists.build(); redo(); say("A rectangle of 14 by 9 m."); };

  // take takes up the room that is chosen, unless it is the one that is drawn here.
  function take() {
    const room = state.room.data;
    if (!room) return;
    roomChoices.fill(pick);
    if (room === seen) return;
    seen = room;
    wrong.clear();
    plan = planOf(room);
    past = [];
    last = JSON.stringify(plan);
    undo.disabled = true;
    limits();
    edit.show(plan, room);
    lists.build();
    tell(room);
    store.follow(state.room.saved || "");
  }
  name.addEventListener("change", () => { plan.name = name.value.trim(); redo(); });
  margin.addEventListener("change", () => {
    if (margin.validity.badInput) { limits(); wrong.refuse("What is kept free at the walls has to be a number of metres."); return; }
    plan.margin = margin.value === "" ? "" : Number(margin.value);
    redo();
  });
  posted.addEventListener("change", () => {
    const couples = Number(posted.value);
    if (posted.validity.badInput || posted.value !== "" && !(Number.isInteger(couples) && couples >= 1)) { limits(); wrong.refuse("The posted limit has to be a whole number of couples, from 1 up, or nothing."); return; }
    plan.capacity = couples;
    redo();
  });
  pick.addEventListener("change", () => {
    roomChoices.choose(pick.value).catch((e) => { roomChoices.fill(pick); wrong.refuse("This room cannot be opened. " + plainly(e.raw || e.message, null).join(" ")); });
  });
  hear("room", take);

  // add puts something new where it stands on nothing else.
  function add(what, w, h, make) {
    const names = plan.obstacles.map((o) => o.name);
    const base = what === "column" ? 1 : 0;
    let n = base;
    const named = () => n ? `${what} ${n}` : what;
    while (names.includes(named())) n = Math.max(2, n + 1);
    const free = freePlace(plan, w, h), at = free || middle(plan.outline);
    plan.obstacles.push({ name: named(), centre: null, radius: 0, outline: [], ...make(at) });
    lists.build();
    redo();
    edit.reach(plan.obstacles.length - 1);
    say(`${named()} added at ${at.x}, ${at.y}. ${free ? "" : "There is no free place for it: it stands in the middle. "}Arrow keys move it.`);
  }
  const column = (at) => ({ centre: at, radius: 0.3 });
  const stage = (at) => ({ outline: [[-1.5, -0.5], [1.5, -0.5], [1.5, 0.5], [-1.5, 0.5]].map(([x, y]) => ({ x: at.x + x, y: at.y + y })) });

  // text is what is saved: nothing that is no room.
  async function text() {
    const words = roomFile(plan);
    try {
      await readRoom(words);
    } catch (e) {
      if (e.code === 2) throw new Error("The plan is not a room yet, so it is not saved: mend it first.");
      throw e;
    }
    return words;
  }

  // kept hears what was saved or deleted: a room that was saved is chosen under its name.
  async function kept({ saved, text: words, gone }) {
    if (gone && state.room.saved === gone) state.room.saved = "";
    if (saved && words === roomFile(plan)) {
      const room = await readRoom(words);
      if (words === roomFile(plan)) { Object.assign(state.room, { name: "", file: words, data: room, saved }); seen = room; }
    }
    changed("room");
  }
  const store = keeper("rooms", { what: "room", text, name: () => plan.name, onchange: kept, load: async (n, words, foreign) => {
    try {
      await (foreign ? roomChoices.take(words) : roomChoices.choose("s:" + n));
    } catch (e) { throw new Error("This room cannot be opened. " + plainly(e.raw || e.message, null).join(" ")); }
  } });

  root.replaceChildren(wrong.node, el("div", { class: "room-grid" },
    el("div", { class: "sheet" }, el("label", { class: "row" }, "Room", pick),
      el("p", { class: "quiet" }, "Drag a corner or a thing, or reach it with Tab and move it with the arrow keys; with Shift it goes a whole metre. Side 1 begins at corner 1. What you change becomes a room of your own."),
      svg,
      el("p", { class: "actions" }, el("button", { type: "button", id: "room-new", onclick: () => fresh(rectangle(14, 9)) }, "Begin with a rectangle"),
        el("button", { type: "button", id: "room-column", onclick: () => add("column", 0.6, 0.6, column) }, "Add a column"),
        el("button", { type: "button", id: "room-stage", onclick: () => add("stage", 3, 1, stage) }, "Add a stage"), undo),
      el("h2", { text: "To dancers" }), facts,
      el("p", { class: "guide" }, "The number of couples is a guide: the limit that the venue posts, local rules and those in charge of the floor decide."), walls),
    el("div", { class: "sheet" }, el("h2", { text: "In numbers" }), el("label", {}, "Name", name),
      el("div", { class: "two" }, el("label", {}, "Kept free at walls, m", margin), el("label", {}, "Posted limit, couples", posted)),
      el("table", { class: "sides" }, el("caption", { text: "Sides" }), el("thead", {}, el("tr", {}, [["", "slim"], ["Name", "broad"], ["Length, m"], ["Corners"]].map(([t, c]) => el(t ? "th" : "td", { scope: t && "col", class: c, text: t })))), lists.sides),
      el("h3", { text: "What stands in it" }), lists.things, store)));
  take();
}

// middle is about the middle of some corners.
const middle = (c) => ({ x: Math.round(c.reduce((s, p) => s + p.x, 0) / c.length * 10) / 10, y: Math.round(c.reduce((s, p) => s + p.y, 0) / c.length * 10) / 10 });

// rectangle is a hall to begin with.
const rectangle = (w, h) => ({ name: "Our hall", outline: [{ x: 0, y: 0 }, { x: w, y: 0 }, { x: w, y: h }, { x: 0, y: h }], margin: "", capacity: 0, obstacles: [], walls: ["", "", "", ""] });

// planOf is a room as something that can be drawn. A side has the name of the wall
// that runs along its middle.
function planOf(room) {
  const outline = room.outline.map((p) => ({ ...p }));
  const walls = outline.map((a, i) => {
    const b = outline[(i + 1) % outline.length], m = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
    const wall = room.walls.find((w) => away(m, w.from, w.to) < 0.05);
    return wall && wall.name !== `wall ${wall.number}` ? wall.name : ""; // that is what a wall without a name is called
  });
  return { name: room.full_name, outline, margin: room.margin, capacity: room.capacity, obstacles: room.obstacles.map((o) => ({ name: o.name, outline: o.outline.map((p) => ({ ...p })), centre: o.centre && { ...o.centre }, radius: o.radius })), walls };
}

function away(p, a, b) {
  const l2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2 || 1;
  const s = Math.max(0, Math.min(1, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / l2));
  return Math.hypot(p.x - a.x - s * (b.x - a.x), p.y - a.y - s * (b.y - a.y));
}
