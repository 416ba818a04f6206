// The buttons of a hall: play, step, the slider of bars, tempo, whose view.
import { el } from "./elements.js";

// controlsOf makes them for a hall.
export function controlsOf(hall, name) {
  const button = (sign, label, act, attributes = {}) => el("button", { type: "button", "aria-label": label, title: label, onclick: act, ...attributes }, el("span", { "aria-hidden": "true", text: sign }));
  const play = el("button", { type: "button", class: "main play", onclick: () => hall.toggle() }, "Play");
  const bars = el("input", { type: "range", min: 1, max: 1, value: 1, step: 1, id: name + "-bar" });
  const barWords = el("output", { for: name + "-bar", class: "bar-words" });
  const tempo = el("input", { type: "range", min: 10, max: 60, value: 29, step: 1, id: name + "-tempo" });
  const tempoWords = el("output", { for: name + "-tempo" });
  const who = el("select", { id: name + "-who" }, el("option", { value: "both", text: "both" }), el("option", { value: "leader", text: "leader" }), el("option", { value: "follower", text: "follower" }));
  const tick = (label, checked, act) => {
    const box = el("input", { type: "checkbox", checked, onchange: () => act(box.checked) });
    return el("label", { class: "tick" }, box, label);
  };
  let held = false;
  bars.addEventListener("input", () => { held = true; hall.goToBar(Number(bars.value)); held = false; });
  tempo.addEventListener("input", () => setTempo(Number(tempo.value)));
  who.addEventListener("change", () => hall.setWho(who.value));

  function setTempo(n) {
    tempo.value = n;
    tempoWords.textContent = `${n} bars a minute`;
    tempo.setAttribute("aria-valuetext", tempoWords.textContent);
    hall.beat.setTempo(n);
  }

  const all = el("div", { class: "controls", hidden: true },
    el("div", { class: "run" }, button("⇤", "To the beginning", () => { hall.pause(); hall.goTo(0); }), button("‹", "Step back", () => hall.stepBy(-1)), play, button("›", "Step on", () => hall.stepBy(1))),
    el("div", { class: "slide" }, el("label", { for: name + "-bar" }, "Bar"), bars, barWords),
    el("div", { class: "slide" }, el("label", { for: name + "-tempo" }, "Tempo"), tempo, tempoWords),
    el("div", { class: "ticks" },
      el("label", { class: "tick" }, "Show ", who),
      tick("Clicks", true, (on) => { hall.beat.sound = on; }),
      tick("Again and again", false, (on) => { hall.again = on; if (hall.beat.running) hall.play(hall.beat.now(), false); }),
      tick("Line of dance up", false, (on) => { hall.camera.up = on; hall.camera.layout(); hall.place(); }),
      tick("Close to the couple", false, (on) => { hall.camera.close = on; hall.camera.layout(); hall.place(); })));

  return {
    root: all,
    ready(on) {
      all.hidden = !on;
      if (on) bars.max = hall.routine.totals.bars;
    },
    playing(on) { play.textContent = on ? "Pause" : "Play"; },
    setTempo,
    setBar(bar, figure) {
      if (!held) bars.value = bar;
      const words = `${bar} of ${hall.routine.totals.bars}: ${figure.name}`;
      barWords.textContent = words;
      bars.setAttribute("aria-valuetext", "Bar " + words);
    },
  };
}
