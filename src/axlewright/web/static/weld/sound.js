// Two sounds, made here: a rising pair for "go", a low one three times for "stop, too hot". Asked for once by a tap, as
// browsers want it; the choice is remembered.

import { until } from "./clock.js";

const KEPT = "weld-sound";
const GO = [[0, 660, 0.16], [0.2, 990, 0.34]];
const STOP = [[0, 196, 0.3], [0.4, 165, 0.3], [0.8, 196, 0.3], [1.2, 165, 0.5]];

let context = null;
let ahead = [];
let aheadFor = "";

export const wanted = () => localStorage.getItem(KEPT) === "on";
export const ready = () => context?.state === "running";

export async function turn(on) {
  localStorage.setItem(KEPT, on ? "on" : "off");
  if (!on) return silence();
  context ??= new AudioContext();
  await context.resume();
}

// A first touch of the page, where sound was wanted before it was loaded anew.
export function wake() {
  if (wanted() && !ready()) turn(true).catch(() => {});
}

// The sound for "go" is laid down beforehand: a tab in the background is asked too seldom to be on time.
export function goAt(moment) {
  if (moment === aheadFor) return;
  silence();
  if (!moment || !wanted() || !ready()) return;
  const wait = until(moment);
  if (wait < 0.05) return;
  aheadFor = moment;
  ahead = play(GO, "triangle", context.currentTime + wait);
}

export function go() {
  if (wanted() && ready()) play(GO, "triangle", context.currentTime);
  note("go");
}

export function stop() {
  if (wanted() && ready()) play(STOP, "square", context.currentTime);
  note("stop");
}

function silence() {
  for (const tone of ahead) tone.stop();
  ahead = [];
  aheadFor = "";
}

function play(tones, shape, begin) {
  return tones.map(([after, pitch, length]) => {
    const tone = context.createOscillator();
    const loud = context.createGain();
    tone.type = shape;
    tone.frequency.value = pitch;
    loud.gain.setValueAtTime(0.0001, begin + after);
    loud.gain.exponentialRampToValueAtTime(0.4, begin + after + 0.02);
    loud.gain.setValueAtTime(0.4, begin + after + length - 0.05);
    loud.gain.exponentialRampToValueAtTime(0.0001, begin + after + length);
    tone.connect(loud).connect(context.destination);
    tone.start(begin + after);
    tone.stop(begin + after + length);
    return tone;
  });
}

function note(which) {
  document.dispatchEvent(new CustomEvent("weld:sound", { detail: which }));
}
