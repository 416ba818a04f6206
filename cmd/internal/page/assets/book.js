// The book of figures: asked for once, used for names, levels and joins.
import { el } from "./elements.js";
import { ask } from "./wire.js";

let asked = null;

// book gives all figures of the library.
export function book() {
  if (!asked) asked = ask("figures", { flags: { level: "all", style: "all" } }).then((r) => r.answer.figures).catch((e) => { asked = null; throw e; });
  return asked;
}

// figureNames fills a list of suggestions with the names.
export async function figureNames(list) {
  try {
    list.replaceChildren(...(await book()).map((f) => el("option", { value: f.name })));
  } catch { /* names can be typed all the same */ }
}
