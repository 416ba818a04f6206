// The list of bars: every figure of the routine by wall, which are kept, and what
// is known of the one that is chosen.
import { el } from "./elements.js";
import { aligned, barsOf, metres, number, points, stood, the } from "./words.js";
import { dancers } from "./shoes.js";

// barList makes the list. It gives {show, dance, chosen, kept, onother, focus}.
export function barList(root, hall) {
  // kept are the numbers of the figures that are kept.
  const list = { sheet: null, chosen: 0, kept: new Set(), onother: null };
  let rows = new Map();

  list.show = (sheet) => {
    const before = list.sheet, was = list.kept;
    list.sheet = sheet;
    list.chosen = 0;
    rows = new Map();
    // What is kept stays so as long as the same figure is in the same bar of a routine.
    list.kept = new Set();
    if (sheet && before && sheet.line === before.line) {
      const old = new Set(before.routine.figures.filter((f) => was.has(f.number)).map((f) => f.bar + " " + f.name));
      for (const f of sheet.routine.figures) if (old.has(f.bar + " " + f.name)) list.kept.add(f.number);
    }
    root.replaceChildren(...(sheet ? walls(sheet) : []));
    if (list.onkept) list.onkept();
  };

  // focus goes to the figure that is danced in a bar.
  list.focus = (bar) => {
    const row = [...rows.values()].find((r) => bar >= r.f.bar && bar < r.f.bar + Math.max(1, r.f.bars));
    if (row) row.button.focus();
    return Boolean(row);
  };

  // walls gives a list for each piece along one wall.
  function walls(sheet) {
    const pieces = [];
    let wall = 0, group = null;
    for (const f of sheet.routine.figures) {
      if (f.from.wall !== wall) {
        wall = f.from.wall;
        group = el("ol", { class: "bars" });
        const w = sheet.room.walls[wall - 1];
        pieces.push(el("h3", { class: "wall-head", text: w ? `Wall ${wall}: ${w.name}` : `Wall ${wall}` }), group);
      }
      group.append(row(sheet, f));
    }
    if (!sheet.routine.figures.length) pieces.push(el("p", { class: "quiet", text: "Nothing of it can be danced as it stands." }));
    return pieces;
  }

  function row(sheet, f) {
    const faults = (sheet.faults || []).filter((x) => x.number === f.number);
    const keep = el("input", { type: "checkbox", checked: list.kept.has(f.number), "aria-label": `Keep ${barsOf(f)}, ${f.name}`, title: "Keep this when the rest is danced otherwise",
      onchange: () => { if (keep.checked) list.kept.add(f.number); else list.kept.delete(f.number); if (list.onkept) list.onkept(); } });
    const detail = el("div", { class: "detail", hidden: true });
    const button = el("button", { type: "button", class: "bar-row", "aria-expanded": "false", onclick: () => list.choose(list.chosen === f.number ? 0 : f.number) },
      el("span", { class: "bar-no", text: f.bar }),
      el("span", { class: "bar-name" }, el("b", { text: f.name }), el("small", { text: `${f.counts}  ·  ${aligned(f.from.alignment)}${f.scale !== 1 ? `  ·  stride × ${number(f.scale)}` : ""}${f.takes_next_wall ? "  ·  takes this wall" : ""}` }),
        f.awkward_join ? el("small", { class: "remark", text: "awkward join: " + f.awkward_join }) : null,
        faults.map((x) => el("small", { class: "wrong", text: `▲ ${x.kind}: ${x.words}` }))));
    const item = el("li", { class: faults.length ? "faulty" : "" }, el("div", { class: "bar-line" }, button, el("label", { class: "keep" }, keep, el("span", { text: "keep" }))), detail);
    rows.set(f.number, { item, button, detail, f });
    return item;
  }

  // choose opens one row and shows its figure on the floor.
  list.choose = (number) => {
    const before = rows.get(list.chosen);
    if (before) { before.detail.hidden = true; before.detail.replaceChildren(); before.button.setAttribute("aria-expanded", "false"); before.item.classList.remove("chosen"); }
    list.chosen = rows.has(number) ? number : 0;
    hall.choose(list.chosen);
    const now = rows.get(list.chosen);
    if (!now) return;
    now.detail.hidden = false;
    now.item.classList.add("chosen");
    now.button.setAttribute("aria-expanded", "true");
    now.detail.replaceChildren(...about(now.f, now.detail));
    if (!hall.beat.running) hall.goTo(now.f.steps.length ? now.f.steps[0].beat : 0);
  };

  function about(f, detail) {
    const other = el("div", { class: "others" });
    const steps = el("div", { class: "steps-of" });
    const put = () => steps.replaceChildren(...dancers.filter((who) => hall.who === "both" || hall.who === who).map((who) => stepTable(f, who)));
    put();
    list.restep = put;
    return [
      el("p", { class: "actions" },
        el("button", { type: "button", onclick: () => { hall.goToBar(f.bar); hall.play(undefined, false); } }, "Play from here"),
        el("button", { type: "button", onclick: () => list.onother && list.onother(f, other) }, "What else could go here?"),
        el("button", { type: "button", onclick: () => list.onout && list.onout(f, other) }, "Somebody in the way?")),
      other,
      el("p", { class: "quiet", text: `Begins ${stood(f.from)}. Ends ${stood(f.to)}. Nearest: ${metres(f.clearance)} from ${the(f.nearest_to)}. Difficulty ${points(f.difficulty.total)}.` }),
      steps,
    ];
  }

  function stepTable(f, who) {
    return el("table", { class: "steps " + who },
      el("caption", {}, el("i", { class: "sign " + who, "aria-hidden": "true" }), who === "leader" ? "Leader" : "Follower"),
      el("thead", {}, el("tr", {}, ["Count", "Foot", "Direction", "Alignment", "Turn"].map((t) => el("th", { scope: "col", text: t })))),
      el("tbody", {}, f.steps.map((s) => el("tr", {}, el("td", { text: s.count }), s[who]
        ? [s[who].foot === "left foot" ? "LF" : "RF", s[who].direction, aligned(s[who].alignment), s[who].turn].map((t) => el("td", { text: t }))
        : el("td", { colspan: 4, text: "stands" })))));
  }

  // dance shows which figure is danced now.
  list.dance = (number) => {
    for (const [n, r] of rows) r.item.classList.toggle("now", n === number);
    if (list.restep) list.restep();
  };

  // keptBars are the bars that are kept, as the flag has them: ["3-4", "9"].
  list.keptBars = () => [...rows.values()].filter((r) => list.kept.has(r.f.number)).map(({ f }) => f.bars > 1 ? `${f.bar}-${f.bar + f.bars - 1}` : String(f.bar));

  hall.onpick = (number) => { list.choose(number); const r = rows.get(number); if (r) r.button.scrollIntoView({ block: "nearest" }); };
  return list;
}
