"""The plans of a trade-off as orders.json keeps them: any of them can be taken later without another search.

Lengths are in metres, times in seconds, angles in degrees and temperature rises in kelvin, each written so that it is
read back to the last digit: a plan taken later has exactly the figures that the trade-off shows.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from pydantic import Field, ValidationError, model_validator

from axlewright.errors import Fault, OptionError, RecordError
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.bounds import bounds
from axlewright.plan.ours import Ours, take
from axlewright.plan.outlook import outlook
from axlewright.plan.recommend import Choice
from axlewright.plan.record import Record
from axlewright.plan.search.archive import Found
from axlewright.plan.search.orders import Order
from axlewright.plan.search.tries import Tries
from axlewright.plan.timeline import Step
from axlewright.shop.factors import ShopFactors

_REMEDY = "Plan the job again."


class BeadPlace(Record):
    """Where a bead lies; its number is its place in the list, from 0."""

    attachment: str
    seam: str
    start_m: float = Field(description="along the seam from its start")
    end_m: float


class StepsEntry(Record):
    """The beads of a plan in the order they are laid, column by column."""

    beads: list[int]
    reverse: list[bool] = Field(description="whether each is welded from its end to its start")
    wait_s: list[float] = Field(description="cool-down before each")
    turn_deg: list[float] = Field(description="how the housing lies for each")


class OrderEntry(StepsEntry):
    """One plan of the trade-off."""

    number: int
    spot_k: float | None = Field(
        description="rise over the air above which it waits; null where it never does"
    )
    ways: list[bool] = Field(description="which way each bead is best welded, by the number of the bead")
    bench_s: float
    hottest_k: float = Field(description="hottest spot before a bead, as a rise over the air")
    distortion_m: float
    tack_utilisation: float
    too_warm: float = Field(description="how far seats and seals get beyond their limits, as a share")


class TacksEntry(Record):
    """Tacks that every plan of the trade-off needs besides the job's own."""

    extra: list[int] = Field(description="stretches that get a tack besides those of the job's spacing")
    lengths_m: list[float] = Field(description="length of every tack; empty: the job's own length everywhere")


class ShopEntry(Record):
    """What the shop had learned when the plans were looked for, on which their figures stand."""

    mean: list[float]
    covariance: list[list[float]]
    jobs: int
    trials: int
    source: str
    logs: int


class OrdersFile(Record):
    """Every plan of a trade-off, and common practice."""

    beads: list[BeadPlace]
    tacks: TacksEntry
    orders: list[OrderEntry] = Field(description="by bench time, numbered from 1 as on the trade-off picture")
    common_practice: StepsEntry
    recommended: int | None
    leading: int = Field(description="number of the best plan by the aim of a recommended one")
    tried: int
    stopped: bool
    scale: list[float] = Field(description="what each count is measured by: common practice's own")
    shop: ShopEntry | None

    @model_validator(mode="after")
    def _whole(self) -> OrdersFile:
        """Every plan has each bead once."""
        count = len(self.beads)
        for steps in (self.common_practice, *self.orders):
            columns = (steps.reverse, steps.wait_s, steps.turn_deg)
            if sorted(steps.beads) != list(range(count)) or any(len(column) != count for column in columns):
                raise ValueError("a plan does not have every bead once")
        if not self.orders or not 1 <= self.leading <= len(self.orders):
            raise ValueError("the leading plan is not among them")
        return self


def orders_of(ours: Ours, shop: ShopFactors | None = None) -> OrdersFile:
    """The plans that a search found, as orders.json has them.

    Args:
        ours: the plan taken of them.
        shop: what the shop had learned, whose middle the bench has; left out: nothing.
    """
    found, tries = ours.found, ours.found.tries
    bench = tries.bench
    tacks = TacksEntry(extra=list(bench.extra_tacks), lengths_m=list(bench.longer_tacks))
    return OrdersFile(
        beads=_places(bench),
        tacks=tacks,
        orders=[_order(number, plan) for number, plan in enumerate(found.plans, start=1)],
        common_practice=StepsEntry(**_steps(tries.common.timeline.steps)),
        recommended=found.recommended,
        leading=found.leading,
        tried=tries.walked,
        stopped=tries.stopped,
        scale=tries.scale.tolist(),
        shop=None if shop is None else _shop(shop),
    )


def orders_text(orders: OrdersFile) -> str:
    """The text of orders.json."""
    return orders.model_dump_json() + "\n"


def read_orders(text: str, source: str) -> OrdersFile:
    """An orders.json; `source` stands for it in messages.

    Raises:
        RecordError: it is none.
    """
    try:
        return OrdersFile.model_validate_json(text)
    except ValidationError as error:
        said = str(error.errors()[0]["msg"])
        allowed = "must be the plans of a trade-off as this program writes them"
        raise RecordError(Fault(source, said, allowed, _REMEDY)) from error


def shop_of(orders: OrdersFile) -> ShopFactors | None:
    """What the shop had learned when the plans were looked for."""
    kept = orders.shop
    if kept is None:
        return None
    mean, covariance = np.array(kept.mean), np.array(kept.covariance)
    return ShopFactors(mean, covariance, kept.jobs, kept.trials, kept.source, kept.logs)


def chosen_plan(bench: OnTheBench, common: Trial, orders: OrdersFile, number: int) -> Ours:
    """A plan of the trade-off by its number, without a search.

    Args:
        bench: the job on the bench, with its own tacks and what the shop had learned (`shop_of`).
        common: common practice, tried on it.
        orders: the plans.
        number: of the one to take.

    Raises:
        OptionError: there is no plan of that number.
        RecordError: the plans are of another job.
    """
    if not 1 <= number <= len(orders.orders):
        allowed = f"must be 1 to {len(orders.orders)}, a number of the trade-off picture"
        raise OptionError(Fault("plan number", str(number), allowed, "Choose one of these."))
    if not _same_beads(orders.beads, _places(bench)):
        allowed = "must have the beads of this job"
        raise RecordError(Fault("the plans to choose from", "of other beads", allowed, _REMEDY))
    plans = tuple(_found(order) for order in orders.orders)
    return take(Choice(_tries(bench, common, orders), plans, orders.recommended, orders.leading), number)


def _tries(bench: OnTheBench, common: Trial, orders: OrdersFile) -> Tries:
    """The search as it stood when it ended: on the tacks it came to, ready to weigh other orders."""
    view = outlook(bench.model, bench.heated, bench.job.bench)
    within = bounds(bench, common)
    kept = orders.tacks
    if kept.lengths_m:
        bench = replace(bench, extra_tacks=tuple(kept.extra), longer_tacks=tuple(kept.lengths_m))
    tries = Tries(bench, view, within, common, plans=0, seconds=0.0, say=lambda _: None)
    tries.walked, tries.stopped, tries.scale = orders.tried, orders.stopped, np.array(orders.scale)
    return tries


def _places(bench: OnTheBench) -> list[BeadPlace]:
    assembly = bench.model.assembly
    return [
        BeadPlace(attachment=seam.attachment, seam=seam.name, start_m=bead.start, end_m=bead.end)
        for bead in assembly.beads
        for seam in [assembly.seams[bead.seam]]
    ]


def _same_beads(kept: list[BeadPlace], own: list[BeadPlace]) -> bool:
    return len(kept) == len(own) and all(
        (one.attachment, one.seam) == (other.attachment, other.seam)
        and np.allclose((one.start_m, one.end_m), (other.start_m, other.end_m), rtol=0.0, atol=1e-6)
        for one, other in zip(kept, own, strict=True)
    )


def _order(number: int, plan: Found) -> OrderEntry:
    seconds, hottest, distortion, tack = plan.counts.tolist()
    return OrderEntry(
        number=number,
        spot_k=plan.order.spot if np.isfinite(plan.order.spot) else None,
        ways=list(plan.order.reverse),
        bench_s=seconds,
        hottest_k=hottest,
        distortion_m=distortion,
        tack_utilisation=tack,
        too_warm=plan.too_warm,
        **_steps(plan.steps),
    )


def _steps(steps: tuple[Step, ...]) -> dict[str, Any]:
    return {
        "beads": [step.bead for step in steps],
        "reverse": [step.reverse for step in steps],
        "wait_s": [step.wait for step in steps],
        "turn_deg": [step.turn for step in steps],
    }


def _found(order: OrderEntry) -> Found:
    columns = zip(order.beads, order.reverse, order.wait_s, order.turn_deg, strict=True)
    spot = np.inf if order.spot_k is None else order.spot_k
    counts = np.array([order.bench_s, order.hottest_k, order.distortion_m, order.tack_utilisation])
    own = Order(tuple(order.beads), tuple(order.ways), spot)
    return Found(own, tuple(Step(*one) for one in columns), counts, order.too_warm)


def _shop(shop: ShopFactors) -> ShopEntry:
    return ShopEntry(
        mean=shop.mean.tolist(),
        covariance=shop.covariance.tolist(),
        jobs=shop.jobs,
        trials=shop.trials,
        source=shop.source,
        logs=shop.logs,
    )
