"""Values of a correction that are found by its way, not by a place in a list."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from axlewright.tasks.whence.facts import Facts
from axlewright.tasks.whence.found import Found


def counter_bead_chance(facts: Facts) -> Found:
    """How likely all limits are kept by counter-beads."""
    return _of(facts, "counter-beads", "inside")


def heat_line_chance(facts: Facts) -> Found:
    """How likely all limits are kept by heat lines."""
    return _of(facts, "heat lines", "inside")


def counter_bead_bench_time(facts: Facts) -> Found:
    """Bench time of counter-beads."""
    return _of(facts, "counter-beads", "bench_time", "s")


def heat_line_bench_time(facts: Facts) -> Found:
    """Bench time of heat lines."""
    return _of(facts, "heat lines", "bench_time", "s")


def counter_bead_lines(facts: Facts) -> Found:
    """How many counter-beads there are."""
    return _count(facts, "counter-beads")


def heat_line_lines(facts: Facts) -> Found:
    """How many heat lines there are."""
    return _count(facts, "heat lines")


def _plan(facts: Facts, way: str) -> Any:
    plans = facts.result("correction")["lines"]
    return next((plan for plan in plans if plan["way"] == way), None)


def _of(facts: Facts, way: str, key: str, unit: str = "") -> Found:
    plan = _plan(facts, way)
    return Found(None if plan is None else plan[key], unit, f"correction.json: {key} of {way}")


def _count(facts: Facts, way: str) -> Found:
    plan = _plan(facts, way)
    return Found(None if plan is None else len(plan["lines"]), "", f"correction.json: lines of {way}")


OF_STRAIGHTNESS: tuple[Callable[[Facts], Found], ...] = (
    counter_bead_chance,
    heat_line_chance,
    counter_bead_bench_time,
    heat_line_bench_time,
    counter_bead_lines,
    heat_line_lines,
)
"""The functions, for `worked_out.WORKED_OUT`."""
