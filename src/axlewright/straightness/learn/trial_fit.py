"""Does what a trial file tells fit together: beads on the tube, arcs one after another, readings when all is cold."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from axlewright.job.faults import Misfit
from axlewright.job.fields import Record
from axlewright.straightness.learn.trial import Trial, TrialBead, on_the_watch
from axlewright.units import LENGTH, from_si

SOONEST = 15.0
"""The model is not meant to be read sooner after an arc (docs/theory/heat.md) [s]."""

APART = 0.015
"""Beads closer than this shrink the same steel twice [m]: half the zone beside a bead (`distortion.functionals`)."""

WIDEST = np.pi / 3.0
"""Furthest a bead round the tube may reach from the top, 10 to 2 o'clock: further down it runs off [rad]."""

_Path = tuple[str | int, ...]


def trial_misfits(trial: Trial) -> Iterator[Misfit]:
    """What does not fit together, in the order of the file."""
    for number, bead in enumerate(trial.beads):
        yield from _on_the_tube(trial, number, bead)
    yield from _apart(trial)
    yield from _in_time(trial)
    if all(bead.reading is None for bead in trial.beads):
        allowed = "at least one bead needs the bend that was read after it"
        yield _misfit(
            ("bead", 0, "reading"), "missing", allowed, "Write what the dial or the gap showed, cold."
        )
    yield from _temperatures(trial)


def _on_the_tube(trial: Trial, number: int, bead: TrialBead) -> Iterator[Misfit]:
    tube = trial.tube
    if bead.length < 0.01:
        yield _misfit(
            ("bead", number, "to"), _shown(trial, bead.end_mark), "a bead is at least 10 mm long", _AGAIN
        )
    ends = (bead.start_mark, bead.end_mark) if bead.at is None else (bead.at, bead.at)
    if not all(tube.left_support < x < tube.right_support for x in ends):
        low, high = _shown(trial, tube.left_support), _shown(trial, tube.right_support)
        key = "from" if bead.at is None else "at"
        allowed = f"a bead lies between the supports, {low} to {high} from the left end"
        yield _misfit(("bead", number, key), _shown(trial, ends[0]), allowed, _AGAIN)
    reach = WIDEST * tube.outside_diameter / 2.0
    if bead.at is not None and max(abs(bead.start_mark), abs(bead.end_mark)) > reach + 1e-6:
        allowed = (
            f"a bead round the tube stays within {_shown(trial, reach)} of the top, measured along the skin"
        )
        yield _misfit(("bead", number, "from"), _shown(trial, bead.start_mark), allowed, _AGAIN)


def _apart(trial: Trial) -> Iterator[Misfit]:
    for number, bead in enumerate(trial.beads):
        for other in trial.beads[:number]:
            if _gap(bead, other) < APART:
                allowed = f"it must keep {_shown(trial, APART)} from bead {trial.beads.index(other) + 1}"
                remedy = "Check both places; two beads on the same steel do not shrink twice."
                yield _misfit(("bead", number, "from"), _shown(trial, bead.start_mark), allowed, remedy)
                break


def _gap(bead: TrialBead, other: TrialBead) -> float:
    """Distance along the tube between two beads [m]."""
    (low, high), (other_low, other_high) = (
        sorted((b.start_mark, b.end_mark)) if b.at is None else (b.at, b.at) for b in (bead, other)
    )
    return max(low - other_high, other_low - high)


def _in_time(trial: Trial) -> Iterator[Misfit]:
    ends = [bead.start + trial.arc_time(bead) for bead in trial.beads]
    for number, (end, later) in enumerate(zip(ends[:-1], trial.beads[1:], strict=True)):
        if later.start < end:
            allowed = f"the arc before it stops at {on_the_watch(end)}"
            yield _misfit(("bead", number + 1, "start"), on_the_watch(later.start), allowed, _WATCH)
    starts = [*(bead.start for bead in trial.beads[1:]), float("inf")]
    for number, (bead, end, after) in enumerate(zip(trial.beads, ends, starts, strict=True)):
        if bead.read_at is not None and not end + SOONEST <= bead.read_at <= after:
            allowed = (
                f"the bend is read after its arc stops at {on_the_watch(end)} and before the next arc starts"
            )
            yield _misfit(("bead", number, "read_at"), on_the_watch(bead.read_at), allowed, _WATCH)


def _temperatures(trial: Trial) -> Iterator[Misfit]:
    if trial.temperatures and trial.thermometer is None:
        allowed = "temperatures need the spot they were read at"
        yield _misfit(("thermometer",), "missing", allowed, "Write [thermometer] with at and round.")
    for number, (first, second) in enumerate(pairwise(trial.temperatures)):
        if second.time < first.time:
            yield _misfit(
                ("temperature", number + 1, "time"),
                on_the_watch(second.time),
                "time runs backwards here",
                _WATCH,
            )
    arcs = [(bead.start, bead.start + trial.arc_time(bead) + SOONEST) for bead in trial.beads]
    for number, reading in enumerate(trial.temperatures):
        if any(start < reading.time < end for start, end in arcs):
            allowed = f"a temperature is read {SOONEST:.0f} s or more after an arc stops, and before the next starts"
            yield _misfit(("temperature", number, "time"), on_the_watch(reading.time), allowed, _WATCH)


_AGAIN = "Measure again, and check `units` at the top."
_WATCH = "Check the times; they count from the start of the first arc."


def _misfit(path: _Path, value: str, allowed: str, remedy: str, root: type[Record] = Trial) -> Misfit:
    return Misfit(path, value, allowed, remedy, root)


def _shown(trial: Trial, metres: float) -> str:
    return f"{from_si(round(metres, 6), LENGTH, trial.inch):.4g} {LENGTH.bare_unit(trial.inch)}"
