"""When to stop, and what to do then."""

from __future__ import annotations

from collections.abc import Sequence

from axlewright.plan.bounds import watch_limits
from axlewright.plan.replan.events import ArcStarted, Event, TackLeftOut, TackSet
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.standing import Standing
from axlewright.units import format_temperature

ROUNDING = 0.5
"""What a place may exceed its limit by: temperatures are told to the degree [K]."""


def stop_words(intent: Intent, standing: Standing, events: Sequence[Event]) -> str | None:
    """What is wrong and what to do, or None."""
    cracked = _cracked(standing, events)
    if cracked is not None:
        return (
            f"T{cracked + 1} has cracked. Stop: grind it out, tack beside it, and look at the tacks near it."
        )
    return _too_hot(intent, standing) if standing.left else None


def _cracked(standing: Standing, events: Sequence[Event]) -> int | None:
    """The tack last told to be lost once welding had begun or it had been set; None where an arc followed."""
    told: int | None = None
    tacks, begun = set(), False
    for event in sorted(events, key=lambda event: event.time):
        if isinstance(event, TackSet):
            tacks.add(event.tack)
        elif isinstance(event, ArcStarted):
            begun, told = True, None
        elif isinstance(event, TackLeftOut) and (begun or event.tack in tacks):
            told = event.tack
    return told if told in standing.tacks_out else None


def _too_hot(intent: Intent, standing: Standing) -> str | None:
    """A bearing seat or seal over its limit now."""
    modes, inch = standing.modes, intent.bench.job.inch
    cold = intent.bench.job.ambient.temperature
    limits = cold + watch_limits(modes.places, intent.goal.seat, intent.goal.seal)
    over = standing.ambient + modes.watch @ standing.estimate.state - limits
    if not len(over) or float(over.max()) <= ROUNDING:
        return None
    worst = int(over.argmax())
    now, limit = float(limits[worst] + over[worst]), float(limits[worst])
    shown, allowed = format_temperature(now, inch), format_temperature(limit, inch)
    return f"Too hot: {modes.places[worst]} at {shown}, limit {allowed}. Stop and let it cool."
