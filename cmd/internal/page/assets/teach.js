// What to teach next: figures that open most on top of what is known, a course of weeks,
// or, where nothing is known, the smallest sets with which a couple gets round. What is
// looked at is the class and the room as they are chosen.
import { el, say } from "./elements.js";
import { ask } from "./wire.js";
import { hear, put, state } from "./store.js";
import { figureFlags, knownFigures, roomFlag } from "./couple.js";
import { danced } from "./files.js";
import { count } from "./words.js";
import { plain } from "./plain.js";
import { courseOf, figuresOf, none, setsOf } from "./taught.js";

const levels = ["social", "bronze", "silver", "gold"];

// teaching makes the form. take adds figures to those that are known, takeWeeks adds
// weeks of figures; each gives in a sentence what it has done.
export function teaching(root, { take, takeWeeks }) {
  const what = el("select", { id: "teach-what", onchange: () => { clear(); tell(); } }, el("option", { value: "next" }), el("option", { value: "weeks", text: "a course, week by week" }));
  const level = el("select", { id: "teach-level", onchange: () => clear() }, el("option", { value: "" }), levels.map((l) => el("option", { value: l, text: l })));
  const field = (id, max, value) => el("input", { id, type: "number", min: 1, max, value, required: true, oninput: () => clear() });
  const weeks = field("teach-weeks", 52, 4), perWeek = field("teach-per-week", 4, 2), most = field("teach-most", 4, 2);
  const label = (words, input) => el("label", {}, words, input);
  const weeksLabel = label("Weeks", weeks), perWeekLabel = label("Figures a week", perWeek), mostLabel = label("Figures in a set, at most", most);
  const go = el("button", { type: "submit", class: "main", id: "teach-go" }, "Look for it");
  const stop = el("button", { type: "button", id: "teach-stop", hidden: true, onclick: () => running && running.abort("stop") }, "Stop");
  const bar = el("div", { class: "progress", hidden: true }, el("div", { class: "bar unknown", role: "progressbar", "aria-label": "Looking for what to teach" }, el("span")));
  const status = el("p", { class: "told", role: "status", "aria-live": "polite" }), wrong = el("p", { class: "error", role: "alert" });
  const words = el("p", { class: "quiet" }), out = el("div", { class: "taught" });
  let running = null;

  const known = () => knownFigures().length > 0;

  // clear takes away what was said before: it is not so any more.
  function clear() {
    if (running) running.abort("changed");
    out.replaceChildren();
    status.textContent = wrong.textContent = "";
  }

  // tell shows the fields that are asked for.
  function tell() {
    const course = what.value === "weeks", c = state.couple;
    what.options[0].text = known() ? "the next figure" : "the smallest sets that are enough";
    level.options[0].text = known() ? "any" : `as the class, ${(c.how === "level" && c.levels.join(" and ")) || "bronze"}`;
    words.textContent = (known() ? "On top of what the class knows now" : c.how === "level" ? "From the very beginning" : "Nothing is ticked yet, so from the very beginning") + `, in ${state.room.data ? state.room.data.full_name : "the chosen room"}.`;
    weeksLabel.hidden = weeks.disabled = perWeekLabel.hidden = perWeek.disabled = !course;
    mostLabel.hidden = most.disabled = course || known();
  }
  const changed = () => { clear(); tell(); };
  hear("couple", changed);
  hear("room", changed);

  // asked are the flags of the form.
  function asked(files) {
    const flags = { ...figureFlags(files), room: roomFlag(files) };
    if (level.value) flags.level = level.value;
    else if (!known() && !flags.level) flags.level = "bronze";
    if (what.value === "weeks") Object.assign(flags, { weeks: weeks.value, "per-week": perWeek.value });
    else if (!known()) flags.most = most.value;
    return flags;
  }

  async function look(e) {
    e.preventDefault();
    if (running) return;
    clear();
    const mine = running = new AbortController(), files = {}, flags = asked(files);
    const where = { room: state.room.data, roomFile: state.room.file, roomName: state.room.file ? "" : state.room.name };
    go.setAttribute("aria-disabled", "true");
    stop.hidden = bar.hidden = false;
    status.textContent = "Trying figures in the room …";
    try {
      const { answer } = await ask("teach", { flags, files }, { signal: mine.signal, onLine: (l) => {
        if (l.queued) status.textContent = `${count(l.queued, "question")} before this one …`;
        if (l.progress && l.progress.words) status.textContent = plain(l.progress.words) + " …";
      } });
      status.textContent = shown(answer, where);
    } catch (err) {
      if (mine.signal.aborted) status.textContent = mine.signal.reason === "stop" ? "Stopped. Nothing was taken up." : "";
      else { status.textContent = ""; wrong.textContent = err.message; }
    } finally {
      running = null;
      if (document.activeElement === stop) go.focus();
      go.removeAttribute("aria-disabled");
      stop.hidden = bar.hidden = true;
    }
  }

  // shown lists an answer, and says in a sentence what it is.
  function shown(a, where) {
    if (a.weeks && a.weeks.length) {
      out.replaceChildren(...courseOf(a, { takeUp: (all) => took(takeWeeks(all)), lap: (week) => lap(a, week, where) }));
      const short = a.weeks.length < a.weeks_asked ? ` No more of these figures can be taught so that each week gets round: ${count(a.weeks_asked, "week was", "weeks were")} asked for.` : "";
      return `A course of ${count(a.weeks.length, "week")}.${short}`;
    }
    if (a.lists) {
      out.replaceChildren(...setsOf(a, (names) => took(take(names))));
      const n = a.lists.reduce((sum, l) => sum + l.sets.length, 0);
      return n ? `${count(n, "set")} of figures ${n === 1 ? "is" : "are"} enough.` : "No such set is enough.";
    }
    if (a.figures) {
      out.replaceChildren(...figuresOf(a, (names) => took(take(names))));
      return a.figures.length ? `${count(a.figures.length, "figure")} could come next, the best first.` : "No figure that is not known yet joins what is known.";
    }
    out.replaceChildren(...none(a));
    return a.weeks ? "With these figures not even the first week gets round this room." : "With all these figures together nobody gets round this room.";
  }

  // took says what has been taken up; what was listed is not so any more.
  function took(said) {
    status.textContent = said;
    go.focus();
  }

  // lap puts the practice lap of a week on the lap's sheet.
  function lap(a, week, where) {
    const r = week.practice_lap;
    put(danced({ ...where, routine: r, name: `Practice lap of week ${week.week}`, stride: a.stride, tempo: r.totals.tempo, lap: true }));
    say(`The practice lap of week ${week.week} is on the lap’s sheet.`);
    location.hash = "#lap";
  }

  tell();
  root.append(el("h2", { text: "What to teach next" }), words,
    el("form", { autocomplete: "off", onsubmit: look, }, label("Look for", what), el("div", { class: "two" }, label("Levels", level), weeksLabel, perWeekLabel, mostLabel),
      el("p", { class: "actions" }, go, stop)), bar, status, wrong, out);
  root.querySelector("form").addEventListener("invalid", clear, true);
}
