"""Which drawing belongs to which card of the form."""

from __future__ import annotations

from collections.abc import Callable

from axlewright.web.drawing import bare, bench, plates, round_plates, truss
from axlewright.web.drawing.measures import Measures

ONCE: dict[str, Callable[[Measures], str]] = {
    "housing": bare.housing,
    "tubes": bare.tubes,
    "centre": bare.centre,
    "flanges": bare.flanges,
    "welder": bench.welder,
    "supports": bench.supports,
    "bench": bench.turns,
    "straightness": bench.straightness,
    "fixture": bench.fixture,
}
"""Drawings by the section they stand in."""

EACH: dict[str, Callable[[Measures, int], str]] = {
    "housing.perch": bare.perch,
    "housing.seal": bare.seal,
    "truss": truss.truss,
    "guard": round_plates.guard,
    "spacer": plates.spacer,
    "gusset": plates.gusset,
    "bracket": plates.bracket,
    "fixture.support": bench.fixture_support,
}
"""Drawings of tables that stand several times, by the table."""


def figure(card: str, measures: Measures) -> str | None:
    """The drawing of a card as SVG text, None where it has none.

    Args:
        card: a section, or a table with its number, e.g. "truss.0".
        measures: the figures to draw it from.
    """
    if card in ONCE:
        return ONCE[card](measures)
    table, _, number = card.rpartition(".")
    return EACH[table](measures, int(number)) if table in EACH and number.isdecimal() else None
