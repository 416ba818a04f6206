// The lists of what to teach: each figure or set with what it gives the class, and a
// button that takes it up.
import { el } from "./elements.js";
import { state } from "./store.js";
import { count, points } from "./words.js";
import { plain } from "./plain.js";

const first = 10;   // lines of a list that are seen at once
const many = 10000; // laps that are not told one by one any more

const button = (label, name, act) => el("button", { type: "button", "aria-label": `${label}: ${name}`, onclick: act }, label);

// takes is what a button does that takes figures up.
const takes = (one) => state.couple.how === "weeks" ? `Teach ${one ? "it" : "these"} in week ${state.couple.week}` : one ? "Tick it" : "Tick these";

// named lists some names, and how many there are more.
const named = (names) => names.slice(0, 3).join(", ") + (names.length > 3 ? ` and ${names.length - 3} more` : "");

// joins says what a figure joins of what is known.
const joins = (after, before) => [after.length ? `after ${named(after)}` : "", before.length ? `goes on with ${named(before)}` : ""].filter(Boolean).join("; ") || "joins nothing that is known";

// line is one that can be taken up.
const line = (head, smalls, act) => el("li", {}, el("div", {}, el("b", { text: head }), smalls.map((s) => el("small", { text: s }))), act);

// folded shows the first lines, and the others when they are asked for.
function folded(lines) {
  const rest = lines.slice(first);
  return [el("ul", { class: "choices" }, lines.slice(0, first)), rest.length ? el("details", {}, el("summary", { text: `${rest.length} more` }), el("ul", { class: "choices" }, rest)) : ""];
}

// reach says how far the couple gets with what it knows then.
function reach(can, most) {
  const stuck = can.dead_ends.length ? `gets stuck in ${count(can.dead_ends.length, "stance")}` : "gets stuck nowhere";
  if (!can.gets_round) return `✕ does not get round; ${stuck}`;
  const laps = can.laps_too_many || can.laps > many ? `more than ${many} laps of up to ${most} bars` : can.laps ? `${count(can.laps, "lap")} of up to ${most} bars` : "";
  return ["✓ gets round", can.shortest_lap_bars ? `shortest lap ${count(can.shortest_lap_bars, "bar")}` : "", laps, stuck].filter(Boolean).join("; ");
}

// figuresOf are the figures that could come next; take takes one up.
export function figuresOf(a, take) {
  const lines = a.figures.map((f) => line(f.figure, [`${f.words[0].toUpperCase()}${f.words.slice(1)}.`, `Then: ${reach(f.after, a.counted_bars)}.`, `Joins: ${joins(f.after_known, f.before_known)}. ${points(f.difficulty.total)}.`],
    button(takes(true), f.figure, () => take([f.figure]))));
  return [el("p", {}, el("b", { text: "Now: " }), `${reach(a.before, a.counted_bars)}.`, a.gets_round_stretched && !a.before.gets_round ? " Reaching or holding back in some steps it does get round." : ""),
    ...folded(lines), a.figures.length ? el("p", { class: "quiet", text: "The order: what opens a lap comes first, then what makes for the most different routines, then what leaves the couple stuck least, then the easiest." }) : ""];
}

// setsOf are the smallest sets with which a couple gets round.
export function setsOf(a, take) {
  return a.lists.flatMap((l) => [el("h3", { text: l.both_ways ? "To turn both ways" : "To get round" }),
    ...(l.sets.length ? folded(l.sets.map((s) => line(s.figures.join(", "), [`The hardest of them: ${points(s.hardest)}.`], button(takes(s.figures.length === 1), s.figures.join(", "), () => take(s.figures)))))
      : [el("p", { text: `There is no such set of ${count(l.most_figures, "figure")} or fewer.` })])]);
}

// courseOf are the weeks of a course; takeUp takes all of them up, lap shows a practice lap.
export function courseOf(a, { takeUp, lap }) {
  const weeks = a.weeks.map((w) => el("li", {}, el("b", { text: `Week ${w.week}: ` }), el("span", { class: "week-figures", text: w.teach.map((t) => t.figure).join(", ") }),
    w.teach.map((t) => el("small", { class: "quiet week-joins", text: `${t.figure}: ${joins(t.after, t.before)}; ${points(t.difficulty.total)}.` })),
    el("p", { class: "actions" }, button(`Its practice lap, ${count(w.practice_lap.totals.bars, "bar")}`, `week ${w.week}`, () => lap(w)))));
  return [el("p", { class: "actions" }, el("button", { type: "button", class: "main", id: "teach-take", onclick: () => takeUp(a.weeks.map((w) => w.teach.map((t) => t.figure))) }, "Take this course up into the class")),
    el("ol", { class: "weeks" }, weeks), el("p", { class: "quiet", text: "With what is known after each week the couple gets right round; the easiest of a week comes first. A practice lap has every figure of its week in it." })];
}

// none says why nobody gets round.
export const none = (a) => a.why && a.why.length ? [el("ul", {}, a.why.map((w) => el("li", { text: plain(w) })))] : [];
