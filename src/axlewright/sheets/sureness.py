"""How sure the plan is, in a few sentences for screen and sheet."""

from __future__ import annotations

from axlewright.plan.learned import WIDEST
from axlewright.plan.report import HowSure, Matter, PlanReport
from axlewright.shop.telling import what_was_learned

FIGURES = {"distortion": "distortion", "hottest_spot": "the hottest spot", "tack_load": "tack load"}
"""Figures whose causes are told, in the words of a sentence."""

BAND_HEADING = "10-90 %"
"""What stands over a column of bands."""


def sentences(report: PlanReport) -> list[str]:
    """What the bands are, how often our plan beats common practice, what matters most; empty where not worked out."""
    sure = report.how_sure
    if sure is None:
        return []
    return [
        f"{BAND_HEADING}: of a hundred housings about ten come out below and ten above, by {sure.samples} draws of "
        "what nobody knows exactly: shrinkage, arc heat, air cooling, seams, tacks. Edges of the shape are never "
        f"closer than {closest(sure)} of the figure.",
        what_was_learned(sure.shop),
        f"On the same draws our plan is no hotter than common practice in {how_often(sure.no_hotter)}, distorts no "
        f"more in {how_often(sure.no_more_distorted)}, loads tacks no more in {how_often(sure.tacks_no_more_loaded)}, "
        f"and does all three in {how_often(sure.all_three)} of the draws. It overloads no tack in "
        f"{how_often(sure.tacks_hold)}.",
        *_most(sure),
        "Waits are taken as planned, by the clock. A shop that measures the spot before each bead does better.",
    ]


def closest(sure: HowSure) -> str:
    """How close the edges of the shape's bands may come to their figures, as a share in words."""
    return "a quarter" if sure.narrowest >= WIDEST else percent(sure.narrowest)


def _most(sure: HowSure) -> list[str]:
    told = [matter for matter in sure.matters if matter.figure in FIGURES]
    found = [f"for {FIGURES[matter.figure]} {first}" for matter in told for first in _first(sure, matter)]
    return [f"What matters most: {', '.join(found)}."] if found else []


def _first(sure: HowSure, matter: Matter) -> list[str]:
    """The input with the largest share, in words."""
    ranked = by_share(sure, matter)
    return [f"{ranked[0][0]} ({percent(ranked[0][1])})"] if ranked else []


def by_share(sure: HowSure, matter: Matter) -> list[tuple[str, float]]:
    """Inputs in words with their shares, largest first."""
    pairs = [(known.words, share) for known, share in zip(sure.inputs, matter.shares, strict=True)]
    return sorted(pairs, key=lambda pair: -pair[1])


def percent(share: float) -> str:
    """A share as a whole percentage."""
    return f"{100.0 * share:.0f} %"


def how_often(share: float) -> str:
    """A share of the draws; only always and never read 100 % and 0 %."""
    return percent(min(max(share, 0.01), 0.99) if 0.0 < share < 1.0 else share)
