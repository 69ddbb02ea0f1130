// The controls below the picture: play, step, scrub.

import { starts } from "./moment.js";

/** With motion reduced, playing goes from bead to bead, one in so many seconds. */
const STEP_SECONDS = 2;

export class Player {
  /** `moved` is told the new place between two moments whenever it changes. */
  constructor(root, picture, moved) {
    this.picture = picture;
    this.moved = moved;
    this.starts = starts(picture);
    this.stays = window.matchMedia("(prefers-reduced-motion: reduce)");
    this.place = 0;
    this.playing = false;
    const find = (name) => root.querySelector(`[data-part="${name}"]`);
    [this.slider, this.playButton, this.speed] = ["time", "play", "speed"].map(find);
    this.slider.max = String(picture.moments - 1);
    this.slider.addEventListener("input", () => this.stop(Number(this.slider.value)));
    this.playButton.addEventListener("click", () => (this.playing ? this.stop(this.place) : this.play()));
    find("previous").addEventListener("click", () => this.step(-1));
    find("next").addEventListener("click", () => this.step(1));
  }

  go(place) {
    this.place = Math.min(Math.max(place, 0), this.picture.moments - 1);
    this.slider.value = String(Math.round(this.place));
    this.moved(this.place);
  }

  /** Stops playing, at a place. */
  stop(place) {
    this.playing = false;
    cancelAnimationFrame(this.frame);
    clearInterval(this.timer);
    this.#showPlaying();
    this.go(place);
  }

  /** To the start of a bead, by its place in the order. */
  toBead(bead) {
    this.stop(this.starts[bead]);
  }

  step(way) {
    const ends = [0, ...this.starts, this.picture.moments - 1];
    const next = way > 0 ? ends.find((n) => n > this.place + 1e-6) : ends.findLast((n) => n < this.place - 1e-6);
    this.stop(next ?? this.place);
  }

  play() {
    if (this.place >= this.picture.moments - 1) this.go(0);
    this.playing = true;
    this.#showPlaying();
    if (this.stays.matches) {
      this.timer = setInterval(() => this.#stepOn(), 1000 * STEP_SECONDS);
      return;
    }
    let last = performance.now();
    const on = (now) => {
      if (!this.playing) return;
      this.go(this.#later((now - last) / 1000));
      last = now;
      if (this.place >= this.picture.moments - 1) this.stop(this.place);
      else this.frame = requestAnimationFrame(on);
    };
    this.frame = requestAnimationFrame(on);
  }

  #stepOn() {
    const next = this.starts.find((n) => n > this.place + 1e-6);
    this.go(next ?? this.picture.moments - 1);
    if (next === undefined) this.stop(this.place);
  }

  // So many seconds of playing go on each bead, evenly over the moments from its start to the next.
  #later(seconds) {
    const bead = this.starts.findLastIndex((n) => n <= this.place);
    const from = this.starts[bead] ?? 0;
    const to = this.starts[bead + 1] ?? this.picture.moments - 1;
    const lasts = Number(this.speed.value) * (bead + 1 < this.starts.length ? 1 : 4);
    return this.place + (seconds / lasts) * (to - from);
  }

  #showPlaying() {
    this.playButton.dataset.playing = this.playing ? "yes" : "";
    this.playButton.querySelector("span").textContent = this.playing ? "Pause" : "Play";
  }
}
