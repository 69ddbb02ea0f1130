"""What was planned, and what any way on from here is held against."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.bounds import Bounds, bounds
from axlewright.plan.outlook import Outlook, outlook
from axlewright.plan.replan.events import Event
from axlewright.plan.replan.names import Names
from axlewright.plan.replan.physics import physics_of
from axlewright.plan.replan.replay import names_for, where_things_stand
from axlewright.plan.replan.standing import Standing
from axlewright.plan.replan.thermometer import Physics
from axlewright.plan.timeline import Step
from axlewright.shop.factors import ShopFactors


@dataclass(frozen=True)
class Intent:
    """What was planned, and what any way on from here is held against.

    Args:
        bench: the job on the bench, as planned.
        steps: the plan.
        common: common practice, on the job's own tacks.
        shop: what the shop has learned, whose middle the bench has; None for nothing.
    """

    bench: OnTheBench
    steps: tuple[Step, ...]
    common: Trial
    shop: ShopFactors | None = None

    @cached_property
    def plan(self) -> Trial:
        """The plan as it was expected."""
        return self.bench.try_plan(self.steps)

    @cached_property
    def goal(self) -> Bounds:
        """What to keep: the bounds of a plan, or what this plan had of its own where that is more."""
        within = bounds(self.bench, self.common)
        hottest = within.hottest
        if self.bench.job.limits.spot is None:
            hottest = max(hottest, self.plan.hottest)
        return replace(
            within,
            hottest=hottest,
            distortion=max(within.distortion, self.bench.distortion(self.plan)),
            tack=max(within.tack, self.plan.worst_tack),
        )

    @cached_property
    def names(self) -> Names:
        """Beads, tacks and places by name."""
        return names_for(self.bench, self.steps)

    @cached_property
    def view(self) -> Outlook:
        """The job as every order sees it, before anything was learned."""
        return outlook(self.bench.model, self.bench.heated, self.bench.job.bench)

    @cached_property
    def physics(self) -> Physics:
        """The heat balance as the thermometer's filter needs it."""
        return physics_of(self.bench, self.shop)

    def standing(self, events: tuple[Event, ...], now: float | None = None) -> Standing:
        """Where things stand after what happened; see `where_things_stand`."""
        return where_things_stand(self.bench, self.steps, events, now, self.physics)

    def ready(self) -> Intent:
        """Work out what every answer needs, so that the first one does not wait for it."""
        _ = self.goal, self.names, self.view, self.physics
        return self
