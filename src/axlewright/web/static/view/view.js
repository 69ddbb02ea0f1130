// The plan's view: fetched when it comes into sight, drawn when something changes. Pictures, words and controls each
// live in a module of their own; this one ties them together.

import { Lists } from "./lists.js";
import { at, scaleOf } from "./moment.js";
import { fetchPicture } from "./picture.js";
import { Player } from "./player.js";
import { lies, told, Words } from "./words.js";
import { drawScale } from "./scale.js";

const TIMES = [1, 2, 5, 10, 20, 50, 100, 200];

class View {
  constructor(root) {
    this.root = root;
    this.words = new Words(root.dataset.inch === "yes");
    this.part = (name) => root.querySelector(`[data-part="${name}"]`);
  }

  async open() {
    try {
      this.picture = await fetchPicture(this.root.dataset.view);
    } catch (error) {
      this.part("waits").textContent = error.message;
      return;
    }
    this.scale = scaleOf(this.picture, this.words);
    drawScale(this.part("scale"), this.scale, this.words);
    this.player = new Player(this.root, this.picture, () => this.show());
    this.lists = new Lists(this.root, this.picture, this.words, (bead) => this.player.toBead(bead));
    this.part("note").textContent = this.picture.note;
    this.#listen();
    this.part("controls").hidden = false;
    this.part("waits").hidden = true;
    await this.#openStage();
    this.player.go(0);
    this.root.dataset.ready = "yes";
  }

  // Without pictures in three dimensions, words and controls still tell the plan.
  async #openStage() {
    try {
      const { Screen } = await import("./screen.js");
      this.screen = new Screen(this.part("picture"), this.picture, this.scale, this.words, {
        chosen: (bead) => this.player.toBead(bead),
        lost: (words) => this.#withoutPicture(words),
      });
      for (const button of this.root.querySelectorAll("[data-look]")) {
        button.addEventListener("click", () => this.screen.look(button.dataset.look));
      }
      for (const button of this.root.querySelectorAll("[data-zoom]")) {
        button.addEventListener("click", () => this.screen.zoom(Number(button.dataset.zoom)));
      }
    } catch (error) {
      this.#withoutPicture("This browser cannot draw in three dimensions. Words, steps and figures below still tell the plan.");
      console.info(error);
    }
  }

  #withoutPicture(words) {
    const waits = this.part("waits");
    waits.textContent = words;
    waits.hidden = !words;
    this.root.dataset.drawn = words ? "" : "yes";
  }

  #listen() {
    for (const name of ["times", "bench", "coloured"]) {
      this.part(name).addEventListener("input", () => this.show());
    }
  }

  /** Shows the place where the player stands, in the picture and in words. */
  show() {
    const now = at(this.picture, this.player.place);
    const times = TIMES[Number(this.part("times").value)];
    const onBench = this.part("bench").checked;
    this.#say(now, times, onBench);
    this.lists.show(now);
    this.screen?.show({ now, times, turn: onBench ? now.turn : 0, coloured: this.part("coloured").checked });
  }

  #say(now, times, onBench) {
    const { happens, figures, doing, bead } = told(this.picture, this.words, now);
    const lie = onBench ? ` The housing lies ${lies(now.turn)}.` : "";
    // A screen reader hears where playing stops, not every moment on the way.
    this.part("line").setAttribute("aria-live", this.player.playing ? "off" : "polite");
    put(this.part("happens"), happens + lie);
    for (const [n, [, text]] of figures.entries()) put(this.part("figures").children[n].lastElementChild, text);
    const spot = this.words.temperature(bead.spot_c);
    this.part("time").setAttribute(
      "aria-valuetext", `${doing}, bead ${bead.number} of ${this.picture.beads.length}, ${bead.tag}, ${figures[0][1]}, spot ${spot}`);
    this.part("times").setAttribute("aria-valuetext", `${times} times as large`);
    const bow = Math.hypot(now.figures[0], now.figures[1]);
    const { words } = this;
    put(this.part("times-told"), times === 1 ? "true to scale" : `×${times}: a bow of ${words.deflection(bow)} is drawn as ${words.length(bow * times)}`);
    put(this.part("clock"), figures[0][1]);
  }
}

function put(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

// Whatever brings the view onto the page (the page itself, or a part of it fetched later), it opens in sight.
const seen = new IntersectionObserver((entries) => {
  for (const { target, isIntersecting } of entries) {
    if (!isIntersecting) continue;
    seen.unobserve(target);
    new View(target).open();
  }
}, { rootMargin: "100px" });

function watch() {
  for (const root of document.querySelectorAll("[data-view]:not([data-watched])")) {
    root.dataset.watched = "yes";
    seen.observe(root);
  }
}

watch();
document.addEventListener("htmx:load", watch);
