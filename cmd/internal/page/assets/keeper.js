// Saved files of one kind: a list to open from, and a name to save under.
import { el } from "./elements.js";
import { saved } from "./wire.js";
import { download, fileName, upload } from "./download.js";
import { nameFault, tidy } from "./names.js";

// keeper makes the form. text gives what is to be saved, and may take its time; load takes
// what was opened, and whether it is a file of the machine that is not saved here; onchange hears {saved, text} and {gone}. The form has follow, which
// shows what was opened elsewhere.
export function keeper(kind, { what, text, name, load, onchange }) {
  const list = el("select", { id: kind + "-saved", onchange: () => clear() });
  const as = el("input", { id: kind + "-name", maxlength: 60, placeholder: "name", oninput: () => clear(), onkeydown: (e) => { if (e.key === "Enter" && !e.isComposing) { e.preventDefault(); save(); } } });
  const out = el("p", { class: "told", role: "status", "aria-live": "polite" });
  const question = el("div", { class: "row question", role: "group", hidden: true, onkeydown: (e) => { if (e.key === "Escape") { e.preventDefault(); question.lastElementChild.click(); } } });
  const opener = el("button", { type: "button", onclick: () => open(list.value) }, "Open");
  const deleter = el("button", { type: "button", onclick: () => remove() }, "Delete");
  let names = [], busy = false;

  const fill = async (now = list.value) => {
    try {
      names = ((await saved.list())[kind] || []).map((n) => n.name || n);
    } catch (e) { out.textContent = e.message; }
    list.replaceChildren(el("option", { value: "", text: names.length ? "choose …" : "none yet" }), ...names.map((n) => el("option", { value: n, text: n })));
    list.value = names.includes(now) ? now : "";
  };

  // clear takes away what was told and asked before.
  function clear() {
    out.textContent = "";
    question.hidden = true;
    question.replaceChildren();
  }

  // doing begins an action, unless another is at work.
  async function doing(act) {
    if (busy) return;
    busy = true;
    clear();
    try { await act(); } catch (e) { out.textContent = e.message; } finally { busy = false; }
  }

  // choose asks something; each answer is [words, what is done], and the last does nothing
  // that matters. The first that is safe has the focus.
  function choose(words, answers, first) {
    question.setAttribute("aria-label", words || out.textContent);
    question.replaceChildren(...(words ? [el("span", { text: words })] : []), ...answers.map(([label, act]) => el("button", { type: "button", onclick: act }, label)));
    question.hidden = false;
    question.querySelectorAll("button")[first].focus();
  }

  const open = (chosen) => doing(async () => {
    if (!chosen) { out.textContent = names.length ? "Choose one first." : "Nothing is saved yet."; list.focus(); return; }
    await load(chosen, await saved.load(kind, chosen));
    list.value = as.value = chosen;
    out.textContent = `“${chosen}” is open.`;
    if (document.activeElement === document.body) opener.focus();
  });

  const save = () => doing(async () => {
    const to = (as.value.trim() || tidy(name ? name() : "")).normalize("NFC"), fault = nameFault(to);
    if (fault) { out.textContent = fault; as.focus(); return; }
    as.value = to;
    const words = await text();
    try {
      await saved.save(kind, to, words);
    } catch (e) {
      if (e.code !== 412) throw e;
      await conflict(e.message, to);
      return;
    }
    await fill(to);
    out.textContent = `Saved as “${to}”.`;
    if (onchange) onchange({ saved: to, text: words });
  });

  // from opens a file of the machine, which is not saved here yet.
  const from = () => upload((called, words) => doing(async () => {
    await load(called, words, true);
    list.value = "";
    as.value = tidy(called);
    out.textContent = `“${called}” is open. It is not saved here yet.`;
  }), (words) => { clear(); out.textContent = words; });

  // to gives the file to the machine.
  const to = () => doing(async () => {
    const called = fileName(as.value.trim() || (name ? name() : "") || what);
    download(new Blob([await text()], { type: "application/yaml" }), called + ".yaml");
    out.textContent = `${called}.yaml is ready.`;
  });

  // another has the name changed under which ours is saved.
  function another() {
    clear();
    out.textContent = "Give it another name, then save it.";
    as.focus();
    as.select();
  }

  // conflict says that what is saved is not what was read, and what can be done about it.
  async function conflict(words, to) {
    await fill();
    out.textContent = words;
    const mine = ["Save mine under another name", another];
    if (!names.includes(to)) { choose("", [mine], 0); return; }
    const label = words.startsWith("There is one") ? "Open that one" : "Open the newer one";
    choose("", [[label, () => { opener.focus(); open(to); }], mine], 1);
  }

  function remove() {
    if (busy) return;
    clear();
    const gone = list.value;
    if (!gone) { out.textContent = names.length ? "Choose one first." : "Nothing is saved yet."; list.focus(); return; }
    choose(`Delete “${gone}” for good?`, [["Yes, delete", () => sure(gone)], ["No", () => { clear(); deleter.focus(); }]], 1);
  }

  // sure deletes it.
  function sure(gone) {
    list.focus();
    doing(async () => {
      try {
        await saved.remove(kind, gone);
      } catch (e) {
        if (e.code !== 412 && e.code !== 404) throw e;
        await fill();
        if (!names.includes(gone)) { out.textContent = `“${gone}” has been deleted in another window already.`; return; }
        out.textContent = "It has been changed in another window in the meantime, so it is still there.";
        choose("", [["Open the newer one", () => { opener.focus(); open(gone); }], ["Leave it", () => { clear(); deleter.focus(); }]], 1);
        return;
      }
      await fill("");
      if (as.value === gone) as.value = "";
      out.textContent = `“${gone}” is deleted.`;
      if (onchange) onchange({ gone });
    });
  }

  fill();
  const form = el("fieldset", { class: "keeper" }, el("legend", { text: `Saved ${kind}` }),
    el("div", { class: "row" }, el("label", { for: kind + "-saved", class: "unseen" }, `A saved ${what}`), list, opener, deleter),
    el("div", { class: "row" }, el("label", { for: kind + "-name" }, "Save as"), as, el("button", { type: "button", onclick: save }, "Save")),
    el("div", { class: "row" }, el("button", { type: "button", class: "from", onclick: from }, "From a file …"), el("button", { type: "button", class: "to", onclick: to }, "To a file")), out, question);
  form.follow = (opened) => { as.value = opened; fill(opened); };
  return form;
}
