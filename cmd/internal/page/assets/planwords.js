// What the program says of the file of a plan, in the names that the page has for the
// parts of the plan: corner 3, side 2, the stage.

// thingName is what a thing is called within a sentence.
export function thingName(o, i) {
  const name = o && o.name ? o.name.trim() : "";
  if (!name) return `thing ${i + 1}`;
  return /^\p{Ll}/u.test(name) && !/\d$/.test(name) && !/^(the|a|an|our|my)\s/.test(name) ? "the " + name : name;
}

// fields are the names of what a plan's file has.
const fields = { name: "the room’s name", margin: "what is kept free at the walls", capacity: "the posted limit", outline: "the outline", walls: "the names of the sides", obstacles: "what stands in the room" };
const places = /^(name|outline|margin|capacity|obstacles|walls)((?:\[\d+\]|\.\w+)*): /;

// part names what a path such as obstacles[1].outline[2] leads to.
function part(plan, field, path) {
  const steps = path.match(/\d+|[a-z]+/g) || [], i = Number(steps[0]) - 1;
  if (!steps.length) return fields[field];
  if (field === "outline") return `corner ${i + 1}`;
  if (field === "walls") return `the name of side ${i + 1}`;
  const thing = thingName(plan && plan.obstacles[i], i);
  switch (steps[1]) {
    case undefined: return thing;
    case "outline": return steps[2] ? `corner ${steps[2]} of ${thing}` : thing;
    case "centre": return `the middle of ${thing}`;
    default: return `the ${steps[1]} of ${thing}`;
  }
}

// corner is which corner of the plan is at a place.
function corner(plan, x, y) {
  const i = plan ? plan.outline.findIndex((p) => Math.hypot(p.x - x, p.y - y) < 0.006) : -1;
  return i < 0 ? `the place ${x}, ${y}` : `corner ${i + 1}`;
}

// plainly says it; plan is what was sent, or null. It gives one sentence for each fault.
export function plainly(words, plan) {
  return words.split("\n").map((line) => sentence(line.trim(), plan)).filter(Boolean);
}

function sentence(line, plan) {
  let rest = line.replace(/^lapwright: /, "").replace(/^room\.yaml:(\d+:\s*)?/, ""), about = "";
  const found = rest.match(places);
  if (found) {
    about = part(plan, found[1], found[2]);
    rest = rest.slice(found[0].length);
  }
  // A fault of the whole outline, or one that names its corners itself, needs no place.
  if (found && /^(the (corner|outline|last)|corner |\d+ corners)/.test(rest)) about = about.replace(/^corner \d+ of /, "");
  if (found && found[1] === "outline" && (found[2] === "" || /^(the |corner |no couple|\d+ corners)/.test(rest))) about = "";
  if (/^the obstacle "(?:[^"\\]|\\.)*" /.test(rest)) {
    rest = about + " " + rest.replace(/^the obstacle "(?:[^"\\]|\\.)*" /, "");
    about = "";
  }
  rest = rest
    .replace(/the last corner repeats the first, \[[^\]]*\]; .*$/, "the last corner lies on corner 1; move it away, or delete it")
    .replace(/corner (\d+) repeats corner (\d+), \[[^\]]*\]; .*$/, "corner $1 lies on corner $2; move it away, or delete it")
    .replace(/the side from corner (\d+) to \d+/g, "side $1")
    .replace("; list the corners in the order in which one walks round", "; move a corner so that the sides lie apart")
    .replace(/ at corner (\d+), \[[^\]]*\]; leave out the corner at the tip/, " at corner $1; move that corner, or delete it")
    .replace("; are the corners in metres?", "")
    .replace("or draw the outline without this corner", "or delete this corner")
    .replace("move it inside the outline, or leave it out", "move it inside the walls, or delete it")
    .replace(/the corner from wall \d+ to wall \d+,? near \[([-\d.e+]+), ([-\d.e+]+)\]/g, (_, x, y) => { const at = corner(plan, Number(x), Number(y)); return at.startsWith("corner") ? at : "the corner at " + at; })
    .replace(/\[([-\d.e+]+), ([-\d.e+]+)\]/g, (_, x, y) => corner(plan, Number(x), Number(y)))
    .replace(/([-\d.]+(?:e[+-]?\d+)?) is out of range: a number (from \S+ to \S+) is expected/, (_, x, range) => `it has to be ${range}, and is ${Number(x)}`)
    .replace(/\d(?:\.\d+)?e[+-]\d+/g, (x) => String(Number(x)));
  const whole = about ? `${about}: ${rest}` : rest;
  return whole && whole[0].toUpperCase() + whole.slice(1) + (/[.!?]$/.test(whole) ? "" : ".");
}
