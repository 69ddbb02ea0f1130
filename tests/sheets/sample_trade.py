"""Invented turns, reasons, longer tacks and plans to choose from; nothing in it is measured or computed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.plan.pieces import PlannedBead
from axlewright.plan.report import Plan, TradeOff, TradePoint


def trade_point(number: int, of: int, *, recommended: int | None = None) -> TradePoint:
    """The n-th of a bent front of plans: longer at the bench is straighter and cooler, with some scatter."""
    share = (number - 1) / max(of - 1, 1)
    wave = np.sin(2.4 * number)
    load = float(0.55 + 0.35 * np.cos(1.7 * number) + 0.25 * (number % 5 == 0))
    return TradePoint(
        number,
        float(3000.0 + 2700.0 * share**1.3 + 60.0 * wave),
        float(118.0 - 62.0 * share + 9.0 * wave),
        float(1e-4 * (2.1 + 3.4 * (1.0 - share) ** 2 + 0.3 * np.cos(3.1 * number))),
        min(load, 0.97) if number == recommended else load,
        (3 * number) % 7,
        number == recommended or (load <= 1.0 and number % 7 != 3),
    )


def trade_off(count: int = 15, *, recommended: int | None = 9, chosen: int = 9) -> TradeOff:
    """So many plans and common practice, which takes three times as long and bends more than most."""
    points = tuple(trade_point(k + 1, count, recommended=recommended) for k in range(count))
    common = TradePoint(0, 9300.0, 96.0, 4.9e-4, 1.31, 0, False)
    why = "It takes 38 % of the bench time of common practice, stays 22 degrees cooler and bends 43 % less."
    if recommended is None:
        why = "T3, T14 and T20 are loaded most; make them longer or set one more tack beside each."
    return TradeOff(points, common, chosen, recommended, why, 4812, False)


def with_turns(plan: Plan) -> Plan:
    """The plan with the housing turned three times, a position and a reason for each bead, two longer tacks."""
    count = len(plan.beads)
    lies = [(90.0, 270.0, 0.0)[min(3 * k // count, 2)] for k in range(count)]
    beads = tuple(
        replace(bead, turn_deg=lie, position="PB" if k % 3 else "PA", why=_why(bead, k))
        for k, (bead, lie) in enumerate(zip(plan.beads, lies, strict=True))
    )
    tacks = tuple(
        replace(tack, length=0.03, enlarged=True) if tack.number in (3, 14) else tack for tack in plan.tacks
    )
    totals = replace(plan.totals, turns=3, turn_s=360.0, distortion=2.8e-4)
    return replace(plan, beads=beads, tacks=tacks, totals=totals)


def _why(bead: PlannedBead, k: int) -> str:
    """A reason of the kind a search gives."""
    if k % 4 == 3:
        return "pulls back the bow of the beads before it"
    return f"coolest spot on the {bead.seam}, {120 + 31 * (k % 9)} mm from the last bead"
