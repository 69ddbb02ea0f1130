"""Where things stand: the housing's heat, what is welded and what is left, and what the readings have taught."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from axlewright.errors import Fault
from axlewright.heat.reduce import HeatModes
from axlewright.plan.replan.arcs import Arc
from axlewright.plan.replan.coverage import Coverage
from axlewright.plan.replan.readings import Checked
from axlewright.plan.replan.thermometer import Estimate, Physics
from axlewright.plan.settings import WeldSettings
from axlewright.solid.mesh import Floats


@dataclass(frozen=True)
class Met:
    """An arc with the heat it met.

    Args:
        arc: the arc.
        state: rise over ambient in the modes when it started, shape (m,) [K].
        spot_c: spot temperature then [degC].
        heat: its heat over what was planned for its length, settings and learned efficiency together [1].
        turn: how the housing lay [deg].
    """

    arc: Arc
    state: Floats
    spot_c: float
    heat: float
    turn: float


@dataclass(frozen=True)
class Standing:
    """Where things stand at a moment.

    Args:
        now: seconds from the first arc [s].
        since: when the last arc stopped, or the tack stage ended [s].
        estimate: the housing's heat now, with what has been learned.
        physics: its heat balance.
        ambient: temperature of the air now [degC].
        turn: how the housing lies [deg].
        settings: how the machine is set now, with the arc heat taken before anything was read.
        met: the arcs so far.
        coverage: what is welded.
        left: numbers of the beads still to be laid.
        skipped: numbers of those that shall not be laid.
        tacks_out: numbers of the tacks that are not there.
        burning: number of the bead whose arc burns, or None.
        readings: thermometer readings.
        faults: entries of the log that were not used, or not as written.
    """

    now: float
    since: float
    estimate: Estimate
    physics: Physics
    ambient: float
    turn: float
    settings: WeldSettings
    met: tuple[Met, ...]
    coverage: Coverage
    left: tuple[int, ...]
    skipped: frozenset[int]
    tacks_out: frozenset[int]
    burning: int | None
    readings: tuple[Checked, ...]
    faults: tuple[Fault, ...]

    @cached_property
    def modes(self) -> HeatModes:
        """The heat balance with the loss learned so far."""
        return self.physics.learned(self.estimate)

    @property
    def heated(self) -> WeldSettings:
        """The machine's settings with the arc heat learned so far."""
        factor = self.estimate.efficiency
        return replace(
            self.settings, power=factor * self.settings.power, heat_input=factor * self.settings.heat_input
        )

    @property
    def laid_beads(self) -> tuple[int, ...]:
        """Numbers of the beads that arcs were meant for, in order, each once."""
        return tuple(dict.fromkeys(met.arc.bead for met in self.met))
