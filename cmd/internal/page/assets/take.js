// Take a routine away: files to download, and a link that holds it whole.
import { el, say } from "./elements.js";
import { make } from "./wire.js";
import { hear, state } from "./store.js";
import { sheetFiles } from "./couple.js";
import { linkOf } from "./link.js";
import { download, fileName } from "./download.js";

const kinds = [
  ["pdf", "PDF sheet", "pdf"], ["svg", "Drawing (SVG)", "svg"], ["midi", "Practice track (MIDI)", "mid"],
  ["wav", "Practice track (WAV)", "wav"], ["yaml", "The routine’s file (YAML)", "yaml"],
];

export function takeAway(root) {
  const out = el("p", { class: "told", role: "status", "aria-live": "polite" });
  const place = el("textarea", { id: "link", rows: 3, readonly: true, hidden: true, "aria-label": "The link" });
  const music = el("input", { type: "checkbox" });
  const tempo = el("input", { type: "number", min: 10, max: 60, placeholder: "29", id: "take-tempo" });
  hear("sheet", () => { out.textContent = ""; place.hidden = true; });
  const get = async (kind, ending, button) => {
    const sheet = state.sheet;
    if (!sheet) { out.textContent = "There is no routine on the sheet yet."; return; }
    if (button.hasAttribute("aria-disabled")) return;
    button.setAttribute("aria-disabled", "true");
    out.textContent = "Making it …";
    try {
      const flags = {};
      if ((kind === "midi" || kind === "wav")) {
        if (music.checked) flags.music = true;
        if (tempo.value) flags.tempo = tempo.value;
      }
      const blob = kind === "yaml" ? new Blob([sheet.text], { type: "application/yaml" }) : await make(kind, { args: ["routine.yaml"], flags, files: sheetFiles(sheet) });
      download(blob, fileName(sheet.name) + "." + ending);
      out.textContent = `${fileName(sheet.name)}.${ending} is ready.`;
    } catch (e) {
      out.textContent = e.message;
    } finally {
      button.removeAttribute("aria-disabled");
    }
  };
  const link = async () => {
    if (!state.sheet) { out.textContent = "There is no routine on the sheet yet."; return; }
    place.value = await linkOf(state.sheet);
    place.hidden = false;
    place.focus();
    place.select();
    let copied = false;
    try { await navigator.clipboard.writeText(place.value); copied = true; } catch { /* the text is selected, to be copied by hand */ }
    out.textContent = (copied ? "Copied. " : "") + "The link holds the whole routine; whoever opens it needs Lapwright running on the same address.";
    say(out.textContent);
  };
  root.replaceChildren(
    el("p", { class: "actions" }, kinds.map(([kind, words, ending]) => el("button", { type: "button", "data-kind": kind, onclick: (e) => get(kind, ending, e.currentTarget) }, words))),
    el("div", { class: "row" }, el("label", { class: "tick" }, music, "Music under the clicks"), el("label", { class: "narrow" }, "Bars a minute of the track", tempo)),
    el("p", { class: "actions" }, el("button", { type: "button", id: "make-link", onclick: link }, "A link that holds the routine"), el("button", { type: "button", onclick: () => print() }, "Print this sheet")),
    place, out);
}
