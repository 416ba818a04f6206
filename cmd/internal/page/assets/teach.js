// What to teach next: figures that open most on top of what is known, a course of weeks,
// or, where nothing is ticked, the smallest sets with which a couple gets round.
import { el, say } from "./elements.js";
import { ask } from "./wire.js";
import { hear, put, state } from "./store.js";
import { figureFlags, knownFigures, roomFlag } from "./couple.js";
import { sheetText } from "./files.js";
import { count, number } from "./words.js";
import { plain } from "./plain.js";

// teaching makes the form. take adds figures to those that are known, takeWeeks adds
// weeks of figures.
export function teaching(root, { take, takeWeeks }) {
  const level = el("select", { id: "teach-level" }, [["", "any level"], ["social"], ["bronze"], ["silver"], ["gold"]].map(([v, t]) => el("option", { value: v, text: t || v })));
  const weeks = el("input", { id: "teach-weeks", type: "number", min: 1, max: 52, placeholder: "next step" });
  const perWeek = el("input", { id: "teach-per-week", type: "number", min: 1, max: 4, placeholder: "2" });
  const go = el("button", { type: "submit", class: "main", id: "teach-go" });
  const stop = el("button", { type: "button", hidden: true, onclick: () => running && running.abort() }, "Stop");
  const out = el("div", { class: "taught" }), words = el("p", { class: "quiet" });
  let running = null;

  const known = () => state.couple.how !== "level" && knownFigures().length > 0;
  const tell = () => {
    words.textContent = known() ? "On top of what is known; the figures’ numbers are those of the chosen room." : "Nothing is ticked yet: shown are the smallest sets of figures with which a couple gets round the chosen room, or a course from the very beginning.";
    go.textContent = known() ? "What comes next?" : "What is enough?";
  };
  hear("couple", () => { tell(); out.replaceChildren(); });
  hear("room", () => out.replaceChildren());

  async function look(e) {
    e.preventDefault();
    if (running) return;
    running = new AbortController();
    const files = {}, flags = { ...figureFlags(files), room: roomFlag(files) };
    if (level.value) flags.level = level.value;
    if (weeks.value) {
      flags.weeks = weeks.value;
      if (perWeek.value) flags["per-week"] = perWeek.value;
    }
    go.setAttribute("aria-disabled", "true");
    stop.hidden = false;
    out.replaceChildren(el("p", { role: "status", text: "Trying figures in the room …" }));
    const room = state.room.data, roomFile = state.room.file, roomName = state.room.name;
    try {
      const { answer } = await ask("teach", { flags, files }, { signal: running.signal, onLine: (l) => { if (l.progress && l.progress.words) out.firstChild.textContent = plain(l.progress.words); } });
      out.replaceChildren(...(answer.weeks ? course(answer, { room, roomFile, roomName }) : answer.lists ? sets(answer) : next(answer)));
      say(answer.weeks ? `A course of ${count(answer.weeks.length, "week")}.` : answer.lists ? "The smallest sets are listed." : `${count(answer.figures.length, "figure")} could come next.`);
    } catch (err) {
      out.replaceChildren(err.name === "AbortError" ? el("p", { role: "status", text: "Stopped." }) : el("p", { class: "wrong", role: "alert", text: err.message }));
    } finally {
      running = null;
      if (document.activeElement === stop) go.focus();
      go.removeAttribute("aria-disabled");
      stop.hidden = true;
    }
  }

  const button = (label, name, act) => el("button", { type: "button", "aria-label": `${label}: ${name}`, onclick: act }, label);

  // reach says how far the couple gets with what it knows then.
  const reach = (k) => [k.gets_round ? `✓ gets right round${k.shortest_lap_bars ? `, the shortest lap ${count(k.shortest_lap_bars, "bar")}` : ""}` : "✕ does not get round", k.dead_ends.length ? count(k.dead_ends.length, "stance") + " that nothing leaves" : "no stance that nothing leaves"].join("; ");

  function next(a) {
    const list = a.figures.map((f) => el("li", {}, el("div", {}, el("b", { text: f.figure }), el("small", { text: `${f.words}; ${number(f.difficulty.total)} points a bar` }), el("small", { class: "future", text: reach(f.after) })),
      button(state.couple.how === "weeks" ? `Teach it in week ${state.couple.week}` : "Tick it", f.figure, () => { take([f.figure]); say(`${f.figure} is known now.`); })));
    return [el("p", { text: `Now: ${reach(a.before)}.` }),
      a.figures.length ? el("ul", { class: "choices" }, list) : el("p", { text: "No figure that is not known joins what is known." }),
      el("p", { class: "quiet", text: `Order: ${a.order}.` })];
  }

  function sets(a) {
    return a.lists.flatMap((l) => [el("h3", { text: l.both_ways ? "To turn both ways" : "To get round" }),
      l.sets.length ? el("ul", { class: "choices" }, l.sets.slice(0, 12).map((s) => el("li", {}, el("div", {}, el("b", { text: s.figures.join(", ") }), el("small", { text: `the hardest of them ${number(s.hardest)} points a bar` })),
        button("Tick these", s.figures.join(", "), () => { take(s.figures); say(`${s.figures.join(", ")}: known now.`); })))) : el("p", { text: `There is no such set of ${count(l.most_figures, "figure")} or less.` }),
      l.sets.length > 12 ? el("p", { class: "quiet", text: `The first 12 of ${l.sets.length}.` }) : ""]);
  }

  function course(a, where) {
    const lap = (w) => {
      const r = w.practice_lap, sheet = { routine: r, room: where.room, roomFile: where.roomFile, roomName: where.roomFile ? "" : where.roomName, name: `Practice lap of week ${w.week}`, stride: a.stride, margin: where.room.margin, tempo: r.totals.tempo, lap: true, laps: 1, faults: [], repair: null, cost: null, notes: [] };
      sheet.text = sheetText(sheet);
      put(sheet);
      location.hash = "#lap";
    };
    return [el("ol", { class: "weeks" }, a.weeks.map((w) => el("li", {}, el("b", { text: `Week ${w.week}: ` }), w.teach.map((t) => t.figure).join(", ") || "nothing more",
      w.practice_lap ? el("p", { class: "actions" }, button(`Its practice lap, ${count(w.practice_lap.totals.bars, "bar")}`, `week ${w.week}`, () => lap(w))) : el("p", { class: "quiet", text: "No lap yet." })))),
    el("p", { class: "actions" }, el("button", { type: "button", class: "main", id: "teach-take", onclick: () => { takeWeeks(a.weeks.map((w) => w.teach.map((t) => t.figure))); say(`${count(a.weeks.length, "week")} added.`); } }, "Take this course up into the class"))];
  }

  tell();
  root.append(el("h2", { text: "What to teach next" }), words,
    el("form", { onsubmit: look }, el("div", { class: "two" }, el("label", {}, "Figures of", level), el("label", {}, "Weeks of a course", weeks), el("label", {}, "Figures a week", perWeek)),
      el("p", { class: "actions" }, go, stop)), out);
}
