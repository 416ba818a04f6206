// A hall: the floor with a routine on it, both dancers' feet that step it in time,
// and the buttons to play it. The lap's sheet, the drills and the call mode each
// have one.
import { draw, el, say } from "./elements.js";
import { floorOf } from "./floor.js";
import { dancers, printsOf, shoe } from "./shoes.js";
import { coupleAt, footAt, stepAt, timelineOf } from "./timeline.js";
import { Camera } from "./camera.js";
import { Beat } from "./clicks.js";
import { controlsOf } from "./controls.js";
import { aligned } from "./words.js";

const still = window.matchMedia("(prefers-reduced-motion: reduce)");

// motion tells whether feet may glide; otherwise they are simply there on the beat.
const motion = () => !still.matches;

export class Hall {
  // name tells halls apart; onbar hears of the figure that is danced, oncall of
  // each figure a bar before it.
  constructor(root, { name = "floor", onbar, onbeat } = {}) {
    Object.assign(this, { root, onbar, onbeat, who: "both", line: null, routine: null, room: null, figure: -1, step: -2, again: false, frames: [] });
    this.beat = new Beat();
    this.drawing = draw("svg", { class: "drawing", role: "img", "aria-label": "The floor from above" });
    this.movers = [];
    this.stage = el("div", { class: "stage" }, this.drawing);
    this.view = el("div", { class: "view", tabindex: 0, role: "group", "aria-label": "Floor: space plays and pauses, arrow keys go step by step" }, this.stage);
    this.camera = new Camera(this.view, this.stage, this.drawing);
    this.controls = controlsOf(this, name);
    this.words = el("p", { class: "step-words", "aria-live": "polite" });
    root.append(this.view, this.words, this.controls.root);
    this.drawing.addEventListener("click", (e) => {
      const mark = e.target.closest("[data-number]");
      if (mark && this.onpick) this.onpick(Number(mark.dataset.number));
    });
    this.view.addEventListener("keydown", (e) => this.key(e));
    new ResizeObserver(() => { this.camera.layout(); this.place(); }).observe(root);
    const paper = (on) => { this.camera.paper = on; this.camera.layout(); this.place(); };
    addEventListener("beforeprint", () => paper(true));
    addEventListener("afterprint", () => paper(false));
    this.tick = this.tick.bind(this);
  }

  key(e) {
    if (e.target !== this.view) return;
    const act = { " ": () => this.toggle(), ArrowRight: () => this.stepBy(1), ArrowLeft: () => this.stepBy(-1), Home: () => this.goTo(0) }[e.key];
    if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    act();
  }

  // showRoom draws a floor with nobody on it.
  showRoom(room) {
    this.pause();
    Object.assign(this, { room, routine: null, line: null, figure: -1 });
    this.movers.forEach((m) => m.node.remove());
    this.movers = [];
    this.drawing.replaceChildren(floorOf(room));
    this.drawing.setAttribute("aria-label", `${room.full_name} from above, ${room.walls.length} walls`);
    this.camera.wall = 1;
    this.camera.focus = null;
    this.camera.setRoom(room);
    this.controls.ready(false);
    this.words.textContent = "";
  }

  // show draws a routine on a floor. faulty holds the numbers of figures with
  // faults. The beat stays where it was when keep is true.
  show(room, routine, { faulty = new Set(), keep = false } = {}) {
    const where = keep ? Math.min(this.beat.now(), routine.totals.beats) : 0;
    this.showRoom(room);
    if (!routine.figures.length) return;
    this.routine = routine;
    this.line = timelineOf(routine);
    this.beat.beatsInBar = this.line.beatsInBar;
    this.drawing.append(printsOf(room, routine, faulty));
    this.drawing.setAttribute("aria-label", `${room.full_name} from above: a routine of ${routine.figures.length} figures in ${routine.totals.bars} bars; the list of bars says the same in words`);
    this.addMovers();
    this.camera.thin();
    this.controls.ready(true);
    this.controls.setTempo(Math.max(10, Math.min(60, Math.round(this.routine.totals.tempo) || 29)));
    this.goTo(where);
  }

  addMovers() {
    this.couple = el("div", { class: "mover couple" }, draw("svg", { viewBox: "-1 -1 2 2" }, draw("circle", { r: 0.62 }), draw("path", { d: "M0.62,-0.2 L0.92,0 L0.62,0.2" })));
    this.stage.append(this.couple);
    this.movers = [{ node: this.couple }];
    for (const track of this.line.tracks) {
      const node = el("div", { class: `mover foot ${track.who}` }, draw("svg", { viewBox: "-0.18 -0.18 0.36 0.36" }, shoe(track.who, track.foot)));
      this.stage.append(node);
      this.movers.push({ node, track, at: {} });
    }
    this.setWho(this.who);
  }

  // setWho says whose view it is: both, leader or follower.
  setWho(who) {
    this.who = who;
    this.root.dataset.who = who;
    this.tellStep(true);
  }

  // place puts everything where it is at this beat. It sets transforms only, so that
  // nothing is laid out anew.
  place() {
    if (!this.line || !this.camera.frame) return;
    const beat = Math.min(this.beat.now(), this.line.beats);
    const glide = motion();
    const c = coupleAt(this.line.couple, glide ? beat : Math.floor(beat) + 0.99, this.at || (this.at = {}));
    const p = this.camera.px(c);
    this.couple.style.transform = `translate(${p.x.toFixed(1)}px, ${p.y.toFixed(1)}px) rotate(${(-c.facing).toFixed(1)}deg)`;
    for (const m of this.movers) {
      if (!m.track) continue;
      const f = footAt(m.track, glide ? beat : Math.floor(beat * 2 + 0.001) / 2, m.at);
      if (!f) continue;
      const q = this.camera.px(f), lift = glide ? 1 + 0.1 * f.lift : 1;
      m.node.style.transform = `translate(${q.x.toFixed(1)}px, ${q.y.toFixed(1)}px) rotate(${(-f.toe).toFixed(1)}deg) scale(${lift.toFixed(3)})`;
    }
    if (this.camera.close) this.camera.look(c); else this.camera.focus = { x: c.x, y: c.y };
    this.tellStep(false);
    if (this.onbeat) this.onbeat(beat);
  }

  // tellStep says which figure and step it is, when that has changed.
  tellStep(anyway) {
    if (!this.line) return;
    const i = stepAt(this.line, this.beat.now());
    if (i === this.step && !anyway) return;
    this.step = i;
    const now = this.line.steps[Math.max(0, i)], f = now.figure;
    if (f.number !== this.figure || anyway) {
      this.figure = f.number;
      this.camera.takeWall(f.from.wall);
      this.mark();
      if (this.onbar) this.onbar(f);
    }
    this.controls.setBar(this.barNow(), f);
    this.words.setAttribute("aria-live", this.beat.running ? "off" : "polite");
    this.words.replaceChildren(...this.stepWords(now, i));
  }

  // barNow is the bar that is being danced, from 1.
  barNow() {
    return Math.max(1, Math.min(this.routine.totals.bars, Math.floor(Math.max(0, this.beat.now()) / this.line.beatsInBar + 1e-6) + 1));
  }

  stepWords(now, i) {
    const parts = [el("b", { text: i < 0 ? `${now.figure.name}: feet as they stand` : `${now.figure.name}, ${now.step.count}` })];
    if (i < 0) return parts;
    for (const who of dancers) {
      if (this.who !== "both" && this.who !== who) continue;
      const s = now.step[who];
      parts.push(el("span", { class: "said " + who }, el("i", { class: "sign " + who, "aria-hidden": "true" }), `${who}: `,
        s ? `${s.foot}, ${s.direction}, ${aligned(s.alignment)}${s.turn === "no turn" ? "" : ", " + s.turn}` : "stands"));
    }
    return parts;
  }

  // mark shows the figure that is danced among the prints.
  mark() {
    for (const node of this.drawing.querySelectorAll(".figure.now, .mark.now")) node.classList.remove("now");
    for (const node of this.drawing.querySelectorAll(`[data-number="${this.figure}"]`)) node.classList.add("now");
  }

  // choose marks a figure that was picked, 0 for none.
  choose(number) {
    for (const node of this.drawing.querySelectorAll(".chosen")) node.classList.remove("chosen");
    if (number) for (const node of this.drawing.querySelectorAll(`[data-number="${number}"]`)) node.classList.add("chosen");
    this.drawing.classList.toggle("has-chosen", number > 0);
    this.camera.thin();
  }

  goTo(beat) {
    const running = this.beat.running;
    if (running) this.beat.halt();
    this.beat.base = beat;
    this.step = -2;
    if (running) this.play(beat);
    else this.place();
  }

  goToBar(bar) { if (this.line) this.goTo((bar - 1) * this.line.beatsInBar); }

  // stepBy goes so many steps on or back, and stands there.
  stepBy(n) {
    if (!this.line) return;
    this.pause();
    const i = Math.max(-1, Math.min(this.line.steps.length - 1, stepAt(this.line, this.beat.now()) + n));
    this.goTo(i < 0 ? -1 : this.line.steps[i].beat);
  }

  toggle() { if (this.beat.running) this.pause(); else this.play(); }

  // play begins with a bar that is counted when it begins at the beginning.
  play(from = this.beat.now(), countIn = true) {
    if (!this.line) return;
    if (from >= this.line.beats - 1e-6) from = 0;
    if (from <= 0 && countIn) from = -this.line.beatsInBar;
    this.beat.go(from, this.again ? Infinity : this.line.beats);
    this.controls.playing(true);
    this.root.classList.add("playing");
    this.frames.length = 0;
    cancelAnimationFrame(this.asked);
    this.asked = requestAnimationFrame(this.tick);
  }

  pause() {
    if (!this.beat.running) return;
    this.beat.halt();
    cancelAnimationFrame(this.asked);
    this.controls.playing(false);
    this.root.classList.remove("playing");
    this.step = -2;
    this.place();
  }

  tick() {
    if (!this.beat.running) return;
    if (this.beat.now() >= this.line.beats) {
      if (this.again) {
        const over = this.beat.now() - this.line.beats;
        this.beat.base = over;
        this.beat.since = performance.now() / 1000;
        this.beat.next -= this.line.beats;
      } else {
        this.pause();
        this.goTo(this.line.beats);
        say("The end.");
        if (this.onend) this.onend();
        return;
      }
    }
    this.place();
    this.asked = requestAnimationFrame(this.tick);
  }
}
