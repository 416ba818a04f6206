// Write or paste a routine and have it danced.
import { el, say } from "./elements.js";
import { hear, put, state } from "./store.js";
import { figureFlags } from "./couple.js";
import { sheetOf } from "./check.js";
import { longer, typed } from "./files.js";
import { plain } from "./plain.js";
import { count } from "./words.js";
import { keeper } from "./keeper.js";

export function writing(root) {
  const text = el("textarea", { id: "routine-text", rows: 12, spellcheck: "false", placeholder: "One figure a line:\nNatural Turn\nRight Foot Closed Change\nReverse Turn\n\nor the whole file of a routine" });
  const only = el("input", { type: "checkbox", id: "only-known" });
  const out = el("div", { role: "status", "aria-live": "polite", class: "told" });
  let own = true, mine = null; // the sheet of which out tells
  text.addEventListener("input", () => { own = false; });
  hear("sheet", () => { if (state.sheet !== mine) out.replaceChildren(); });
  hear("sheet", () => { if (state.sheet && (own || !text.value)) { text.value = state.sheet.text; own = true; } });
  if (state.sheet) text.value = state.sheet.text;
  const check = async () => {
    const written = typed(text.value);
    if (!written) { out.textContent = "There is nothing written yet."; return null; }
    out.textContent = "Dancing it …";
    const files = {};
    try {
      const sheet = await sheetOf(written, { flags: only.checked ? figureFlags(files) : {}, files, roomFile: /^room:\s*["']?room\.yaml/m.test(written) && state.sheet ? state.sheet.roomFile || state.room.file : "" });
      mine = sheet;
      put(sheet);
      own = text.value === written;
      out.textContent = sheet.faults.length ? `${count(sheet.faults.length, "fault")}: shown on the floor, in the list of bars and above it, with repairs.` : "No faults.";
      say(out.textContent);
      return sheet;
    } catch (e) {
      out.replaceChildren(el("span", { class: "wrong", text: plain(e.raw || e.message, longer(text.value)) }));
      return null;
    }
  };
  root.replaceChildren(
    el("form", { onsubmit: (e) => { e.preventDefault(); check(); } },
      el("label", { for: "routine-text" }, "One figure a line, or the file of a routine"), text,
      el("label", { class: "tick" }, only, "Only figures that the couple knows"),
      el("p", { class: "actions" }, el("button", { type: "submit", class: "main" }, "Dance it"),
        el("button", { type: "button", onclick: () => { if (state.sheet) { text.value = state.sheet.text; own = true; } } }, "Take the sheet’s text"))),
    out,
    keeper("routines", { what: "routine", text: () => typed(text.value), name: () => state.sheet ? state.sheet.name : "", load: async (name, loaded) => { text.value = loaded; own = true; const sheet = await check(); if (!sheet) return; } }));
}
