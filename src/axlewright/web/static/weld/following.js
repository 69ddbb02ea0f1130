// What the shop's computer says of the weld: by its stream, by asking where the stream is silent, and as last kept here.

import { heard } from "./clock.js";

const AGAIN = 2500;
const ASK = 15000;

export class Follower {
  // told(following): another answer is here; changed(): it is reached, or not any more.
  // refused(faults): it cannot say where the weld stands.
  constructor(job, told, changed, refused) {
    Object.assign(this, { job, told, changed, refused, open: false, latest: null, stage: "" });
    this.kept = `weld-following:${job}`;
  }

  begin() {
    const kept = localStorage.getItem(this.kept);
    if (kept) this.take(JSON.parse(kept));
    this.listen();
    this.ask();
    setInterval(() => this.ask(), ASK);
    window.addEventListener("offline", () => this.opened(false));
    window.addEventListener("online", () => this.listen());
    document.addEventListener("visibilitychange", () => document.hidden || this.ask());
  }

  listen() {
    this.source?.close();
    clearTimeout(this.again);
    let fresh = false;
    const source = (this.source = new EventSource(`/jobs/${this.job}/bench/stream`));
    source.onopen = () => this.opened(true);
    source.onerror = () => {
      this.opened(false);
      source.close();
      this.again = setTimeout(() => this.listen(), AGAIN);
    };
    source.addEventListener("loading", (event) => this.gettingReady(JSON.parse(event.data).stage));
    source.addEventListener("refused", (event) => this.refused(JSON.parse(event.data).faults));
    source.addEventListener("following", (event) => {
      const following = JSON.parse(event.data);
      // The first one may have been worked out long ago; those after it are sent when they are.
      if (fresh) heard(following.at);
      fresh = true;
      this.take(following);
    });
  }

  async ask() {
    try {
      const answer = await fetch(`/jobs/${this.job}/bench/following`, { cache: "no-store" });
      if (answer.status === 422) this.refused((await answer.json()).faults);
      if (answer.status === 202) this.gettingReady((await answer.json()).stage);
      if (answer.status !== 200) return;
      const date = answer.headers.get("date");
      if (date) heard(date);
      this.take(await answer.json());
    } catch {
      this.opened(this.source?.readyState === EventSource.OPEN);
    }
  }

  gettingReady(stage) {
    this.stage = stage;
    this.changed();
  }

  opened(open) {
    if (open === this.open) return;
    this.open = open;
    this.changed();
  }

  take(following) {
    if (!following || typeof following.number !== "number" || older(following, this.latest)) return;
    this.latest = following;
    this.stage = "";
    localStorage.setItem(this.kept, JSON.stringify(following));
    this.told(following);
  }
}

function older(one, other) {
  if (!other) return false;
  return one.number < other.number || (one.number === other.number && one.at < other.at);
}
