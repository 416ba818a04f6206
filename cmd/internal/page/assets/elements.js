// Small makers of elements. All text goes in as text, never as markup, so that a
// name can hold whatever it likes.

const svgNames = "http://www.w3.org/2000/svg";

// fill puts attributes and children into an element. A key that begins with "on"
// is a listener; "text" is text; true and false set and leave out an attribute.
function fill(node, attributes, children) {
  for (const [key, value] of Object.entries(attributes || {})) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key === "text") node.textContent = value;
    else if (key === "value" && "value" in node) node.value = value;
    else if (key === "checked" || key === "disabled" || key === "hidden" || key === "open") node[key] = value;
    else node.setAttribute(key, value === true ? "" : value);
  }
  for (const child of children.flat(Infinity)) {
    if (child === undefined || child === null || child === false) continue;
    node.append(child);
  }
  return node;
}

// el makes an element of the page.
export const el = (name, attributes, ...children) => fill(document.createElement(name), attributes, children);

// draw makes an element of a drawing.
export const draw = (name, attributes, ...children) => fill(document.createElementNS(svgNames, name), attributes, children);

export const byId = (id) => document.getElementById(id);

// say tells something to those who listen to the page instead of looking at it.
export function say(words) {
  byId("say").textContent = "";
  setTimeout(() => { byId("say").textContent = words; }, 30);
}

// later runs a function when its caller has been quiet for a while.
export function later(wait, run) {
  let timer = 0;
  return (...args) => { clearTimeout(timer); timer = setTimeout(() => run(...args), wait); };
}
