// A routine in numbers.
import { el } from "./elements.js";
import { plain } from "./plain.js";
import { clock, count, metres, number, points, the } from "./words.js";

export function factsOf(list, s) {
  const t = s.routine.totals, c = s.cost;
  const rows = [
    ["Bars", `${t.bars}, in ${t.figures} figures`],
    ["Time", `${clock(t.seconds)} at ${number(t.tempo)} bars a minute`],
    ["Leader walks", metres(t.walked.leader, 1)],
    ["Follower walks", metres(t.walked.follower, 1)],
  ];
  if (t.closest.figure) rows.push(["Closest approach", t.closest.clearance < 0 ? `runs into ${the(t.closest.to)} by ${metres(-t.closest.clearance)}, in bar ${t.closest.bar}` : `${metres(t.closest.clearance)} from ${the(t.closest.to)}, in bar ${t.closest.bar}`]);
  rows.push(["Difficulty", `${points(t.difficulty.total)}`]);
  rows.push(["Awkward joins", t.awkward_joins ? String(t.awkward_joins) : "none"]);
  rows.push(["Round the room", t.closes ? `comes back to within ${metres(t.gap)}` : `no lap: takes ${count(t.corners, "corner")} and ends ${metres(t.gap)} from where it began`]);
  if (c) {
    rows.push(["Cost", `${number(c.total)} bars`]);
    rows.push(["Best", c.proven ? "proven: no lap from the starts that were tried costs less" : `within ${number(c.over_bound_percent, 1)} % of the bound ${number(c.bound)}`]);
  }
  list.replaceChildren(...rows.map(([name, words]) => el("div", {}, el("dt", { text: name }), el("dd", { text: words }))));
  for (const note of s.notes || []) list.append(el("div", {}, el("dt", { text: "Note" }), el("dd", { text: plain(note) })));
}
