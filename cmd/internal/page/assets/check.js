// Dance a written routine: the program says what is wrong with it and how it could
// be mended; the outcome is a sheet.
import { ask } from "./wire.js";
import { builtInRooms, readRoom } from "./rooms.js";
import { state } from "./store.js";

const says = (text, field) => new RegExp(`^["']?${field}["']?\\s*:`, "m").test(text);

// sheetOf checks the text of a routine's file. roomFile is the text of the room
// where it is one of our own; flags are those of check.
export async function sheetOf(text, { roomFile = "", flags = {}, files = {}, name = "", signal } = {}) {
  const all = { ...files, "routine.yaml": text };
  const asked = { ...flags };
  if (roomFile) all["room.yaml"] = roomFile;
  if (!says(text, "room") && !asked.room) {
    if (!roomFile && state.room.file) { roomFile = state.room.file; all["room.yaml"] = roomFile; }
    asked.room = roomFile ? "room.yaml" : state.room.name;
  }
  const reply = await ask("check", { args: ["routine.yaml"], flags: asked, files: all }, { signal });
  const a = reply.answer;
  const own = Boolean(roomFile) && a.room.file !== "";
  const room = own ? await readRoom(roomFile) : (await builtInRooms()).find((r) => r.full_name === a.room.name);
  const laps = text.match(/^laps:\s*(\d+)/m);
  return {
    routine: a.routine, room, roomFile: own ? roomFile : "", roomName: own ? "" : room.name, name: a.name || name || "Routine",
    stride: a.stride, margin: a.margin, tempo: a.routine.totals.tempo, lap: Boolean(laps) || /^lap:\s*(yes|true)/m.test(text), laps: laps ? Number(laps[1]) : 1,
    faults: a.faults, repair: a.repair, cost: null, text, notes: reply.notes || [],
  };
}
