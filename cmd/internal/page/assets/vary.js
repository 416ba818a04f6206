// Variations: some bars are kept, the rest is danced otherwise, and what comes of it is
// flipped through.
import { byId, el } from "./elements.js";
import { ask } from "./wire.js";
import { hear, put, state } from "./store.js";
import { figureFlags, sheetFiles } from "./couple.js";
import { another } from "./files.js";
import { metres, number, points } from "./words.js";
import { plain } from "./plain.js";

// variations is the form for dancing the rest otherwise, and the flipping through
// what came of it.
export function variations(root, bars, hall) {
  const many = el("input", { type: "number", min: 1, max: 12, value: 3, id: "vary-count" });
  const order = el("select", { id: "vary-sort" }, [["novelty", "the most that is new"], ["difficulty", "the easiest"], ["travel", "the farthest"]].map(([v, t]) => el("option", { value: v, text: t })));
  const off = el("input", { type: "number", min: 0, max: 2, step: 0.1, value: 0.3, id: "vary-off" });
  const longer = el("input", { type: "number", min: 0, max: 8, step: 1, value: 0, id: "vary-bars-off" });
  const kept = el("p", { class: "quiet" });
  const out = el("div", { class: "flip" });
  const go = el("button", { type: "submit", class: "main" }, "Dance the rest otherwise");
  const tellKept = () => {
    const list = bars.keptBars();
    kept.textContent = list.length ? `Kept: bars ${list.join(", ")}.` : "Nothing is kept: tick “keep” beside the bars that are to stay.";
  };
  bars.onkept = tellKept;
  let mine = null; // the sheet of which variations are shown
  hear("sheet", () => { if (mine && state.sheet !== mine) { mine = null; out.replaceChildren(); } });
  byId("vary-fold").addEventListener("toggle", tellKept);
  tellKept();
  const form = el("form", { onsubmit: async (e) => {
    e.preventDefault();
    const sheet = state.sheet;
    if (go.hasAttribute("aria-disabled")) return;
    if (!sheet) { out.replaceChildren(el("p", { text: "There is no routine on the sheet yet." })); return; }
    const keep = bars.keptBars(), files = sheetFiles(sheet);
    const flags = { ...figureFlags(files), count: many.value, sort: order.value, tolerance: off.value, "bars-off": longer.value, whole: true };
    if (keep.length) flags.keep = keep;
    go.setAttribute("aria-disabled", "true");
    mine = sheet;
    out.replaceChildren(el("p", { role: "status", text: "Looking for other ways …" }));
    try {
      const { answer } = await ask("vary", { args: ["routine.yaml"], flags, files });
      if (state.sheet === sheet) flip(out, sheet, answer, hall, go, (taken) => { mine = taken; });
    } catch (err) {
      out.replaceChildren(el("p", { class: "wrong", role: "alert", text: err.message }));
    } finally {
      go.removeAttribute("aria-disabled");
    }
  } }, kept, el("div", { class: "three" }, el("label", {}, "How many", many), el("label", {}, "First comes", order), el("label", {}, "Ends as near as, m", off), el("label", {}, "Bars more or fewer, at most", longer)), el("p", { class: "actions" }, go));
  root.replaceChildren(form, out);
}

// flip shows one variation at a time on the floor; taking one puts it on the sheet.
function flip(out, sheet, answer, hall, go, took) {
  const all = answer.variations;
  if (!all.length) {
    out.replaceChildren(el("p", { role: "status", text: plain(answer.why || "There is no other way.") }));
    return;
  }
  let i = -1;
  const words = el("p", { role: "status", "aria-live": "polite" }), beside = el("div");
  const take = el("button", { type: "button", class: "main", onclick: () => {
    const next = another(sheet, all[i].routine);
    put(next);
    took(next);
    const told = el("p", { role: "status", tabindex: -1, text: `Variation ${i + 1} is on the sheet. Undo brings back what was.` });
    out.replaceChildren(told);
    told.focus();
  } }, "Take this one");
  const to = (n) => {
    i = (n + all.length) % all.length;
    const v = all[i];
    words.textContent = `Variation ${i + 1} of ${all.length}: ${Math.round(v.novelty * 100)} % of the figures changed, ${points(v.difficulty)}, ends ${metres(v.off)} from where it did.`;
    beside.replaceChildren(besideTable(v.beside));
    hall.show(sheet.room, v.routine, { keep: true });
  };
  out.replaceChildren(
    answer.why ? el("p", { class: "quiet", text: plain(answer.why) }) : "",
    el("p", { class: "actions" },
      el("button", { type: "button", onclick: () => to(i - 1) }, "‹ Variation before"),
      el("button", { type: "button", onclick: () => to(i + 1) }, "Next variation ›"), take,
      el("button", { type: "button", onclick: () => { out.replaceChildren(); hall.show(sheet.room, sheet.routine, { keep: true }); go.focus(); } }, "Leave it as it was")),
    words, beside);
  to(0);
}

function besideTable(rows) {
  return el("table", { class: "beside" },
    el("thead", {}, el("tr", {}, ["Bar", "Was", "Now"].map((t) => el("th", { scope: "col", text: t })))),
    el("tbody", {}, rows.map((r) => el("tr", { class: r.changed ? "changed" : "" }, el("td", { text: r.bar }), el("td", { text: r.was }), el("td", { text: (r.changed && r.now ? "✱ " : "") + r.now })))));
}
