// The sheet of the class: who dances, and which figures they know.
import { el, say } from "./elements.js";
import { ask } from "./wire.js";
import { changed, hear, state } from "./store.js";
import { book } from "./book.js";
import { classFile } from "./files.js";
import { keeper } from "./keeper.js";
import { count, points, shortForms } from "./words.js";
import { teaching } from "./teach.js";

const levels = ["social", "bronze", "silver", "gold"];

export function open(root) {
  const c = state.couple;
  const list = el("ul", { class: "book", id: "book" });
  const words = el("p", { class: "quiet", role: "status", "aria-live": "polite" });
  const weeks = el("div");
  const find = el("input", { id: "find-figure", placeholder: "Find a figure", maxlength: 80, oninput: () => sift() });
  const style = el("select", { id: "style", onchange: () => { c.style = style.value; changed("couple"); fill(); } }, ["international", "american", "country", "all"].map((s) => el("option", { value: s, text: s })));
  let figures = [], filled = 0;

  const radio = (value, label) => el("label", { class: "tick" }, el("input", { type: "radio", name: "how", value, checked: c.how === value, onchange: () => { c.how = value; changed("couple"); fill(); } }), label);
  const level = (name) => el("label", { class: "tick" }, el("input", { type: "checkbox", checked: c.levels.includes(name), value: name, onchange: (e) => {
    c.levels = levels.filter((l) => (l === name ? e.target.checked : c.levels.includes(l)));
    changed("couple");
    fill();
  } }), name);
  const levelBox = el("fieldset", { id: "levels" }, el("legend", { text: "Levels" }), el("div", { class: "choice" }, levels.map(level)),
    el("p", { class: "quiet" }, "Silver holds bronze, gold both. Social stands by itself."));

  // weekOf is the week in which a figure is taught, from 1; 0 for none.
  const weekOf = (name) => c.weeks.findIndex((w) => w.figures.includes(name)) + 1;
  const known = (name) => c.how === "ticked" ? c.known.includes(name) : c.how === "weeks" ? weekOf(name) > 0 && weekOf(name) <= c.week : false;

  function tick(name, on) {
    if (c.how === "weeks") {
      for (const w of c.weeks) w.figures = w.figures.filter((n) => n !== name);
      if (on) c.weeks[c.week - 1].figures.push(name);
      showWeeks();
    } else {
      if (c.how === "level") { c.how = "ticked"; root.querySelector('input[name="how"][value="ticked"]').checked = true; levelBox.hidden = true; }
      c.known = on ? [...new Set([...c.known, name])] : c.known.filter((n) => n !== name);
    }
    changed("couple");
    weekWords();
    tell();
  }

  function row(f) {
    const usual = f.variations[0];
    const box = el("input", { type: "checkbox", checked: known(f.name), onchange: () => tick(f.name, box.checked) });
    const joins = (title, names) => el("p", {}, el("b", { text: title + " " }), names.length ? names.map((n, i) => [i ? ", " : "", el("span", { class: known(n) ? "known-join" : "", text: known(n) ? "✓ " + n : n })]) : "nothing that may be danced");
    const more = el("details", { ontoggle: () => { if (more.open) inner.replaceChildren(f.note ? el("p", { text: f.note }) : "", joins("Goes on with:", f.goes_on_with), joins("Comes after:", f.comes_after)); } }, el("summary", { text: "Joins to" }));
    const inner = el("div");
    more.append(inner);
    const at = [...new Set(f.levels.map((l) => l.level))].join(", ");
    return el("li", { "data-name": f.name }, el("label", { class: "tick" }, box, el("span", {}, el("b", { text: f.name }), el("small", { class: "quiet", text: `${at}  ·  ${count(usual.bars, "bar")}  ·  ${points(usual.difficulty.total)}` }), el("small", { class: "taught-in" }))), more);
  }

  // weekWords say beside each figure in which week it is taught.
  function weekWords() {
    for (const li of list.children) {
      const week = c.how === "weeks" ? weekOf(li.dataset.name) : 0;
      li.querySelector(".taught-in").textContent = !week ? "" : week === c.week ? `✓ week ${week}, this one` : week < c.week ? `week ${week}` : `not before week ${week}`;
    }
  }

  async function fill() {
    levelBox.hidden = c.how !== "level";
    weeks.hidden = c.how !== "weeks";
    style.value = c.style;
    showWeeks();
    words.textContent = "Looking in the library …";
    const mine = ++filled; // only the last question counts, whichever answer comes first
    try {
      const found = c.how === "level"
        ? (await ask("figures", { flags: { level: c.levels.join(",") || "bronze", style: c.style } })).answer.figures
        : await book();
      if (mine !== filled) return;
      figures = found;
      list.replaceChildren(...figures.map(row));
      weekWords();
      sift();
      tell();
    } catch (e) {
      words.textContent = e.message;
    }
  }

  function tell() {
    const n = figures.filter((f) => known(f.name)).length;
    words.textContent = c.how === "level" ? `${count(figures.length, "figure")} of these levels may be danced. Tick figures to have only those.` : `${count(n, "figure")} known.`;
  }

  function sift() {
    const wanted = find.value.trim().toLowerCase();
    for (const li of list.children) li.hidden = wanted !== "" && !li.dataset.name.toLowerCase().includes(wanted);
  }

  // current is the mark of the week that it is.
  const current = () => weeks.querySelector(".weeks li.active input[type=radio]");

  function showWeeks() {
    const name = el("input", { id: "class-name", value: c.name, maxlength: 80, onchange: () => { c.name = name.value; changed("couple"); } });
    const list = el("ol", { class: "weeks" }, c.weeks.map((w, i) => {
      const title = el("input", { value: w.title, maxlength: 120, "aria-label": `Title of week ${i + 1}`, placeholder: "title", onchange: () => { w.title = title.value; changed("couple"); } });
      const note = el("input", { value: w.note, maxlength: 300, "aria-label": `Note for week ${i + 1}`, placeholder: "note", onchange: () => { w.note = note.value; changed("couple"); } });
      const upTo = el("input", { type: "radio", name: "week", checked: c.week === i + 1, onchange: () => { c.week = i + 1; changed("couple"); fill(); current().focus(); } });
      return el("li", { class: c.week === i + 1 ? "active" : "" }, el("label", { class: "tick" }, upTo, el("b", { text: `Week ${i + 1}` })), title, note,
        el("p", { text: w.figures.join(", ") || "no figures yet" }));
    }));
    weeks.replaceChildren(el("label", {}, "Name of the class", name),
      el("p", { class: "quiet" }, "Choose the week that it is now; figures that you tick are taught in that week. All up to it are known."), list,
      el("p", { class: "actions" }, el("button", { type: "button", id: "week-add", onclick: () => { c.weeks.push({ title: "", note: "", figures: [] }); c.week = c.weeks.length; changed("couple"); fill(); weeks.querySelector(".weeks li.active input:not([type])").focus(); say(`Week ${c.week} is added.`); } }, "Add a week"),
        el("button", { type: "button", disabled: c.weeks.length < 2, onclick: () => {
          const gone = c.week;
          c.weeks.splice(gone - 1, 1);
          c.week = Math.max(1, Math.min(gone, c.weeks.length));
          changed("couple");
          fill();
          current().focus();
          say(`Week ${gone} is deleted; it is week ${c.week} now.`);
        } }, `Delete week ${c.week}`)));
  }

  // load takes up a class's file: the program reads it, week by week.
  async function load(name, text) {
    const files = { "class.yaml": text };
    const last = (await ask("figures", { flags: { class: "class.yaml" }, files })).answer.class;
    const all = [];
    for (let w = 1; w <= last.weeks; w++) {
      const k = w === last.weeks ? last : (await ask("figures", { flags: { class: "class.yaml", week: String(w) }, files })).answer.class;
      all.push({ title: k.title, note: k.note, figures: k.taught });
    }
    Object.assign(c, { how: "weeks", name: last.name, style: last.style || "all", room: last.room, stride: last.stride || "", tempo: last.tempo || "", weeks: all, week: all.length });
    root.querySelector('input[name="how"][value="weeks"]').checked = true;
    changed("couple");
    fill();
  }

  const text = () => {
    if (c.how === "weeks" && c.weeks.some((w) => w.figures.length)) return classFile(c);
    if (c.known.length) return classFile({ ...c, weeks: [{ title: "", note: "", figures: c.known }] });
    throw new Error("Tick some figures first: a class is the figures that it has been taught.");
  };

  // taught takes figures up: ticked, or into the week that it is.
  function taught(names) {
    if (c.how === "weeks") c.weeks[c.week - 1].figures.push(...names.filter((n) => !known(n)));
    else {
      c.known = [...new Set([...(c.how === "ticked" ? c.known : []), ...names])];
      c.how = "ticked";
    }
    onlyOnce();
    chosen();
    return `${names.join(", ")}: ${c.how === "weeks" ? `taught in week ${c.week}` : "ticked"}.`;
  }

  // course puts weeks behind the one that it is, and makes the first of them the one
  // that it is.
  function course(all) {
    if (c.how !== "weeks") {
      const before = c.how === "ticked" ? c.known : [];
      c.weeks = before.length ? [{ title: "Known before", note: "", figures: [...before] }] : [];
      c.week = c.weeks.length;
      c.how = "weeks";
    }
    const empty = (w) => !w.figures.length && !w.title && !w.note;
    const before = c.weeks.slice(0, c.week).filter((w) => !empty(w)), later = c.weeks.slice(c.week).filter((w) => !empty(w));
    c.weeks = [...before, ...all.map((figures) => ({ title: "", note: "", figures: [...figures] })), ...later];
    c.week = before.length + 1;
    onlyOnce();
    chosen();
    return `${count(all.length, "week")} added to the class; it is week ${c.week} now.`;
  }

  // onlyOnce leaves each figure in the first week only that has it.
  function onlyOnce() {
    const had = new Set();
    for (const w of c.weeks) w.figures = w.figures.filter((n) => !had.has(n) && had.add(n));
  }

  // chosen shows the way of knowing that has been chosen for the user.
  function chosen() {
    root.querySelector(`input[name="how"][value="${c.how}"]`).checked = true;
    changed("couple");
    fill();
  }

  const teach = el("div", { class: "sheet", id: "teach" });
  teaching(teach, { take: taught, takeWeeks: course });
  root.replaceChildren(el("div", { class: "class-grid" },
    el("div", { class: "sheet" }, el("h2", { text: "Who dances" }), el("label", {}, "Style", style),
      el("fieldset", {}, el("legend", { text: "They know" }), radio("level", "the figures of a level"), radio("ticked", "the figures that are ticked"), radio("weeks", "what a class has been taught, week by week")),
      levelBox, weeks, keeper("classes", { what: "class", text, name: () => c.name, load })), teach,
    el("div", { class: "sheet" }, el("div", { class: "head" }, el("h2", { text: "Figures" }), el("label", { class: "row" }, el("span", { class: "unseen", text: "Find a figure" }), find)), words,
      el("p", { class: "quiet" }, "Points a bar say how hard a figure is, in our own measure: its level, how fast it turns, changes of hold and alignment, turning back the other way. A plain change step has 0."), list, shortForms())));
  hear("couple", tell);
  fill();
}
