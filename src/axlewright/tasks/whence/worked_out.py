"""Values that stand nowhere as such: sums and picks over a plan, and tables of standards.

A function takes the facts and gives what it found; add one here and name it in a TOML file as `worked.NAME`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from axlewright.tasks.whence import formulas
from axlewright.tasks.whence.facts import Facts
from axlewright.tasks.whence.found import Found
from axlewright.tasks.whence.worked_straight import OF_STRAIGHTNESS

_PLAN = "plan.json"


def arc_efficiency(facts: Facts) -> Found:
    """Share of the arc's power that enters the steel."""
    welder = facts.job.welder
    if welder.efficiency is not None:
        return Found(welder.efficiency, "", "efficiency in [welder] of the job file")
    where = f"EN 1011-1:2009 for process {welder.process} (process in [welder] of the job file)"
    return Found(formulas.arc_efficiency(welder.process), "", where)


def process(facts: Facts) -> Found:
    """The welding process by number and name."""
    number = facts.job.welder.process
    where = "process in [welder] of the job file; names of ISO 4063"
    return Found(f"{number} {formulas.process_name(number)}", "", where)


def deposition_efficiency(facts: Facts) -> Found:
    """Share of the wire that becomes weld metal."""
    number = facts.job.welder.process
    where = f"middle of the published range for process {number} (process in [welder] of the job file)"
    return Found(formulas.deposition_efficiency(number), "", where)


def thinner_tube_wall(facts: Facts) -> Found:
    """Wall of the thinner tube."""
    housing = facts.job.housing
    side = min(("left", "right"), key=lambda one: getattr(housing, f"{one}_tube").wall)
    where = f"wall in [housing.{side}_tube] of the job file, the thinner one"
    return Found(getattr(housing, f"{side}_tube").wall, "m", where)


def lowest_plate_factor(facts: Facts) -> Found:
    """F2 of a T-joint's fillet."""
    return Found(formulas.shape_factors("tee fillet")[0], "", "EN 1011-2:2001 table D.1, T-joint, lower end")


def thick_factor(facts: Facts) -> Found:
    """F3 of a T-joint's fillet."""
    return Found(formulas.shape_factors("tee fillet")[2], "", "EN 1011-2:2001 table D.1, T-joint")


def ultimate_strength(facts: Facts) -> Found:
    """Tensile strength of the housing's steel."""
    name = facts.job.housing.steel
    where = f"EN 1993-1-1:2005 table 3.1 for {name} (steel in [housing] of the job file)"
    return Found(formulas.steel(name).ultimate, "Pa", where)


def correlation_factor(facts: Facts) -> Found:
    """Correlation factor of the housing's steel."""
    name = facts.job.housing.steel
    where = f"EN 1993-1-8:2005 table 4.1 for {name} (steel in [housing] of the job file)"
    return Found(formulas.steel(name).correlation_factor, "", where)


def bead_count(facts: Facts) -> Found:
    """How many beads the plan has."""
    return Found(len(facts.this["beads"]), "", f"{_PLAN}: lines of beads")


def tack_count(facts: Facts) -> Found:
    """How many tacks the plan has."""
    return Found(len(facts.this["tacks"]), "", f"{_PLAN}: lines of tacks")


def bead_length(facts: Facts) -> Found:
    """All beads end to end."""
    total = sum(_length(bead) for bead in facts.this["beads"])
    return Found(total, "mm", f"{_PLAN}: from_s_mm to to_s_mm of all beads, added")


def tack_length(facts: Facts) -> Found:
    """All tacks end to end."""
    return Found(
        sum(_length(t) for t in facts.this["tacks"]), "mm", f"{_PLAN}: length_mm of all tacks, added"
    )


def piece_length(facts: Facts) -> Found:
    """Length of the bead or tack asked about."""
    piece = facts.bead_or_tack
    keys = "length_mm" if "length_mm" in piece else "from_s_mm to to_s_mm"
    return Found(_length(piece), "mm", f"{_PLAN}: {keys} of {piece['tag']}")


def bead_waits(facts: Facts) -> Found:
    """All cool-downs before beads."""
    total = sum(bead["wait_s"] for bead in facts.this["beads"])
    return Found(total, "s", f"{_PLAN}: wait_s of all beads, added")


def tack_waits(facts: Facts) -> Found:
    """All cool-downs before tacks."""
    total = sum(tack["wait_s"] for tack in facts.this["tacks"])
    return Found(total, "s", f"{_PLAN}: wait_s of all tacks, added")


def hottest_bead(facts: Facts) -> Found:
    """The bead that starts on the hottest spot."""
    bead = max(facts.this["beads"], key=lambda one: one["spot_c"])
    return Found(f"{bead['tag']}, number {bead['number']}", "", f"{_PLAN}: the bead with the highest spot_c")


def hottest_bead_spot(facts: Facts) -> Found:
    """Its spot temperature."""
    spot = max(bead["spot_c"] for bead in facts.this["beads"])
    return Found(spot, "degC", f"{_PLAN}: the highest spot_c of all beads")


def longer_tacks(facts: Facts) -> Found:
    """Tacks that the plan asks to be longer than the job file's."""
    count = sum(1 for tack in facts.this["tacks"] if tack["enlarged"])
    return Found(count, "", f"{_PLAN}: tacks marked as enlarged")


def draws(facts: Facts) -> Found:
    """How often both plans were walked with drawn inputs."""
    sure = facts.result("plan")["how_sure"]
    return Found(None if sure is None else sure["samples"], "", f"{_PLAN}: how_sure.samples")


def plans_shown(facts: Facts) -> Found:
    """How many plans the trade-off shows."""
    trade = facts.result("plan")["trade_off"]
    return Found(None if trade is None else len(trade["points"]), "", f"{_PLAN}: lines of trade_off.points")


def _length(piece: dict[str, Any]) -> float:
    if "length_mm" in piece:
        return float(piece["length_mm"])
    return float(abs(piece["to_s_mm"] - piece["from_s_mm"]))


_EACH: tuple[Callable[[Facts], Found], ...] = (
    arc_efficiency,
    process,
    deposition_efficiency,
    thinner_tube_wall,
    lowest_plate_factor,
    thick_factor,
    ultimate_strength,
    correlation_factor,
    bead_count,
    tack_count,
    bead_length,
    tack_length,
    piece_length,
    bead_waits,
    tack_waits,
    hottest_bead,
    hottest_bead_spot,
    longer_tacks,
    draws,
    plans_shown,
)
WORKED_OUT: dict[str, Callable[[Facts], Found]] = {one.__name__: one for one in (*_EACH, *OF_STRAIGHTNESS)}
"""The functions by what TOML files call them."""
