// The rooms that can be chosen: those that come with the program, those that were
// saved, and the one that is being drawn.
import { el } from "./elements.js";
import { ask, saved } from "./wire.js";
import { changed, state } from "./store.js";

let builtIn = null, kept = [], choosing = Promise.resolve();

// builtInRooms asks for the rooms that come with the program, once.
export async function builtInRooms() {
  if (!builtIn) builtIn = (await ask("rooms")).answer.rooms;
  return builtIn;
}

// roomData asks for the chosen room as the program sees it.
export async function roomData() {
  if (state.room.file) state.room.data = await readRoom(state.room.file);
  else {
    const all = await builtInRooms();
    state.room.data = all.find((r) => r.name === state.room.name) || all[0];
    state.room.name = state.room.data.name;
  }
  return state.room.data;
}

// readRoom is a room's file as the program sees it.
export async function readRoom(text) {
  return (await ask("rooms", { args: ["room.yaml"], files: { "room.yaml": text } })).answer;
}

export const roomChoices = {
  // fill puts the rooms into a select.
  async fill(select) {
    const put = () => {
      // A room that was saved goes by the name under which it was saved.
      const own = state.room.file && !kept.includes(state.room.saved);
      const now = own ? "own" : state.room.file ? "s:" + state.room.saved : "b:" + state.room.name;
      select.replaceChildren(
        el("optgroup", { label: "Built in" }, (builtIn || []).map((r) => el("option", { value: "b:" + r.name, text: `${r.full_name}, ${r.length} × ${r.breadth} m` }))),
        kept.length ? el("optgroup", { label: "Saved" }, kept.map((n) => el("option", { value: "s:" + n, text: n }))) : null || "",
        own && state.room.data ? el("option", { value: "own", text: state.room.data.full_name + " (not saved)" }) : "");
      select.value = now;
    };
    put();
    await roomChoices.refresh();
    put();
  },
  async refresh() {
    try { kept = (await saved.list()).rooms.map((r) => r.name || r); } catch { /* as before */ }
    return kept;
  },
  // take takes a room's file that is not saved here.
  async take(text) {
    const data = await readRoom(text);
    Object.assign(state.room, { name: "", file: text, data, saved: "" });
    changed("room");
  },
  // settled waits until the room that was chosen last is there.
  settled: () => choosing.catch(() => { /* it is told where it was chosen */ }),
  // of takes the room of a sheet.
  of(sheet) {
    Object.assign(state.room, { name: sheet.roomName, file: sheet.roomFile, data: sheet.room, saved: "" });
    changed("room");
  },
  // choose takes a choice of the select.
  choose(value) {
    choosing = roomChoices.chosen(value);
    return choosing;
  },
  async chosen(value) {
    if (value === "own") return;
    if (value.startsWith("s:")) {
      const text = await saved.load("rooms", value.slice(2));
      const data = await readRoom(text);
      Object.assign(state.room, { name: "", file: text, data, saved: value.slice(2) });
    } else {
      Object.assign(state.room, { name: value.slice(2), file: "", data: null, saved: "" });
      await roomData();
    }
    changed("room");
  },
};
