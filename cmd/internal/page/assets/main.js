// The beginning of the page: take up what was on the sheet, show the first screen.
import { byId } from "./elements.js";
import { changed, hear, recall, redo, state, undo } from "./store.js";
import { step } from "./change.js";
import { caution } from "./words.js";
import { coupleWords } from "./couple.js";
import { lapScreen } from "./lap.js";
import { openLink } from "./link.js";

const screens = ["room", "class", "lap", "practise"];
const opened = new Set(["lap"]);
const later = { room: () => import("./room.js"), class: () => import("./class.js"), practise: () => import("./practise.js") };

// show opens a screen, the others wait; a screen is made when it is first looked at.
async function show(name, focus) {
  for (const s of screens) byId("screen-" + s).hidden = s !== name;
  for (const tab of document.querySelectorAll(".tabs a")) {
    if (tab.dataset.screen === name) tab.setAttribute("aria-current", "page"); else tab.removeAttribute("aria-current");
  }
  document.title = name[0].toUpperCase() + name.slice(1) + " – Lapwright";
  if (!opened.has(name)) {
    opened.add(name);
    try {
      (await later[name]()).open(byId(name));
    } catch (e) {
      byId(name).textContent = "This sheet could not be opened: " + e.message;
    }
  }
  dispatchEvent(new CustomEvent("screen", { detail: name }));
  if (focus) byId(name + "-title").focus();
}

function route(focus) {
  const name = location.hash.slice(1);
  if (name.startsWith("r=")) {
    openLink(name.slice(2)).then(() => {
      history.replaceState(null, "", "#lap");
      show("lap", false);
      if (state.sheet && matchMedia("(max-width: 46rem)").matches) byId("lap-hall").scrollIntoView({ block: "start" });
    });
    return;
  }
  show(screens.includes(name) ? name : "lap", focus);
}

function theme() {
  const select = byId("theme");
  select.value = document.documentElement.dataset.theme || "";
  select.addEventListener("change", () => {
    if (select.value) document.documentElement.dataset.theme = select.value; else delete document.documentElement.dataset.theme;
    try { localStorage.setItem("lapwright.theme", select.value); } catch { /* not kept */ }
  });
}

// keys: undo and redo, save where somebody is writing, whose keys they are then. The room
// takes its own changes back.
function keys() {
  document.addEventListener("keydown", (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || (e.target instanceof Element && e.target.closest("input, textarea, select"))) return;
    const key = e.key.toLowerCase();
    if (!byId("screen-room").hidden && key === "z" && !e.shiftKey) {
      e.preventDefault();
      dispatchEvent(new Event("takeback"));
    }
    if (byId("screen-lap").hidden) return;
    const back = () => step(undo, "Undone", "undo"), again = () => step(redo, "Done again", "redo");
    const done = key === "z" ? (e.shiftKey ? again() : back()) : key === "y" ? again() : false;
    if (done) e.preventDefault();
  });
}

for (const p of document.querySelectorAll("[data-caution]")) p.textContent = caution;
recall();
theme();
keys();
const told = () => { byId("now").textContent = `Waltz · ${state.room.data ? state.room.data.full_name : state.room.name} · ${coupleWords()}`; };
hear("room", told);
hear("couple", told);
lapScreen();
addEventListener("hashchange", () => route(true));
route(false);
told();
changed("couple");

if ("serviceWorker" in navigator && window.isSecureContext) navigator.serviceWorker.register("/sw.js").catch(() => { /* without it the page works all the same */ });
