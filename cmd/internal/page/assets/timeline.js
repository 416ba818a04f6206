// Where every foot is at every beat: keyframes from the footprints of a routine,
// and places between them. A foot lands on its beat and is on its way for the
// better part of the beat before.
import { dancers, feet } from "./shoes.js";

const turned = (from, to) => { // the short way round, in degrees
  const d = (to - from) % 360;
  return from + (d > 180 ? d - 360 : d < -180 ? d + 360 : d);
};

const ease = (s) => s * s * (3 - 2 * s);

// timelineOf gives {beats, beatsInBar, tracks, couple, steps, barAt, at}.
export function timelineOf(routine) {
  const beats = routine.totals.beats;
  const beatsInBar = routine.totals.bars ? Math.round(beats / routine.totals.bars) : 3;
  const tracks = [];
  for (const who of dancers) {
    for (const foot of feet) {
      const start = (routine.feet || []).find((p) => p.dancer === who && p.foot === foot);
      const frames = start ? [{ beat: -Infinity, leaves: -Infinity, x: start.x, y: start.y, toe: start.toe }] : [];
      for (const f of routine.figures) {
        for (const s of f.steps) {
          const p = s[who];
          if (!p || p.foot !== foot) continue;
          const before = frames[frames.length - 1];
          frames.push({ beat: s.beat, leaves: s.beat - Math.min(0.75, s.beats), x: p.x, y: p.y, toe: before ? turned(before.toe, p.toe) : p.toe });
        }
      }
      tracks.push({ who, foot, frames, last: 0 });
    }
  }
  const couple = { frames: [{ beat: -1, x: routine.start.x, y: routine.start.y, facing: 0 }], last: 0 };
  const steps = [];
  for (const f of routine.figures) {
    for (const s of f.steps) {
      steps.push({ beat: s.beat, figure: f, step: s });
      if (!s.couple) continue;
      const before = couple.frames[couple.frames.length - 1];
      couple.frames.push({ beat: s.beat + s.beats * 0.5, x: s.couple.x, y: s.couple.y, facing: turned(before.facing, s.couple.facing) });
    }
  }
  if (couple.frames.length > 1) couple.frames[0].facing = couple.frames[1].facing;
  return { beats, beatsInBar, tracks, couple, steps, figures: routine.figures };
}

// seek moves a track's pointer to the last frame that has begun by a beat. Play
// goes forward, so that it rarely takes more than one step.
function seek(track, beat, begins) {
  const frames = track.frames;
  let i = Math.min(track.last, frames.length - 1);
  while (i > 0 && begins(frames[i]) > beat) i--;
  while (i + 1 < frames.length && begins(frames[i + 1]) <= beat) i++;
  track.last = i;
  return i;
}

const leaves = (f) => f.leaves;
const landed = (f) => f.beat;

// footAt is where a foot is at a beat: {x, y, toe, lift}, lift from 0 on the floor.
export function footAt(track, beat, out) {
  if (!track.frames.length) return null;
  const i = seek(track, beat, leaves), to = track.frames[i];
  if (i === 0 || beat >= to.beat) {
    out.x = to.x; out.y = to.y; out.toe = to.toe; out.lift = 0;
    return out;
  }
  const from = track.frames[i - 1];
  const s = ease(Math.max(0, Math.min(1, (beat - to.leaves) / (to.beat - to.leaves))));
  out.x = from.x + (to.x - from.x) * s;
  out.y = from.y + (to.y - from.y) * s;
  out.toe = from.toe + (to.toe - from.toe) * s;
  out.lift = 4 * s * (1 - s);
  return out;
}

// coupleAt is where the couple is at a beat, and which way it faces.
export function coupleAt(couple, beat, out) {
  const i = seek(couple, beat, landed), from = couple.frames[i], to = couple.frames[Math.min(i + 1, couple.frames.length - 1)];
  const s = to === from ? 0 : Math.max(0, Math.min(1, (beat - from.beat) / (to.beat - from.beat)));
  out.x = from.x + (to.x - from.x) * s;
  out.y = from.y + (to.y - from.y) * s;
  out.facing = from.facing + (to.facing - from.facing) * s;
  return out;
}

// stepAt is the number of the step that is being danced at a beat, -1 before.
export function stepAt(line, beat) {
  let low = -1, high = line.steps.length - 1;
  while (low < high) {
    const mid = Math.ceil((low + high) / 2);
    if (line.steps[mid].beat <= beat + 1e-6) low = mid; else high = mid - 1;
  }
  return low;
}
