// Drills: drawn by a seed, shown on the floor, called in the hall.
import { el, say } from "./elements.js";
import { ask, make } from "./wire.js";
import { hear, put, state } from "./store.js";
import { coupleWords, figureFlags, roomFlag } from "./couple.js";
import { sheetText } from "./files.js";
import { roomChoices } from "./rooms.js";
import { Hall } from "./hall.js";
import { Calling } from "./calling.js";
import { download } from "./download.js";
import { aligned, count, number, shortForms } from "./words.js";

export function open(root) {
  const room = el("select", { id: "drill-room" });
  const bars = el("input", { id: "drill-bars", type: "number", min: 1, max: 160, step: "any", value: 16 });
  const unit = el("select", { id: "drill-unit", "aria-label": "Length in", onchange: () => { bars.value = unit.value === "bars" ? 16 : 1; } }, el("option", { value: "bars", text: "bars" }), el("option", { value: "minutes", text: "minutes" }));
  const anywhere = el("input", { id: "drill-anywhere", type: "checkbox" });
  const cards = el("input", { id: "drill-cards", type: "number", min: 1, max: 24, value: 6 });
  const paper = el("select", { id: "drill-paper" }, el("option", { value: "A4", text: "A4" }), el("option", { value: "Letter", text: "Letter" }));
  const seed = el("input", { id: "drill-seed", type: "number", min: 0, max: 9_007_199_254_740_991, value: 1 });
  const focus = el("input", { id: "drill-focus", list: "figure-names", placeholder: "Whisk; Natural Turn > Reverse Turn", maxlength: 400 });
  const hardest = el("input", { id: "drill-hardest", type: "number", min: 0, max: 20, step: 0.05 });
  const couple = el("span", { text: coupleWords() });
  const out = el("div", { role: "status", "aria-live": "polite", class: "told" });
  const title = el("h2", { text: "Drill" });
  const list = el("ol", { class: "bars", id: "drill-calls" });
  const floor = el("div");
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

  // hush takes the drill away that was shown before.
  const hush = () => {
    now = null;
    title.textContent = "Drill";
    list.replaceChildren();
    call.disabled = keep.disabled = true;
    if (state.room.data) hall.showRoom(state.room.data);
  };

  const go = async () => {
    if (busy) busy.abort();
    busy = new AbortController();
    const mine = busy, files = {}, flags = asked(files);
    const floorRoom = state.room.data, roomFile = state.room.file, roomName = state.room.name;
    out.textContent = "Drawing a drill …";
    try {
      const { answer } = await ask("drill", { flags, files }, { signal: mine.signal });
      const drill = answer.drills[0];
      now = { drill, answer, room: floorRoom, roomFile, roomName };
      title.textContent = `Drill ${drill.seed}`;
      const long = drill.calls.reduce((sum, c) => sum + c.bars, 0);
      out.textContent = `${count(long, "bar")}, ${number(drill.difficulty.total)} points a bar.`;
      list.replaceChildren(...drill.calls.map((c, i) => el("li", { "data-call": i }, el("div", { class: "bar-line" }, el("span", { class: "bar-no", text: c.bar }), el("span", { class: "bar-name pad" }, el("b", { text: c.name }), el("small", { text: `${c.counts}  ·  ${aligned(c.from.alignment)}${c.takes_next_wall ? "  ·  takes the next wall" : ""}` }))))));
      floor.hidden = !drill.routine;
      if (drill.routine) hall.show(now.room, drill.routine);
      call.disabled = false;
      keep.disabled = !drill.routine;
      say(`Drill ${drill.seed}: ${drill.calls.map((c) => c.name).join(", ")}`);
      return now;
    } catch (e) {
      if (e.name === "AbortError") return null;
      hush();
      out.replaceChildren(el("span", { class: "wrong", text: e.message }));
      return null;
    }
  };
  const next = async () => {
    seed.value = Number(seed.value || 0) + 1;
    return go();
  };
  // away makes cards of several drills, for students to take home.
  const away = async (e) => {
    const button = e.currentTarget, files = {};
    if (!cards.reportValidity() || button.hasAttribute("aria-disabled")) return;
    button.setAttribute("aria-disabled", "true");
    taken.textContent = "Making them …";
    try {
      download(await make("pdf", { command: "drill", flags: { ...asked(files), cards: cards.value, paper: paper.value }, files }), `Drills from ${seed.value}.pdf`);
      taken.textContent = `${count(Number(cards.value), "card")} ready, beginning with seed ${seed.value}.`;
    } catch (err) {
      taken.replaceChildren(el("span", { class: "wrong", text: err.message }));
    } finally {
      button.removeAttribute("aria-disabled");
    }
  };
  const taken = el("p", { class: "told", role: "status", "aria-live": "polite" });
  const calling = new Calling(next);
  call.addEventListener("click", () => now && calling.open(now.drill, now.answer.tempo));
  keep.addEventListener("click", () => {
    const { drill, answer } = now;
    const sheet = { routine: drill.routine, room: now.room, roomFile: now.roomFile, roomName: now.roomFile ? "" : now.roomName, name: `Drill ${drill.seed}`, stride: answer.stride, margin: now.room.margin, tempo: answer.tempo, lap: false, laps: 1, faults: [], repair: null, cost: null, notes: [] };
    sheet.text = sheetText(sheet);
    put(sheet);
    location.hash = "#lap";
  });
  room.addEventListener("change", () => roomChoices.choose(room.value).catch((e) => { out.textContent = e.message; }));
  hear("room", () => { roomChoices.fill(room); });
  hear("couple", () => { couple.textContent = coupleWords(); });
  roomChoices.fill(room);

  root.replaceChildren(el("div", { class: "lap-grid" },
    el("form", { class: "sheet", id: "drill-form", autocomplete: "off", onsubmit: (e) => { e.preventDefault(); go(); } },
      el("h2", { text: "What is practised" }),
      el("label", { class: "row" }, "Room", room),
      el("div", { class: "row" }, el("span", { text: "Couple" }), couple, el("a", { class: "quiet", href: "#class" }, "change")),
      el("label", { class: "tick" }, anywhere, "Without a room: the calls only"),
      el("div", { class: "two" }, el("label", {}, "Length", el("span", { class: "measure" }, bars, unit)), el("label", {}, "Seed", seed)),
      el("label", {}, "More often than others", focus),
      el("label", {}, "Points a bar, at most", hardest),
      el("p", { class: "actions" }, el("button", { type: "submit", class: "main", id: "drill-go" }, "Draw this drill"), el("button", { type: "button", id: "drill-next", onclick: next }, "Next drill")),
      el("p", { class: "quiet" }, "The same seed draws the same drill."), out),
    el("div", { class: "sheet stage-sheet" }, floor, el("p", { class: "actions" }, call, keep),
      el("fieldset", {}, el("legend", { text: "To take away" }), el("div", { class: "two" }, el("label", {}, "Cards", cards), el("label", {}, "Paper", paper)),
        el("p", { class: "actions" }, el("button", { type: "button", id: "drill-take", onclick: away }, "Cards as PDF")),
        el("p", { class: "quiet" }, "For a sheet or a track of this one drill put it on the lap’s sheet."), taken)),
    el("div", { class: "sheet bars-sheet", tabindex: 0, role: "region", "aria-label": "The drill’s figures" }, el("div", { class: "head" }, title), list, shortForms())));
  root.querySelector("#drill-form").addEventListener("invalid", () => { out.textContent = ""; hush(); }, true);
  hall = new Hall(floor, { name: "drill", onbar: (f) => { for (const li of list.children) li.classList.toggle("now", Number(li.dataset.call) === f.number - 1); } });
  if (state.room.data) hall.showRoom(state.room.data);
  addEventListener("screen", (e) => { if (e.detail !== "practise") hall.pause(); });
}
