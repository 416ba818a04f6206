// The program's sentences in the page's own words: where the program has flags and
// files, the page has fields and sheets.

// names are what the fields of the page are called, by the flag that each fills in.
export const names = {
  bars: "Bars", laps: "Times round", must: "Must have", without: "Never", uses: "No figure more often than", apart: "Bars between two uses",
  different: "Different figures, at least", "right-turns": "Right turns in a row, at most", phrase: "End on a phrase", hardest: "Points a bar, at most",
  cap: "At most so many of a set", order: "Only after", fix: "Figure at a bar", "leader-step": "Leader’s longest step", "follower-step": "Follower’s longest step",
  stride: "Stride", margin: "Kept free at the walls", time: "Look for at most", seed: "Seed", room: "Room", tempo: "Bars a minute",
  level: "Levels", style: "Style", known: "Figures that are ticked", class: "Class", week: "Week",
  keep: "Keep", replace: "Bars to dance otherwise", "begin-with": "Put it here", count: "How many", tolerance: "Ends as near as", "bars-off": "Bars more or fewer", sort: "First comes", whole: "Dance the rest otherwise",
  focus: "More often than others", minutes: "Minutes", cards: "Cards", paper: "Paper",
  weeks: "Weeks", "per-week": "Figures a week", most: "Figures at once", stretch: "Reach or hold back", "both-ways": "Both ways round", all: "All of them",
};

// rules turn a sentence, one after the other. shift is by how many lines the text that
// the program has read is longer than what was written.
const rules = (shift) => [
  // Where another command would tell more, the page shows it anyway.
  [/(?:[;,]\s*|\s+|^)lapwright [a-z-]+(?: [^\s;:,]+)*? (?:tells|shows|lists)\b[^.;:]*/g, ""],
  [/; a room of your own is named by its file, such as [^;.]*\.yaml/g, ""],
  [/^lapwright: (?:note: )?/g, ""],
  [/\broutine\.yaml:(\d+)(?::\d+)?:?/g, (_, n) => `Line ${Math.max(1, n - shift)}:`],
  [/\b(room|class)\.yaml:(\d+)(?::\d+)?:?/g, "the $1’s file, line $2:"],
  [/(^|:\s)(?:figures|obstacles|outline|walls|weeks|start|steps)(?:\[\d+\])?(?:\.[a-z_ ]+(?:\[\d+\])?)*: /g, "$1"],
  [/:(\s*):/g, ":"],
  [/\broutine\.yaml\b/g, "the routine"], [/\b(room|class)\.yaml\b/g, "the $1’s file"],
  [/--([a-z][a-z-]*)=?/g, (_, name) => `“${names[name] || name.replaceAll("-", " ")}” `],
  [/” ([:;,.)]|$)/g, "”$1"],
  [/ {2,}/g, " "],
];

// plain is a sentence for somebody who sees the page.
export function plain(words, shift = 0) {
  let out = String(words);
  for (const [what, by] of rules(shift)) out = out.replace(what, by);
  out = out.trim();
  return out && out[0].toUpperCase() + out.slice(1);
}
