// The shop's time on this device: its own clock, set right by what the shop's computer says.

const KEPT = 8;
const samples = [];
let offset = 0;

// A moment the shop's computer gave just now. It always comes late, never early: the largest difference is the truest.
export function heard(moment) {
  const difference = new Date(moment).getTime() - Date.now();
  if (!Number.isFinite(difference)) return;
  samples.push(difference);
  if (samples.length > KEPT) samples.shift();
  offset = Math.max(...samples);
}

export const now = () => Date.now() + offset;
export const stamp = () => new Date(now()).toISOString();
export const until = (moment) => (new Date(moment).getTime() - now()) / 1000;

// "1:05", as a clock on the wall shows it.
export function spelled(seconds) {
  const whole = Math.max(0, Math.ceil(seconds - 0.001));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

export function inWords(seconds) {
  const whole = Math.max(0, Math.ceil(seconds - 0.001));
  const minutes = Math.floor(whole / 60);
  const rest = `${whole % 60} seconds`;
  return minutes ? `${minutes} ${minutes === 1 ? "minute" : "minutes"} ${rest}` : rest;
}
