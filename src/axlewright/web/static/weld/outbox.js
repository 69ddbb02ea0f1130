// What was tapped, kept on this device until the shop's computer has written it down: sent in order, one at a time, again
// and again with the same key, so that each counts once.

import { heard, stamp } from "./clock.js";
import { counting } from "./project.js";

const REMEMBERED = 30;
const SLOWEST = 8000;

export function newKey() {
  // crypto.randomUUID is there on https and on this machine only; random bytes are everywhere.
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

export class Outbox {
  // changed(): what waits is otherwise; refused(tap, words): the shop's computer will not have one.
  constructor(job, changed, refused) {
    Object.assign(this, { job, changed, refused, sending: false, pause: 500, reached: true });
    this.waiting = `weld-tap:${job}:`;
    this.written = `weld-written:${job}`;
    window.addEventListener("online", () => this.hurry());
    document.addEventListener("visibilitychange", () => document.hidden || this.hurry());
    window.addEventListener("storage", (event) => event.key?.startsWith(this.waiting) && this.changed());
  }

  // Keys are in order of time: an entry of its own for each tap, so that two tabs never write over one another.
  pending() {
    const names = Object.keys(localStorage).filter((name) => name.startsWith(this.waiting)).sort();
    return names.map((name) => ({ name, ...JSON.parse(localStorage.getItem(name) ?? "null") })).filter((tap) => tap.key);
  }

  told() {
    return JSON.parse(localStorage.getItem(this.written) ?? "[]");
  }

  add(tap) {
    const last = this.pending().at(-1)?.name.slice(this.waiting.length, this.waiting.length + 15) ?? "0";
    const place = Math.max(Date.now() * 10, Number(last) + 1);
    const full = { kind: "bench", told_at: stamp(), ...tap, key: newKey() };
    localStorage.setItem(`${this.waiting}${String(place).padStart(15, "0")}`, JSON.stringify(full));
    this.changed();
    this.hurry();
    return full;
  }

  // The last thing told on this device that still counts.
  last() {
    return counting([...this.told(), ...this.pending()]).at(-1);
  }

  hurry() {
    this.pause = 500;
    clearTimeout(this.again);
    this.deliver();
  }

  async deliver() {
    if (this.sending) return;
    this.sending = true;
    try {
      for (let tap = this.pending()[0]; tap; tap = this.pending()[0]) await this.send(tap);
      this.pause = 500;
    } catch {
      this.again = setTimeout(() => this.deliver(), this.pause);
      this.pause = Math.min(this.pause * 2, SLOWEST);
    } finally {
      this.sending = false;
      this.changed();
    }
  }

  async send(tap) {
    const answer = await this.post(this.body(tap));
    if ([400, 404, 409, 413, 422].includes(answer.status)) {
      localStorage.removeItem(tap.name);
      this.refused(tap, await whyNot(answer));
      return;
    }
    if (!answer.ok) throw new Error(`answer ${answer.status}`);
    const { number, at } = await answer.json();
    heard(at);
    const { name, ...kept } = tap;
    localStorage.setItem(this.written, JSON.stringify([...this.told(), { ...kept, number }].slice(-REMEMBERED)));
    localStorage.removeItem(name);
    this.changed();
  }

  async post(body) {
    const late = new AbortController();
    const timer = setTimeout(() => late.abort(), 10000);
    try {
      const answer = await fetch(`/jobs/${this.job}/bench/events`, {
        method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json" }, signal: late.signal,
      });
      this.reached = answer.status < 500;
      return answer;
    } catch (error) {
      this.reached = false;
      throw error;
    } finally {
      clearTimeout(timer);
    }
  }

  // What is amended was known by its key alone while it waited: the record knows it by that as well.
  body({ name, number, ...tap }) {
    return tap;
  }
}

async function whyNot(answer) {
  const told = await answer.json().catch(() => null);
  return (told?.faults ?? []).map(inOneLine).join(" ") || `It was refused (${answer.status}).`;
}

// A fault as the shop's computer tells it.
export function inOneLine({ where = "", value = "", allowed = "", remedy = "" }) {
  return `${where}${value ? ` ${value}` : ""}: ${allowed}. ${remedy}`;
}
