// Change a routine: what else could go at a bar, put there so that the rest stays; back
// and forth through what was.
import { byId, el, say } from "./elements.js";
import { ask } from "./wire.js";
import { put, redo, state, undo } from "./store.js";
import { figureFlags, sheetFiles } from "./couple.js";
import { sheetOf } from "./check.js";
import { another, sheetText } from "./files.js";
import { faultsOf } from "./faults.js";
import { variations } from "./vary.js";
import { waysOut } from "./waysout.js";
import { aligned, count } from "./words.js";

// changing gives the list of bars what it needs to change the routine.
export function changing(bars, hall) {
  byId("undo").addEventListener("click", () => step(undo, "Undone", "undo"));
  byId("redo").addEventListener("click", () => step(redo, "Done again", "redo"));
  bars.onother = (f, root) => others(f, root, bars);
  bars.onout = waysOut;
  variations(byId("vary"), bars, hall);
  faultsOf(byId("faults"), (f, name, button) => swap(state.sheet, f, { name }, button, bars), bars);
}

// step goes back or forth, and says what is on the sheet then.
export function step(go, words, button) {
  if (!go()) return false;
  say(`${words}. ${sheetWords()}`);
  // Where a button cannot be pressed any more the focus goes to the list's head, so that
  // one more Enter does not do the opposite.
  if (byId(button).disabled && (document.activeElement === byId(button) || document.activeElement === document.body)) byId("bars-title").focus();
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
        el("button", { type: "button", "aria-label": `Put it here: ${c.name}, bar ${f.bar}`, onclick: (e) => swap(sheet, f, c, e.currentTarget, bars) }, "Put it here")))));
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
// of them as can be are danced otherwise; where that cannot be, that is told, and it is put
// there if the user is sure.
async function swap(sheet, f, choice, button, bars, sure = false) {
  if (button.hasAttribute("aria-disabled")) return;
  button.setAttribute("aria-disabled", "true");
  const waits = el("p", { role: "status", class: "quiet", text: "Dancing it …" });
  button.parentElement.after(waits);
  try {
    let next = await around(sheet, f, choice);
    if (!next && !sure && choice.instead && choice.instead.faults) {
      waits.replaceChildren(`With it the bars that follow cannot be danced so that the rest stays: ${count(choice.instead.faults, "fault")}, the first: ${choice.instead.first}. `,
        el("button", { type: "button", onclick: () => { waits.remove(); swap(sheet, f, choice, button, bars, true); } }, "Put it here all the same"));
      waits.querySelector("button").focus();
      return;
    }
    if (!next) next = await instead(sheet, f, choice);
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
  const along = at > 0 ? figures[at - 1].from.wall : sheet.routine.start.wall, wall = choice.takes_next_wall ? along % walls + 1 : along;
  let last = 0;
  // At first the music stays as it is; then the piece may be two bars longer or shorter.
  for (const [bars, off] of [[4, 0], [8, 0], [16, 0], [64, 0], [8, 2], [16, 2], [62, 2]]) {
    const within = figures.slice(at).filter((x) => x.bar + x.bars - f.bar <= bars);
    if (!within.length || within.length === last && !off) continue;
    last = within.length;
    const end = within[last - 1], files = sheetFiles(sheet);
    const flags = { ...figureFlags(files), replace: [`${f.bar}-${end.bar + end.bars - 1}`], "begin-with": `${choice.name} wall ${wall}`, count: "8", "bars-off": String(off) };
    const { answer } = await ask("vary", { args: ["routine.yaml"], flags, files });
    if (!answer.variations.length) continue;
    const least = answer.variations.reduce((a, b) => (b.novelty < a.novelty ? b : a));
    const next = another(sheet, least.routine);
    const longer = least.routine.totals.bars - sheet.routine.totals.bars;
    next.told = `Bars ${f.bar} to ${end.bar + end.bars - 1} are danced otherwise, the rest stays${longer ? `, and it is ${count(Math.abs(longer), "bar")} ${longer > 0 ? "longer" : "shorter"}` : ""}. No faults.`;
    return next;
  }
  return null;
}
