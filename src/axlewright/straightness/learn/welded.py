"""A housing as it was really welded, and what the model makes of it with other inputs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from axlewright.errors import Fault, ShopFileError
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.replan.begun import Begun, read_plan_json
from axlewright.plan.replan.events import Event, TemperatureRead
from axlewright.plan.replan.reading import read_log
from axlewright.plan.replan.replay import names_for, since_first_arc, where_things_stand
from axlewright.plan.replan.standing import Standing
from axlewright.plan.replan.whole import whole_line, without_lost_tacks
from axlewright.plan.spreads import Inputs
from axlewright.plan.timeline import Step
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import Span, projected
from axlewright.units import show

Planned = Path | tuple[Step, ...]
"""plan.json of the plan a job was welded by, or its steps."""


@dataclass(frozen=True)
class Welded:
    """How a housing was welded.

    Args:
        bench: the job on the bench with the plan's tacks and shims, nothing varied.
        steps: the plan.
        events: what the bead log tells, in seconds from the first arc; empty without one.
        span: what its shape is laid over.
    """

    bench: OnTheBench
    steps: tuple[Step, ...]
    events: tuple[Event, ...]
    span: Span

    def standing(self, bench: OnTheBench, read: bool) -> Standing:
        """Where things stood at the end of the log, with the thermometer's readings or without."""
        events = self.events if read else tuple(e for e in self.events if not isinstance(e, TemperatureRead))
        return where_things_stand(bench, self.steps, events)

    def figures(self, rows: Floats, inputs: Inputs) -> Floats:
        """What rows on the shape's parameters read with other inputs, shape (n,)."""
        return self.figures_on(self.bench.varied(inputs), rows)

    def figures_on(self, bench: OnTheBench, rows: Floats) -> Floats:
        """What rows on the shape's parameters read on a bench that has been varied, shape (n,)."""
        shape = self._trial(bench).shape
        angles = np.array([*shape.camber, *shape.toe, shape.twist])
        return rows @ projected(self.span, shape.stations, shape.vertical, shape.fore_aft, angles)

    def _trial(self, bench: OnTheBench) -> Trial:
        if not self.events:
            return bench.try_plan(self.steps)
        standing = self.standing(bench, read=False)
        bench = without_lost_tacks(bench, standing.tacks_out)
        line = whole_line(bench, standing, None)
        assert line is not None, "a log without a bead was refused"
        return bench.judged(line)


def welded(bench: OnTheBench, plan: Planned, log: Path | None, span: Span) -> Welded:
    """How a housing was welded, from its plan and, where there is one, its bead log.

    Args:
        bench: the job on the bench, nothing varied.
        plan: what it was welded by.
        log: the bead log; None where the plan was followed.
        span: what its shape is laid over.

    Raises:
        LogError: the plan is of another job, or nothing of the log can be used.
        ShopFileError: the log does not tell of every bead.
    """
    begun = read_plan_json(bench, plan) if isinstance(plan, Path) else Begun(bench, plan)
    done = Welded(begun.bench, begun.steps, (), span)
    if log is None:
        return done
    names = names_for(begun.bench, begun.steps)
    told = read_log(log, names, bench.job.inch)
    events = since_first_arc(begun.bench, told.events)[0] if told.clock else told.events
    done = replace(done, events=events)
    left = done.standing(begun.bench, read=False).left
    if left:
        tags = ", ".join(names.tags[bead] for bead in left[:8]) + (", ..." if len(left) > 8 else "")
        allowed = f"must tell of every bead, or that it was skipped; {tags} are missing"
        remedy = "Finish the log, or leave it out if the plan was followed."
        raise ShopFileError(Fault(show(str(log)), "a log that ends too early", allowed, remedy))
    return done
