// The faults of the routine that is on the sheet, and the repairs to accept.
import { el, say } from "./elements.js";
import { hear, put, state } from "./store.js";
import { another } from "./files.js";
import { count, stood } from "./words.js";
import { plain } from "./plain.js";

// faultsOf keeps a place up to date with the sheet. putIn puts a figure, by its name, in
// place of one of the routine.
export function faultsOf(root, putIn, bars) {
  const show = () => root.replaceChildren(...(state.sheet ? told(state.sheet, putIn, bars) : []));
  hear("sheet", show);
  show();
}

function told(sheet, putIn, bars) {
  if (!sheet.faults.length) return [];
  return [
    el("h3", { class: "wrong", text: "▲ " + count(sheet.faults.length, "fault") }),
    el("ul", { class: "faults" }, sheet.faults.map((f, i) => el("li", {},
      el("b", { text: f.number ? `Bar ${f.bar}, ${f.figure}: ` : "The whole: " }), `${f.kind}: ${f.words}. `,
      f.stance && f.number ? el("small", { text: `The couple stands ${stood(f.stance)}.` }) : null,
      sheet.faults.findIndex((x) => x.number === f.number) === i ? couldGo(sheet, f, putIn) : null))),
    ...repairs(sheet, bars),
  ];
}

// couldGo lists what could be danced where a fault is; each can be put there.
function couldGo(sheet, fault, putIn) {
  const now = sheet.routine.figures.find((f) => f.number === fault.number);
  if (!now || !fault.could_go.length) return null;
  const list = el("ul", { class: "choices" });
  const all = el("details", { ontoggle: () => {
    if (!all.open || list.children.length) return;
    list.append(...fault.could_go.map((name) => el("li", {}, el("div", {}, el("b", { text: name })),
      el("button", { type: "button", "aria-label": `Put it here: ${name}, bar ${now.bar}`, onclick: (e) => putIn(now, name, e.currentTarget) }, "Put it here"))));
  } }, el("summary", { text: `Could go there: ${count(fault.could_go.length, "figure")}` }), list);
  return all;
}

function repairs(sheet, bars) {
  const r = sheet.repair;
  if (!r) return [];
  const start = r.nearest_start ? el("p", { text: `Nobody can stand at the start; the nearest place is ${r.nearest_start.x}, ${r.nearest_start.y}.` }) : "";
  if (!r.ways.length) return [start, el("p", { text: plain(r.why) })];
  return [start,
    el("h3", { text: `Mended with ${count(r.changes, "change")}` }),
    el("p", { class: "quiet", text: `What comes in: ${r.comes_in}.` }),
    ...r.ways.map((w) => el("details", { class: "repair", open: w.number === 1 },
      el("summary", { text: `Repair ${w.number}: ${done(w)}` }),
      el("table", { class: "beside" }, el("thead", {}, el("tr", {}, ["Was", "Becomes", "What is done"].map((t) => el("th", { scope: "col", text: t })))),
        el("tbody", {}, w.beside.map((b) => el("tr", { class: b.done === "stays" ? "" : "changed" },
          el("td", { text: b.was ? `${b.was_bar} ${b.was}` : "" }), el("td", { text: b.now ? `${b.now_bar} ${b.now}` : "" }), el("td", { text: b.done === "stays" ? "" : "✱ " + b.done }))))),
      el("p", { class: "actions" }, el("button", { type: "button", class: "main", onclick: () => accept(sheet, w, bars) }, `Accept repair ${w.number}`))))];
}

function done(w) {
  return [[w.put_in, "put in"], [w.put_in_place, "put in place"], [w.left_out, "left out"]].filter(([n]) => n).map(([n, what]) => `${count(n, "figure")} ${what}`).join(", ") || "danced otherwise";
}

function accept(sheet, way, bars) {
  put(another(sheet, way.routine, way.remaining));
  const first = way.beside.find((b) => b.done !== "stays");
  if (!first || !bars.focus(first.now_bar || first.was_bar)) bars.focus(1);
  say(way.remaining.length ? "Mended, but for faults of limits." : "Mended: no faults.");
}
