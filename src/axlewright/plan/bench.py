"""The job on the bench: the reduced model with its tacks set, ready to try plans on."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from axlewright.distortion.model import Model
from axlewright.distortion.shape import ColdShape, cold_shape
from axlewright.distortion.springs import Shrinkage, fillet_stiffness, shrinkage
from axlewright.distortion.tacked import Tacked, tack_up
from axlewright.distortion.walk import Walked, walk
from axlewright.job.schema import Job
from axlewright.plan.settings import WeldSettings, weld_settings
from axlewright.plan.tacking import tack_order
from axlewright.plan.timeline import Step, TackStage, Timeline, tack_stage, timeline
from axlewright.solid.mesh import Floats
from axlewright.weld.steel import Steel, steel
from axlewright.weld.strength import directional_utilisation


@dataclass(frozen=True)
class Trial:
    """A plan tried on the model: its beads in time and what the walk leaves.

    Args:
        timeline: the beads in time.
        walked: forces and cold readings.
        shape: the cold shape.
        tack_utilisation: greatest force over strength of each tack while it is a tack, shape (T,).
    """

    timeline: Timeline
    walked: Walked
    shape: ColdShape
    tack_utilisation: Floats

    @property
    def hottest(self) -> float:
        """Highest rise of a spot temperature over ambient before a bead [K]."""
        return float(self.timeline.spots.max())

    @property
    def bow(self) -> float:
        """Bow in both planes together [m]."""
        return float(np.hypot(self.shape.bow_vertical, self.shape.bow_fore_aft))

    @property
    def worst_tack(self) -> float:
        """Greatest utilisation of any tack."""
        return float(self.tack_utilisation.max(initial=0.0))


@dataclass(frozen=True)
class OnTheBench:
    """A job, its model and its welder's settings, tacked up.

    Args:
        job: the job.
        model: its reduced model.
        settings: what follows from the welder's settings.
        heat_factor: arc heat over what the settings say, for bands [1].
        shrink_factor: shrinkage over what the formulas say, for bands [1].
    """

    job: Job
    model: Model
    settings: WeldSettings
    heat_factor: float = 1.0
    shrink_factor: float = 1.0

    @cached_property
    def tacks(self) -> TackStage:
        """The tack stage in time."""
        order = tack_order(self.model.assembly, self.job.welder.tack_spacing, self.job.bench.order)
        return tack_stage(self.model, self.heated, self.job.welder, self.job.bench, order)

    @cached_property
    def tacked(self) -> Tacked:
        """The structure with all tacks set."""
        stiffness = fillet_stiffness(self.settings.leg, self._steel) * self.job.welder.tack_length
        return tack_up(self.model.base, self.tacks.stretches, stiffness, self.tacks.states)

    @cached_property
    def _steel(self) -> Steel:
        return steel(self.job.housing.steel)

    @cached_property
    def shrink(self) -> Shrinkage:
        """What a metre of bead pulls."""
        whole = shrinkage(self.heated.heat_input, self.model.host_thickness, self.model.host_share)
        factor = self.shrink_factor
        return Shrinkage(factor * whole.tendon, factor * whole.across, factor * whole.rotation)

    @cached_property
    def heated(self) -> WeldSettings:
        """The welder's settings with the arc heat that reaches the steel."""
        scale = self.heat_factor
        return replace(
            self.settings, power=scale * self.settings.power, heat_input=scale * self.settings.heat_input
        )

    def in_time(self, steps: tuple[Step, ...]) -> Timeline:
        """Put a plan's beads in time."""
        return timeline(self.model, self.heated, self.job.bench, self.tacks, steps)

    def walk(self, line: Timeline) -> Walked:
        """Walk beads that stand in time."""
        per_length = fillet_stiffness(self.settings.leg, self._steel)
        return walk(self.tacked, self.tacks.stretches, self.shrink, per_length, line.laying)

    def shape(self, walked: Walked) -> ColdShape:
        """The cold shape after a walk."""
        stations = self.model.stations
        return cold_shape(stations, walked.cold[6 * len(self.model.host_share) :])

    def try_plan(self, steps: tuple[Step, ...]) -> Trial:
        """Put a plan in time and walk it."""
        return self.judged(self.in_time(steps))

    def judged(self, line: Timeline) -> Trial:
        """Walk beads that stand in time and read their shape and tack loads."""
        walked = self.walk(line)
        return Trial(line, walked, self.shape(walked), self._tack_utilisation(walked))

    def warmest(self, trial: Trial, kind: str) -> float:
        """Highest rise over ambient at the watch places of a kind, "bearing seat" or "seal" [K]; 0 without any."""
        named = [n for n, name in enumerate(self.model.modes.places) if kind == kind_of_place(name)]
        return float(trial.timeline.warmest[named].max(initial=0.0))

    def _tack_utilisation(self, walked: Walked) -> Floats:
        """Greatest load over strength of each tack (EN 1993-1-8:2005 4.5.3.2, throat at 45 degrees).

        What presses the parts together goes through their contact, not through the tack.
        """
        area = self.settings.throat * self.job.welder.tack_length
        along, normal, side = np.moveaxis(walked.tack_forces, 1, 0) / area
        opening = np.maximum(normal, 0.0)
        across, shear = (opening + side) / np.sqrt(2), (opening - side) / np.sqrt(2)
        return directional_utilisation(across, shear, along, self._steel).max(axis=1, initial=0.0)


def kind_of_place(name: str) -> str:
    """Whether a watch place is a "bearing seat" or a "seal"."""
    return "bearing seat" if name.endswith("bearing seat") else "seal"


def on_the_bench(job: Job, model: Model) -> OnTheBench:
    """Put a job on the bench."""
    return OnTheBench(job, model, weld_settings(job))
