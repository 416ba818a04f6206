// Names under which rooms, classes and routines are saved. The rules are those of the
// server (saved.go); here they are told before anything is sent, since a browser takes a
// name of dots for a folder.

const most = 60, mostBytes = 200;
const fits = /^[\p{L}\p{M}\p{Nd}](?:[\p{L}\p{M}\p{Nd} _'’-]*[\p{L}\p{M}\p{Nd}_'’-])?$/u;
const reserved = /^(?:con|prn|aux|nul|(?:com|lpt)[0-9])$/i;

// nameFault is a sentence that says what is wrong with a name, or nothing.
export function nameFault(words) {
  const name = words.normalize("NFC");
  if (!name) return "Give it a name first.";
  if (name.trim() !== name) return "A name neither begins nor ends with a space.";
  if ([...name].length > most) return `A name has at most ${most} letters.`;
  if (!fits.test(name)) return "A name begins with a letter or a digit, and has nothing but letters, digits, spaces, hyphens and apostrophes.";
  if (reserved.test(name)) return `Some machines keep the name ${name.toUpperCase()} for themselves: choose another.`;
  if (new TextEncoder().encode(name).length > mostBytes) return "That name is too long for a file: choose a shorter one.";
  return "";
}

// tidy makes a name that a file may have, or nothing.
export function tidy(words) {
  const name = words.normalize("NFC").replace(/[^\p{L}\p{M}\p{Nd} \-_'’]/gu, " ").replace(/\s+/g, " ").replace(/^[^\p{L}\p{Nd}]+/u, "").slice(0, most).trim();
  return nameFault(name) ? "" : name;
}
