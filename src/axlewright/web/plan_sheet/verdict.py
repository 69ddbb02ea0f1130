"""Is this a good plan, and how sure is it: the answer in words, from plan.json."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from axlewright import units
from axlewright.tasks import wording
from axlewright.web.plan_sheet.saying import of_a_hundred


@dataclass(frozen=True)
class Said:
    """One thing said about the plan.

    Args:
        kind: "well", "hot" or "wrong" where it is good, to be minded or bad; "" where it is neither.
        head: the first words.
        words: the rest.
        sure: how sure it is, or "".
        figure: id of what explains how sure it is, or "".
    """

    kind: str
    head: str
    words: str
    sure: str = ""
    figure: str = ""


@dataclass(frozen=True)
class Verdict:
    """The answer: its first sentence, whether it is a yes, and one line for each count."""

    kind: str
    head: str
    words: str
    lines: tuple[Said, ...]


def verdict(plan: Any, inch: bool) -> Verdict:
    """The answer for the plan of plan.json.

    Args:
        plan: plan.json.
        inch: whether the shop works in inches.
    """
    ours, common = plan["totals"], plan["common_practice"]["totals"]
    sure = plan["how_sure"] or {}
    lines = (
        _time(ours, common),
        _shape(ours, common, sure, inch),
        _heat(ours, common, sure, inch),
        _tacks(ours, common, sure),
    )
    return Verdict(*_answer(plan, ours), lines)


def _answer(plan: Any, ours: Any) -> tuple[str, str, str]:
    trade = plan["trade_off"]
    if ours["tack_utilisation"] > 1.0:
        words = "Make the tacks longer or set them closer, or choose another plan."
        return "wrong", "Not as it is: it overloads a tack.", words
    if trade is None:
        return "", "A plan, not compared with others.", ""
    shown = next((point for point in trade["points"] if point["number"] == trade["chosen"]), None)
    if shown is not None and not shown["within"]:
        return "hot", "It goes beyond a limit of the job.", "See which below, or choose another plan."
    sure = plan["how_sure"]
    if sure is not None and sure["tacks_hold"] < 0.5:
        words = "It keeps every limit of the job as far as the sums go, but tacks are near their strength."
        return "hot", "Yes, but look at every tack before the bead that follows.", words
    why = wording.sentence(trade["why"]) if trade["chosen"] == trade["recommended"] else ""
    return "well", "Yes, as far as the sums go: it keeps every limit of the job.", why


def _time(ours: Any, common: Any) -> Said:
    less = common["bench_min"] - ours["bench_min"]
    now, then = (units.format_duration(60.0 * totals["bench_min"]) for totals in (ours, common))
    if abs(less) < 1.0:
        return Said("", "As quick.", f"{now} on the bench, as by common practice.")
    kind, head = ("well", "Quicker.") if less > 0.0 else ("hot", "Slower.")
    return Said(kind, head, f"{now} on the bench instead of {then}.")


def _shape(ours: Any, common: Any, sure: Any, inch: bool) -> Said:
    now, then = (wording.distortion(1e-3 * totals["distortion_mm"], inch) for totals in (ours, common))
    straighter = ours["distortion_mm"] <= common["distortion_mm"]
    kind, head = ("well", "Straighter.") if straighter else ("hot", "More bent.")
    told = _share(sure, "no_more_distorted", "It distorts no more than common practice in")
    return Said(kind, head, f"Distortion {now} instead of {then}.", told, "sure-no-more-distorted")


def _heat(ours: Any, common: Any, sure: Any, inch: bool) -> Said:
    more = ours["hottest_spot_c"] - common["hottest_spot_c"]
    now, then = (wording.temperature(totals["hottest_spot_c"], inch) for totals in (ours, common))
    kind, head = ("well", "Cooler.") if more < -1.0 else ("hot", "Hotter.") if more > 1.0 else ("", "As hot.")
    told = _share(sure, "no_hotter", "It gets no hotter in")
    return Said(
        kind, head, f"Hottest spot before a bead {now}, by common practice {then}.", told, "sure-no-hotter"
    )


def _tacks(ours: Any, common: Any, sure: Any) -> Said:
    now, then = (wording.tack_load(totals["tack_utilisation"]) for totals in (ours, common))
    kind = "wrong" if ours["tack_utilisation"] > 1.0 else ""
    head = "Tacks overloaded." if kind else "Tacks hold."
    told = _share(sure, "tacks_hold", "Every tack holds in")
    if not kind and sure and sure["tacks_hold"] < 0.5:
        kind, head = "hot", "Tacks barely hold."
    words = f"The heaviest loaded carries {now} of its strength, by common practice {then}."
    return Said(kind, head, words, told, "sure-tacks-hold")


def _share(sure: Any, key: str, words: str) -> str:
    return f"{words} {of_a_hundred(sure[key])}." if sure else ""
