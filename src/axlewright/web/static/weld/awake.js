// The screen stays awake, and the browser's own voice tells the next bead where that is wanted.

const KEPT = "weld-voice";
let lock = null;

export async function stayAwake() {
  if (!("wakeLock" in navigator)) return "This browser lets the screen go dark: set the device to stay on.";
  document.addEventListener("visibilitychange", ask);
  await ask();
  return "";
}

async function ask() {
  if (document.hidden || (lock && !lock.released)) return;
  lock = await navigator.wakeLock.request("screen").catch(() => null);
}

export const canSpeak = () => "speechSynthesis" in window;
export const speaks = () => canSpeak() && localStorage.getItem(KEPT) === "on";
export function speakFrom(on) {
  localStorage.setItem(KEPT, on ? "on" : "off");
  if (!on && canSpeak()) speechSynthesis.cancel();
}

export function say(words) {
  if (!speaks() || !words) return;
  speechSynthesis.cancel();
  const spoken = new SpeechSynthesisUtterance(words);
  spoken.lang = "en";
  spoken.rate = 0.95;
  speechSynthesis.speak(spoken);
}
