// The picture on the page: size, colours of the page, turning, labels, and when to draw.

import { Labels } from "./labels.js";
import { Stage } from "./stage.js";
import { FROM, Turning } from "./turning.js";

const SLOW = 45; // a picture that takes longer than this is drawn with fewer dots while it moves [ms]
const FEWEST = 0.6; // dots a pixel is drawn with at least
const STILL = 250; // a picture that has not changed for so long stands still [ms]
const REACH = 22; // a finger or mouse this close to a bead means it [px]

export class Screen {
  /** `acts`: `chosen(bead)` when a bead is tapped, `lost(words)` when drawing fails, with "" when it works again. */
  constructor(element, picture, scale, words, acts) {
    Object.assign(this, { element, picture, acts });
    this.canvas = element.querySelector("canvas");
    this.stage = new Stage(this.canvas, picture);
    const { step_k: step, from_c: from } = picture.temperature;
    this.range = [scale.low, scale.high].map((degrees) => (words.celsius(degrees) - from) / step);
    this.labels = new Labels(element.querySelector(".view-labels"), picture);
    this.ends = [...element.querySelectorAll(".view-end")];
    this.chosen = -1;
    // Without a graphics card, edges are smooth only when the picture stands still: it is drawn with more dots then.
    this.full = this.stage.smooth ? Math.min(window.devicePixelRatio, 2) : 2;
    this.dots = this.stage.smooth ? this.full : 1;
    this.turning = new Turning(element, {
      changed: () => this.draw(), tapped: (at) => this.#tapped(at), pointed: (at) => this.#pointed(at),
    });
    new ResizeObserver(() => this.#fit()).observe(element);
    for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) {
      window.matchMedia(query).addEventListener("change", () => this.draw());
    }
    this.#whenLost();
    this.#fit();
  }

  #whenLost() {
    this.canvas.addEventListener("webglcontextlost", (event) => {
      event.preventDefault();
      this.gone = true;
      this.acts.lost("The picture was lost; the computer may bring it back. Words, steps and figures below still tell the plan.");
    });
    this.canvas.addEventListener("webglcontextrestored", () => {
      this.gone = false;
      this.acts.lost("");
      this.draw();
    });
  }

  /** Shows a moment. */
  show(what) {
    this.what = what;
    this.draw();
  }

  look(from) {
    this.#measure();
    this.turning.look(from);
  }

  zoom(times) {
    this.turning.zoomBy(times);
  }

  #fit() {
    const [width, height] = [this.element.clientWidth, this.element.clientHeight];
    if (!width || !height) return;
    this.stage.resize(width, height, this.dots);
    this.#measure();
    this.draw();
  }

  // The housing as a whole fits from everywhere near the usual direction, so that its size stays while it is turned.
  #measure() {
    const [width, height] = this.stage.size;
    const [across, upright] = this.stage.extent(...FROM.usual);
    const [turned] = this.stage.extent(...FROM.behind);
    this.turning.whole = Math.max(1.1 * turned.size, 1.14 * across.size, 1.25 * upright.size * (width / height));
  }

  /** Draws once before the browser shows the page again, however often it is asked. */
  draw() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame((time) => {
      this.waiting = false;
      this.#keepUp(time);
      this.#drawNow(this.dots);
      clearTimeout(this.still);
      if (this.dots < this.full) this.still = setTimeout(() => this.#drawNow(this.full), STILL);
    });
  }

  // Where pictures take too long while they move, they get fewer dots.
  #keepUp(time) {
    const took = time - (this.last ?? -Infinity);
    this.last = time;
    if (took > STILL) return;
    this.slow = 0.8 * (this.slow ?? 16) + 0.2 * took;
    if (this.slow < SLOW || this.dots <= FEWEST) return;
    [this.dots, this.slow] = [Math.max(0.75 * this.dots, FEWEST), 16];
  }

  #drawNow(dots) {
    if (this.gone || !this.what) return;
    const { now, times, turn, coloured } = this.what;
    const { stage } = this;
    stage.resize(...stage.size, dots);
    stage.colours(this.#colours(coloured));
    stage.scale(this.range, coloured);
    stage.choose(this.chosen);
    stage.lie(turn);
    stage.moveTo(now.place, times);
    stage.look(this.turning.from);
    stage.render();
    this.labels.place(stage, { now, zoom: this.turning.zoom, chosen: this.chosen });
    this.#placeEnds();
  }

  #colours(coloured) {
    const style = getComputedStyle(this.element);
    const colour = (name) => rgb(style.getPropertyValue(`--view-${name}`));
    const on = coloured ? "heat" : "plain";
    return {
      paper: colour("plain-skin"), ink: colour("outline"), edge: colour(`${on}-edge`), heat: colour("warn"),
      done: colour(`${on}-done`), toCome: colour(`${on}-to-come`), now: colour("now"), casing: colour(`${on}-casing`),
    };
  }

  #placeEnds() {
    const { left, right } = this.stage.axis;
    for (const [n, x] of [left, right].entries()) {
      // Where the picture is narrow there is room below the flanges only.
      const place = this.stage.size[0] < 560 ? [x, 0, -0.15] : [x + (n ? -0.07 : 0.07), 0, 0];
      const [a, b] = this.stage.onPage(place);
      const within = Math.min(Math.max(a, 22), this.stage.size[0] - 24);
      this.ends[n].style.transform = `translate(${within.toFixed(1)}px, ${b.toFixed(1)}px) translate(-50%, -50%)`;
      this.ends[n].hidden = a < -60 || b < 0 || a > this.stage.size[0] + 60 || b > this.stage.size[1];
    }
  }

  #nearest([x, y]) {
    let [found, least] = [-1, REACH];
    for (let n = 0; n < this.picture.beads.length; n += 1) {
      const { start, stop, seen } = this.stage.beadOnPage(n);
      const far = distance([x, y], start, stop);
      if (seen && far < least) [found, least] = [n, far];
    }
    return found;
  }

  #pointed(at) {
    const bead = at ? this.#nearest(at) : -1;
    if (bead === this.chosen) return;
    this.chosen = bead;
    this.draw();
  }

  #tapped(at) {
    const bead = this.#nearest(at);
    if (bead >= 0) this.acts.chosen(bead);
  }
}

function distance([x, y], [ax, ay], [bx, by]) {
  const [dx, dy] = [bx - ax, by - ay];
  const share = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1), 0), 1);
  return Math.hypot(x - ax - share * dx, y - ay - share * dy);
}

function rgb(hex) {
  const text = hex.trim().replace("#", "");
  return [0, 2, 4].map((at) => parseInt(text.slice(at, at + 2), 16) / 255);
}
