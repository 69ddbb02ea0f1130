"""The shape of a housing, and how it changed, as a report."""

from __future__ import annotations

from dataclasses import replace

from axlewright.straightness.axis import AxisFit, Plane
from axlewright.straightness.fit.advising import advice_on
from axlewright.straightness.fit.equations import Ground
from axlewright.straightness.fit.figures import BAND, WAY, angles, bow, figures, line_of, parameter
from axlewright.straightness.fit.fitting import ShapeFit
from axlewright.straightness.fit.measured_change import measured_change
from axlewright.straightness.fit.untold import untold_words
from axlewright.straightness.report import Bend, Ends, Figure, PlaneShape, ShapeReport


def shape_report(fit: ShapeFit) -> ShapeReport:
    """What one set of readings tells of the shape, what it does not, and what to read next."""
    report = _report(fit.name, len(fit.used), fit.axis)
    return replace(
        report,
        vertical=replace(report.vertical, points=_points(fit, report.vertical, "vertical")),
        fore_aft=replace(report.fore_aft, points=_points(fit, report.fore_aft, "fore-aft")),
        doubts=tuple(sorted(fit.doubts, key=lambda doubt: doubt.line or 10**9)),
        untold=untold_words(fit),
        advice=advice_on(fit),
    )


def change_report(before: ShapeFit, after: ShapeFit) -> ShapeReport:
    """How the shape changed between two sets of one housing; told is what both tell."""
    changed = measured_change(before.axis, after.axis, Ground(after.job).built)
    change = _report("change", len(before.used) + len(after.used), changed)
    first, last = (_report(fit.name, 0, fit.axis) for fit in (before, after))
    return ShapeReport(
        name=change.name,
        readings=change.readings,
        camber=_both_ends(change.camber, first.camber, last.camber),
        toe=_both_ends(change.toe, first.toe, last.toe),
        twist=_both(change.twist, first.twist, last.twist),
        vertical=_both_planes(change.vertical, first.vertical, last.vertical),
        fore_aft=_both_planes(change.fore_aft, first.fore_aft, last.fore_aft),
    )


def _report(name: str, readings: int, axis: AxisFit) -> ShapeReport:
    camber_left, camber_right, toe_left, toe_right, twist = angles(axis)
    return ShapeReport(
        name=name,
        readings=readings,
        camber=Ends(camber_left, camber_right),
        toe=Ends(toe_left, toe_right),
        twist=twist,
        vertical=_plane(axis, "vertical"),
        fore_aft=_plane(axis, "fore-aft"),
    )


def _plane(axis: AxisFit, plane: Plane) -> PlaneShape:
    line = line_of(axis, plane)
    band = BAND * line.spreads
    kinks = figures(axis, axis.span.kinks(plane), degrees=True)
    left, right = (
        Bend(parameter(axis, f"{end} bow {WAY[plane]}"), kink)
        for end, kink in zip(("left", "right"), kinks, strict=True)
    )
    return PlaneShape(
        bow=bow(axis, line),
        bow_at=float(line.distances[line.farthest]),
        left=left,
        right=right,
        distances=line.distances,
        axis=line.values,
        low=line.values - band,
        high=line.values + band,
        points=(),
        told=line.told,
    )


def _points(fit: ShapeFit, shape: PlaneShape, plane: Plane) -> tuple[tuple[float, float, int], ...]:
    return fit.points(plane) if shape.told else ()


def _both(change: Figure, first: Figure, last: Figure) -> Figure:
    return replace(change, told=first.told and last.told)


def _both_ends(change: Ends, first: Ends, last: Ends) -> Ends:
    return Ends(_both(change.left, first.left, last.left), _both(change.right, first.right, last.right))


def _both_bends(change: Bend, first: Bend, last: Bend) -> Bend:
    return Bend(_both(change.bow, first.bow, last.bow), _both(change.kink, first.kink, last.kink))


def _both_planes(change: PlaneShape, first: PlaneShape, last: PlaneShape) -> PlaneShape:
    return replace(
        change,
        bow=_both(change.bow, first.bow, last.bow),
        left=_both_bends(change.left, first.left, last.left),
        right=_both_bends(change.right, first.right, last.right),
        told=first.told and last.told,
    )
