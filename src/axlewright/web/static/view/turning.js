// Turning and zooming with finger, mouse, wheel and keys.

const A_STEP = Math.PI / 24;
const NEAREST = 14;
const FLAT = Math.PI / 2;

/** Directions to look from: turned round from the front, and over from level [rad]. Left is left, as on every drawing. */
export const FROM = {
  usual: [Math.PI - 0.42, 0.4],
  behind: [Math.PI, 0],
  front: [0, 0],
  top: [Math.PI, FLAT],
  left: [FLAT, 0],
};

export class Turning {
  /** `changed` is called when it looks from elsewhere, `tapped` with where the picture was tapped. */
  constructor(element, { changed, tapped, pointed }) {
    Object.assign(this, { element, changed, tapped, pointed });
    this.fingers = new Map();
    this.whole = 1;
    this.look("usual");
    element.addEventListener("pointerdown", (event) => this.#down(event));
    element.addEventListener("pointermove", (event) => this.#move(event));
    for (const end of ["pointerup", "pointercancel"]) element.addEventListener(end, (event) => this.#up(event));
    element.addEventListener("pointerleave", () => this.pointed(null));
    element.addEventListener("wheel", (event) => this.#wheel(event), { passive: false });
    element.addEventListener("keydown", (event) => this.#key(event));
  }

  /** Looks from one of the named directions at the whole housing. */
  look(from) {
    [this.round, this.over] = FROM[from];
    [this.zoom, this.aside, this.up] = [1, 0, 0];
    this.changed();
  }

  get metres() {
    return this.whole / this.zoom;
  }

  get from() {
    return { round: this.round, over: this.over, metres: this.metres, aside: this.aside, up: this.up };
  }

  turn(round, over) {
    this.round += round;
    this.over = Math.min(Math.max(this.over + over, -FLAT), FLAT);
    this.changed();
  }

  zoomBy(times) {
    this.zoom = Math.min(Math.max(this.zoom * times, 1), NEAREST);
    if (this.zoom === 1) [this.aside, this.up] = [0, 0];
    this.#keepIn();
    this.changed();
  }

  #shift(right, down) {
    const scale = this.metres / this.element.clientWidth;
    this.aside -= right * scale;
    this.up += down * scale;
    this.#keepIn();
    this.changed();
  }

  #keepIn() {
    const most = (this.whole / 2) * (1 - 1 / this.zoom);
    this.aside = Math.min(Math.max(this.aside, -most), most);
    this.up = Math.min(Math.max(this.up, -most), most);
  }

  #down(event) {
    this.element.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
    this.travelled = this.fingers.size > 1 ? Infinity : 0;
  }

  #move(event) {
    const last = this.fingers.get(event.pointerId);
    if (!last) {
      this.pointed(this.#within(event));
      return;
    }
    const [right, down] = [event.clientX - last[0], event.clientY - last[1]];
    this.travelled += Math.abs(right) + Math.abs(down);
    const apart = this.#apart();
    this.fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (this.fingers.size > 1) {
      this.#shift(right / this.fingers.size, down / this.fingers.size);
      if (apart > 10) this.zoomBy(this.#apart() / apart);
    } else if (event.shiftKey || event.buttons & 6) {
      this.#shift(right, down);
    } else if (this.travelled > 5) {
      this.turn(-right * 0.008, down * 0.008);
    }
  }

  #up(event) {
    const tapped = this.fingers.size === 1 && this.travelled <= 5 && event.type === "pointerup";
    this.fingers.delete(event.pointerId);
    if (tapped) this.tapped(this.#within(event));
  }

  #apart() {
    const [a, b] = [...this.fingers.values()];
    return b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
  }

  #within(event) {
    const box = this.element.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  // The page scrolls over the picture as over anything else; with Ctrl held (a pinch on a touchpad says so) it zooms.
  #wheel(event) {
    if (!event.ctrlKey && document.activeElement !== this.element) return;
    event.preventDefault();
    this.zoomBy(Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0015)));
  }

  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const acts = {
      ArrowLeft: () => this.turn(A_STEP, 0), ArrowRight: () => this.turn(-A_STEP, 0),
      ArrowUp: () => this.turn(0, -A_STEP), ArrowDown: () => this.turn(0, A_STEP),
      "+": () => this.zoomBy(1.25), "=": () => this.zoomBy(1.25), "-": () => this.zoomBy(0.8), 0: () => this.look("usual"),
    };
    if (!acts[event.key]) return;
    event.preventDefault();
    acts[event.key]();
  }
}
