"""An order of beads as the search changes it, and the plan that follows from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from axlewright.job.schema import Bench
from axlewright.plan.outlook import Limits, Outlook
from axlewright.plan.timeline import Clock, Step, pause_before


@dataclass(frozen=True)
class Order:
    """What the search changes; waits and turns follow from it.

    Args:
        beads: numbers of all beads in the order they are laid.
        reverse: whether each bead is welded from its end to its start, by bead number.
        spot: rise of the spot temperature over ambient above which the plan waits [K].
    """

    beads: tuple[int, ...]
    reverse: tuple[bool, ...]
    spot: float


def order_of(steps: tuple[Step, ...], spot: float) -> Order:
    """The order in which the steps of a plan lie."""
    reverse = {step.bead: step.reverse for step in steps}
    return Order(tuple(step.bead for step in steps), tuple(reverse[bead] for bead in sorted(reverse)), spot)


def steps_of(view: Outlook, bench: Bench, clock: Clock, order: Order, limits: Limits) -> Iterator[Step]:
    """The beads of an order with the waits and turns it needs; for `timeline.in_time`.

    The housing is turned only when the next bead cannot be welded as it lies, and then to where most of the
    beads that follow can be: no other choice needs fewer turns for this order.
    """
    spot_only = Limits(min(limits.spot, order.spot), np.full_like(limits.watch, np.inf))
    every, reached = replace(limits, spot=spot_only.spot), view.coming(clock.state).max(axis=1)
    for place, bead in enumerate(order.beads):
        turn = _turn(view, clock, order.beads[place:])
        demanded = int(view.positions.reverse[bead, view.positions.turns.index(turn)])
        reverse = order.reverse[bead] if demanded == 0 else demanded < 0
        state = clock.state * view.model.fading(pause_before(bench, clock, turn))
        # Heat adds up, so a seat gets no warmer than each arc alone would make it, all taken together. Only
        # where that could break a limit is it worked out in earnest.
        reached = reached + view.warmest[bead]
        earnest = bool((reached > limits.watch).any())
        wait = 0.0
        if earnest or view.ends[int(reverse), bead] @ state > spot_only.spot:
            one, way = np.array([bead]), np.array([int(reverse)])
            wait = view.shortest_wait(state, one, way, every if earnest else spot_only)
        if earnest:
            after = view.coming(view.later(state, wait)) + view.warming[bead]
            reached = after.max(axis=1)
        yield Step(bead, reverse, wait, turn)


def _turn(view: Outlook, clock: Clock, coming: tuple[int, ...]) -> float:
    """How the housing lies for the first of the beads to come."""
    turns, allowed = view.positions.turns, view.positions.allowed
    if clock.turn in turns and allowed[coming[0], turns.index(clock.turn)]:
        return clock.turn
    lasting = [
        (_run(allowed[list(coming), number]), int(view.positions.comfortable[list(coming), number].sum()))
        for number in range(len(turns))
    ]
    return turns[max(range(len(turns)), key=lambda number: lasting[number])]


def _run(allowed: np.ndarray) -> int:
    """How many of the beads to come can be welded one after another."""
    return int(np.argmin(allowed)) if not allowed.all() else len(allowed)
