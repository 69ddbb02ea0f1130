// The colour scale with its numbers.

import { CIVIDIS } from "./cividis.js";

export function drawScale(element, { low, step }, words) {
  const colours = CIVIDIS.map((colour) => `rgb(${colour.map((part) => Math.round(255 * part)).join(" ")})`);
  const [bar, numbers] = ["bar", "numbers"].map((name) => {
    const part = document.createElement("div");
    part.className = `view-scale-${name}`;
    element.append(part);
    return part;
  });
  const ends = [low, low + 4 * step].map((degrees) => `${degrees} ${words.degreeUnit}`);
  element.setAttribute("aria-label", `Colour scale of skin temperature: dark blue at ${ends[0]} to yellow at ${ends[1]} and above`);
  bar.style.backgroundImage = `linear-gradient(to right, ${colours.join(", ")})`;
  for (let n = 0; n <= 4; n += 1) {
    const number = document.createElement("span");
    number.textContent = `${low + n * step}${n === 4 ? `+ ${words.degreeUnit}` : ""}`;
    numbers.append(number);
  }
}
