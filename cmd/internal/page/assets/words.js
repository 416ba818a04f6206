// Short forms and whole words, as the tables of the program write them.
import { el } from "./elements.js";

export const caution = "Take care: this is a plan for an empty floor. Leave room for other couples and shorten the stride where it is crowded; build up fast turns slowly. The limits that the venue posts and the local rules come first, and a licensed teacher decides what a couple is ready for.";

const alignments = [
  ["diagonal to centre against line of dance", "DCA"], ["diagonal to wall against line of dance", "DWA"],
  ["diagonal to centre", "DC"], ["diagonal to wall", "DW"], ["against line of dance", "ALOD"],
  ["line of dance", "LOD"], ["centre", "C"], ["wall", "W"],
];

// aligned shortens "facing diagonal to wall" to "facing DW".
export function aligned(words) {
  for (const [long, short] of alignments) {
    if (words.endsWith(long)) return words.slice(0, -long.length) + short;
  }
  return words;
}

// stood is a stance in short: "facing DW, RF free, closed".
export const stood = (s) => `${aligned(s.alignment)}, ${s.free_foot === "left foot" ? "LF" : "RF"} free, ${s.hold}`;

// number writes a number with at most so many places behind the point.
export function number(x, places = 2) {
  return (Math.round(x * 10 ** places) / 10 ** places).toLocaleString("en", { maximumFractionDigits: places, useGrouping: false });
}

// shortForms are the short forms of the page with their meanings, folded.
export function shortForms() {
  const all = [["LF, RF", "left foot, right foot"], ["LOD", "line of dance, counter-clockwise round the room"], ["ALOD", "against line of dance"], ["DW", "diagonal to wall"], ["DC", "diagonal to centre"],
    ["DWA", "diagonal to wall against line of dance"], ["DCA", "diagonal to centre against line of dance"], ["W, C", "wall, centre"]];
  return el("details", { class: "short-forms" }, el("summary", { text: "Short forms" }), el("dl", { class: "facts" }, all.map(([a, b]) => el("div", {}, el("dt", { text: a }), el("dd", { text: b })))));
}

export const metres = (x, places = 2) => number(x, places) + " m";

// clock writes seconds as minutes and seconds.
export const clock = (s) => `${Math.floor(Math.round(s) / 60)}:${String(Math.round(s) % 60).padStart(2, "0")}`;

// the puts an article before a name, but not before one with a number.
export const the = (name) => (/^wall \d+$/.test(name) ? name : "the " + name);

// points is how hard something is.
export const points = (x) => `${number(x)} ${number(x) === "1" ? "point" : "points"} a bar`;

export const count = (n, one, many) => `${n} ${n === 1 ? one : many || one + "s"}`;

// barsOf says in which bars a figure is danced.
export const barsOf = (f) => f.bars > 1 ? `Bars ${f.bar}–${f.bar + f.bars - 1}` : `Bar ${f.bar}`;
