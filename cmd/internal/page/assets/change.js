// Change a routine: what else could go at a bar, variations that keep some bars,
// back and forth through what was.
import { byId, el, say } from "./elements.js";
import { ask } from "./wire.js";
import { put, redo, state, undo } from "./store.js";
import { figureFlags, sheetFiles } from "./couple.js";
import { sheetOf } from "./check.js";
import { sheetText } from "./files.js";
import { faultsOf } from "./faults.js";
import { aligned, count, metres, number } from "./words.js";

// changing gives the list of bars what it needs to change the routine.
export function changing(bars, hall) {
  byId("undo").addEventListener("click", undo);
  byId("redo").addEventListener("click", redo);
  bars.onother = (f, root) => others(f, root, bars);
  variations(byId("vary"), bars, hall);
  faultsOf(byId("faults"));
}

// others asks what could go where a figure stands, and lists it.
async function others(f, root) {
  const sheet = state.sheet, files = sheetFiles(sheet);
  root.replaceChildren(el("p", { class: "quiet", role: "status", text: "Looking what could go here …" }));
  try {
    const { answer } = await ask("next", { flags: { ...figureFlags(files), after: "routine.yaml", bar: String(f.bar - 1) }, files });
    if (!answer.figures.length) {
      root.replaceChildren(el("p", { text: "Nothing that the couple knows can go here." }));
      return;
    }
    root.replaceChildren(el("h4", { text: `What could go at bar ${f.bar}` }),
      el("p", { class: "quiet", text: `Ways on: in how many ways the ${answer.bars} bars after it can be danced.` }),
      el("ul", { class: "choices" }, answer.figures.map((c) => el("li", { class: c.trap ? "dead" : "" },
        el("div", {}, el("b", { text: c.name }), el("small", { text: `${count(c.bars, "bar")}${c.takes_next_wall ? ", takes the next wall" : ""}, ends ${aligned(c.ends.alignment)}, ${c.ends.hold}` }), el("small", { class: "future", text: future(c) })),
        el("button", { type: "button", "aria-label": `Put ${c.name} at bar ${f.bar}`, onclick: (e) => swap(sheet, f, c, e.target) }, "Put it here")))));
  } catch (e) {
    root.replaceChildren(el("p", { class: "wrong", text: e.message }));
  }
}

const ends = { wall: "no room", stance: "a stance nobody leaves", "wall or stance": "no room, or a stance nobody leaves" };

// future says in words what comes of a figure.
function future(c) {
  if (c.trap) return `✕ Dead end: ${ends[c.ends_in] || "no way on"}${c.most_bars > 0 ? ` after ${count(c.most_bars, "bar")} at the most` : " at once"}`;
  const ways = c.too_many_to_count ? "very many ways on" : count(c.ways, "way") + " on";
  if (!c.gets_round) return `▲ ${ways}, but the couple does not get right round`;
  return `✓ ${ways}, and right round the room`;
}

// swap puts a figure in place of another and dances the whole again.
async function swap(sheet, f, choice, button) {
  button.disabled = true;
  const figures = sheet.routine.figures.map((x) => x === f ? { name: choice.name, scale: choice.scale, takes_next_wall: choice.takes_next_wall } : x);
  const text = sheetText({ ...sheet, routine: { ...sheet.routine, figures } }, { free: sheet.routine.figures.indexOf(f) + 1 });
  const files = {};
  try {
    const flags = figureFlags(files);
    const next = await sheetOf(text, { roomFile: sheet.roomFile, flags, files });
    put({ ...next, name: sheet.name });
    say(next.faults.length ? `${choice.name} is at bar ${f.bar}. Now there ${next.faults.length === 1 ? "is one fault" : `are ${next.faults.length} faults`}; repairs are above the bars.` : `${choice.name} is at bar ${f.bar}. No faults.`);
  } catch (e) {
    button.disabled = false;
    button.after(el("p", { class: "wrong", text: e.message }));
  }
}

// variations is the form for dancing the rest otherwise, and the flipping through
// what came of it.
function variations(root, bars, hall) {
  const many = el("input", { type: "number", min: 1, max: 12, value: 3, id: "vary-count" });
  const order = el("select", { id: "vary-sort" }, [["novelty", "the most that is new"], ["difficulty", "the easiest"], ["travel", "the farthest"]].map(([v, t]) => el("option", { value: v, text: t })));
  const off = el("input", { type: "number", min: 0, max: 2, step: 0.1, value: 0.3, id: "vary-off" });
  const kept = el("p", { class: "quiet" });
  const out = el("div", { class: "flip" });
  const go = el("button", { type: "submit", class: "main" }, "Dance the rest otherwise");
  const tellKept = () => {
    const list = bars.keptBars();
    kept.textContent = list.length ? `Kept: bars ${list.join(", ")}.` : "Nothing is kept: tick “keep” beside the bars that are to stay.";
  };
  bars.onkept = tellKept;
  byId("vary-fold").addEventListener("toggle", tellKept);
  tellKept();
  const form = el("form", { onsubmit: async (e) => {
    e.preventDefault();
    const sheet = state.sheet;
    if (!sheet) { out.replaceChildren(el("p", { text: "There is no routine on the sheet yet." })); return; }
    const keep = bars.keptBars(), files = sheetFiles(sheet);
    const flags = { ...figureFlags(files), count: many.value, sort: order.value, tolerance: off.value, whole: true };
    if (keep.length) flags.keep = keep;
    go.disabled = true;
    out.replaceChildren(el("p", { role: "status", text: "Looking for other ways …" }));
    try {
      const { answer } = await ask("vary", { args: ["routine.yaml"], flags, files });
      flip(out, sheet, answer, hall);
    } catch (err) {
      out.replaceChildren(el("p", { class: "wrong", role: "alert", text: err.message }));
    } finally {
      go.disabled = false;
    }
  } }, kept, el("div", { class: "three" }, el("label", {}, "How many", many), el("label", {}, "First comes", order), el("label", {}, "Ends as near as, m", off)), el("p", { class: "actions" }, go));
  root.replaceChildren(form, out);
}

// flip shows one variation at a time on the floor; taking one puts it on the sheet.
function flip(out, sheet, answer, hall) {
  const all = answer.variations;
  if (!all.length) {
    out.replaceChildren(el("p", { role: "status", text: answer.why || "There is no other way." }));
    return;
  }
  let i = -1;
  const words = el("p", { role: "status", "aria-live": "polite" }), beside = el("div");
  const take = el("button", { type: "button", class: "main", onclick: () => {
    const v = all[i], next = { ...sheet, routine: v.routine, faults: [], repair: null, cost: null, notes: [] };
    next.text = sheetText(next);
    put(next);
    out.replaceChildren(el("p", { role: "status", text: `Variation ${i + 1} is on the sheet. Undo brings back what was.` }));
  } }, "Take this one");
  const to = (n) => {
    i = (n + all.length) % all.length;
    const v = all[i];
    words.textContent = `Variation ${i + 1} of ${all.length}: ${Math.round(v.novelty * 100)} % of the figures changed, ${number(v.difficulty)} points a bar, ends ${metres(v.off)} from where it did.`;
    beside.replaceChildren(besideTable(v.beside));
    hall.show(sheet.room, v.routine, { keep: true });
  };
  out.replaceChildren(
    answer.why ? el("p", { class: "quiet", text: answer.why }) : "",
    el("p", { class: "actions" },
      el("button", { type: "button", onclick: () => to(i - 1) }, "‹ Variation before"),
      el("button", { type: "button", onclick: () => to(i + 1) }, "Next variation ›"), take,
      el("button", { type: "button", onclick: () => { out.replaceChildren(); hall.show(sheet.room, sheet.routine, { keep: true }); } }, "Leave it as it was")),
    words, beside);
  to(0);
}

function besideTable(rows) {
  return el("table", { class: "beside" },
    el("thead", {}, el("tr", {}, ["Bar", "Was", "Now"].map((t) => el("th", { scope: "col", text: t })))),
    el("tbody", {}, rows.map((r) => el("tr", { class: r.changed ? "changed" : "" }, el("td", { text: r.bar }), el("td", { text: r.was }), el("td", { text: (r.changed ? "✱ " : "") + r.now })))));
}
