// Talk with the server: a request is a command of the program, and the answer is
// what the command prints with --json.

import { plain } from "./plain.js";

// Refused is an answer that is one clear sentence instead of a document; raw is the
// sentence as the program says it.
export class Refused extends Error {
  constructor(words, code) { super(plain(words)); this.raw = words; this.code = code; }
}

const away = "Lapwright is not running any more on this machine: start lapwright page again.";

// send asks the server; what has no answer at all is told in plain words.
async function send(path, init) {
  let reply;
  try {
    reply = await fetch(path, init);
  } catch (e) {
    if (e.name === "AbortError") throw e;
    throw new Refused(away, 0);
  }
  return reply;
}

async function refusal(reply) {
  const text = await reply.text().catch(() => "");
  try {
    const said = JSON.parse(text.trim().split("\n").pop());
    return new Refused(said.error || text, reply.status);
  } catch {
    return new Refused(text.trim() || `The server answered ${reply.status}.`, reply.status);
  }
}

const json = (body) => ({ method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });

// ask runs a command. onLine gets every line before the last: {id}, {queued},
// {progress}. It gives {answer, code, notes, files}.
export async function ask(command, { args = [], flags = {}, files = {} } = {}, { signal, onLine } = {}) {
  const reply = await send("/do/" + command, { ...json({ args, flags, files }), signal });
  if (!reply.ok) throw await refusal(reply);
  let last = null, left = "";
  const reader = reply.body.pipeThrough(new TextDecoderStream()).getReader();
  const take = (line) => {
    if (!line.trim()) return;
    const said = JSON.parse(line);
    if ("answer" in said || "error" in said) last = said;
    else if (onLine) onLine(said);
  };
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    const lines = (left + value).split("\n");
    left = lines.pop();
    lines.forEach(take);
  }
  take(left);
  if (!last) throw new Refused("The answer broke off. Ask again.", 0);
  if ("error" in last) throw new Refused(last.error, last.code);
  return last;
}

// stop asks for the best so far of a run.
export const stop = (id) => send("/stop/" + encodeURIComponent(id), json({}));

// make asks for a file to take away.
export async function make(kind, body) {
  const reply = await send("/make/" + kind, json(body));
  if (!reply.ok) throw await refusal(reply);
  return reply.blob();
}

// Saved files: rooms, classes and routines. Each is known with the version that
// was read, so that a newer one is never written over.
const tags = new Map();
const place = (kind, name) => `/saved/${kind}/${encodeURIComponent(name)}`;

export const saved = {
  async list() {
    const reply = await send("/saved/");
    if (!reply.ok) throw await refusal(reply);
    return reply.json();
  },
  async load(kind, name) {
    const reply = await send(place(kind, name));
    if (!reply.ok) throw await refusal(reply);
    tags.set(kind + "/" + name, reply.headers.get("ETag"));
    return reply.text();
  },
  // save writes a file. over is true when the user has said that an existing file
  // of that name may be replaced.
  async save(kind, name, text) {
    const known = tags.get(kind + "/" + name);
    const headers = { "Content-Type": "application/yaml" };
    if (known) headers["If-Match"] = known; else headers["If-None-Match"] = "*";
    const reply = await send(place(kind, name), { method: "PUT", headers, body: text });
    if (!reply.ok) throw await refusal(reply);
    tags.set(kind + "/" + name, reply.headers.get("ETag"));
  },
  async remove(kind, name) {
    if (!tags.has(kind + "/" + name)) await saved.load(kind, name);
    const reply = await send(place(kind, name), { method: "DELETE", headers: { "If-Match": tags.get(kind + "/" + name) } });
    if (!reply.ok) throw await refusal(reply);
    tags.delete(kind + "/" + name);
  },
};
