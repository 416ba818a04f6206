// Files that the browser keeps, or that it is given from the machine.
import { el } from "./elements.js";

// download gives a file to the browser to keep.
export function download(blob, name) {
  const address = URL.createObjectURL(blob);
  const a = el("a", { href: address, download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

// fileName makes a name for a file of what something is called.
export const fileName = (words) => words.normalize("NFC").replace(/[^\p{L}\p{Nd} \-_']/gu, " ").replace(/\s+/g, " ").trim().slice(0, 60) || "routine";

const most = 1 << 20; // bytes

// upload asks for a file of text; act gets its name, without the ending, and what it says.
export function upload(act, wrong) {
  const input = el("input", { type: "file", accept: ".yaml,.yml,application/yaml,text/plain", onchange: async () => {
    const file = input.files[0];
    if (!file) return;
    if (file.size > most) { wrong(`“${file.name}” is larger than 1 MB.`); return; }
    let text = "";
    try {
      text = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
    } catch {
      wrong(`“${file.name}” is not a file of text.`);
      return;
    }
    await act(file.name.replace(/\.[^.]*$/, ""), text);
  } });
  input.click();
}
