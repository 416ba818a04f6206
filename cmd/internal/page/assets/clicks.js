// What is heard: clicks on every beat, the first of a bar accented, and figures
// called by the browser's voice where it has one.

let context = null;

// wake makes sound possible; browsers ask that a person has pressed something first.
export function wake() {
  const Context = window.AudioContext || window.webkitAudioContext;
  if (!context && Context) context = new Context();
  if (context && context.state === "suspended") context.resume();
  return context;
}

// clicks counts what was sounded, for whoever asks whether there was any.
export const clicks = { sounded: 0, accents: 0 };

// click sounds once, after so many seconds.
export function click(accent, after, loud = 1) {
  if (!context) return;
  const begin = context.currentTime + Math.max(0, after);
  const tone = context.createOscillator(), volume = context.createGain();
  tone.type = "triangle";
  tone.frequency.setValueAtTime(accent ? 1560 : 1040, begin);
  tone.frequency.exponentialRampToValueAtTime(accent ? 780 : 620, begin + 0.05);
  volume.gain.setValueAtTime((accent ? 0.5 : 0.24) * loud, begin);
  volume.gain.exponentialRampToValueAtTime(0.0008, begin + 0.07);
  tone.connect(volume).connect(context.destination);
  tone.start(begin);
  tone.stop(begin + 0.09);
  clicks.sounded++;
  if (accent) clicks.accents++;
}

// chime is two soft notes that say: a call comes now.
export function chime(after = 0) {
  if (!context) return;
  for (const [i, pitch] of [523.25, 659.25].entries()) {
    const begin = context.currentTime + after + i * 0.11;
    const tone = context.createOscillator(), volume = context.createGain();
    tone.frequency.value = pitch;
    volume.gain.setValueAtTime(0.0001, begin);
    volume.gain.exponentialRampToValueAtTime(0.16, begin + 0.02);
    volume.gain.exponentialRampToValueAtTime(0.0005, begin + 0.22);
    tone.connect(volume).connect(context.destination);
    tone.start(begin);
    tone.stop(begin + 0.25);
  }
}

// hasVoice tells whether the browser can speak without asking another machine.
export function localVoice() {
  if (!window.speechSynthesis) return null;
  const voices = speechSynthesis.getVoices().filter((v) => v.localService);
  return voices.find((v) => v.lang.toLowerCase().startsWith("en")) || voices[0] || null;
}

// speak calls a figure, with a voice of this machine only: a voice that is served
// by another one would carry the words out of the house.
export function speak(words, rate = 1.15) {
  const voice = localVoice();
  if (!voice) return false;
  speechSynthesis.cancel();
  const call = new SpeechSynthesisUtterance(words);
  call.voice = voice;
  call.lang = voice.lang;
  call.rate = rate;
  speechSynthesis.speak(call);
  return true;
}

export function hush() {
  if (window.speechSynthesis) speechSynthesis.cancel();
}

// Beat keeps time: where in the music we are, at a tempo that may change, with
// clicks sounded a little ahead of their time.
export class Beat {
  constructor() {
    this.tempo = 29;       // bars a minute
    this.beatsInBar = 3;
    this.running = false;
    this.sound = true;
    this.base = 0;         // the beat at the moment since
    this.since = 0;        // seconds of the page's clock
    this.next = 0;         // the next beat to be sounded
    this.end = Infinity;   // the beat at which it stops
    this.timer = 0;
  }

  get rate() { return this.tempo * this.beatsInBar / 60; } // beats a second

  now() {
    if (!this.running) return this.base;
    return this.base + (performance.now() / 1000 - this.since) * this.rate;
  }

  go(beat, end) {
    wake();
    this.base = beat;
    this.since = performance.now() / 1000;
    this.next = Math.ceil(beat - 1e-6);
    this.end = end;
    this.running = true;
    clearInterval(this.timer);
    this.timer = setInterval(() => this.sounds(), 30);
    this.sounds();
  }

  halt() {
    this.base = this.now();
    this.running = false;
    clearInterval(this.timer);
  }

  setTempo(tempo) {
    this.base = this.now();
    this.since = performance.now() / 1000;
    this.tempo = tempo;
  }

  // sounds gives the clicks of the next moment to the sound card, which keeps their
  // time. A page that is not looked at is woken rarely, so it looks further ahead.
  sounds() {
    const now = this.now(), ahead = (document.hidden ? 1.6 : 0.12) * this.rate;
    while (this.next < Math.min(now + ahead, this.end)) {
      if (this.sound) click(((this.next % this.beatsInBar) + this.beatsInBar) % this.beatsInBar === 0, (this.next - now) / this.rate);
      this.next++;
    }
  }
}
