// Change a routine: what else could go at a bar, variations that keep some bars,
// back and forth through what was.
import { byId, el, say } from "./elements.js";
import { ask } from "./wire.js";
import { hear, put, redo, state, undo } from "./store.js";
import { figureFlags, sheetFiles } from "./couple.js";
import { sheetOf } from "./check.js";
import { sheetText } from "./files.js";
import { faultsOf } from "./faults.js";
import { aligned, count, metres, number } from "./words.js";
import { plain } from "./plain.js";

// changing gives the list of bars what it needs to change the routine.
export function changing(bars, hall) {
  byId("undo").addEventListener("click", () => step(undo, "Undone", "undo", "redo"));
  byId("redo").addEventListener("click", () => step(redo, "Done again", "redo", "undo"));
  bars.onother = (f, root) => others(f, root, bars);
  variations(byId("vary"), bars, hall);
  faultsOf(byId("faults"), (f, name, button) => swap(state.sheet, f, { name }, button, bars), bars);
}

// step goes back or forth, says what is on the sheet then, and leaves the focus on a
// button that can be pressed.
export function step(go, words, button, other) {
  if (!go()) return false;
  say(`${words}. ${sheetWords()}`);
  if (byId(button).disabled && (document.activeElement === byId(button) || document.activeElement === document.body)) byId(other).focus();
  return true;
}

// sheetWords say what is on the sheet.
function sheetWords() {
  const s = state.sheet;
  if (!s) return "There is no routine on the sheet.";
  return `On the sheet: ${s.name}, ${count(s.routine.totals.bars, "bar")}, ${s.faults.length ? count(s.faults.length, "fault") : "no faults"}.`;
}

// others asks what could go where a figure stands, and lists it.
async function others(f, root, bars) {
  const sheet = state.sheet, files = sheetFiles(sheet);
  root.replaceChildren(el("p", { class: "quiet", role: "status", text: "Looking what could go here …" }));
  try {
    const { answer } = await ask("next", { flags: { ...figureFlags(files), after: "routine.yaml", bar: String(f.bar - 1) }, files });
    const figures = answer.figures.filter((c) => !(c.instead && c.instead.same));
    if (!figures.length) {
      root.replaceChildren(el("p", { role: "status", text: "Nothing else that the couple knows can go here." }));
      return;
    }
    root.replaceChildren(el("h4", { text: `What could go at bar ${f.bar}` }),
      el("p", { class: "quiet", text: `Ways on: in how many ways the ${answer.bars} bars after it can be danced. Where the bars that follow do not fit any more, as few of them as can be are danced otherwise.` }),
      el("ul", { class: "choices" }, figures.map((c) => el("li", { class: c.trap ? "dead" : "" },
        el("div", {}, el("b", { text: c.name }), el("small", { text: `${count(c.bars, "bar")}${c.takes_next_wall ? ", takes the next wall" : ""}, ends ${aligned(c.ends.alignment)}, ${c.ends.hold}` }), el("small", { class: "future", text: future(c) })),
        el("button", { type: "button", "aria-label": `Put ${c.name} at bar ${f.bar}`, onclick: (e) => swap(sheet, f, c, e.currentTarget, bars) }, "Put it here")))));
    say(`${count(figures.length, "figure")} could go at bar ${f.bar}.`);
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
  return `✓ ${ways}; it can get right round${c.instead && !c.instead.faults ? ", and the bars after it stay as they are" : ""}`;
}

// swap puts a figure in place of another. Where the bars after it do not fit then, as few
// of them as can be are danced otherwise; where that cannot be, the faults are told.
async function swap(sheet, f, choice, button, bars) {
  if (button.hasAttribute("aria-disabled")) return;
  button.setAttribute("aria-disabled", "true");
  const waits = el("p", { role: "status", class: "quiet", text: "Dancing it …" });
  button.parentElement.after(waits);
  try {
    const next = (await around(sheet, f, choice)) || (await instead(sheet, f, choice));
    if (state.sheet !== sheet) return; // something else has been put on the sheet meanwhile
    put({ ...next, name: sheet.name, line: sheet.line });
    bars.focus(f.bar);
    say(`${choice.name} is at bar ${f.bar}. ` + (next.faults.length ? `Now there ${next.faults.length === 1 ? "is one fault" : `are ${next.faults.length} faults`}; repairs are above the bars.` : next.told || "No faults."));
  } catch (e) {
    waits.className = "wrong";
    waits.textContent = e.message;
  } finally {
    button.removeAttribute("aria-disabled");
  }
}

// instead dances the whole again with the figure in place of the other.
async function instead(sheet, f, choice) {
  const scale = choice.instead ? choice.instead.scale : choice.scale;
  const figures = sheet.routine.figures.map((x) => x === f ? { name: choice.name, scale, takes_next_wall: choice.takes_next_wall } : x);
  const at = sheet.routine.figures.indexOf(f);
  const text = sheetText({ ...sheet, routine: { ...sheet.routine, figures } }, { free: choice.takes_next_wall === undefined ? at : at + 1 });
  const files = {};
  return sheetOf(text, { roomFile: sheet.roomFile, flags: figureFlags(files), files });
}

// around looks for a way back to the routine behind some bars after the figure: behind a
// few at first, then more. Null is none.
async function around(sheet, f, choice) {
  if (sheet.faults.length || choice.trap || !choice.instead || !choice.instead.faults) return null;
  const figures = sheet.routine.figures, at = figures.indexOf(f), walls = sheet.room.walls.length;
  const wall = choice.takes_next_wall ? ((at > 0 ? figures[at - 1].from.wall : sheet.routine.start.wall) % walls) + 1 : at > 0 ? figures[at - 1].from.wall : sheet.routine.start.wall;
  let last = 0;
  for (const bars of [4, 8, 16, 64]) {
    const within = figures.slice(at).filter((x) => x.bar + x.bars - f.bar <= bars);
    if (!within.length || within.length === last) continue;
    last = within.length;
    const end = within[last - 1], files = sheetFiles(sheet);
    const flags = { ...figureFlags(files), replace: [`${f.bar}-${end.bar + end.bars - 1}`], "begin-with": `${choice.name} wall ${wall}`, count: "8" };
    const { answer } = await ask("vary", { args: ["routine.yaml"], flags, files });
    if (!answer.variations.length) continue;
    const least = answer.variations.reduce((a, b) => (b.novelty < a.novelty ? b : a));
    const next = { ...sheet, routine: least.routine, faults: [], repair: null, cost: null, notes: [] };
    next.text = sheetText(next);
    next.told = `Bars ${f.bar} to ${end.bar + end.bars - 1} are danced otherwise, the rest stays. No faults.`;
    return next;
  }
  return null;
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
    const flags = { ...figureFlags(files), count: many.value, sort: order.value, tolerance: off.value, whole: true };
    if (keep.length) flags.keep = keep;
    go.setAttribute("aria-disabled", "true");
    mine = sheet;
    out.replaceChildren(el("p", { role: "status", text: "Looking for other ways …" }));
    try {
      const { answer } = await ask("vary", { args: ["routine.yaml"], flags, files });
      if (state.sheet === sheet) flip(out, sheet, answer, hall, go);
    } catch (err) {
      out.replaceChildren(el("p", { class: "wrong", role: "alert", text: err.message }));
    } finally {
      go.removeAttribute("aria-disabled");
    }
  } }, kept, el("div", { class: "three" }, el("label", {}, "How many", many), el("label", {}, "First comes", order), el("label", {}, "Ends as near as, m", off)), el("p", { class: "actions" }, go));
  root.replaceChildren(form, out);
}

// flip shows one variation at a time on the floor; taking one puts it on the sheet.
function flip(out, sheet, answer, hall, go) {
  const all = answer.variations;
  if (!all.length) {
    out.replaceChildren(el("p", { role: "status", text: plain(answer.why || "There is no other way.") }));
    return;
  }
  let i = -1;
  const words = el("p", { role: "status", "aria-live": "polite" }), beside = el("div");
  const take = el("button", { type: "button", class: "main", onclick: () => {
    const v = all[i], next = { ...sheet, routine: v.routine, faults: [], repair: null, cost: null, notes: [] };
    next.text = sheetText(next);
    put(next);
    const told = el("p", { role: "status", tabindex: -1, text: `Variation ${i + 1} is on the sheet. Undo brings back what was.` });
    out.replaceChildren(told);
    told.focus();
  } }, "Take this one");
  const to = (n) => {
    i = (n + all.length) % all.length;
    const v = all[i];
    words.textContent = `Variation ${i + 1} of ${all.length}: ${Math.round(v.novelty * 100)} % of the figures changed, ${number(v.difficulty)} points a bar, ends ${metres(v.off)} from where it did.`;
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
    el("tbody", {}, rows.map((r) => el("tr", { class: r.changed ? "changed" : "" }, el("td", { text: r.bar }), el("td", { text: r.was }), el("td", { text: (r.changed ? "✱ " : "") + r.now })))));
}
