"""What is going on at the bench: how far it is, whether an arc burns, and what is waited for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from axlewright.plan.replan.events import ArcStarted, Event, TacksDone, TackSet
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.outcome import Way
from axlewright.plan.replan.standing import Standing
from axlewright.tasks.following_asked import Following
from axlewright.tasks.following_clock import BenchClock
from axlewright.tasks.following_words import stop_mark

State = Literal["not begun", "tacking", "waiting", "ready", "welding", "done"]

OVERDUE = 3.0
"""A bead that has no stop after so many times its arc's time is asked about: perhaps the power failed [1]."""

AT_ONCE = 0.5
"""A wait shorter than this is over: a log has whole seconds [s]."""


@dataclass(frozen=True)
class Stage:
    """What is going on.

    Args:
        state: in a word.
        laid: beads laid.
        of: beads there are.
        tacks_set: tacks set.
        tacks_of: tacks there are.
        burning: name of the bead whose arc burns, or None.
        unfinished: name of a bead that was started long ago and not stopped, or None.
        since: when either started, seconds from the first arc [s].
        entry: of the log that told so, for messages.
        to: mark where it was to stop.
    """

    state: State
    laid: int
    of: int
    tacks_set: int
    tacks_of: int
    burning: str | None = None
    unfinished: str | None = None
    since: float = 0.0
    entry: str = ""
    to: str = ""

    def waits(self, way: Way, now: float, begun: bool) -> Stage:
        """The stage with what is waited for.

        Args:
            way: the way on.
            now: the present on its scale [s].
            begun: whether the first bead may be next.
        """
        if self.state != "waiting" or not begun or not way.beads:
            return self
        return self if way.beads[0].bead.start_s - now > AT_ONCE else replace(self, state="ready")

    def told(self, clock: BenchClock, number: Callable[[str], int | None]) -> Following:
        """The stage as an answer has it.

        Args:
            clock: by which moments are told.
            number: number of the event that an entry of the log is.
        """
        known = {"since": clock.at(self.since), "number": number(self.entry)}
        return {
            "state": self.state,
            "laid": self.laid,
            "of": self.of,
            "tacks_set": self.tacks_set,
            "tacks_of": self.tacks_of,
            "burning": None if self.burning is None else {"tag": self.burning, **known},
            "unfinished": None
            if self.unfinished is None
            else {"tag": self.unfinished, **known, "to": self.to},
        }


def stage_of(intent: Intent, standing: Standing, events: Sequence[Event], now: float) -> Stage:
    """What is going on.

    Args:
        intent: what was planned.
        standing: where things stand.
        events: what happened.
        now: the present [s].
    """
    names, tacks_of = intent.names, len(intent.bench.tacks.stretches)
    tacks = len({event.tack for event in events if isinstance(event, TackSet)})
    begun = any(isinstance(event, ArcStarted) for event in events) or bool(standing.met)
    tacked = begun or any(isinstance(event, TacksDone) for event in events)
    lost = len(standing.tacks_out)
    if tacked and not tacks:
        tacks = tacks_of - lost
    last = standing.met[-1].arc if standing.met and standing.met[-1].arc.burning else None
    overdue = last is not None and now - last.start > OVERDUE * (last.end - last.start)
    open_tag = None if last is None else names.tags[last.bead]
    laid = sum(standing.coverage.is_laid(bead) for bead in range(len(names.tags)))
    if last is not None and standing.coverage.is_laid(last.bead):
        laid -= 1
    state: State = "waiting"
    if not tacked and tacks + lost < tacks_of:
        state = "tacking" if tacks else "not begun"
    elif last is not None and not overdue:
        state = "welding"
    elif not standing.left and last is None:
        state = "done"
    stage = Stage(state, laid, len(names.tags), tacks, tacks_of)
    if last is None:
        return stage
    stage = replace(stage, since=last.start, entry=last.where, to=stop_mark(intent, last.bead, last.span[1]))
    return replace(stage, unfinished=open_tag) if overdue else replace(stage, burning=open_tag)


def tacks_left(intent: Intent, stage: Stage) -> float:
    """How long the tacks still to be set will take [s]; nothing once the tack stage is over."""
    if stage.state not in ("not begun", "tacking"):
        return 0.0
    stage_s, done = intent.bench.tacks, min(stage.tacks_set, stage.tacks_of - 1)
    return float(stage_s.end - stage_s.starts[done])
