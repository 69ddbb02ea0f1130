"""The job on the bench: the reduced model with its tacks set, ready to try plans on."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from axlewright.distortion.condense import Condensed
from axlewright.distortion.fixture import Fixture, Release, clamped, release
from axlewright.distortion.functionals import SPRINGS
from axlewright.distortion.model import Model
from axlewright.distortion.shape import ColdShape, cold_shape
from axlewright.distortion.springs import Shrinkage, fillet_stiffness, shrinkage
from axlewright.distortion.tacked import Tacked, tack_up
from axlewright.distortion.walk import Walked, Walker
from axlewright.job.schema import Job
from axlewright.plan.common_practice import common_practice
from axlewright.plan.distortion_measure import distortion
from axlewright.plan.prebend import Prebend, best_shims, fixture_of, given_shims
from axlewright.plan.settings import WeldSettings, weld_settings
from axlewright.plan.spreads import Inputs
from axlewright.plan.tacking import tack_order
from axlewright.plan.timeline import Step, TackStage, Timeline, tack_stage, timeline
from axlewright.solid.mesh import Floats, Ints
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
        inputs: uncertain inputs over what settings and formulas say; all one unless varied.
        shims: heights chosen for the supports of a fixture [m]; None for those of the job file, if any.
        extra_tacks: stretches that get a tack besides those of the job's spacing.
        longer_tacks: length of every tack in the order of tacking [m]; empty for the job's own length everywhere.
        as_built: the model before its heat flow was varied; None where it is not.
    """

    job: Job
    model: Model
    settings: WeldSettings
    inputs: Inputs = field(default_factory=Inputs)
    shims: tuple[float, ...] | None = None
    extra_tacks: tuple[int, ...] = ()
    longer_tacks: tuple[float, ...] = ()
    as_built: Model | None = None

    @property
    def unvaried(self) -> Model:
        """The model with its heat flow as built."""
        return self.as_built or self.model

    def varied(self, inputs: Inputs, model: Model | None = None) -> OnTheBench:
        """The same job with other inputs; what they leave as it is, is not worked out again.

        Args:
            inputs: the inputs.
            model: the model with their heat flow, where somebody has it already.
        """
        same_flow = inputs.flow == self.inputs.flow
        model = self.model if same_flow else model or self.unvaried.varied(inputs.flow)
        # Modes that have been varied cannot be varied again, so the model as built stays at hand.
        as_built = self.as_built if same_flow else self.unvaried
        other = replace(self, model=model, inputs=inputs, as_built=as_built)
        kept = ["tack_places", "tack_lengths", "fixture"]
        own = self.inputs
        if same_flow and (inputs.heat, inputs.tack_stiffness) == (own.heat, own.tack_stiffness):
            kept += ["tacks", "tacked"]
        # Each is a cached property, which keeps what it found under its own name.
        vars(other).update({name: getattr(self, name) for name in kept})
        return other

    @cached_property
    def tack_places(self) -> Ints:
        """The stretch each tack sits on, in the order of tacking; tacks added come last."""
        usual = tack_order(self.model.assembly, self.job.welder.tack_spacing, self.job.bench.order)
        return np.concatenate([usual, np.array(self.extra_tacks, dtype=np.int64)])

    @cached_property
    def tack_lengths(self) -> Floats:
        """Length of each tack, shape (T,) [m]."""
        if self.longer_tacks:
            return np.array(self.longer_tacks)
        return np.full(len(self.tack_places), self.job.welder.tack_length)

    @cached_property
    def tacks(self) -> TackStage:
        """The tack stage in time."""
        return tack_stage(self.model, self.heated, self.job.bench, self.tack_places, self.tack_lengths)

    @cached_property
    def fixture(self) -> Fixture | None:
        """The supports that hold the housing's axis while it is welded; None where it lies free."""
        return fixture_of(self.job, self.model)

    @cached_property
    def held(self) -> Condensed:
        """The structure before the first tack: free, or clamped in its fixture."""
        return self.model.base if self.fixture is None else clamped(self.model.base, self.fixture)

    @cached_property
    def release(self) -> Release | None:
        """What shims do and what letting go does once all beads are laid; None without a fixture."""
        if self.fixture is None:
            return None
        stiffness = self.model.lengths[:, None] * self._walker.per_length
        np.add.at(stiffness, self.tacks.stretches, self.tacked.stiffness.reshape(-1, SPRINGS))
        return release(self.model.base, self.fixture, stiffness)

    @property
    def shim_heights(self) -> Floats:
        """Shims at all supports of the fixture, shape (n,) [m]."""
        if self.shims is not None or self.fixture is None:
            return np.array(self.shims or ())
        return given_shims(self.job, self.fixture)

    def prebend(self, walked: Walked) -> Prebend | None:
        """What shims make of a walk; None without a fixture."""
        if self.release is None:
            return None
        return Prebend(self.release, self.read(walked), self.model.stations, self.job)

    def prebent_for(self, walked: Walked) -> OnTheBench:
        """The same bench with the shims that suit a walk best, where the job leaves them to us."""
        prebend = self.prebend(walked)
        if prebend is None or self.job.fixture is None or self.job.fixture.prebend != "best":
            return self
        other = replace(self, shims=tuple(best_shims(prebend, self.job.fixture.shim_step).tolist()))
        # Shims shift the shape; nothing that has been worked out so far knows of them.
        vars(other).update({name: found for name, found in vars(self).items() if name not in vars(other)})
        return other

    def with_own_tacks(self) -> OnTheBench:
        """The same bench with the job's own tacks, neither longer nor added to."""
        return replace(self, extra_tacks=(), longer_tacks=()) if self.longer_tacks else self

    def reread(self, trial: Trial) -> Trial:
        """A trial as it looks on this bench's shims."""
        return replace(trial, shape=self.shape(trial.walked))

    @cached_property
    def tacked(self) -> Tacked:
        """The structure with all tacks set."""
        stiffness = self.tack_lengths[:, None] * fillet_stiffness(self.settings.leg, self._steel)
        stiffness = self.inputs.tack_stiffness * stiffness
        return tack_up(self.held, self.tacks.stretches, stiffness, self.tacks.states)

    @cached_property
    def _steel(self) -> Steel:
        return steel(self.job.housing.steel)

    @cached_property
    def shrink(self) -> Shrinkage:
        """What a metre of bead pulls."""
        whole = shrinkage(self.heated.heat_input, self.model.host_thickness, self.model.host_share)
        own = self.inputs
        return Shrinkage(own.tendon * whole.tendon, own.across * whole.across, own.rotation * whole.rotation)

    @cached_property
    def heated(self) -> WeldSettings:
        """The welder's settings with the arc heat that reaches the steel."""
        scale = self.inputs.heat
        return replace(
            self.settings, power=scale * self.settings.power, heat_input=scale * self.settings.heat_input
        )

    def in_time(self, steps: tuple[Step, ...]) -> Timeline:
        """Put a plan's beads in time."""
        return timeline(self.model, self.heated, self.job.bench, self.tacks, steps)

    def walk(self, line: Timeline) -> Walked:
        """Walk beads that stand in time."""
        return self._walker.walk(line.laying)

    @cached_property
    def _walker(self) -> Walker:
        per_length = self.inputs.bead_stiffness * fillet_stiffness(self.settings.leg, self._steel)
        return Walker(self.tacked, self.tacks.stretches, self.shrink, per_length, self.model.lengths)

    def shape(self, walked: Walked) -> ColdShape:
        """The cold shape after a walk with all beads, let go of where the housing was clamped."""
        reading = self.read(walked)
        if self.release is not None:
            reading = self.release.released(reading, self.shim_heights)
        return cold_shape(self.model.stations, reading)

    def read(self, walked: Walked) -> Floats:
        """Readings of axis and flanges after a walk, in a fixture clamped and without shims, shape (2 R + 6,)."""
        return walked.cold[6 * len(self.model.host_share) :]

    def axis_at(self, line: Timeline, states: Floats, laid: Ints) -> Floats:
        """Readings of axis and flanges at moments of a plan, in a fixture clamped on its shims, shape (K, 2 R + 6).

        Args:
            line: the plan in time.
            states: thermal state at each moment, shape (m, K).
            laid: how many beads are laid by then, shape (K,).
        """
        found = self._walker.readings(line.laying, states, laid, 6 * len(self.model.host_share))
        return found if self.release is None else found + self.release.lift @ self.shim_heights

    def try_plan(self, steps: tuple[Step, ...]) -> Trial:
        """Put a plan in time and walk it."""
        return self.judged(self.in_time(steps))

    def judged(self, line: Timeline) -> Trial:
        """Walk beads that stand in time and read their shape and tack loads."""
        walked = self.walk(line)
        return Trial(line, walked, self.shape(walked), self.tack_utilisation(walked))

    def distortion(self, trial: Trial) -> float:
        """Bow, camber and toe of a plan as one measure [m]."""
        return distortion(trial.shape, self.job.housing.length)

    def warmest(self, trial: Trial, kind: str) -> float:
        """Highest rise over ambient at the watch places of a kind, "bearing seat" or "seal" [K]; 0 without any."""
        named = [n for n, name in enumerate(self.model.modes.places) if kind == kind_of_place(name)]
        return float(trial.timeline.warmest[named].max(initial=0.0))

    def tack_utilisation(self, walked: Walked) -> Floats:
        """Greatest load over strength of each tack (EN 1993-1-8:2005 4.5.3.2, throat at 45 degrees).

        What presses the parts together goes through their contact, not through the tack. Sideways is positive
        toward the fillet, whose throat lies between the host's skin and the guest's: pulled off and toward the
        fillet alike it is sheared, pulled off and away from it, it is torn.
        """
        area = self.settings.throat * self.tack_lengths[:, None]
        along, normal, side = np.moveaxis(walked.tack_forces, 1, 0) / area
        opening = np.maximum(normal, 0.0)
        across, shear = (opening - side) / np.sqrt(2), (opening + side) / np.sqrt(2)
        return directional_utilisation(across, shear, along, self._steel).max(axis=1, initial=0.0)


def kind_of_place(name: str) -> str:
    """Whether a watch place is a "bearing seat" or a "seal"."""
    return "bearing seat" if name.endswith("bearing seat") else "seal"


def on_the_bench(job: Job, model: Model, inputs: Inputs | None = None) -> OnTheBench:
    """Put a job on the bench; a pre-bend that is left to us suits common practice until a plan is chosen.

    Args:
        job: the job.
        model: its reduced model, as built.
        inputs: what the shop's own results make of the uncertain inputs; left out: all as formulas say.
    """
    bench = OnTheBench(job, model, weld_settings(job))
    bench = bench if inputs is None else bench.varied(inputs)
    if job.fixture is None or job.fixture.prebend != "best":
        return bench
    steps = common_practice(model.assembly, job.bench)
    return bench.prebent_for(bench.walk(bench.in_time(steps)))
