// What the page knows: the room, the couple, the routine on the sheet with what
// was before it, and who wants to hear of changes. It is kept in the browser, so
// that the sheet is still there when the page is opened again.

const key = "lapwright.sheet";

export const state = {
  // room: name is that of a built-in room or "" for a room's file; file is its text.
  room: { name: "village hall", file: "", data: null },
  // couple: how is level, ticked or weeks.
  couple: {
    how: "level", style: "international", levels: ["bronze"], known: [],
    name: "", weeks: [{ title: "", note: "", figures: [] }], week: 1, room: "", stride: "", tempo: "",
  },
  // sheet is the routine that is shown, or null; see put.
  sheet: null,
  past: [], future: [],
};

// lines counts the routines that began anew.
let lines = Date.now();

const ears = new Map();

// hear calls when something of that name has changed: room, couple, sheet.
export function hear(what, call) {
  if (!ears.has(what)) ears.set(what, []);
  ears.get(what).push(call);
}

export function changed(what) {
  for (const call of ears.get(what) || []) call();
  keep();
}

// A sheet is {routine, room, roomName, roomFile, name, stride, margin, tempo, lap,
// laps, faults, repair, cost, text, words}: a routine as it was danced, where, and
// what was said of it. It is never changed, only replaced. One that comes of another has
// its line; a routine that begins anew gets a line of its own.
export function put(sheet) {
  if (!sheet.line) sheet.line = ++lines;
  if (state.sheet) state.past.push(state.sheet);
  if (state.past.length > 60) state.past.shift();
  state.future = [];
  state.sheet = sheet;
  changed("sheet");
}

// step takes the sheet that lies on one pile, and puts the one that was shown on the other.
const step = (from, to) => () => {
  if (!state[from].length) return false;
  state[to].push(state.sheet);
  state.sheet = state[from].pop();
  changed("sheet");
  return true;
};

export const undo = step("past", "future");
export const redo = step("future", "past");

function keep() {
  try {
    localStorage.setItem(key, JSON.stringify({ room: { ...state.room, data: null }, couple: state.couple, sheet: state.sheet }));
  } catch { /* no storage, or a full one: nothing is kept */ }
}

// recall takes up what was kept.
export function recall() {
  try {
    const kept = JSON.parse(localStorage.getItem(key) || "null");
    if (!kept) return;
    Object.assign(state.room, kept.room);
    Object.assign(state.couple, kept.couple);
    state.sheet = kept.sheet || null;
  } catch { /* what was kept cannot be read: begin anew */ }
}
