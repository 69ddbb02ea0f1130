"""Small changes to an order: what the search tries next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from axlewright.plan.search.orders import Order
from axlewright.plan.timeline import Step

Chance = np.random.Generator

AT_A_WAIT = 0.4
"""How often a change starts at a bead that has to wait, where there is one."""


@dataclass(frozen=True)
class Scope:
    """Where an order is changed.

    Args:
        place: of the bead to change, in the order.
        other: another place among beads of its kind.
    """

    place: int
    other: int


def changed(
    order: Order, steps: tuple[Step, ...], groups: list[list[int]], warm: tuple[float, ...], chance: Chance
) -> Order:
    """An order with one small change; kinds of attachment stay one after another.

    Args:
        order: to start from; it may hold only some of the beads.
        steps: the plan it gave.
        groups: beads of each kind; a bead only changes place with those of its kind.
        warm: rises of the spot temperature a plan may wait for [K].
        chance: source of chance.
    """
    if len(warm) > 1 and chance.random() < OTHER_WARMTH:
        return replace(order, spot=float(chance.choice(warm)))
    move = MOVES[int(chance.choice(len(MOVES), p=OFTEN))]
    place = _place(steps, chance)
    group = next(group for group in groups if order.beads[place] in group)
    alike = [there for there, bead in enumerate(order.beads) if bead in group]
    return move(order, Scope(place, alike[int(chance.integers(len(alike)))]), chance)


def _place(steps: tuple[Step, ...], chance: Chance) -> int:
    waits = np.array([step.wait for step in steps])
    if waits.any() and chance.random() < AT_A_WAIT:
        return int(chance.choice(len(steps), p=waits / waits.sum()))
    return int(chance.integers(len(steps)))


def _swapped(order: Order, scope: Scope, chance: Chance) -> Order:
    """Two beads change places."""
    beads = list(order.beads)
    beads[scope.place], beads[scope.other] = beads[scope.other], beads[scope.place]
    return replace(order, beads=tuple(beads))


def _moved(order: Order, scope: Scope, chance: Chance) -> Order:
    """One bead comes at another place."""
    beads = list(order.beads)
    beads.insert(scope.other, beads.pop(scope.place))
    return replace(order, beads=tuple(beads))


def _turned_round(order: Order, scope: Scope, chance: Chance) -> Order:
    """A run of beads comes in the opposite order."""
    first, last = sorted((scope.place, scope.other))
    beads = order.beads
    run = beads[first : last + 1][::-1]
    return replace(order, beads=(*beads[:first], *run, *beads[last + 1 :]))


def _other_way(order: Order, scope: Scope, chance: Chance) -> Order:
    """One bead is welded from its other end."""
    bead = order.beads[scope.place]
    reverse = list(order.reverse)
    reverse[bead] = not reverse[bead]
    return replace(order, reverse=tuple(reverse))


MOVES: tuple[Callable[[Order, Scope, Chance], Order], ...] = (
    _swapped,
    _moved,
    _turned_round,
    _other_way,
)
OFTEN = (0.4, 0.35, 0.1, 0.15)
"""How often each is tried."""

OTHER_WARMTH = 0.05
"""How often a plan is made to wait for another temperature instead, where there is a choice."""
