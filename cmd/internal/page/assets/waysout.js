// Ways out: what a couple does where somebody is in front of it, or where it has drifted
// out of its lane.
import { el, say } from "./elements.js";
import { ask } from "./wire.js";
import { state } from "./store.js";
import { figureFlags, sheetFiles } from "./couple.js";
import { aligned, count, metres } from "./words.js";
import { plain } from "./plain.js";

// waysOut asks what gets the couple out of where a figure begins, and lists it.
export async function waysOut(f, root) {
  const sheet = state.sheet, files = sheetFiles(sheet);
  root.replaceChildren(el("p", { class: "quiet", role: "status", text: "Looking for ways out …" }));
  try {
    const { answer } = await ask("ways-out", { flags: { ...figureFlags(files), after: "routine.yaml", bar: String(f.bar - 1), count: "4", wait: "3" }, files });
    root.replaceChildren(el("h4", { text: `Ways out of where bar ${f.bar} begins` }),
      el("p", { class: "quiet", text: "Look before anything else: whoever is behind does not see your plan. Do not stop or step back into the way of a couple that comes up." }),
      el("h5", { text: "Wait, or let others pass" }), list(answer.wait, `There is no way of waiting here for ${count(answer.wait_bars, "bar")} or less, with these figures.`),
      el("h5", { text: "Back to the lane" }), list(answer.back, plain(answer.why || "There is no way back with these figures.")));
    say(`${count(answer.wait.length, "way")} of waiting and ${answer.back.length} back to the lane.`);
  } catch (e) {
    root.replaceChildren(el("p", { class: "wrong", role: "alert", text: e.message }));
  }
}

const list = (ways, none) => (ways.length ? el("ul", { class: "choices" }, ways.map((w) => el("li", {}, el("div", {},
  el("b", { text: w.figures.map((x) => x.name).join(", then ") }),
  el("small", { text: `${count(w.bars, "bar")}, ends ${aligned(w.ends.alignment)}, ${w.ends.hold}; takes ${metres(w.floor.along, 1)} along the line of dance and ${metres(w.floor.across, 1)} across` }),
  el("small", { class: "future", text: passes(w) }))))) : el("p", { text: none }));

// passes says on which side another couple has room.
function passes(w) {
  const sides = [w.passes_wall && "the wall", w.passes_centre && "the centre"].filter(Boolean);
  return sides.length ? `✓ others can pass on the side of ${sides.join(" and of ")}` : "nobody can pass meanwhile";
}
