// Marks as the shop reads them ("310 mm", "12 3/4 in", "4:30", "seam 40 mm"), and stepping them.

const INCH = /^(-)?(?:(\d+)(?:\s+(\d+)\/(\d+))?|(\d+)\/(\d+))\s*in$/;
const PLAIN = /^(-?\d+(?:\.\d+)?)\s*(mm|°C|°F|degC|degF)?$/;

// What a mark says: kind of step, whole number of steps, and words before it. Nothing where it cannot be read.
export function read(text) {
  const trimmed = (text ?? "").replace("−", "-").trim();
  const before = trimmed.startsWith("seam ") ? "seam " : "";
  const rest = trimmed.slice(before.length);
  const clock = rest.match(/^(\d{1,2}):(\d{2})$/);
  if (clock) return { kind: "clock", before, steps: (Number(clock[1]) % 12) * 60 + Number(clock[2]) };
  const inch = rest.match(INCH);
  if (inch) return { kind: "inch", before, steps: sixteenths(inch) };
  const plain = rest.match(PLAIN);
  return plain ? { kind: "plain", before, steps: Number(plain[1]), unit: plain[2] ?? "" } : null;
}

function sixteenths([, minus, whole, top, bottom, onlyTop, onlyBottom]) {
  const part = onlyTop ? Number(onlyTop) / Number(onlyBottom) : top ? Number(top) / Number(bottom) : 0;
  return Math.round((Number(whole ?? 0) + part) * 16) * (minus ? -1 : 1);
}

export function write(mark) {
  if (mark.kind === "clock") {
    const minutes = ((mark.steps % 720) + 720) % 720;
    return `${mark.before}${Math.floor(minutes / 60) || 12}:${String(minutes % 60).padStart(2, "0")}`;
  }
  if (mark.kind === "inch") return `${mark.before}${inches(mark.steps)} in`;
  return `${mark.before}${mark.steps}${mark.unit ? ` ${mark.unit}` : ""}`;
}

function inches(steps) {
  const size = Math.abs(steps);
  const whole = Math.floor(size / 16);
  let top = size % 16;
  let bottom = 16;
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  const words = [whole || !top ? String(whole) : "", top ? `${top}/${bottom}` : ""].filter(Boolean);
  return (steps < 0 ? "-" : "") + words.join(" ");
}

// A small and a large step: millimetres and degrees by 1 and 10, a tape by 1/16 and 1/2 in, a clock by 5 and 30 minutes.
export const STEPS = { plain: [1, 10], inch: [1, 8], clock: [5, 30] };

export function stepped(text, large, times) {
  const mark = read(text);
  if (!mark) return text;
  return write({ ...mark, steps: mark.steps + times * STEPS[mark.kind][large ? 1 : 0] });
}
