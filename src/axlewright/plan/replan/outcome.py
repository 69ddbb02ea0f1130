"""What a replan says: the data that screens, files and other programs are made from.

Lengths are in metres and temperatures in degC. Times are seconds from the first arc; `clock_zero` tells what the
clock on the wall showed then. Positions along the axle count from the outer face of the left knuckle flange.
"""

from __future__ import annotations

from dataclasses import dataclass

from axlewright.plan.pieces import PlannedBead, SeamLine
from axlewright.plan.report import Shape


@dataclass(frozen=True)
class NamedBead:
    """What is planned of a bead, or how it was laid.

    `part` tells that only a part of the bead is left, or was laid; its marks are those of the part.
    """

    bead: PlannedBead
    part: bool

    @property
    def tag(self) -> str:
        """The name it has at the bench, e.g. "C7"."""
        return self.bead.tag


@dataclass(frozen=True)
class Reading:
    """A thermometer reading beside what was expected; `doubt` says why it was not used."""

    time_s: float
    place: str
    read_c: float
    expected_c: float
    used: bool
    doubt: str


@dataclass(frozen=True)
class Learned:
    """A factor over what the model takes, with the edges nineteen cases of twenty lie between."""

    factor: float
    low: float
    high: float


@dataclass(frozen=True)
class Way:
    """The way on from here.

    Args:
        beads: the beads to come in order, numbered from the beads laid on.
        next_in_s: time from now to the next arc, or None where nothing is left [s].
        end_s: when the last arc stops, or None [s].
        planned_end_s: when the plan would have ended [s].
        kept: "plan" where the plan holds, "order" where only its waits changed, "" where the order is new.
        moved: how many beads come at another place among those left than planned.
        hottest_spot_c: hottest spot before a bead to come, or None [degC].
        limit_c: what it shall not exceed [degC].
        keeps_limits: whether it keeps every limit.
        shape: cold shape to expect once all is laid, or None where there is nothing to lay.
        worst_tack: greatest utilisation of a tack on the whole way, or None.
    """

    beads: tuple[NamedBead, ...]
    next_in_s: float | None
    end_s: float | None
    planned_end_s: float
    kept: str
    moved: int
    hottest_spot_c: float | None
    limit_c: float
    keeps_limits: bool
    shape: Shape | None
    worst_tack: float | None


@dataclass(frozen=True)
class ReplanReport:
    """Everything a user gets from replanning.

    Args:
        job_name: name of the job.
        job_reference: the shop's number.
        inch: whether the shop works in inches.
        seams: seams for drawing.
        now_s: the moment this is about [s].
        clock_zero: the clock at the first arc, seconds from midnight, or None where the log has no clock [s].
        ambient_c: the air now [degC].
        turn_deg: how the housing lies [deg].
        laid: beads laid, as they were laid.
        burning: name of the bead whose arc burns, or "".
        skipped: names of the beads that shall not be laid.
        tacks_out: names of the tacks that are not there.
        readings: thermometer readings.
        heat: arc heat over what the settings say.
        loss: loss to the air over what the model has.
        shape_now: cold shape if the housing cooled down now, or None before the first bead.
        way: the way on.
        faults: entries of the log that were not used, or not as written, as messages.
    """

    job_name: str
    job_reference: str
    inch: bool
    seams: tuple[SeamLine, ...]
    now_s: float
    clock_zero: float | None
    ambient_c: float
    turn_deg: float
    laid: tuple[NamedBead, ...]
    burning: str
    skipped: tuple[str, ...]
    tacks_out: tuple[str, ...]
    readings: tuple[Reading, ...]
    heat: Learned
    loss: Learned
    shape_now: Shape | None
    way: Way
    faults: tuple[str, ...]
