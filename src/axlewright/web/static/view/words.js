// Numbers with their units, and what a moment of the plan is in words; the same rules as units.py.

/** Words in the shop's units: inches and degF, or millimetres and degC. */
export class Words {
  constructor(inch) {
    this.inch = inch;
  }

  temperature(celsius) {
    return this.inch ? `${round(celsius * 1.8 + 32, 0)} °F` : `${round(celsius, 0)} °C`;
  }

  /** The bare number of a temperature, and its unit. */
  degrees(celsius) {
    return Math.round(this.inch ? celsius * 1.8 + 32 : celsius);
  }

  get degreeUnit() {
    return this.inch ? "°F" : "°C";
  }

  celsius(degrees) {
    return this.inch ? (degrees - 32) / 1.8 : degrees;
  }

  deflection(metres) {
    return this.inch ? `${round(metres / 0.0254, 3)} in` : `${round(1000 * metres, 2)} mm`;
  }

  length(metres) {
    if (!this.inch) return `${round(1000 * metres, 0)} mm`;
    const sixteenths = Math.round((metres / 0.0254) * 16);
    let [part, of] = [sixteenths % 16, 16];
    while (part && part % 2 === 0) [part, of] = [part / 2, of / 2];
    const whole = Math.floor(sixteenths / 16);
    return `${[whole || !part ? whole : "", part ? `${part}/${of}` : ""].filter((word) => word !== "").join(" ")} in`;
  }

  /** Bow with its way in words: "0.12 mm up". */
  bow(metres, [plus, minus]) {
    const text = this.deflection(Math.abs(metres));
    return /[1-9]/.test(text) ? `${text} ${metres > 0 ? plus : minus}` : text;
  }
}

export function angle(degrees) {
  const text = round(Math.abs(degrees), 2);
  return /[1-9]/.test(text) ? `${degrees > 0 ? "+" : "−"}${text}°` : `${text}°`;
}

export function duration(seconds) {
  if (seconds < 119.5) return `${round(seconds, 0)} s`;
  const minutes = Math.round(seconds / 60);
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return hours ? `${hours} h ${String(rest).padStart(2, "0")} min` : `${rest} min`;
}

const LIES = { 0: "as on the vehicle", 90: "front side up", 180: "upside down", 270: "rear side up" };

export function lies(degrees) {
  const turn = ((Math.round(degrees) % 360) + 360) % 360;
  return LIES[turn] ?? `turned ${turn}°, front side upward`;
}

function round(value, decimals) {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}

/** A moment in words: what happens, and how warm and how bent the housing is. */
export function told(picture, words, now) {
  const { beads } = picture;
  const doing = picture.doing_words[picture.doing[now.before]];
  const bead = beads[Math.min(now.bead, beads.length - 1)];
  const name = `Bead ${bead.number} of ${beads.length}, ${bead.tag}`;
  const where = `${bead.attachment}, ${bead.seam}`;
  const happens = {
    "tacked up": `Tacked up. ${name} comes first: ${where}`,
    waiting: `Waiting for bead ${bead.number} of ${beads.length}, ${bead.tag}: ${where}`,
    "arc starts": `${name}: ${where}, ${bead.direction}. ${now.burning ? "The arc burns" : "The arc starts"}`,
    "arc stops": `${name}: ${where}. The arc stops`,
    cooling: "All beads are laid; the housing cools",
    cold: "All is cold; this is the shape that remains",
  }[doing];
  const spot = ["cooling", "cold"].includes(doing) ? "" : ` Spot temperature at its start: ${words.temperature(bead.spot_c)}.`;
  return { happens: `${happens}.${spot}`, figures: figuresTold(picture, words, now), doing, bead };
}

function figuresTold(picture, words, now) {
  const [vertical, foreAft, camberLeft, camberRight, toeLeft, toeRight] = now.figures;
  const top = picture.temperature.step_k * (picture.temperature.codes - 1);
  const hottest = `${now.hottest >= top - 1 ? "over " : ""}${words.temperature(picture.ambient_c + Math.min(now.hottest, top))}`;
  return [
    ["time", duration(now.time)],
    ["hottest skin", hottest],
    ["bow", `${words.bow(vertical, ["up", "down"])}, ${words.bow(foreAft, ["forward", "rearward"])}`],
    ["camber left, right", `${angle(camberLeft)}, ${angle(camberRight)}`],
    ["toe left, right", `${angle(toeLeft)}, ${angle(toeRight)}`],
  ];
}
