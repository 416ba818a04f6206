// What can be typed of a plan: its sides with their corners, and what stands in it.
import { el } from "./elements.js";
import { boxOf, lengthOf, middleOf, resize, shift, stretch } from "./outline.js";
import { thingName } from "./planwords.js";

const two = (x) => String(Math.round(x * 100) / 100);
const put = (field, value) => { if (field.value !== value) field.value = value; };

// numbers makes the lists. plan gives the plan that is drawn; redo is called after a
// change, refuse with a sentence where what was typed cannot be, and said with words for those
// who listen. build makes the lists anew for other sides or things, tell writes into them what
// the plan has now, so that the focus stays where it is.
export function numbers({ plan, redo, refuse, said }) {
  const sides = el("tbody"), things = el("div", { class: "things" });
  let rows = [];

  // metres is what was typed into a field, or nothing after a refusal.
  function metres(field, what, low, high) {
    const value = Number(field.value);
    const fault = field.value.trim() === "" || !Number.isFinite(value) ? `${what} has to be a number of metres.`
      : value < low || value > high ? `${what} has to be from ${low} to ${high} m, and not ${value} m.` : "";
    if (fault) { tell(); refuse(fault); return null; }
    return value;
  }

  const tell = () => rows.forEach((row) => row.tell());
  const change = (act) => { act(); tell(); redo(); };

  function build() {
    const p = plan();
    const sideRows = p.outline.map((_, i) => sideRow(i)), thingRows = p.obstacles.map((_, i) => thingRow(i));
    rows = [...sideRows, ...thingRows];
    sides.replaceChildren(...sideRows.map((r) => r.node));
    things.replaceChildren(...(thingRows.length ? thingRows.map((r) => r.node) : [el("p", { class: "quiet", text: "Nothing: the floor is free." })]));
    tell();
  }

  // focus goes to the row of a list: to its way to delete, or to its name.
  function focus(list, i, on) {
    const row = list.children[Math.min(i, list.children.length - 1)];
    const to = row && (row.querySelector(`${on}:enabled`) || row.querySelector("input"));
    if (to) to.focus();
    return Boolean(to);
  }

  function sideRow(i) {
    const ends = () => [plan().outline[i], plan().outline[(i + 1) % plan().outline.length]];
    const length = el("input", { type: "number", step: "any", min: 0.1, max: 500, "aria-label": `Length of side ${i + 1} in metres`, "data-side": i, onchange: () => {
      const value = metres(length, `Side ${i + 1}`, 0.1, 500);
      if (value === null) return;
      if (!(lengthOf(...ends()) > 0)) { tell(); refuse(`Corner ${i + 1} and corner ${(i + 1) % plan().outline.length + 1} lie on each other: move one of them away first.`); return; }
      change(() => stretch(plan().outline, i, value));
    } });
    const words = el("input", { maxlength: 40, placeholder: `side ${i + 1}`, "aria-label": `Name of side ${i + 1}`, onchange: () => change(() => { plan().walls[i] = words.value.trim(); }) });
    const more = el("button", { type: "button", "aria-label": `New corner in the middle of side ${i + 1}`, title: "New corner in its middle", onclick: () => {
      const [a, b] = ends(), p = plan();
      p.outline.splice(i + 1, 0, { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
      p.walls.splice(i + 1, 0, "");
      build();
      redo();
      focus(sides, i + 1, "input");
      said(`Corner ${i + 2} added, in the middle of side ${i + 1}. There are ${p.outline.length} corners.`);
    } }, "+");
    const less = el("button", { type: "button", class: "delete", "aria-label": `Delete corner ${i + 1}, where side ${i + 1} begins`, title: "Delete the corner at its beginning", onclick: () => {
      const p = plan();
      p.outline.splice(i, 1);
      p.walls.splice(i, 1);
      build();
      redo();
      focus(sides, i, ".delete");
      said(`Corner ${i + 1} deleted. There are ${p.outline.length} corners.`);
    } }, "✕");
    return {
      node: el("tr", {}, el("th", { scope: "row", text: i + 1 }), el("td", {}, words), el("td", {}, length), el("td", {}, more, " ", less)),
      tell() {
        put(length, two(lengthOf(...ends())));
        put(words, plan().walls[i] || "");
        less.disabled = plan().outline.length <= 3;
      },
    };
  }

  // thingRow is what can be typed of a column or of something with corners.
  function thingRow(i) {
    const thing = () => plan().obstacles[i], round = !thing().outline.length;
    const words = el("input", { maxlength: 40, onchange: () => change(() => { thing().name = words.value.trim(); }) });
    const fields = [];
    const field = (label, [low, high], value, set) => {
      const f = el("input", { type: "number", step: "any", min: low, max: high, "data-thing": i, "data-field": label, onchange: () => {
        const v = metres(f, label, low, high);
        if (v !== null) change(() => set(thing(), v));
      } });
      fields.push(() => put(f, two(value(thing()))));
      return el("label", {}, label, f);
    };
    const far = [-200, 200], size = [0.1, 200];
    const less = el("button", { type: "button", class: "delete", onclick: () => {
      const name = thingName(thing(), i), p = plan();
      p.obstacles.splice(i, 1);
      build();
      redo();
      if (!focus(things, i, ".delete")) document.getElementById("room-column").focus();
      said(`Deleted: ${name}. ${p.obstacles.length ? "What stands in the room: " + p.obstacles.map(thingName).join(", ") : "Nothing stands in the room"}.`);
    } }, "✕");
    const node = el("div", { class: "thing-row", role: "group" }, el("label", { class: "name" }, "Name", words), less,
      field("Middle x", far, (o) => middleOf(o).x, (o, v) => shift(o, v, middleOf(o).y)), field("Middle y", far, (o) => middleOf(o).y, (o, v) => shift(o, middleOf(o).x, v)),
      round ? field("Radius", [0.01, 100], (o) => o.radius, (o, v) => { o.radius = v; })
        : [field("Width", size, (o) => boxOf(o).w, (o, v) => resize(o, v, boxOf(o).h)), field("Depth", size, (o) => boxOf(o).h, (o, v) => resize(o, boxOf(o).w, v))]);
    return {
      node,
      tell() {
        const name = thing().name || `thing ${i + 1}`;
        node.setAttribute("aria-label", name);
        less.setAttribute("aria-label", `Delete ${name}`);
        put(words, thing().name);
        fields.forEach((f) => f());
      },
    };
  }

  return { sides, things, build, tell };
}
