// The sheet of the lap: what is asked for, the search while it runs, and what came
// of it.
import { byId, el, say } from "./elements.js";
import { ask, stop } from "./wire.js";
import { changed, hear, put, state } from "./store.js";
import { coupleWords, figureFlags, roomFlag } from "./couple.js";
import { sheetText } from "./files.js";
import { Hall } from "./hall.js";
import { barList } from "./bars.js";
import { changing } from "./change.js";
import { writing } from "./write.js";
import { takeAway } from "./take.js";
import { factsOf } from "./facts.js";
import { builtInRooms, roomData, roomChoices } from "./rooms.js";
import { figureNames } from "./book.js";
import { plain } from "./plain.js";
import { count, number, shortForms } from "./words.js";

let hall, shown = null, told = null, running = null;

export function lapScreen() {
  hall = new Hall(byId("lap-hall"), { name: "lap", onbar: (f) => bars.dance(f.number) });
  const bars = barList(byId("bars"), hall);
  byId("bars").after(shortForms());
  changing(bars, hall);
  writing(byId("write"));
  takeAway(byId("take"));
  hear("sheet", () => showSheet(bars));
  hear("room", () => { fillRooms(); otherRoom(); if (!state.sheet) showFloor(); });
  hear("couple", () => { byId("lap-class").textContent = coupleWords(); });
  byId("ask").addEventListener("submit", (e) => { e.preventDefault(); go(); });
  byId("ask").addEventListener("invalid", hush, true); // what the browser holds back is not asked
  byId("lap-stop").addEventListener("click", stopNow);
  byId("lap-room").addEventListener("change", async (e) => {
    await roomChoices.choose(e.target.value);
  });
  showSheet(bars);
  start();
}

// start asks for the rooms, then for the names of figures, which can wait.
async function start() {
  try {
    await builtInRooms();
    await roomData();
    changed("room");
    fillRooms();
  } catch (e) {
    byId("lap-error").textContent = e.message;
  }
  figureNames(byId("figure-names"));
}

function fillRooms() { roomChoices.fill(byId("lap-room")); }

function showFloor() { if (state.room.data) hall.showRoom(state.room.data); }

// showSheet draws the routine that is on the sheet now.
function showSheet(bars) {
  const s = state.sheet;
  byId("undo").disabled = !state.past.length;
  byId("redo").disabled = !state.future.length;
  byId("bars-empty").hidden = Boolean(s);
  printHead(s);
  otherRoom();
  if (s === shown && s) return;
  const same = shown && s && shown.line === s.line;
  shown = s;
  if (s !== told) hush();
  told = s;
  if (!s) {
    showFloor();
    bars.show(null);
    return;
  }
  hall.show(s.room, s.routine, { faulty: new Set((s.faults || []).map((f) => f.number)), keep: same });
  bars.show(s);
  factsOf(byId("facts"), s);
}

// printHead is what stands above a sheet of paper.
function printHead(s) {
  byId("print-head").replaceChildren(...(s ? [el("b", { text: s.name }),
    el("span", { text: `${s.room.full_name}  ·  ${s.made ? s.made + "  ·  " : ""}${count(s.routine.totals.bars, "bar")}, ${count(s.routine.totals.figures, "figure")}  ·  ${number(s.routine.totals.tempo)} bars a minute` })] : []));
}

// otherRoom says that what is on the sheet is danced in another room than the chosen one.
function otherRoom() {
  const s = state.sheet, node = byId("lap-other"), other = Boolean(s && state.room.data && s.room.full_name !== state.room.data.full_name);
  node.hidden = !other;
  if (!other) return;
  node.replaceChildren(`Shown is ${s.name}, in ${s.room.full_name}; a new lap is made for ${state.room.data.full_name}. `,
    el("button", { type: "button", onclick: () => { roomChoices.of(s); byId("lap-room").focus(); say(`${s.room.full_name} is chosen.`); } }, `Choose ${s.room.full_name}`));
}

// hush takes away what was said before.
function hush() {
  byId("lap-error").textContent = "";
  byId("lap-no").hidden = true;
  if (!running) byId("lap-progress").hidden = true;
}

// One limit a field: the flag has the field's name.
const fields = ["bars", "laps", "uses", "apart", "different", "right-turns", "phrase", "hardest", "leader-step", "follower-step", "stride", "margin", "seed"];
const lists = { must: ",", without: ",", cap: ";", order: ";", fix: ";" };

// limits are the flags that the form asks for.
export function limits() {
  const flags = {};
  for (const name of fields) {
    const value = byId("lim-" + name).value.trim();
    if (value) flags[name] = value;
  }
  for (const [name, mark] of Object.entries(lists)) {
    const values = byId("lim-" + name).value.split(mark).map((v) => v.trim()).filter(Boolean);
    if (values.length) flags[name] = values;
  }
  const time = byId("lim-time").value.trim();
  if (time) flags.time = time + "s";
  return flags;
}

// go looks for a lap.
async function go() {
  if (running) return;
  running = { id: "", abort: new AbortController() };
  busy(true, "Looking for a lap …");
  await roomChoices.settled();
  const files = {}, flags = { ...figureFlags(files), ...limits(), room: roomFlag(files) };
  const room = state.room.data, roomFile = state.room.file;
  try {
    const reply = await ask("lap", { flags, files }, { signal: running.abort.signal, onLine: (line) => progress(line, room) });
    finish(reply, { room, roomFile, flags });
  } catch (e) {
    if (e.name !== "AbortError") byId("lap-error").textContent = e.message;
    else say("Stopped.");
    shown = null;
    changed("sheet");
  } finally {
    running = null;
    busy(false);
  }
}

async function stopNow() {
  if (!running) return;
  byId("lap-words").textContent = "Stopping: the best so far …";
  if (running.id) await stop(running.id).catch(() => running && running.abort.abort());
  else running.abort.abort();
}

function busy(on, words) {
  const go = byId("lap-go"), end = byId("lap-stop");
  if (on) go.setAttribute("aria-disabled", "true"); else go.removeAttribute("aria-disabled");
  if (!on && document.activeElement === end) go.focus();
  end.hidden = !on;
  byId("lap-progress").hidden = !on;
  if (!on) return;
  hush();
  byId("lap-progress").hidden = false;
  byId("lap-words").textContent = words;
  say(words);
  bar(null);
}

// bar shows how near the bound is to the best lap, or that this is not known.
function bar(share) {
  const node = byId("lap-share");
  node.classList.toggle("unknown", share === null);
  if (share === null) node.removeAttribute("aria-valuenow");
  else node.setAttribute("aria-valuenow", String(Math.round(share * 100)));
  node.firstElementChild.style.width = (share === null ? 30 : share * 100) + "%";
}

let drawnAt = 0, saidAt = 0, saidBest = 0;

// progress tells what the search knows so far, and draws the best lap that it has.
function progress(line, room) {
  if (line.id) running.id = line.id;
  if ("queued" in line && line.queued > 0) byId("lap-words").textContent = `Others are being looked for; place ${line.queued} in the queue.`;
  const p = line.progress;
  if (!p) return;
  const words = [];
  if (p.words) words.push(plain(p.words));
  else {
    if (p.best) words.push(`Best so far costs ${number(p.best)} bars.`);
    if (p.least > 0) words.push(`No lap costs less than ${number(p.least)}.`);
  }
  if (p.best && p.least) words.push(p.best - p.least < 0.005 ? "Proven best." : `The best so far is within ${number((p.best / p.least - 1) * 100, 1)} % of the best there can be.`);
  if (words.length) byId("lap-words").textContent = words.join(" ");
  // Who listens hears of it now and then, and when it gets better.
  if (p.best && (p.best !== saidBest || performance.now() - saidAt > 15_000)) {
    say(`Best so far ${number(p.best)} bars${p.least ? `, within ${number((p.best / p.least - 1) * 100, 1)} % of the best there can be` : ""}.`);
    saidBest = p.best;
    saidAt = performance.now();
  }
  if (p.best && p.least) bar(Math.max(0, Math.min(1, p.least / p.best)));
  if (p.routine && p.routine.figures && performance.now() - drawnAt > 300) {
    drawnAt = performance.now();
    hall.show(room, p.routine, { keep: true });
  }
}

// finish puts the lap on the sheet, or says no with the reasons.
function finish(reply, { room, roomFile, flags }) {
  const a = reply.answer;
  if (!a.found) {
    sayNo(a, reply.notes);
    return;
  }
  const sheet = {
    routine: a.routine, room, roomFile, roomName: roomFile ? "" : state.room.name, name: "Lap of " + room.full_name,
    stride: a.asked.stride, margin: a.asked.margin, tempo: a.asked.tempo, lap: true, laps: a.asked.laps,
    faults: [], repair: null, cost: a.cost, made: coupleWords(), notes: reply.notes || [], flags,
  };
  sheet.text = sheetText(sheet);
  put(sheet);
  if (matchMedia("(max-width: 46rem)").matches) byId("lap-hall").scrollIntoView({ block: "start" });
  say(`A lap of ${a.routine.totals.bars} bars, in ${a.routine.figures.length} figures. ${a.cost.proven ? "Proven best." : ""}`);
}

function sayNo(a, notes) {
  const no = byId("lap-no");
  no.replaceChildren(el("h3", { text: `No lap of ${state.room.data.full_name}` }),
    el("ul", {}, a.why.map((w) => el("li", { text: plain(w) }))),
    (notes || []).map((n) => el("p", { class: "quiet", text: plain(n) })),
    state.sheet ? el("p", { class: "quiet", text: "What is shown below is still the routine from before." }) : "");
  no.hidden = false;
  no.focus();
  if (!state.sheet) showFloor();
}
