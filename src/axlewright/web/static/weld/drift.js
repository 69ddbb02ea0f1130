// Expected against measured temperature, reading by reading.

const NS = "http://www.w3.org/2000/svg";
const WIDE = 320, HIGH = 120, LEFT = 34, LOW = 96;

export function drawDrift(into, drift, inch) {
  into.replaceChildren();
  if (!drift.length) return;
  const shown = drift.slice(-8);
  const degrees = shown.flatMap((one) => [one.expected_c, one.measured_c]);
  const low = Math.floor((Math.min(...degrees) - 5) / 10) * 10;
  const high = Math.ceil((Math.max(...degrees) + 5) / 10) * 10;
  const x = (k) => LEFT + 34 + (k * (WIDE - LEFT - 68)) / Math.max(1, shown.length - 1);
  const y = (c) => LOW - ((c - low) * (LOW - 14)) / (high - low);
  const svg = make("svg", { viewBox: `0 0 ${WIDE} ${HIGH}`, class: "weld-drift", "aria-hidden": "true", focusable: "false" });
  for (const level of [low, high]) {
    svg.append(make("path", { class: "thin", d: `M${LEFT} ${y(level)}H${WIDE}` }), word(LEFT - 4, y(level) + 4, degree(level, inch), "end"));
  }
  svg.append(make("path", { class: "expected", d: path(shown, "expected_c", x, y) }));
  shown.forEach((one, k) => {
    svg.append(make("path", { class: "apart", d: `M${x(k)} ${y(one.expected_c)}V${y(one.measured_c)}` }));
    svg.append(make("circle", { class: "expected", cx: x(k), cy: y(one.expected_c), r: 4 }));
    svg.append(make("path", { class: one.within ? "measured" : "measured out", d: diamond(x(k), y(one.measured_c)) }));
    svg.append(word(x(k), HIGH - 6, short(one.place), "middle"));
  });
  into.append(svg, list(shown, inch));
}

function list(shown, inch) {
  const lines = document.createElement("ol");
  lines.className = "only-read";
  for (const one of shown) {
    const line = document.createElement("li");
    line.textContent = `${one.place.replace(/^\((.*)\)$/, "$1")}: expected ${degree(one.expected_c, inch)}, measured ${degree(one.measured_c, inch)}, ` +
      (one.within ? "as sure as the plan says" : "further off than the plan says");
    lines.append(line);
  }
  return lines;
}

export const degree = (celsius, inch) => `${Math.round(inch ? celsius * 1.8 + 32 : celsius)} ${inch ? "°F" : "°C"}`.replace("-", "−");

// A bead's name where there is one; the list beside the drawing has the whole place.
const short = (place) => place.match(/\b[A-Z]+\d+\b/)?.[0] ?? place.replace(/[()]/g, "").slice(0, 12);

// Unit names of the record in print.
export const typeset = (words) => words.replace(/\s?\bdeg([CF])\b/g, " °$1");

const path = (shown, of, x, y) => shown.map((one, k) => `${k ? "L" : "M"}${x(k)} ${y(one[of])}`).join("");
const diamond = (x, y) => `M${x} ${y - 5}l5 5l-5 5l-5 -5z`;

function make(name, attributes) {
  const element = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}

function word(x, y, words, anchor) {
  const text = make("text", { x, y, "text-anchor": anchor });
  text.textContent = words;
  return text;
}
