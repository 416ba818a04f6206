// Drills: drawn by a seed, shown on the floor, called in the hall.
import { el, say } from "./elements.js";
import { ask, make } from "./wire.js";
import { hear, put, state } from "./store.js";
import { coupleWords, figureFlags, roomFlag } from "./couple.js";
import { danced } from "./files.js";
import { roomChoices } from "./rooms.js";
import { Hall } from "./hall.js";
import { barsIn, Calling } from "./calling.js";
import { download } from "./download.js";
import { aligned, count, number, points, shortForms } from "./words.js";

export function open(root) {
  const room = el("select", { id: "drill-room" });
  const bars = el("input", { id: "drill-bars", type: "number", min: 1, max: 160, required: true, value: 16 });
  const unit = el("select", { id: "drill-unit", "aria-label": "Length in", onchange: () => {
    const [min, max, step, value] = unit.value === "bars" ? [1, 160, 1, 16] : [0.1, 16, "any", 1];
    Object.assign(bars, { min, max, step, value });
  } }, el("option", { value: "bars", text: "bars" }), el("option", { value: "minutes", text: "minutes" }));
  const anywhere = el("input", { id: "drill-anywhere", type: "checkbox", onchange: () => { room.disabled = anywhere.checked; hush(); } });
  const cards = el("input", { id: "drill-cards", type: "number", min: 1, max: 24, required: true, value: 6, oninput: () => { taken.textContent = ""; } });
  const paper = el("select", { id: "drill-paper" }, el("option", { value: "A4", text: "A4" }), el("option", { value: "Letter", text: "Letter" }));
  const seed = el("input", { id: "drill-seed", type: "number", min: 0, max: 9_007_199_254_740_991, required: true, value: 1 });
  const focus = el("input", { id: "drill-focus", list: "figure-names", placeholder: "Whisk; Natural Turn > Reverse Turn", maxlength: 400 });
  const hardest = el("input", { id: "drill-hardest", type: "number", min: 0, max: 20, step: 0.05 });
  const couple = el("span", { text: coupleWords() });
  const out = el("div", { role: "status", "aria-live": "polite", class: "told" });
  const title = el("h2", { text: "Drill" });
  const list = el("ol", { class: "bars", id: "drill-calls" });
  const floor = el("div"), noFloor = el("p", { class: "quiet", hidden: true }, "Without a room there is no floor to be drawn: the drill is its calls, as if along one endless wall.");
  const taken = el("p", { class: "told", role: "status", "aria-live": "polite" });
  const call = el("button", { type: "button", id: "drill-call", disabled: true }, "Call it in the hall");
  const keep = el("button", { type: "button", disabled: true }, "Put it on the lap’s sheet");
  let hall = null, now = null, busy = null;

  // asked are the flags of the form.
  const asked = (files) => {
    const flags = { ...figureFlags(files), room: anywhere.checked ? "anywhere" : roomFlag(files), [unit.value]: bars.value, seed: seed.value };
    const wanted = focus.value.split(";").map((f) => f.trim()).filter(Boolean);
    if (wanted.length) flags.focus = wanted;
    if (hardest.value) flags.hardest = hardest.value;
    return flags;
  };

  // onFloor shows the floor, or says that there is none.
  const onFloor = (on) => { floor.hidden = !on; noFloor.hidden = on; };

  // hush takes the drill away that was shown before, with what was said of it.
  const hush = () => {
    if (busy) busy.abort();
    now = null;
    out.textContent = taken.textContent = "";
    title.textContent = "Drill";
    list.replaceChildren();
    call.disabled = keep.disabled = true;
    onFloor(!anywhere.checked);
    if (state.room.data) hall.showRoom(state.room.data);
  };

  // go draws a drill; it gives the drill, or what is wrong.
  const go = async () => {
    if (busy) busy.abort();
    out.textContent = taken.textContent = "";
    if (!form.reportValidity()) return { wrong: "A number of the form is out of its range." };
    busy = new AbortController();
    const mine = busy, files = {}, flags = asked(files);
    const floorRoom = state.room.data, roomFile = state.room.file, roomName = state.room.name;
    out.textContent = "Drawing a drill …";
    try {
      const { answer } = await ask("drill", { flags, files }, { signal: mine.signal });
      const drill = answer.drills[0];
      now = { drill, answer, room: floorRoom, roomFile, roomName };
      title.textContent = `Drill ${drill.seed}`;
      out.textContent = `${count(barsIn(drill), "bar")}, ${points(drill.difficulty.total)}.`;
      list.replaceChildren(...drill.calls.map((c, i) => el("li", { "data-call": i }, el("div", { class: "bar-line" }, el("span", { class: "bar-no", text: c.bar }), el("span", { class: "bar-name pad" }, el("b", { text: c.name }), el("small", { text: `${c.counts}  ·  ${aligned(c.from.alignment)}${c.takes_next_wall ? "  ·  takes the next wall" : ""}` }))))));
      onFloor(Boolean(drill.routine));
      if (drill.routine) hall.show(now.room, drill.routine);
      call.disabled = false;
      keep.disabled = !drill.routine;
      say(`Drill ${drill.seed}: ${drill.calls.map((c) => c.name).join(", ")}`);
      return now;
    } catch (e) {
      if (mine.signal.aborted) return null;
      hush();
      out.replaceChildren(el("span", { class: "wrong", text: e.message }));
      return { wrong: e.message };
    }
  };
  const next = async () => {
    seed.value = Number(seed.value || 0) + 1;
    return go();
  };
  // away makes cards of several drills, for students to take home.
  const away = async (e) => {
    const button = e.currentTarget, files = {};
    taken.textContent = "";
    if (!form.reportValidity() || !cards.reportValidity() || button.hasAttribute("aria-disabled")) return;
    button.setAttribute("aria-disabled", "true");
    taken.textContent = "Making them …";
    try {
      download(await make("pdf", { command: "drill", flags: { ...asked(files), cards: cards.value, paper: paper.value }, files }), `Drills from ${seed.value}.pdf`);
      taken.textContent = `${count(Number(cards.value), "card")} ready: drills of their own, drawn from seed ${seed.value}; each tells its seed.`;
    } catch (err) {
      taken.replaceChildren(el("span", { class: "wrong", text: err.message }));
    } finally {
      button.removeAttribute("aria-disabled");
    }
  };
  const calling = new Calling(next, () => (call.disabled ? drawn : call).focus());
  call.addEventListener("click", () => now && calling.open(now.drill, now.answer.tempo));
  keep.addEventListener("click", () => {
    const { drill, answer } = now;
    const sheet = danced({ routine: drill.routine, room: now.room, roomFile: now.roomFile, roomName: now.roomFile ? "" : now.roomName, name: `Drill ${drill.seed}`, stride: answer.stride, tempo: answer.tempo, lap: false });
    put(sheet);
    location.hash = "#lap";
  });
  room.addEventListener("change", () => { hush(); roomChoices.choose(room.value).catch((e) => { out.textContent = e.message; roomChoices.fill(room); }); });
  // A drill of another room, or of other figures, is not what is asked for any more.
  hear("room", () => { hush(); roomChoices.fill(room); });
  hear("couple", () => { hush(); couple.textContent = coupleWords(); });
  roomChoices.fill(room);

  const drawn = el("button", { type: "submit", class: "main", id: "drill-go" }, "Draw this drill");
  const form = el("form", { class: "sheet", id: "drill-form", autocomplete: "off", onsubmit: (e) => { e.preventDefault(); go(); } },
    el("h2", { text: "What is practised" }),
    el("label", { class: "row" }, "Room", room),
    el("div", { class: "row" }, el("span", { text: "Couple" }), couple, el("a", { class: "quiet", href: "#class" }, "change")),
    el("label", { class: "tick" }, anywhere, "Without a room: the calls only"),
    el("div", { class: "two" }, el("label", {}, "Length", el("span", { class: "measure" }, bars, unit)), el("label", {}, "Seed", seed)),
    el("label", {}, "More often than others", focus),
    el("label", {}, "Points a bar, at most", hardest),
    el("p", { class: "actions" }, drawn, el("button", { type: "button", id: "drill-next", onclick: next }, "Next drill")),
    el("p", { class: "quiet" }, "The same seed draws the same drill."), out);
  // What the browser holds back leaves nothing that looks as if it had been drawn.
  form.addEventListener("invalid", hush, true);
  root.replaceChildren(el("div", { class: "lap-grid" }, form,
    el("div", { class: "sheet stage-sheet" }, floor, noFloor, el("p", { class: "actions" }, call, keep),
      el("fieldset", {}, el("legend", { text: "To take away" }), el("div", { class: "two" }, el("label", {}, "Cards", cards), el("label", {}, "Paper", paper)),
        el("p", { class: "actions" }, el("button", { type: "button", id: "drill-take", onclick: away }, "Cards as PDF")),
        el("p", { class: "quiet" }, "For a printed sheet or a practice track (MIDI, WAV) of this one drill, put it on the lap’s sheet."), taken)),
    el("div", { class: "sheet bars-sheet", tabindex: 0, role: "region", "aria-label": "The drill’s figures" }, el("div", { class: "head" }, title), list, shortForms())));
  hall = new Hall(floor, { name: "drill", onbar: (f) => { for (const li of list.children) li.classList.toggle("now", Number(li.dataset.call) === f.number - 1); } });
  if (state.room.data) hall.showRoom(state.room.data);
  addEventListener("screen", (e) => { if (e.detail !== "practise") hall.pause(); });
}
