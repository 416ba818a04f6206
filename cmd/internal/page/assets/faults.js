// The faults of the routine that is on the sheet, and the repairs to accept.
import { el, say } from "./elements.js";
import { hear, put, state } from "./store.js";
import { sheetText } from "./files.js";
import { count, stood } from "./words.js";

// faultsOf keeps a place up to date with the sheet.
export function faultsOf(root) {
  const show = () => root.replaceChildren(...(state.sheet ? told(state.sheet) : []));
  hear("sheet", show);
  show();
}

function told(sheet) {
  if (!sheet.faults.length) return [];
  return [
    el("h3", { class: "wrong", text: "▲ " + count(sheet.faults.length, "fault") }),
    el("ul", { class: "faults" }, sheet.faults.map((f) => el("li", {},
      el("b", { text: f.number ? `Bar ${f.bar}, ${f.figure}: ` : "The whole: " }), `${f.kind}: ${f.words}. `,
      f.stance && f.number ? el("small", { text: `The couple stands ${stood(f.stance)}.` }) : null,
      f.could_go.length ? el("details", {}, el("summary", { text: `Could go there: ${count(f.could_go.length, "figure")}` }), el("p", { text: f.could_go.join(", ") })) : null))),
    ...repairs(sheet),
  ];
}

function repairs(sheet) {
  const r = sheet.repair;
  if (!r) return [];
  const start = r.nearest_start ? el("p", { text: `Nobody can stand at the start; the nearest place is ${r.nearest_start.x}, ${r.nearest_start.y}.` }) : "";
  if (!r.ways.length) return [start, el("p", { text: r.why })];
  return [start,
    el("h3", { text: `Mended with ${count(r.changes, "change")}` }),
    el("p", { class: "quiet", text: `What comes in: ${r.comes_in}.` }),
    ...r.ways.map((w) => el("details", { class: "repair", open: w.number === 1 },
      el("summary", { text: `Repair ${w.number}: ${done(w)}` }),
      el("table", { class: "beside" }, el("thead", {}, el("tr", {}, ["Was", "Becomes", "What is done"].map((t) => el("th", { scope: "col", text: t })))),
        el("tbody", {}, w.beside.map((b) => el("tr", { class: b.done === "stays" ? "" : "changed" },
          el("td", { text: b.was ? `${b.was_bar} ${b.was}` : "" }), el("td", { text: b.now ? `${b.now_bar} ${b.now}` : "" }), el("td", { text: b.done === "stays" ? "" : "✱ " + b.done }))))),
      el("p", { class: "actions" }, el("button", { type: "button", class: "main", onclick: () => accept(sheet, w) }, `Accept repair ${w.number}`))))];
}

function done(w) {
  return [[w.put_in, "put in"], [w.put_in_place, "put in place"], [w.left_out, "left out"]].filter(([n]) => n).map(([n, what]) => `${count(n, "figure")} ${what}`).join(", ") || "danced otherwise";
}

function accept(sheet, way) {
  const next = { ...sheet, routine: way.routine, faults: way.remaining, repair: null, notes: [] };
  next.text = sheetText(next);
  put(next);
  say(way.remaining.length ? "Mended, but for faults of limits." : "Mended: no faults.");
}
