"""The fixture in plan.json."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from axlewright.plan.fixture_report import FixtureReport, FixtureStage, FixtureSupportLine
from axlewright.plan.record import Record, mm


class FixtureSupportEntry(Record):
    """A support of the fixture, in one plane."""

    number: int = Field(description="from the left")
    at_mm: float
    plane: Literal["vertical", "fore-aft"]
    stiffness_kn_per_mm: float
    shim_mm: float = Field(description="to put under the housing, or behind it")
    exact_shim_mm: float = Field(description="best if shims came in any height")
    prebend_mm: float = Field(
        description="clamped axis over the line through the outer supports, before the first arc"
    )
    push_before_kn: float = Field(description="force upward or forward before the first arc")
    push_after_kn: float = Field(description="the same welded and cold, just before letting go")


class FixtureStageEntry(Record):
    """The shape at one moment, as in ShapeEntry."""

    bow_vertical_mm: float
    bow_fore_aft_mm: float
    camber_left_deg: float
    camber_right_deg: float
    toe_left_deg: float
    toe_right_deg: float
    distortion_mm: float = Field(description="bow, camber and toe as one measure")


class SpringBackEntry(Record):
    """How far the bow goes when the clamps are let go."""

    vertical: float
    fore_aft: float


class FixtureEntry(Record):
    """Welding in a fixture, let go of when cold."""

    prebend: Literal["best", "none", "given"]
    shim_step_mm: float
    supports: list[FixtureSupportEntry]
    prebent: FixtureStageEntry
    clamped: FixtureStageEntry
    released: FixtureStageEntry
    spring_back_mm: SpringBackEntry
    without_shims: FixtureStageEntry
    unclamped: FixtureStageEntry
    tube_stress_mpa: float
    allowed_stress_mpa: float
    yield_strength_mpa: float
    tack_utilisation: float
    tack_utilisation_unclamped: float
    remarks: list[str]


def fixture_entry(report: FixtureReport | None) -> FixtureEntry | None:
    """The fixture as plan.json has it, null where there is none."""
    if report is None:
        return None
    vertical, fore_aft = report.spring_back
    return FixtureEntry(
        prebend=report.prebend,
        shim_step_mm=mm(report.shim_step),
        supports=[_support(support) for support in report.supports],
        prebent=_stage(report.prebent),
        clamped=_stage(report.clamped),
        released=_stage(report.released),
        spring_back_mm=SpringBackEntry(vertical=mm(vertical), fore_aft=mm(fore_aft)),
        without_shims=_stage(report.flat),
        unclamped=_stage(report.unclamped),
        tube_stress_mpa=round(report.tube_stress / 1e6, 1),
        allowed_stress_mpa=round(report.allowed_stress / 1e6, 1),
        yield_strength_mpa=round(report.yield_strength / 1e6, 1),
        tack_utilisation=round(report.tack_load, 3),
        tack_utilisation_unclamped=round(report.tack_load_unclamped, 3),
        remarks=list(report.remarks),
    )


def _support(support: FixtureSupportLine) -> FixtureSupportEntry:
    return FixtureSupportEntry(
        number=support.number,
        at_mm=mm(support.at_x),
        plane=support.plane,
        stiffness_kn_per_mm=round(support.stiffness / 1e6, 3),
        shim_mm=mm(support.shim),
        exact_shim_mm=mm(support.exact_shim),
        prebend_mm=mm(support.prebend),
        push_before_kn=round(support.push_before / 1e3, 3),
        push_after_kn=round(support.push_after / 1e3, 3),
    )


def _stage(stage: FixtureStage) -> FixtureStageEntry:
    return FixtureStageEntry(
        bow_vertical_mm=mm(stage.bow_vertical),
        bow_fore_aft_mm=mm(stage.bow_fore_aft),
        camber_left_deg=round(stage.camber_deg[0], 4),
        camber_right_deg=round(stage.camber_deg[1], 4),
        toe_left_deg=round(stage.toe_deg[0], 4),
        toe_right_deg=round(stage.toe_deg[1], 4),
        distortion_mm=mm(stage.distortion),
    )
