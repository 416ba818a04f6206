// Calls for the hall: big letters that are read from the far wall, each figure
// called a bar before it is danced, by two soft notes and by the browser's voice.
import { el } from "./elements.js";
import { Beat, chime, hush, localVoice, speak, wake } from "./clicks.js";
import { caution } from "./words.js";

// barsIn is how many bars the calls of a drill take.
export const barsIn = (drill) => drill.calls.reduce((sum, c) => sum + c.bars, 0);

export class Calling {
  // next draws the next drill, or says what is wrong; closed hears that the calls are over.
  constructor(next, closed) {
    this.next = next;
    this.beat = new Beat();
    this.spoken = true;
    this.called = -1;
    this.now = el("p", { class: "call-now" });
    this.then = el("p", { class: "call-then" });
    this.place = el("p", { class: "call-place" });
    this.dots = el("div", { class: "call-dots", "aria-hidden": "true" }, [1, 2, 3].map((n) => el("span", { text: n })));
    this.runButton = el("button", { type: "button", class: "main", onclick: () => this.toggle() }, "Go");
    this.tempo = el("input", { type: "range", min: 10, max: 60, step: 1, value: 29, "aria-label": "Tempo, bars a minute", oninput: () => this.setTempo() });
    this.tempoWords = el("output");
    const voice = el("input", { type: "checkbox", checked: true, onchange: () => { this.spoken = voice.checked; hush(); } });
    const clicks = el("input", { type: "checkbox", checked: true, onchange: () => { this.beat.sound = clicks.checked; } });
    this.voiceWords = el("span", { text: "Voice" });
    this.told = el("p", { class: "unseen", role: "status", "aria-live": "polite" });
    this.wrong = el("p", { class: "error", role: "alert" });
    this.heard = el("p", { class: "unseen", "aria-live": "off" });
    // A dialog may not fill the screen itself, what is in it may.
    this.page = el("div", { class: "call-page" },
      el("div", { class: "call-top" }, this.place, el("button", { type: "button", onclick: () => this.dialog.close() }, "Close")),
      el("div", { class: "call-words", onclick: () => this.another() }, this.now, this.then), this.wrong, this.dots,
      el("div", { class: "call-foot" }, this.runButton, this.nextButton = el("button", { type: "button", id: "call-next", onclick: () => this.another() }, "Next drill (N)"),
        el("label", { class: "tick" }, this.tempo, this.tempoWords), el("label", { class: "tick" }, clicks, "Clicks"), el("label", { class: "tick" }, voice, this.voiceWords)),
      el("p", { class: "call-caution", text: caution }), this.heard, this.told);
    this.dialog = el("dialog", { class: "calling", "aria-label": "Calls for the hall" }, this.page);
    this.dialog.addEventListener("close", () => { document.documentElement.classList.remove("called"); this.halt(); closed(); });
    // The key that leaves the full screen closes the calls too.
    this.dialog.addEventListener("fullscreenchange", () => { if (!document.fullscreenElement && this.dialog.open) this.dialog.close(); });
    if (window.speechSynthesis) speechSynthesis.addEventListener("voiceschanged", () => this.voices());
    this.dialog.addEventListener("keydown", (e) => {
      if (e.ctrlKey || e.metaKey || e.altKey) return;
      if (e.key === "n" || e.key === "N" || (e.key === "ArrowRight" && e.target !== this.tempo)) { e.preventDefault(); this.another(); }
      if (e.key === " " && !e.target.closest("button, input")) { e.preventDefault(); this.toggle(); }
    });
    document.body.append(this.dialog);
    this.tick = this.tick.bind(this);
  }

  // open shows a drill's calls.
  open(drill, tempo) {
    this.tempo.value = tempo;
    this.setTempo();
    this.voices();
    this.load(drill);
    document.documentElement.classList.add("called");
    this.dialog.showModal();
    this.runButton.focus();
  }

  // voices says whether there is a voice; browsers find theirs late.
  voices() { this.voiceWords.textContent = localVoice() ? "Voice" : "Voice (none here: two notes call)"; }

  load(drill) {
    this.halt();
    this.drill = drill;
    this.called = -1;
    this.told.textContent = this.wrong.textContent = "";
    // A drill without a room has calls only; a waltz has three beats in a bar.
    const bars = barsIn(drill);
    this.total = drill.routine ? drill.routine.totals : { bars, beats: 3 * bars };
    this.beat.beatsInBar = Math.round(this.total.beats / this.total.bars) || 3;
    this.beat.base = -2 * this.beat.beatsInBar;
    this.show();
  }

  setTempo() {
    this.beat.setTempo(Number(this.tempo.value));
    this.tempoWords.textContent = `${this.tempo.value} bars a minute`;
  }

  toggle() { if (this.beat.running) this.halt(); else this.run(); }

  // run begins with two bars that are counted, in the second of which the first
  // figure is called.
  run() {
    wake();
    const end = this.total.beats;
    let from = this.beat.now();
    if (from >= end - 1e-6) { from = -2 * this.beat.beatsInBar; this.called = -1; }
    this.beat.go(from, end);
    this.runButton.textContent = "Pause";
    if (this.page.requestFullscreen && !document.fullscreenElement) this.page.requestFullscreen().catch(() => { /* the window is enough */ });
    this.tick();
  }

  halt() {
    if (this.beat.running) this.beat.halt();
    clearTimeout(this.timer);
    hush();
    this.runButton.textContent = "Go";
    if (!this.dialog.open && document.fullscreenElement) document.exitFullscreen().catch(() => { /* it is left already */ });
  }

  async another() {
    if (this.asking) return;
    this.asking = true;
    this.nextButton.setAttribute("aria-disabled", "true");
    this.told.textContent = this.wrong.textContent = "";
    const was = this.beat.running;
    try {
      const found = await this.next();
      if (!found || !this.dialog.open) return;
      if (found.wrong) {
        this.halt();
        this.wrong.textContent = "There is no next drill. " + found.wrong;
        return;
      }
      this.load(found.drill);
      this.told.textContent = `Drill ${this.drill.seed}, ${this.total.bars} bars.`;
      if (was) this.run();
    } finally {
      this.asking = false;
      this.nextButton.removeAttribute("aria-disabled");
    }
  }

  // tick goes by a timer and not by frames, so that calls go on when nobody looks.
  tick() {
    if (!this.beat.running) return;
    if (this.beat.now() >= this.total.beats) {
      this.halt();
      this.show();
      this.told.textContent = "The end.";
      return;
    }
    this.call();
    this.show();
    this.timer = setTimeout(this.tick, 40);
  }

  // call calls what begins in a bar from now.
  call() {
    const beat = this.beat.now(), calls = this.drill.calls, b = this.beat.beatsInBar;
    const due = calls.findIndex((c, i) => i > this.called && (c.bar - 1) * b - b <= beat && (c.bar - 1) * b > beat - 0.01);
    if (due < 0) return;
    this.called = due;
    chime();
    const words = calls[due].name.replace(/ \(.*/, "");
    this.heard.textContent = words;
    if (this.spoken) speak(words, Math.max(1, Math.min(1.6, this.beat.tempo / 26)));
  }

  // show writes what is danced and what comes next.
  show() {
    const beat = this.beat.now(), calls = this.drill.calls, b = this.beat.beatsInBar, total = this.total;
    let i = -1;
    while (i + 1 < calls.length && (calls[i + 1].bar - 1) * b <= beat + 1e-6) i++;
    const over = beat >= total.beats - 1e-6;
    const set = (node, words) => { if (node.textContent !== words) node.textContent = words; };
    const name = over ? "The end" : i < 0 ? (this.beat.running ? "Count" : `Drill ${this.drill.seed}`) : calls[i].name;
    // The way in which a figure is danced stands smaller behind its name.
    if (this.now.textContent !== name) this.now.replaceChildren(...name.split(/(?= \()/).map((words, n) => n ? el("small", { text: words }) : words));
    set(this.then, over ? "N or a tap: the next drill" : i + 1 < calls.length ? `next: ${calls[i + 1].name}` : "next: the end");
    const bar = Math.floor(beat / b + 1e-6) + 1;
    set(this.place, over ? `${total.bars} bars` : i < 0 ? `${total.bars} bars, counted in` : `Bar ${Math.min(bar, total.bars)} of ${total.bars}`);
    const count = ((Math.floor(beat + 1e-6) % b) + b) % b;
    [...this.dots.children].forEach((d, n) => d.classList.toggle("on", this.beat.running && n === count));
  }
}
