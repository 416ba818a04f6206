// Saved files of one kind: a list to open from, and a name to save under.
import { el, say } from "./elements.js";
import { saved } from "./wire.js";

// keeper makes the form. text gives what is to be saved, load takes what was opened.
export function keeper(kind, { what, text, name, load, onchange }) {
  const list = el("select", { id: kind + "-saved" });
  const as = el("input", { id: kind + "-name", maxlength: 60, placeholder: "name" });
  const out = el("p", { class: "told", role: "status", "aria-live": "polite" });
  let names = [];
  const fill = async () => {
    try {
      names = ((await saved.list())[kind] || []).map((n) => n.name || n);
    } catch (e) { out.textContent = e.message; }
    list.replaceChildren(el("option", { value: "", text: names.length ? "choose …" : "nothing saved yet" }), ...names.map((n) => el("option", { value: n, text: n })));
  };
  const doing = async (act) => {
    try { await act(); } catch (e) { out.textContent = e.message; }
  };
  const open = () => doing(async () => {
    if (!list.value) return;
    const chosen = list.value;
    await load(chosen, await saved.load(kind, chosen));
    as.value = chosen;
    out.textContent = `“${chosen}” is open.`;
  });
  const save = () => doing(async () => {
    const to = as.value.trim() || (name && tidy(name())) || "";
    if (!to) { out.textContent = "Give it a name first."; as.focus(); return; }
    as.value = to;
    await saved.save(kind, to, text());
    await fill();
    list.value = to;
    out.textContent = `Saved as “${to}”.`;
    say(out.textContent);
    if (onchange) onchange();
  });
  const remove = () => doing(async () => {
    if (!list.value) return;
    const gone = list.value;
    if (!sure.checked) { out.textContent = "Tick “really” first."; return; }
    await saved.remove(kind, gone);
    sure.checked = false;
    await fill();
    out.textContent = `“${gone}” is deleted.`;
    if (onchange) onchange();
  });
  const sure = el("input", { type: "checkbox" });
  fill();
  return el("fieldset", { class: "keeper" }, el("legend", { text: `Saved ${kind}` }),
    el("div", { class: "row" }, el("label", { for: kind + "-saved", class: "unseen" }, `A saved ${what}`), list, el("button", { type: "button", onclick: open }, "Open"),
      el("button", { type: "button", onclick: remove }, "Delete"), el("label", { class: "tick" }, sure, "really")),
    el("div", { class: "row" }, el("label", { for: kind + "-name" }, "Save as"), as, el("button", { type: "button", onclick: save }, "Save")), out);
}

// tidy makes a name that a file may have.
const tidy = (words) => words.normalize("NFC").replace(/[^\p{L}\p{Nd} \-_']/gu, " ").replace(/\s+/g, " ").trim().slice(0, 60);
