// A link that holds a whole routine: its file and, where it is one of our own, the
// room's, pressed small and written after the # that no server gets to see.
import { byId } from "./elements.js";
import { put } from "./store.js";
import { sheetOf } from "./check.js";
import { roomChoices } from "./rooms.js";

const most = 400_000; // letters of a routine and a room, unpressed

async function through(bytes, stream) {
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  const parts = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > most) throw new Error("The link holds more than a routine.");
    parts.push(value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

// linkOf gives the address that opens a sheet.
export async function linkOf(sheet) {
  const text = JSON.stringify({ routine: sheet.text, room: sheet.roomFile || "" });
  const pressed = await through(new TextEncoder().encode(text), new CompressionStream("deflate-raw"));
  let letters = "";
  for (const b of pressed) letters += String.fromCharCode(b);
  return location.origin + "/#r=" + btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

// openLink puts the routine of a link on the sheet.
export async function openLink(code) {
  const error = byId("lap-error");
  error.textContent = "";
  try {
    const bytes = Uint8Array.from(atob(code.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
    const held = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(await through(bytes, new DecompressionStream("deflate-raw"))));
    if (typeof held.routine !== "string" || typeof held.room !== "string") throw new Error("no routine");
    const sheet = await sheetOf(held.routine, { roomFile: held.room });
    put(sheet);
    roomChoices.of(sheet);
  } catch (e) {
    error.textContent = e.code === undefined || e.code === null || e instanceof DOMException ? "This link holds no routine that can be read; it may have been cut off." : "The routine of this link: " + e.message;
  }
}
