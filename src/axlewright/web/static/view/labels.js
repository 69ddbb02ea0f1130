// Numbers of beads and names of tacks over the picture: near the present bead, or all when there is room; never one
// over another.

const AROUND = 3;
const NEAR_ENOUGH = 2.2; // zoomed in this far, all numbers are shown that find room
const AWAY = [17, 26]; // from the bead's middle to the middle of its number, and of the present one's [px]

export class Labels {
  constructor(element, picture) {
    this.element = element;
    this.picture = picture;
    this.beads = picture.beads.map((bead) => this.#made("bead", String(bead.number)));
    this.tacks = picture.tacks.map((tack) => this.#made("tack", `T${tack.number}`));
    this.arrow = this.#made("arrow", "");
  }

  #made(kind, text) {
    const label = document.createElement("span");
    label.className = `view-label ${kind}`;
    label.textContent = text;
    label.hidden = true;
    this.element.append(label);
    return label;
  }

  /** Puts the labels where they belong. */
  place(stage, { now, zoom, chosen }) {
    const taken = [];
    const present = now.laid;
    const burning = this.picture.doing_words[this.picture.doing[now.before]] !== "cold";
    const wanted = this.picture.beads
      .map((_, n) => n)
      .filter((n) => n === chosen || Math.abs(n - present) <= AROUND || zoom >= NEAR_ENOUGH)
      .sort((a, b) => rank(a, present, chosen) - rank(b, present, chosen));
    const shown = new Set();
    this.#tacks(stage, present, zoom, taken);
    for (const n of wanted) {
      const on = stage.beadOnPage(n);
      const always = n === present || n === chosen;
      if (!always && !on.seen) continue;
      const at = this.#beside(on, AWAY[n === present ? 1 : 0]);
      if (!this.#put(this.beads[n], at, taken, always)) continue;
      this.beads[n].classList.toggle("now", n === present);
      this.beads[n].classList.toggle("done", n < present);
      this.beads[n].classList.toggle("behind", !on.seen);
      shown.add(n);
    }
    this.beads.forEach((label, n) => {
      if (!shown.has(n)) label.hidden = true;
    });
    this.#pointArrow(stage, burning ? present : -1);
  }

  #beside({ middle, outward }, away) {
    const size = Math.hypot(...outward);
    const way = size > 0.15 ? [outward[0] / size, outward[1] / size] : [0, -1];
    return [middle[0] + away * way[0], middle[1] + away * way[1]];
  }

  // A number finds its place, or another beside it, or none.
  #put(label, [x, y], taken, always) {
    const [wide, high] = [8 + 8.5 * label.textContent.length, 22];
    const [width, height] = [this.element.clientWidth, this.element.clientHeight];
    if (x < 4 || y < 4 || x > width - 4 || y > height - 4) return this.#hide(label);
    for (const [dx, dy] of [[0, 0], [0, -12], [0, 12], [14, 0], [-14, 0]]) {
      const box = [x + dx - wide / 2, y + dy - high / 2, x + dx + wide / 2, y + dy + high / 2];
      if (taken.some((other) => overlap(box, other))) continue;
      return this.#show(label, x + dx, y + dy, box, taken);
    }
    return always ? this.#show(label, x, y, [x - wide / 2, y - high / 2, x + wide / 2, y + high / 2], taken) : this.#hide(label);
  }

  #show(label, x, y, box, taken) {
    taken.push(box);
    label.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -50%)`;
    label.hidden = false;
    return true;
  }

  #hide(label) {
    label.hidden = true;
    return false;
  }

  // Tacks that are near their strength just now are named; others that come near it at some time, when zoomed in.
  #tacks(stage, present, zoom, taken) {
    const { tacks, tack_loads: loads, tack_load: load, beads } = this.picture;
    const size = beads.length + 1;
    const order = tacks
      .map((tack, n) => ({ tack, n, now: loads[n * size + Math.min(present, beads.length)] * load.step }))
      .sort((a, b) => b.now - a.now);
    for (const { tack, n, now } of order) {
      const label = this.tacks[n];
      const near = now >= load.near;
      if (present > tack.melted_by || !(near || (zoom >= NEAR_ENOUGH && tack.largest >= load.near))) {
        label.hidden = true;
        continue;
      }
      const { middle, seen } = stage.tackOnPage(n);
      label.textContent = near ? `T${tack.number} ${now.toFixed(2)}` : `T${tack.number}`;
      label.classList.toggle("near", near);
      if (!seen || !this.#put(label, [middle[0], middle[1] - 20], taken, false)) label.hidden = true;
    }
  }

  #pointArrow(stage, bead) {
    if (bead < 0 || bead >= this.picture.beads.length) {
      this.arrow.hidden = true;
      return;
    }
    const { start, stop, seen } = stage.beadOnPage(bead);
    const [dx, dy] = [stop[0] - start[0], stop[1] - start[1]];
    this.arrow.hidden = Math.hypot(dx, dy) < 6;
    this.arrow.classList.toggle("behind", !seen);
    this.arrow.style.transform =
      `translate(${stop[0].toFixed(1)}px, ${stop[1].toFixed(1)}px) rotate(${Math.atan2(dy, dx).toFixed(3)}rad)`;
  }
}

function rank(n, present, chosen) {
  return n === present ? -2 : n === chosen ? -1 : Math.abs(n - present);
}

function overlap(a, b) {
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}
