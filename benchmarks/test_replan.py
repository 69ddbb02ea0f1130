"""Speed of an answer at the bench. Run: .venv/bin/python -m pytest benchmarks --benchmark-enable -s"""

from __future__ import annotations

import time

import pytest
from reference.jobs import demo
from replan.bench_log import as_planned, intent_for

from axlewright.plan.replan.events import Event, TemperatureRead
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.remaining import best_from_here, improve

LIMIT_S = 0.200
"""What an answer for order and wait may take on the 98-bead demo once the model is loaded."""


def _events(intent: Intent, count: int, off: float) -> tuple[Event, ...]:
    """The first beads as planned, and a reading of each next spot that is off by some kelvin."""
    line, events = intent.plan.timeline, list(as_planned(intent, count))
    spots = intent.bench.model.modes.spot
    for place in range(0, count, 4):
        stretch = int(intent.bench.model.pieces[line.steps[place].bead][0])
        rise = float(spots[stretch] @ line.laying.states[:, place])
        shown = max(intent.bench.job.ambient.temperature + rise + off, intent.bench.job.ambient.temperature)
        events.append(
            TemperatureRead(time=float(line.starts[place]) - 0.5, temperature=shown, stretch=stretch)
        )
    return tuple(events)


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
@pytest.mark.parametrize("off", [0.0, 8.0])
def test_an_answer_comes_within_a_fifth_of_a_second(share: float, off: float) -> None:
    """Standing and way on after a tenth, a half and nine tenths of the 98-bead demo, readings as expected and off."""
    intent = intent_for(demo("rescue-truck"))
    events = _events(intent, int(share * len(intent.steps)), off)
    took = []
    for _ in range(5):
        began = time.perf_counter()
        standing = intent.standing(events)
        stood = time.perf_counter()
        way = best_from_here(intent, standing)
        took.append((stood - began, time.perf_counter() - stood))
    # The quickest of five: what else runs on the machine only ever adds.
    log, order = (1e3 * part for part in min(took, key=sum))
    kept = way.kept or "new order"
    print(
        f"replan at {share:.0%}, readings off by {off:.0f} K: log {log:.0f} ms, way on {order:.0f} ms ({kept})"
    )
    assert log + order < 1e3 * LIMIT_S


def test_improving_in_the_background() -> None:
    """How fast orders are tried after the first answer, and what they gain, after an hour's break."""
    intent = intent_for(demo("rescue-truck"))
    events = as_planned(intent, 30)
    standing = intent.standing(events, events[-1].time + 3600.0)
    first = best_from_here(intent, standing)
    began = time.perf_counter()
    ends = [way.end for way in improve(intent, standing, first, 40)]
    took = (time.perf_counter() - began) / 40
    print(
        f"improving: {1e3 * took:.0f} ms an order; ends {first.end - min([first.end, *ends]):.0f} s sooner after 40"
    )
