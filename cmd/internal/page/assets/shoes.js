// The four shoes and the prints that they leave. The leader's are broad, filled and
// blue, the follower's have a narrow heel and a pointed toe, are hollow and
// orange: shape, filling and colour all tell them apart.
import { draw } from "./elements.js";
import { at } from "./floor.js";

// Right shoes, toe along x, in metres; left ones are turned over.
const shapes = {
  leader: "M-0.02,-0.046 C0.03,-0.052 0.09,-0.062 0.132,-0.036 C0.162,-0.014 0.158,0.03 0.118,0.048 C0.07,0.062 0.02,0.048 -0.03,0.041 Z M-0.048,-0.042 C-0.09,-0.052 -0.142,-0.042 -0.146,0 C-0.142,0.042 -0.09,0.05 -0.048,0.041 Z",
  follower: "M-0.022,-0.03 C0.02,-0.044 0.06,-0.05 0.086,-0.038 C0.112,-0.024 0.14,-0.004 0.142,0.004 C0.13,0.022 0.1,0.046 0.06,0.046 C0.02,0.044 -0.006,0.03 -0.022,0.022 Z M-0.09,-0.021 C-0.118,-0.021 -0.13,-0.012 -0.13,0 C-0.13,0.012 -0.118,0.021 -0.09,0.021 C-0.07,0.018 -0.07,-0.018 -0.09,-0.021 Z",
};

export const dancers = ["leader", "follower"];
export const feet = ["left foot", "right foot"];

// shoe draws one shoe about its own middle.
export const shoe = (who, foot, attributes) => draw("path", { d: shapes[who], class: `shoe ${who}`, transform: foot === "left foot" ? "scale(1,1)" : "scale(1,-1)", ...attributes });

let shoeNames = 0;

// printsOf draws a routine: the couple's path, the prints of every figure, and a
// mark with the bar where each figure begins.
export function printsOf(routine, faulty = new Set()) {
  const g = draw("g", { class: "prints" });
  const id = "shoes" + (++shoeNames);
  g.append(draw("defs", {}, dancers.flatMap((who) => feet.map((foot) => draw("g", { id: `${id}-${who}-${foot[0]}` }, shoe(who, foot))))));
  const path = [routine.start];
  for (const f of routine.figures) for (const s of f.steps) if (s.couple) path.push(s.couple);
  g.append(draw("polyline", { class: "path", points: path.map(at).join(" ") }));
  const print = (who, p) => draw("use", { href: `#${id}-${who}-${p.foot[0]}`, transform: `translate(${at(p)}) rotate(${-p.toe})` });
  const standing = draw("g", { class: "stand" });
  for (const p of routine.feet || []) standing.append(print(p.dancer, p));
  g.append(standing);
  for (const f of routine.figures) {
    const group = draw("g", { class: "figure" + (faulty.has(f.number) ? " faulty" : ""), "data-number": f.number });
    for (const s of f.steps) for (const who of dancers) if (s[who]) group.append(print(who, s[who]));
    g.append(group);
  }
  const marks = draw("g", { class: "marks" });
  for (const f of routine.figures) {
    const wrong = faulty.has(f.number);
    const mark = draw("g", { class: "mark" + (wrong ? " faulty" : ""), "data-number": f.number, transform: `translate(${at(f.from)})` }, draw("g", { class: "upright" },
      wrong ? draw("path", { d: "M0,-1.25 L1.2,0.85 L-1.2,0.85 Z" }) : draw("circle", { r: 1 }), draw("text", { dy: "0.36", text: f.bar }), draw("title", { text: `Bar ${f.bar}: ${f.name}` })));
    marks.append(mark);
  }
  g.append(marks);
  return g;
}
