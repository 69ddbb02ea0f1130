"""What a planned trial cannot tell, said plainly."""

from __future__ import annotations

from axlewright.straightness.learn.trial import Way
from axlewright.straightness.learn.trial_plan import FactorOutlook

HARDLY = 0.2
"""Below this share settled, a trial hardly tells a factor [1]."""

MOSTLY_ELASTIC = 0.9
"""Share of yield stress beside a bead up to which the tube is taken to answer elastically [1]."""

_HARDLY = {
    "tendon": "This trial hardly tells shrinkage along the bead: take longer beads or a thinner tube.",
    "across": "This trial hardly tells shrinkage across the bead: a bead along the tube leaves no bow by it. Only "
    "a bead round the tube tells it.",
    "heat": "This trial hardly tells the arc heat that enters the steel: the thermometer's own error is nearly as "
    "large as what is open.",
    "loss": "One thermometer hardly tells the loss to the air: within half an hour the heat spreads along the tube "
    "more than it leaves it. Its band stays nearly what it was.",
}

ALWAYS = (
    "Beads lie on bare tube: how a fillet shares its heat, turns the plate, and what crosses a seam is not told.",
    "It holds for these settings, this wire and gas, and this hand. After a change, lay another.",
)


def remarks(
    outlook: tuple[FactorOutlook, ...], rounds: int, step: float, minutes: float, way: Way, stress: float
) -> tuple[str, ...]:
    """Remarks of a plan.

    Args:
        outlook: what is known of each factor before and after.
        rounds: how many beads run round the tube.
        step: least bow that one bead adds over the error of a reading [1].
        minutes: the whole [min].
        way: how the bend is read.
        stress: what a bead's pull puts on the skin beside it, over yield stress [1].
    """
    found = []
    if stress > MOSTLY_ELASTIC:
        found.append(
            f"A bead at these settings loads this tube to {stress:.0%} of its yield stress: it would give way, and the "
            "trial would tell too little shrinkage. Take a thicker or larger tube."
        )
    if minutes > 31.0:
        found.append(f"It takes {minutes:.0f} minutes: this tube cools slowly. A thinner wall is quicker.")
    if step < 3.0:
        better = (
            "a longer or thinner tube" if way == "dial" else "a dial indicator, or a longer or thinner tube"
        )
        found.append(
            f"A bead bends this tube by only {step:.1f} times the error of a reading: take {better}."
        )
    found += [_HARDLY[one.name] for one in outlook if one.told < HARDLY]
    if rounds:
        found.append("Shrinkage across is told by the bead round the tube alone: lay it with care.")
    return (*found, *ALWAYS)
