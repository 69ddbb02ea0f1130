// Where the weld stands by what the shop's computer said last and what was tapped since. Nothing here touches the page.

const seconds = (moment) => new Date(moment).getTime() / 1000;
const moment = (time) => new Date(time * 1000).toISOString();

// following: the last answer; told: taps written down, with numbers; pending: taps that wait.
export function project(following, told, pending) {
  if (!following) return null;
  const since = [...told.filter((tap) => tap.number > following.number), ...pending];
  return inPlace(since).reduce((state, tap) => (STEPS[tap.event] ?? same)(state, tap), { ...following, next: [...following.next] });
}

// Taps that were neither taken back nor put right, in order; taking back a withdrawal lets its tap count again.
export function counting(taps) {
  const gone = new Set();
  for (const tap of [...taps].reverse()) {
    if (!gone.has(tap.key) && !gone.has(tap.number)) for (const one of [tap.amends_key, tap.amends]) if (one) gone.add(one);
  }
  return taps.filter((tap) => tap.kind !== "withdrawal" && !gone.has(tap.key) && !gone.has(tap.number));
}

// One that puts another right stands in its place. Where that came before the answer, only the next answer can tell.
function inPlace(since) {
  const amended = (tap) => since.findIndex((one) => one.key === tap.amends_key || (tap.amends && one.number === tap.amends));
  const place = (tap) => (tap.amends_key || tap.amends ? (amended(tap) < 0 ? -1 : place(since[amended(tap)])) : since.indexOf(tap));
  return counting(since).filter((tap) => place(tap) >= 0).sort((one, other) => place(one) - place(other));
}

const same = (state) => state;

const STEPS = {
  start: (state, tap) => ({ ...state, state: "welding", burning: { tag: tap.bead, since: tap.told_at }, next: first(state.next, tap.bead) }),
  stop: stopped,
  skip: (state, tap) => ({ ...state, next: state.next.filter((bead) => bead.tag !== tap.bead), changed: [] }),
  tack: (state) => ({ ...state, state: "tacking", tacks_set: state.tacks_set + 1 }),
  "tacks done": (state) => ({ ...state, state: "waiting", tacks_set: state.tacks_of }),
};

function first(next, tag) {
  const here = next.filter((bead) => bead.tag === tag);
  return [...here, ...next.filter((bead) => bead.tag !== tag)];
}

function stopped(state, tap) {
  const tag = tap.bead || state.burning?.tag;
  const next = state.next.filter((bead) => bead.tag !== tag);
  const laid = state.laid + (next.length < state.next.length || state.burning?.tag === tag ? 1 : 0);
  return { ...state, state: next.length ? "waiting" : "done", burning: null, laid, next: later(next, seconds(tap.told_at)), changed: [] };
}

// The wait of a bead counts from the end of the arc before it: one that ended late moves all that follow.
function later(next, end) {
  if (!next.length) return next;
  const shift = Math.max(0, end + (next[0].wait_s ?? 0) - seconds(next[0].start_at));
  return next.map((bead) => ({ ...bead, start_at: moment(seconds(bead.start_at) + shift) }));
}

// What is seen: "held", "tacks", "burning", "wait", "go", "done" or "none".
export function seen(state, now) {
  if (!state) return "none";
  if (state.burning) return "burning";
  if (state.tacks_set < state.tacks_of && ["not begun", "tacking"].includes(state.state)) return "tacks";
  if (state.state === "done" || !state.next.length) return "done";
  return seconds(state.next[0].start_at) > now / 1000 ? "wait" : "go";
}
