"""The contents of replan.json, for other programs: plain numbers in mm, degC, seconds and kJ.

Times count from the first arc, positions along the axle from the outer face of the left knuckle flange.
"""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

from axlewright.plan.record import Record, mm
from axlewright.plan.replan.outcome import Learned, NamedBead, Reading, ReplanReport, Way
from axlewright.plan.report import Shape


class BeadEntry(Record):
    """A bead to come, or as it was laid."""

    tag: str = Field(description="its name at the bench: seam letter and number along the seam")
    number: int = Field(description="place in the order, beads laid first")
    attachment: str
    seam: str
    from_mm: float = Field(description="where the arc starts")
    to_mm: float = Field(description="where it stops")
    from_seam_mm: float = Field(description="the same along the seam from its start")
    to_seam_mm: float
    from_clock: float | None = Field(description="clock position where the arc starts, on a guard only")
    to_clock: float | None
    direction: str
    part: bool = Field(description="whether only a part of the bead, or more than it")
    start_s: float
    arc_s: float
    wait_s: float = Field(description="cool-down before it, besides the usual time between beads")
    spot_c: float = Field(description="spot temperature where and when the arc starts")
    heat_kj: float
    turn_deg: float = Field(description="how the housing lies for it")


class ReadingEntry(Record):
    """A thermometer reading."""

    time_s: float
    place: str
    read_c: float
    expected_c: float = Field(description="what was expected before it")
    used: bool = Field(description="whether it corrected the state")
    doubt: str = Field(description="why it was not used")


class LearnedEntry(Record):
    """A factor over what the model takes; nineteen cases of twenty lie between low and high."""

    factor: float
    low: float
    high: float


class ShapeEntry(Record):
    """A cold shape: ends up is negative camber, ends forward is toe-in (positive)."""

    camber_left_deg: float
    camber_right_deg: float
    toe_left_deg: float
    toe_right_deg: float
    bow_vertical_mm: float = Field(description="positive with the middle up")
    bow_fore_aft_mm: float = Field(description="positive with the middle forward")
    twist_deg: float


class WayEntry(Record):
    """The way on from here."""

    beads: list[BeadEntry]
    next_in_s: float | None = Field(description="from now to the next arc; null where nothing is left")
    end_s: float | None = Field(description="when the last arc stops")
    planned_end_s: float = Field(description="when the plan would have ended")
    kept: Literal["plan", "order", ""] = Field(
        description='"plan": nothing changes; "order": only waits and turns do; "": a new order'
    )
    moved: int = Field(description="beads that come at another place among those left")
    hottest_spot_c: float | None
    limit_c: float = Field(description="what no spot shall exceed before a bead")
    keeps_limits: bool
    shape: ShapeEntry | None = Field(description="once all is laid and cold")
    worst_tack: float | None = Field(description="greatest load over design strength of a tack, EN 1993-1-8")


class ReplanFile(Record):
    """Where things stand, and the best way on."""

    job_name: str
    job_reference: str
    now_s: float
    clock_at_first_arc_s: float | None = Field(
        description="seconds from midnight; null where the log has minutes"
    )
    ambient_c: float
    turn_deg: float = Field(description="how the housing lies, 0 as on the vehicle")
    laid: list[BeadEntry]
    burning: str = Field(description="tag of the bead whose arc burns, or empty")
    skipped: list[str]
    tacks_out: list[str] = Field(description="tacks that were not set, or have cracked")
    readings: list[ReadingEntry]
    heat: LearnedEntry = Field(description="arc heat over what the settings say")
    loss: LearnedEntry = Field(description="loss to the air over what the model has")
    shape_now: ShapeEntry | None = Field(description="if the housing cooled down now")
    way: WayEntry
    faults: list[str] = Field(description="entries of the log that were not used, or not as written")


def replan_file(report: ReplanReport) -> ReplanFile:
    """The report as replan.json has it."""
    return ReplanFile(
        job_name=report.job_name,
        job_reference=report.job_reference,
        now_s=round(report.now_s, 1),
        clock_at_first_arc_s=None if report.clock_zero is None else round(report.clock_zero, 1),
        ambient_c=round(report.ambient_c, 2),
        turn_deg=report.turn_deg,
        laid=[_bead(bead) for bead in report.laid],
        burning=report.burning,
        skipped=list(report.skipped),
        tacks_out=list(report.tacks_out),
        readings=[_reading(reading) for reading in report.readings],
        heat=_learned(report.heat),
        loss=_learned(report.loss),
        shape_now=_shape(report.shape_now),
        way=_way(report.way),
        faults=list(report.faults),
    )


def replan_schema() -> dict[str, Any]:
    """JSON Schema of replan.json."""
    return ReplanFile.model_json_schema()


def _way(way: Way) -> WayEntry:
    return WayEntry(
        beads=[_bead(bead) for bead in way.beads],
        next_in_s=_rounded(way.next_in_s, 1),
        end_s=_rounded(way.end_s, 1),
        planned_end_s=round(way.planned_end_s, 1),
        kept=way.kept,  # type: ignore[arg-type]
        moved=way.moved,
        hottest_spot_c=_rounded(way.hottest_spot_c, 1),
        limit_c=round(way.limit_c, 1),
        keeps_limits=way.keeps_limits,
        shape=_shape(way.shape),
        worst_tack=_rounded(way.worst_tack, 3),
    )


def _bead(named: NamedBead) -> BeadEntry:
    bead = named.bead
    return BeadEntry(
        tag=named.tag,
        number=bead.number,
        attachment=bead.attachment,
        seam=bead.seam,
        from_mm=mm(bead.from_x),
        to_mm=mm(bead.to_x),
        from_seam_mm=mm(bead.from_s),
        to_seam_mm=mm(bead.to_s),
        from_clock=_rounded(bead.from_clock, 2),
        to_clock=_rounded(bead.to_clock, 2),
        direction=bead.direction,
        part=named.part,
        start_s=round(bead.start_s, 1),
        arc_s=round(bead.arc_s, 1),
        wait_s=round(bead.wait_s, 1),
        spot_c=round(bead.spot_c, 1),
        heat_kj=round(bead.heat_j / 1e3, 3),
        turn_deg=bead.turn_deg,
    )


def _reading(reading: Reading) -> ReadingEntry:
    return ReadingEntry(
        time_s=round(reading.time_s, 1),
        place=reading.place,
        read_c=round(reading.read_c, 1),
        expected_c=round(reading.expected_c, 1),
        used=reading.used,
        doubt=reading.doubt,
    )


def _learned(learned: Learned) -> LearnedEntry:
    return LearnedEntry(
        factor=round(learned.factor, 3), low=round(learned.low, 3), high=round(learned.high, 3)
    )


def _shape(shape: Shape | None) -> ShapeEntry | None:
    if shape is None:
        return None
    return ShapeEntry(
        camber_left_deg=round(shape.camber_deg.left, 4),
        camber_right_deg=round(shape.camber_deg.right, 4),
        toe_left_deg=round(shape.toe_deg.left, 4),
        toe_right_deg=round(shape.toe_deg.right, 4),
        bow_vertical_mm=mm(shape.bow_vertical),
        bow_fore_aft_mm=mm(shape.bow_fore_aft),
        twist_deg=round(shape.twist_deg, 4),
    )


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)
