// What stands on the page, from where the weld stands. Words change only when they are otherwise, so that a screen reader
// tells each once.

import { until, spelled, now } from "./clock.js";
import { seen } from "./project.js";
import { degree, drawDrift, typeset } from "./drift.js";

const ARROWS = { "to the right": 0, "to the left": 180, forward: 270, up: 270, rearward: 90, down: 90, clockwise: 0, anticlockwise: 180 };
const HEADS = { none: "Not known yet", tacks: "Tack", burning: "Arc on", wait: "Next, after the wait", go: "Now", done: "Done" };

export class Screen {
  constructor(root) {
    this.root = root;
    // Set from here, as the content security policy takes no style from the page.
    for (const name of root.querySelectorAll("[data-at]")) name.style.left = `${name.dataset.at}%`;
    this.inch = root.dataset.inch === "yes";
    this.parts = Object.fromEntries([...root.querySelectorAll("[data-part]")].map((part) => [part.dataset.part, part]));
  }

  put(part, words) {
    const element = this.parts[part];
    const shown = typeset(words);
    if (element && element.textContent !== shown) element.textContent = shown;
  }

  show(part, there) {
    if (this.parts[part] && this.parts[part].hidden === there) this.parts[part].hidden = !there;
  }

  // All but the clock; answers what is seen.
  draw(state, held) {
    const what = seen(state, now());
    this.root.dataset.shows = what;
    this.put("head", HEADS[what]);
    this.show("quick", Boolean(state) && !held);
    if (state) this.stands(state, what);
    this.show("arc", !held && ["wait", "go", "burning"].includes(what));
    this.show("tacks", what === "tacks" && !held);
    this.show("tacks-done", what === "tacks" && !held);
    return what;
  }

  stands(state, what) {
    const bead = what === "tacks" || what === "done" ? null : state.next[0] ?? null;
    this.put("count", what === "tacks" ? `${state.tacks_set} of ${state.tacks_of} set` : `${state.laid} of ${state.of} beads laid`);
    if (bead) this.bead(bead, what);
    else this.noBead(what);
    this.stop(state.stop);
    this.changed(state, what);
    const warm = state.spot_now ?? (typeof state.spot_now_c === "number" ? degree(state.spot_now_c, this.inch) : "–");
    this.put("spot-now", bead ? warm : "–");
    this.put("spot", bead?.spot ?? "–");
    this.put("limit", bead?.limit ?? "–");
    this.after(state.next.slice(1, 6), new Set(state.changed ?? []));
    this.strip(state, bead);
    const drift = state.drift ?? [];
    drawDrift(this.parts.drift, drift, this.inch);
    this.show("no-drift", !drift.length);
    this.show("drift-key", drift.length > 0);
  }

  bead(bead, what) {
    this.put("tag", bead.tag);
    this.put("seam", `${bead.attachment}, ${bead.seam}`);
    this.put("from", bead.from);
    this.put("to", bead.to);
    this.show("marks", true);
    this.parts.arrow.dataset.turn = ARROWS[bead.direction] ?? 0;
    this.put("datum", [bead.from.includes(":") ? "o'clock" : bead.datum && `from the ${bead.datum.replace(/^(from )?(the )?/, "")}`, `travel ${bead.direction}`,
      bead.position && `position ${bead.position}`, bead.throat && `throat ${bead.throat}`].filter(Boolean).join(", "));
    this.put("turn", bead.turns ? `Turn the housing first: ${bead.turn}` : `Lies ${bead.turn}`);
    this.show("turn", Boolean(bead.turn));
    this.parts.turn.classList.toggle("first", Boolean(bead.turns));
    this.put("aloud", what === "burning" ? `Arc on, bead ${bead.tag}` : spoken(bead));
  }

  noBead(what) {
    if (what === "done") this.put("tag", "All laid");
    if (what === "done") this.put("seam", "Let it cool, then measure.");
    this.show("marks", false);
    this.show("turn", false);
    if (what === "done") this.put("datum", "");
    if (what === "done") this.put("aloud", "All beads are laid.");
  }

  // The tack that is set next, from its line in the list.
  tack(line) {
    if (!line) return;
    const { tack, attachment, seam, mark, length } = line.dataset;
    this.put("tag", tack);
    this.put("seam", `${attachment}, ${seam}`);
    this.put("datum", `at ${mark}, ${length} long`);
    this.put("aloud", `Tack ${tack}, ${attachment}, ${seam}, at ${mark}.`);
  }

  stop(words) {
    this.put("stop", words ? `Stop. ${words}` : "");
    this.show("stop", Boolean(words));
  }

  changed(state, what) {
    const bead = state.next[0];
    const here = bead && what !== "burning" && (state.changed ?? []).includes(bead.tag);
    const before = state.instead_of;
    this.put("changed", here ? `The plan changed: now ${bead.tag}${before ? ` instead of ${before}` : ""}.` : "");
    this.show("changed", Boolean(here));
  }

  after(beads, changed) {
    const lines = beads.map((bead) => {
      const line = document.createElement("li");
      const tag = document.createElement("strong");
      tag.textContent = bead.tag;
      const wait = bead.wait_s >= 1 ? `, wait ${spelled(bead.wait_s)}` : "";
      line.append(tag, ` ${bead.attachment}, ${bead.seam}, ${bead.from} to ${bead.to}${wait}${bead.turns ? `, turn: ${bead.turn}` : ""}${changed.has(bead.tag) ? " (changed)" : ""}`);
      return line;
    });
    const key = lines.map((line) => line.textContent).join("|");
    if (key !== this.listed) this.parts.after.replaceChildren(...lines);
    this.listed = key;
  }

  strip(state, bead) {
    const letter = bead?.tag.replace(/\d+$/, "");
    for (const strip of this.root.querySelectorAll("[data-strip]")) strip.hidden = strip.dataset.strip !== letter;
    const laid = new Set(state.laid_tags ?? []);
    for (const one of this.root.querySelectorAll("[data-bead]")) {
      one.classList.toggle("done", laid.has(one.dataset.bead) && one.dataset.bead !== bead?.tag);
      one.classList.toggle("next", one.dataset.bead === bead?.tag);
    }
  }

  // Asked several times a second; says what is seen, which changes when a wait is over.
  tick(state) {
    const what = seen(state, now());
    const bead = state?.next?.[0];
    if (what === "wait") this.clock(spelled(until(bead.start_at)), `until ${bead.tag}`, "Start all the same", `${spelled(until(bead.start_at))} to wait`);
    else if (what === "go") this.clock("Go", `${bead.tag} may start`, "Start the arc", "tap, space bar or foot switch");
    else if (what === "burning") this.burning(state);
    else this.clock(what === "done" ? "Done" : "–", "", "", "");
    return what;
  }

  burning(state) {
    const { burning } = state;
    const length = this.root.querySelector(`[data-choose="${CSS.escape(burning.tag)}"]`)?.dataset.length;
    const arc = state.next[0]?.arc_s;
    const time = `${spelled(Math.floor(-until(burning.since)))}`;
    const of = arc ? ` of ${spelled(Math.round(arc))}` : "";
    this.clock(time, `Arc on, ${burning.tag}${length ? `, ${length} long` : ""}`, "Stop the arc", `Arc on ${time}${of}${length ? `, ${length} to weld` : ""}`);
  }

  clock(large, small, does, how) {
    this.put("clock", large);
    this.put("clock-says", small);
    this.put("arc-does", does);
    this.put("arc-how", how);
  }

  link(connected, waiting, stage) {
    const taps = `${waiting} ${waiting === 1 ? "tap waits" : "taps wait"}`;
    const words = connected ? (waiting ? `Sending: ${taps}.` : stage ? `Connected. The companion gets ready: ${stage}.` : "Connected.") : waiting ? `Not connected: ${taps}. Kept on this device until the shop's computer is back.` : "Not connected. The page goes on by what it knows; what you tap is kept.";
    this.put("link", words);
    this.parts.link.dataset.link = connected ? "on" : "off";
  }
}

export function spoken(bead) {
  return `${bead.turns ? `Turn the housing: ${bead.turn}. ` : ""}Bead ${bead.tag}, ${bead.attachment}, ${bead.seam}, from ${bead.from} to ${bead.to}, ${bead.direction}.`;
}
