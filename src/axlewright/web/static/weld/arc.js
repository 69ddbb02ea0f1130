// Start and stop of the arc: the big control, the space bar, or any key of a foot switch.

const BOUNCE = 600;
const ELSEWHERE = new Set(["Tab", "Escape", "Enter", "Shift", "Control", "Alt", "AltGraph", "Meta", "CapsLock", "NumLock", "ScrollLock",
  "ContextMenu", "ArrowUp", "ArrowDown", "ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown", "Dead", "Process",
  "Unidentified", "Insert", "PrintScreen", "Pause"]);

// tap(): the arc starts, or stops; a switch that bounces, and a key that repeats, count once.
export function arcControl(button, tap) {
  let last = -Infinity;
  const once = () => {
    if (button.disabled || button.hidden || performance.now() - last < BOUNCE) return;
    last = performance.now();
    tap();
  };
  button.addEventListener("click", (event) => {
    // A key pressed on the control comes as a click as well (detail 0): the key has done it, except by a screen reader.
    if (event.detail === 0 && performance.now() - last < BOUNCE) return;
    once();
  });
  document.addEventListener("keydown", (event) => {
    if (!isSwitch(event, button)) return;
    event.preventDefault();
    if (!event.repeat) once();
  });
  // Firefox clicks a button when the space bar comes up.
  button.addEventListener("keyup", (event) => event.key === " " && event.preventDefault());
}

function isSwitch(event, button) {
  if (event.defaultPrevented || event.isComposing || event.ctrlKey || event.altKey || event.metaKey) return false;
  if (ELSEWHERE.has(event.key)) return event.key === "Enter" && event.target === button;
  if (/^F([1-9]|1[0-2])$/.test(event.key) || /^(Audio|Media|Browser|Launch|Volume|Bright)/.test(event.key)) return false;
  // An arc that burns can be stopped whatever is open.
  if (document.querySelector("dialog[open]") && !document.querySelector('[data-shows="burning"]')) return false;
  if (event.target.closest?.("input, select, textarea, [contenteditable]")) return false;
  const elsewhere = event.target.closest?.("button, a, summary");
  // The space bar on another button is that button's.
  return !(elsewhere && elsewhere !== button && event.key === " ");
}
