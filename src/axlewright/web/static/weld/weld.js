// The weld page: what is heard, what is tapped and what is shown, brought together.

import { arcControl } from "./arc.js";
import { canSpeak, say, speakFrom, speaks, stayAwake } from "./awake.js";
import { stamp } from "./clock.js";
import { ask, showWaiting, wireDialogs } from "./dialogs.js";
import { Entries, named } from "./entries.js";
import { Follower } from "./following.js";
import { inOneLine, Outbox } from "./outbox.js";
import { project } from "./project.js";
import { Screen, spoken } from "./screen.js";
import * as sound from "./sound.js";
import { Tacks } from "./tacks.js";

const TICK = 200;
const root = document.querySelector("[data-weld]");
const away = !root.dataset.job;
const job = root.dataset.job || location.pathname.split("/")[2] || "";

class Weld {
  constructor() {
    this.root = root;
    this.job = job;
    this.keepSheet();
    this.screen = new Screen(root);
    this.inch = this.screen.inch;
    this.held = root.dataset.held === "yes";
    this.outbox = new Outbox(job, () => this.draw(), (tap, words) => this.refused(tap, words));
    this.follower = new Follower(job, (following) => this.told(following), () => this.link(), (faults) => this.cannot(faults));
    this.entries = new Entries(this);
    this.tacks = new Tacks(this);
    this.chosen = "";
    wireDialogs(root);
    arcControl(this.screen.parts.arc, () => this.arc());
    this.switches();
  }

  begin() {
    this.follower.begin();
    this.outbox.deliver();
    this.draw();
    setInterval(() => this.tick(), TICK);
    document.addEventListener("visibilitychange", () => this.tick());
    stayAwake().then((words) => this.screen.put("awake", words));
  }

  // The sheet of the plan is kept, so that the page can be shown while the shop's computer is away.
  keepSheet() {
    const sheet = root.querySelector('[data-part="sheet"]');
    const name = `weld-sheet:${job}`;
    if (!away) {
      const { plan, inch, held, laid } = root.dataset;
      localStorage.setItem(name, JSON.stringify({ plan, inch, held, laid, sheet: sheet.innerHTML }));
      return;
    }
    const kept = JSON.parse(localStorage.getItem(name) ?? "null");
    if (!kept) return;
    sheet.innerHTML = kept.sheet;
    Object.assign(root.dataset, { plan: kept.plan, inch: kept.inch, held: kept.held, laid: kept.laid });
  }

  state() {
    return this.now ?? null;
  }

  // Marks of a bead as the last answers had them.
  marks(tag) {
    const told = (this.follower.latest?.next ?? []).find((bead) => bead.tag === tag) ?? this.known?.[tag];
    const listed = root.querySelector(`[data-choose="${CSS.escape(tag)}"]`)?.dataset.marks?.split(" to ") ?? ["", ""];
    const unit = listed[1]?.match(/[a-z]+$/)?.[0];
    return told ? { from: told.from, to: told.to } : { from: unit && !listed[0].endsWith(unit) ? `${listed[0]} ${unit}` : listed[0], to: listed[1] };
  }

  told(following) {
    const before = this.following?.next?.[0]?.tag;
    this.known = { ...this.known, ...Object.fromEntries(following.next.map((bead) => [bead.tag, bead])) };
    const now = following.next[0]?.tag;
    // "Instead of" only where what stood first is still to be laid.
    const still = following.next.slice(1).some((bead) => bead.tag === before);
    this.following = { ...following, instead_of: before && before !== now && still ? before : following.instead_of };
    if (following.stop && following.stop !== this.stopped) sound.stop();
    this.stopped = following.stop;
    if (root.dataset.plan && following.plan && String(following.plan) !== root.dataset.plan) this.otherPlan();
    if (!this.held) {
      this.entries.doubts(following);
      this.entries.unfinished(following);
    }
    this.draw();
  }

  otherPlan() {
    if (this.toldOfPlan || away) return;
    this.toldOfPlan = true;
    ask({ head: "There is another plan", words: "The plan was made again since this page was opened.", choices: [["Show the new plan", () => location.reload(), true]] });
  }

  draw() {
    if (!this.screen) return;
    this.now = this.withLaid(this.withChosen(this.withBurning(project(this.following, this.outbox.told(), this.outbox.pending()))));
    const what = this.screen.draw(this.now, this.held);
    if (this.now && what === "tacks") this.screen.tack(this.tacks.draw(this.now));
    const last = this.outbox.last();
    this.screen.parts.undo.disabled = !last;
    this.screen.put("undo", last ? `Undo: ${named(last)}` : "Undo");
    this.link();
    this.tick();
    const bead = this.now?.next?.[0];
    if (bead && ["wait", "go"].includes(what) && bead.tag !== this.spokenOf) say(spoken(bead));
    if (what !== "burning") this.spokenOf = bead?.tag;
    showWaiting();
  }

  // A bead chosen instead of the next one stands first until it is begun.
  withChosen(state) {
    if (!state || !this.chosen || state.burning) return state;
    const listed = root.querySelector(`[data-choose="${CSS.escape(this.chosen)}"]`)?.dataset;
    const known = state.next.find((bead) => bead.tag === this.chosen);
    if (!known && !listed) return state;
    const bead = known ?? { tag: this.chosen, ...listed, ...this.marks(this.chosen), wait_s: 0 };
    const first = { ...bead, start_at: state.next[0]?.start_at ?? stamp() };
    return { ...state, next: [first, ...state.next.filter((one) => one.tag !== this.chosen)], changed: [this.chosen], instead_of: state.next[0]?.tag };
  }

  // The bead that burns stands first while it does.
  withBurning(state) {
    const tag = state?.burning?.tag;
    if (!tag || state.next[0]?.tag === tag) return state;
    const listed = root.querySelector(`[data-choose="${CSS.escape(tag)}"]`)?.dataset ?? { attachment: "", seam: "", direction: "" };
    const bead = this.known?.[tag] ?? { ...listed, ...this.marks(tag), tag };
    return { ...state, next: [{ ...bead, turns: false }, ...state.next.filter((one) => one.tag !== tag)] };
  }

  // Beads laid, as far as this page knows: by the record when it was opened, and by the arcs it has seen end since.
  withLaid(state) {
    if (!state) return state;
    this.laid ??= new Set((root.dataset.laid ?? "").split(" ").filter(Boolean));
    if (this.burnt && this.burnt !== state.burning?.tag) this.laid.add(this.burnt);
    this.burnt = state.burning?.tag;
    for (const bead of state.next) this.laid.delete(bead.tag);
    return { ...state, laid_tags: state.laid_tags ?? [...this.laid] };
  }

  choose(tag) {
    this.chosen = tag;
    this.draw();
  }

  link() {
    const connected = this.follower.open && this.outbox.reached;
    this.screen.link(connected, this.outbox.pending().length, this.follower.stage);
  }

  tick() {
    const what = this.screen.tick(this.now);
    if (what === "wait") sound.goAt(this.now.next[0].start_at);
    else if (this.seen === "wait" && what !== "go") sound.goAt("");
    if (what !== this.seen) {
      if (this.seen === "wait" && what === "go") this.over();
      this.seen = what;
      this.draw();
    }
  }

  over() {
    document.dispatchEvent(new CustomEvent("weld:sound", { detail: "go" }));
    say(`Go, ${this.now.next[0].tag}`);
  }

  arc() {
    if (this.held || !this.now) return;
    const { burning, next } = this.now;
    if (burning) this.outbox.add({ event: "stop", bead: burning.tag });
    else if (next[0]) this.outbox.add({ event: "start", bead: next[0].tag });
    this.chosen = "";
    this.draw();
  }

  cannot(faults) {
    const words = faults.map(inOneLine).join(" ");
    if (words === this.cannotTold) return;
    this.cannotTold = words;
    ask({ head: "It cannot be said where the weld stands", words, choices: [["I have seen it", () => {}, true]] });
  }

  refused(tap, words) {
    ask({ head: "This could not be written down", words: `${named(tap) || "Undo"}: ${words}`, choices: [["I have seen it", () => {}, true]] });
  }

  switches() {
    const { sound: loud, voice } = this.screen.parts;
    const shown = () => {
      const ready = sound.wanted() && sound.ready();
      loud.setAttribute("aria-pressed", String(ready));
      loud.textContent = ready ? "Sound: on" : sound.wanted() ? "Tap for sound" : "Sound: off";
      voice.setAttribute("aria-pressed", String(speaks()));
      voice.textContent = speaks() ? "Voice: on" : "Voice: off";
    };
    loud.addEventListener("click", () => sound.turn(!(sound.wanted() && sound.ready())).then(shown));
    voice.addEventListener("click", () => (speakFrom(!speaks()), shown(), say("Voice is on.")));
    voice.hidden = !canSpeak();
    document.addEventListener("pointerdown", (event) => loud.contains(event.target) || (sound.wake(), setTimeout(shown, 100)));
    shown();
  }
}

if (job) new Weld().begin();
