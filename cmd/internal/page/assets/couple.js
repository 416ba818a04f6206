// The couple and the room as flags and files of a command.
import { state } from "./store.js";
import { classFile } from "./files.js";

// figureFlags say which figures may be danced.
export function figureFlags(files) {
  const c = state.couple, flags = {};
  if (c.style && c.style !== "international") flags.style = c.style;
  switch (c.how) {
    case "ticked":
      if (c.known.length) flags.known = [...c.known];
      break;
    case "weeks":
      if (taught(c)) {
        files["class.yaml"] = classFile({ ...c, room: "" });
        flags.class = "class.yaml";
        flags.week = String(taughtWeek());
      }
      break;
    default:
      if (c.levels.length) flags.level = c.levels.join(",");
  }
  return flags;
}

// taught tells whether something has been taught up to the week that it is.
const taught = (c) => c.weeks.slice(0, c.week).some((w) => w.figures.length);

// taughtWeek is the week among those in which something is taught.
function taughtWeek() {
  const c = state.couple;
  return c.weeks.slice(0, c.week).filter((w) => w.figures.length).length;
}

// knownFigures are the names that are ticked, in ticked lists and in weeks.
export function knownFigures() {
  const c = state.couple;
  if (c.how === "ticked") return c.known;
  if (c.how === "weeks") return c.weeks.slice(0, c.week).flatMap((w) => w.figures);
  return [];
}

// coupleWords say in a few words who dances.
export function coupleWords() {
  const c = state.couple;
  switch (c.how) {
    case "ticked": return c.known.length ? (c.known.length === 1 ? "one figure that is ticked" : `${c.known.length} figures that are ticked`) : "nothing ticked yet: bronze";
    case "weeks": return taught(c) ? `${c.name || "class"}, week ${c.week}` : "nothing taught yet: bronze";
  }
  const style = c.style === "international" ? "" : ", " + c.style + " style";
  return (c.levels.join(" and ") || "bronze") + style;
}

// roomFlag names the room, with its file where it is one of our own.
export function roomFlag(files, room = state.room) {
  if (room.file) {
    files["room.yaml"] = room.file;
    return "room.yaml";
  }
  return room.name;
}

// sheetFiles are a sheet's own files: the routine, and the room where it is a file.
export function sheetFiles(sheet, text = sheet.text) {
  const files = { "routine.yaml": text };
  if (sheet.roomFile) files["room.yaml"] = sheet.roomFile;
  return files;
}
