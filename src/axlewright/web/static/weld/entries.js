// What is told besides starts and stops: readings, marks, skipped beads, cracked tacks, another bead, notes, and taking back.

import { degree } from "./drift.js";
import { ask, close, field, open } from "./dialogs.js";

const ARCS = ["start", "stop"];

export class Entries {
  // weld: { root, outbox, state(), inch, choose(tag) }
  constructor(weld) {
    this.weld = weld;
    this.asked = new Set();
    const tell = { temperature: () => this.askReading(), undo: () => this.undo(), else: () => open("weld-else"), length: () => this.askLength(),
      cracked: () => open("weld-cracked"), note: () => open("weld-note") };
    const does = { temperature: () => this.reading(), length: () => this.length(), skip: () => this.skip(), note: () => this.note() };
    weld.root.addEventListener("click", (event) => {
      const button = event.target.closest("button");
      if (!button || button.disabled) return;
      tell[button.dataset.tell]?.();
      does[button.dataset.do]?.();
      if (button.dataset.choose) this.other(button.dataset.choose);
      if (button.dataset.crack) this.crack(button.dataset.crack);
    });
  }

  get next() {
    return this.weld.state()?.next?.[0];
  }

  askReading() {
    const { inch } = this.weld;
    const warm = this.weld.state()?.spot_now_c ?? this.next?.spot_c ?? 20;
    field("reading-where").value = this.next?.tag ?? "";
    field("reading").value = degree(warm, inch).replace("−", "-");
    open("weld-temperature");
    field("reading").select();
  }

  reading() {
    const where = field("reading-where").value.trim();
    const value = field("reading").value.trim().replace("−", "-").replace("°", "deg");
    const named = /^[A-Z]+\d+$/i.test(where);
    const mark = /^(seam )?[\d]/.test(where);
    // A mark lies beside the seam of the next bead.
    const place = named ? { bead: where.toUpperCase() } : mark ? { bead: this.next?.tag ?? "", start: where } : { what: where };
    if (!value) return;
    this.weld.outbox.add({ event: "temperature", ...place, value });
    close("weld-temperature");
  }

  // The bead that burns, else the last one told on this device, else the next one.
  askLength() {
    const told = this.weld.outbox.last();
    const burning = this.weld.state()?.burning?.tag;
    this.about = burning ? { bead: burning } : told && ARCS.includes(told.event) ? told : null;
    const tag = this.about?.bead;
    this.weld.root.querySelector('[data-part="length-says"]').textContent = tag
      ? `${tag} was to go from ${this.marks(tag).from} to ${this.marks(tag).to}. Where did the arc really begin and stop?`
      : "No bead was begun on this device just now. A bead can be skipped.";
    for (const end of ["start", "end"]) field(`length-${end}`).closest("[data-stepper]").hidden = !tag;
    this.weld.root.querySelector('[data-do="length"]').hidden = !tag;
    if (tag) [field("length-start").value, field("length-end").value] = [this.marks(tag).from, this.marks(tag).to];
    const skip = this.weld.root.querySelector('[data-do="skip"]');
    skip.hidden = Boolean(burning) || !this.next;
    this.weld.root.querySelector('[data-part="skip-words"]').textContent = `Skip ${this.next?.tag ?? "the next bead"}`;
    open("weld-length");
  }

  marks(tag) {
    return this.weld.marks(tag);
  }

  length() {
    const planned = this.marks(this.about.bead);
    const changed = (typed, usual) => (typed.trim() === usual ? "" : typed.trim());
    const start = changed(field("length-start").value, planned.from);
    const end = changed(field("length-end").value, planned.to);
    close("weld-length");
    if (!start && !end) return;
    const { outbox } = this.weld;
    // One that still burns is stopped with these marks; one that was told is put right by another event in its place.
    const before = this.about.key ? { amends_key: this.about.key, told_at: this.about.told_at, ...(this.about.number ? { amends: this.about.number } : {}) } : {};
    outbox.add({ event: this.about.key ? this.about.event : "stop", bead: this.about.bead, start, end, ...before });
  }

  skip() {
    if (this.next) this.weld.outbox.add({ event: "skip", bead: this.next.tag });
    close("weld-length");
  }

  // Where an arc burns and was told of another bead, the start is put right; else the bead comes next.
  other(tag) {
    const last = this.weld.outbox.last();
    const burning = this.weld.state()?.burning;
    close("weld-else");
    if (!burning) return this.weld.choose(tag);
    if (last?.event === "start" && last.bead === burning.tag) {
      this.weld.outbox.add({ event: "start", bead: tag, told_at: last.told_at, amends_key: last.key, ...(last.number ? { amends: last.number } : {}) });
    } else {
      ask({ head: `Is it ${tag}?`, words: `The log says that ${burning.tag} burns, told on another device. Take that back there, or stop it first.`, choices: [["Close", () => {}, true]] });
    }
  }

  crack(tack) {
    this.weld.outbox.add({ event: "no tack", bead: tack });
    close("weld-cracked");
  }

  note() {
    const words = field("note-words").value.trim();
    if (!words) return;
    this.weld.outbox.add({ event: "note", note: words });
    field("note-words").value = "";
    close("weld-note");
  }

  undo() {
    const last = this.weld.outbox.last();
    if (last) this.takeBack(last, "tapped by mistake");
  }

  takeBack(tap, words) {
    this.weld.outbox.add({ kind: "withdrawal", amends_key: tap.key, ...(tap.number ? { amends: tap.number } : {}), words });
  }

  // What does not fit is asked about once on this device.
  doubts(following) {
    for (const doubt of following.doubts ?? []) {
      const words = typeof doubt === "string" ? doubt : doubt.words;
      // Asked in a way of its own.
      if (words.startsWith("What happened to bead")) continue;
      if (this.asked.has(words) || localStorage.getItem(`weld-kept:${this.weld.job}:${words}`)) continue;
      this.asked.add(words);
      const mine = this.mine(doubt);
      const keep = () => localStorage.setItem(`weld-kept:${this.weld.job}:${words}`, "yes");
      const back = mine ? [[`Take it back: ${named(mine)}`, () => this.takeBack(mine, words)]] : [];
      ask({ head: "Does this fit?", words, choices: [["Keep it as it is", keep, true], ...back] });
    }
  }

  mine(doubt) {
    if (typeof doubt === "object" && doubt.number) return { number: doubt.number, event: doubt.event ?? "entry", bead: doubt.bead ?? "" };
    const number = Number(/\bevent (\d+)/.exec(doubt.words ?? doubt)?.[1]);
    if (number) return this.weld.outbox.told().find((tap) => tap.number === number) ?? { number, event: `entry ${number}` };
    const last = this.weld.outbox.last();
    return last?.event === "temperature" ? last : null;
  }

  // A bead that burned when the power went: asked once for each time it was started.
  unfinished(following) {
    const left = following.unfinished;
    if (!left) return;
    const tag = left.tag ?? left;
    const name = `unfinished ${tag} ${left.since ?? ""}`;
    if (this.asked.has(name)) return;
    this.asked.add(name);
    const { outbox } = this.weld;
    const note = "told after the power was cut";
    ask({
      head: `What happened to bead ${tag}?`,
      words: `It burned when the shop's computer stopped. Look at the bead, then say how far it went.`,
      mark: left.to ?? this.marks(tag).to,
      choices: [
        ["It is finished", () => outbox.add({ event: "stop", bead: tag, note }), true],
        ["It stopped at this mark", (end) => outbox.add({ event: "stop", bead: tag, end, note })],
        ["It was not begun", () => outbox.add({ kind: "withdrawal", amends: left.number, words: `not begun, ${note}` })],
      ],
    });
  }
}

export const named = (tap) => [tap.event, tap.bead, tap.value?.replace("deg", "°")].filter(Boolean).join(" ");
