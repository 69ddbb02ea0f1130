// The steps of the plan as a list, and the tacks that come near their strength: what the picture shows, to be read.

import { duration } from "./words.js";

export class Lists {
  constructor(root, picture, words, toBead) {
    Object.assign(this, { picture, words, toBead });
    this.steps = picture.beads.map((bead, n) => this.#step(bead, n));
    root.querySelector('[data-part="steps"]').append(...this.steps);
    this.#tacks(root);
    this.#figures(root);
    this.present = -1;
  }

  #step(bead, n) {
    const { words } = this;
    const line = document.createElement("li");
    const button = document.createElement("button");
    button.type = "button";
    const name = document.createElement("strong");
    name.textContent = `${bead.number}  ${bead.tag}`;
    const wait = bead.wait > 0 ? `, cool-down ${duration(bead.wait)} before it` : "";
    const marks = `${words.length(bead.begin_x)} to ${words.length(bead.end_x)}`;
    const text = document.createElement("span");
    text.textContent =
      `${bead.attachment}, ${bead.seam}, ${marks} from the left flange, ${bead.direction}; at ${duration(bead.start)}, ` +
      `spot ${words.temperature(bead.spot_c)}${wait}`;
    button.append(name, text);
    button.addEventListener("click", () => this.toBead(n));
    line.append(button);
    return line;
  }

  #tacks(root) {
    const { picture } = this;
    const { near, beyond, step } = picture.tack_load;
    const size = picture.beads.length + 1;
    const loaded = picture.tacks
      .map((tack, n) => ({ tack, when: largestAt(picture.tack_loads.subarray(n * size, (n + 1) * size)) }))
      .filter(({ tack }) => tack.largest >= near - step / 2)
      .sort((a, b) => b.tack.largest - a.tack.largest);
    const summary = root.querySelector('[data-part="tacks-summary"]');
    summary.textContent = loaded.length === 0
      ? `No tack comes near its strength (${near} of it or more)`
      : `Tacks near or beyond their strength: ${loaded.length} of ${picture.tacks.length}`;
    const list = root.querySelector('[data-part="tacks"]');
    for (const { tack, when } of loaded) {
      const line = document.createElement("li");
      const button = document.createElement("button");
      button.type = "button";
      const name = document.createElement("strong");
      name.textContent = `T${tack.number}`;
      const text = document.createElement("span");
      const says = tack.largest > beyond ? "beyond its strength" : "near its strength";
      const bead = picture.beads[when];
      const then = bead ? `when bead ${bead.number} starts` : "when all is cold";
      text.textContent = `${says}: ${tack.largest.toFixed(2)} of it, ${then}; ${tack.attachment}, ${tack.seam}, ` +
        `${this.words.length(tack.at_x)} from the left flange`;
      button.append(name, text);
      button.addEventListener("click", () => this.toBead(Math.min(when, picture.beads.length - 1)));
      line.append(button);
      list.append(line);
    }
  }

  #figures(root) {
    const list = root.querySelector('[data-part="figures"]');
    for (const label of ["time", "hottest skin", "bow", "camber left, right", "toe left, right"]) {
      const pair = document.createElement("div");
      const [term, value] = [document.createElement("dt"), document.createElement("dd")];
      term.textContent = label;
      pair.append(term, value);
      list.append(pair);
    }
  }

  /** Marks the present step. */
  show({ laid }) {
    if (laid === this.present) return;
    this.steps[this.present]?.firstElementChild.removeAttribute("aria-current");
    this.present = laid;
    this.steps[laid]?.firstElementChild.setAttribute("aria-current", "step");
  }
}

function largestAt(loads) {
  let found = 0;
  loads.forEach((load, n) => {
    if (load > loads[found]) found = n;
  });
  return found;
}
