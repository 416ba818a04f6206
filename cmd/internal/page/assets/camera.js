// How the floor is looked at: all of it, or close to the couple; as the room lies,
// or turned so that the line of dance goes up.
import { around, viewBox } from "./floor.js";

export class Camera {
  // view is the window, stage the floor in it, drawing the picture on the stage.
  constructor(view, stage, drawing) {
    Object.assign(this, { view, stage, drawing, close: false, up: false, paper: false, turn: 0, scale: 20, frame: null, wall: 1, focus: null });
  }

  setRoom(room) {
    this.room = room;
    const size = Math.max(room.length, room.breadth);
    this.frame = around(room, Math.min(1.7, Math.max(0.6, size * 0.055)));
    this.drawing.setAttribute("viewBox", viewBox(this.frame));
    this.layout();
  }

  // layout measures the window and sets sizes that stay until the next change.
  layout() {
    if (!this.frame || !this.view.clientWidth) return;
    // Paper is as wide as a sheet on its shorter side, whatever the window is.
    this.view.style.width = this.paper ? "640px" : "";
    const f = this.frame, wide = this.paper ? 640 : this.view.clientWidth, most = this.paper ? 560 : Math.max(240, window.innerHeight * 0.66);
    const turns = this.up ? this.room.walls.map((w) => this.turnOf(w)) : [0];
    const boxes = turns.map((t) => this.box(t));
    const high = this.close ? Math.min(most, wide * 0.8) : Math.min(most, Math.max(...boxes.map((b) => wide * b.h / b.w)));
    this.view.style.height = high + "px";
    this.turn = this.up ? this.turnOf(this.room.walls[this.wall - 1] || this.room.walls[0]) : 0;
    this.scale = this.close ? Math.max(56, Math.min(110, wide / 6)) : Math.min(...boxes.map((b) => Math.min(wide / b.w, high / b.h)));
    this.size = { w: f.w * this.scale, h: f.h * this.scale };
    this.stage.style.width = this.size.w + "px";
    this.stage.style.height = this.size.h + "px";
    this.letter = parseFloat(getComputedStyle(document.documentElement).fontSize);
    this.stage.style.setProperty("--px", 1 / this.scale);
    this.stage.style.setProperty("--mark", 0.6 * this.letter / this.scale);
    this.middle = { x: wide / 2, y: high / 2 };
    this.setTurn();
    this.look(this.focus);
    this.thin();
  }

  turnOf(wall) { return wall.direction - 90; }

  // box is how much floor a turned room takes in the window.
  box(turn) {
    const t = turn * Math.PI / 180, f = this.frame;
    return { w: Math.abs(f.w * Math.cos(t)) + Math.abs(f.h * Math.sin(t)), h: Math.abs(f.w * Math.sin(t)) + Math.abs(f.h * Math.cos(t)) };
  }

  // setTurn turns words upright again.
  setTurn() {
    this.stage.style.setProperty("--turn", this.turn + "deg");
    for (const name of this.drawing.querySelectorAll(".wall-name, .thing")) {
      const own = Number(name.dataset.turn);
      const seen = (((own + this.turn) % 360) + 540) % 360 - 180;
      name.setAttribute("transform", `translate(${name.dataset.at}) rotate(${seen > 91 || seen < -89 ? own + 180 : own})`);
    }
  }

  // takeWall says along which wall the couple dances now.
  takeWall(number) {
    if (this.wall === number) return;
    this.wall = number;
    if (this.up && this.room) {
      this.turn = this.turnOf(this.room.walls[number - 1]);
      this.setTurn();
      this.look(this.focus);
      this.thin();
    }
  }

  // px is a place of the room on the stage.
  px(p) { return { x: (p.x - this.frame.x) * this.scale, y: (this.frame.y + this.frame.h - p.y) * this.scale }; }

  // look puts a place of the room, or the middle of the floor, into the middle.
  look(focus) {
    this.focus = focus;
    if (!this.size) return;
    const p = this.close && focus ? this.px(focus) : { x: this.size.w / 2, y: this.size.h / 2 };
    this.stage.style.transform = `translate(${this.middle.x.toFixed(1)}px, ${this.middle.y.toFixed(1)}px) rotate(${this.turn}deg) translate(${(-p.x).toFixed(1)}px, ${(-p.y).toFixed(1)}px)`;
  }

  // thin leaves out marks that would lie on others, the chosen one always stays, and
  // names that are longer than what they name.
  thin() {
    const shown = [];
    const marks = [...this.drawing.querySelectorAll(".mark")];
    for (const name of this.drawing.querySelectorAll(".thing")) name.classList.toggle("left-out", name.getComputedTextLength() > Number(name.dataset.long) - 0.1);
    marks.sort((a, b) => rank(b) - rank(a));
    for (const mark of marks) {
      const [x, y] = mark.getAttribute("transform").match(/-?[\d.]+/g).map(Number);
      const clear = shown.every((p) => Math.hypot(p.x - x, p.y - y) * this.scale > 1.42 * this.letter);
      mark.classList.toggle("left-out", !clear);
      if (clear) shown.push({ x, y });
    }
  }
}

const rank = (mark) => (mark.classList.contains("chosen") ? 4 : 0) + (mark.classList.contains("faulty") ? 2 : 0) + (mark.dataset.number === "1" ? 1 : 0);
