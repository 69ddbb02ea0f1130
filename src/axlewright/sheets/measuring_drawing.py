"""Where a housing is measured: from behind and from above with its stations, and what the signs mean."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.job.schema import Job
from axlewright.sheets import ink, wording
from axlewright.sheets.axle_frame import TITLES, AxleFrame, draw_outline, outline
from axlewright.sheets.measuring_rows import Place, places
from axlewright.sheets.measuring_sketches import SKETCH_HEIGHT, draw_sketches
from axlewright.sheets.style import BAND, INK, NOW, SOFT_INK, THICK, THIN, drawing_style
from axlewright.straightness.axis import Plane

WIDTH = 182.0
_LEFT, _AXLE = 17.0, 148.0
_TITLE, _ORDINATES, _GAP = 13.0, 17.0, 2.0
_GAUGE, _BAR = 1.6, 1.6
"""Gap that a straightedge is drawn with, and its own height [mm]."""
_CIRCLE = 2.0
_LABEL_GAP = 2.8
_HINTS: dict[Plane, str] = {
    "vertical": "a straightedge under each tube: gaps at the numbers; the dial stands at the same numbers",
    "fore-aft": "a straightedge in front of each tube: gaps at the numbers",
}


def draw_measuring(job: Job) -> Figure:
    """The bare housing with its stations numbered and measured from the left flange, straightedges, and sign rules.

    Args:
        job: the job.
    """
    with drawing_style():
        frame = AxleFrame(_LEFT, _AXLE, job.housing.length)
        reach = {plane: _reach(job, plane, frame) for plane in TITLES}
        views = sum(_TITLE + 2.0 * half + 8.0 for half in reach.values())
        height = views + _ORDINATES + 2.0 * _GAP + SKETCH_HEIGHT
        figure, axes = ink.blank_page(WIDTH, height)
        top = height
        for plane, half in reach.items():
            middle = top - _TITLE - half - 5.0
            _draw_view(axes, job, plane, frame, middle)
            top = middle - half - 3.0
            if plane == "vertical":
                _draw_ordinates(axes, job, frame, top)
                top -= _ORDINATES
            top -= _GAP
        draw_sketches(axes, WIDTH, SKETCH_HEIGHT)
        return figure


def _reach(job: Job, plane: Plane, frame: AxleFrame) -> float:
    """Half of what a view takes up on paper [mm]."""
    half = float(outline(job.housing, plane)[1].max())
    housing = job.housing
    flange = housing.knuckle_flange.diameter / 2.0
    tube = max(housing.left_tube.outside_diameter, housing.right_tube.outside_diameter) / 2.0
    lifts = _lifts([frame.paper(place.station.at) for place in places(job)])
    rings = tube * frame.per_metre + _GAUGE + _BAR + 0.6 + 2.0 * _CIRCLE + max(lifts, default=0.0)
    return max(half * frame.per_metre, flange * frame.per_metre, rings)


def _draw_view(axes: Axes, job: Job, plane: Plane, frame: AxleFrame, middle: float) -> None:
    """Housing, axle line, straightedges and the numbers of the stations."""
    y = middle + _reach(job, plane, frame) + 10.0
    ink.label(axes, WIDTH / 2.0, y, TITLES[plane], 10.0, fontweight="bold")
    ink.label(axes, WIDTH / 2.0, y - 4.6, _HINTS[plane], 7.0, color=SOFT_INK)
    ink.label(axes, frame.left, y, "LEFT", 10.0, ha="left", fontweight="bold")
    ink.label(axes, frame.right, y, "RIGHT", 10.0, ha="right", fontweight="bold")
    draw_outline(axes, frame, middle, job.housing, plane, color=INK)
    _draw_perches(axes, job, plane, frame, middle)
    dash = (0, (12.0, 2.0, 2.0, 2.0))
    axes.plot([frame.left, frame.right], [middle, middle], linewidth=THIN, color=SOFT_INK, linestyle=dash)
    known = places(job)
    for tube in ("left tube", "right tube"):
        _draw_straightedge(axes, job, plane, frame, middle, [p for p in known if p.station.tube == tube])
    lifts = _lifts([frame.paper(place.station.at) for place in known])
    for place, lift in zip(known, lifts, strict=True):
        _draw_number(axes, job, plane, frame, (middle, lift), place)


def _draw_perches(axes: Axes, job: Job, plane: Plane, frame: AxleFrame, middle: float) -> None:
    """Spring perches, which a gauge cannot pass."""
    for perch in job.housing.perches:
        left, width = frame.paper(perch.at - perch.length / 2.0), perch.length * frame.per_metre
        half = perch.width / 2.0 * frame.per_metre
        foot, high = (0.0, perch.height * frame.per_metre) if plane == "vertical" else (-half, 2.0 * half)
        ink.box(axes, (left, middle + foot), (width, high), facecolor="none", edgecolor=SOFT_INK)


def _skin(job: Job, plane: Plane, frame: AxleFrame, place: Place) -> tuple[float, float]:
    """Half the tube on paper at a station [mm], and on which side of the axle line the gauge lies: 1 or -1."""
    tube = job.housing.left_tube if place.station.tube == "left tube" else job.housing.right_tube
    side = place.below if plane == "vertical" else place.ahead
    return tube.outside_diameter / 2.0 * frame.per_metre, 1.0 if side in ("top", "front") else -1.0


def _draw_straightedge(
    axes: Axes, job: Job, plane: Plane, frame: AxleFrame, middle: float, along: list[Place]
) -> None:
    """A bar along the stations of one tube on two blocks, on the side the gaps are read on."""
    if len(along) < 2:
        return
    half, way = _skin(job, plane, frame, along[0])
    first, last = frame.paper(along[0].station.at), frame.paper(along[-1].station.at)
    edge = middle + way * (half + _GAUGE)
    foot = edge if way > 0.0 else edge - _BAR
    ink.box(axes, (first - 1.5, foot), (last - first + 3.0, _BAR), facecolor=BAND, linewidth=0.7 * THIN)
    for x in (first - 1.0, last + 1.0):
        ink.line(axes, (x, x), (middle + way * half, edge), THICK)


def _lifts(places: list[float]) -> list[float]:
    """How much farther out a ring stands than usual [mm]: every other one of rings that would touch."""
    lifts: list[float] = []
    for n, x in enumerate(places):
        near = n > 0 and x - places[n - 1] < 2.0 * _CIRCLE + 0.3
        lifts.append(2.0 * _CIRCLE + 0.4 if near and not lifts[-1] else 0.0)
    return lifts


def _draw_number(
    axes: Axes, job: Job, plane: Plane, frame: AxleFrame, heights: tuple[float, float], place: Place
) -> None:
    """A tick across the skin, and the station's number in a ring beyond the straightedge."""
    x, (middle, lift) = frame.paper(place.station.at), heights
    half, way = _skin(job, plane, frame, place)
    ink.line(axes, (x, x), (middle + way * (half - 1.0), middle + way * (half + _GAUGE)), 1.6 * THIN, NOW)
    y = middle + way * (half + _GAUGE + _BAR + 0.6 + _CIRCLE + lift)
    ink.ring(axes, (x, y), _CIRCLE)
    gid = f"station-{plane}-{place.number}"
    ink.label(axes, x, y - 0.1, str(place.number), 6.8, fontweight="bold", gid=gid, zorder=6)


def _draw_ordinates(axes: Axes, job: Job, frame: AxleFrame, top: float) -> None:
    """Running dimensions from the outer face of the left flange, upright under each station."""
    ink.line(axes, (frame.left, frame.right), (top, top), color=SOFT_INK)
    ink.ring(axes, (frame.left, top), 0.8)
    ink.label(axes, frame.left - 2.0, top, "0", 7.0, ha="right", color=SOFT_INK)
    whole = wording.length(job.housing.length, job.inch)
    ink.line(axes, (frame.right, frame.right), (top - 1.0, top + 1.0), color=SOFT_INK)
    ink.label(axes, frame.right + 1.5, top, whole, 7.0, ha="left", color=SOFT_INK)
    known = places(job)
    at = [frame.paper(place.station.at) for place in known]
    for place, x, label_x in zip(known, at, _spread(at, frame.right), strict=True):
        ink.line(axes, (x, x, label_x), (top, top - 1.2, top - 2.4), THIN)
        said = wording.length(place.station.at, job.inch)
        style = {"rotation": 90, "va": "top", "fontweight": "bold", "gid": f"at-{place.number}"}
        ink.label(axes, label_x, top - 3.0, said, 7.0, **style)


def _spread(places: list[float], most: float) -> list[float]:
    """The places moved apart so far that upright words beside each other can be read [mm]."""
    moved: list[float] = []
    for x in places:
        moved.append(max(x, moved[-1] + _LABEL_GAP) if moved else x)
    for n in range(len(moved) - 1, -1, -1):
        limit = most if n == len(moved) - 1 else moved[n + 1] - _LABEL_GAP
        moved[n] = min(moved[n], limit)
    return moved
