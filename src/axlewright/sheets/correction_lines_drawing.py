"""Where counter-beads or heat lines go: both tubes unrolled, seen from outside, left flange at left."""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.axes import Axes

from axlewright.job.schema import Job
from axlewright.sheets import ink
from axlewright.sheets.axle_frame import AxleFrame, draw_ruler
from axlewright.sheets.style import BAND, INK, NOW, SOFT_INK, THICK, THIN
from axlewright.sheets.text import width_of
from axlewright.sheets.trade_labels import Sheet, Spot
from axlewright.straightness.correct.report import LinesPlan, PlannedLine

_LEFT, _AXLE = 24.0, 150.0
_TITLE, _HOUR, _RULER, _KEY = 8.0, 5.0, 8.0, 6.0
_ROUND = 12.0
_SIDES = {0.0: "12 top", 3.0: "3 front", 6.0: "6 bottom", 9.0: "9 rear"}
_BAR = 1.5
_NUMBER = 8.0
_SEAMS = (6.0, 12.0, 3.0, 9.0)
"""Clock positions the skin may be cut open at."""


@dataclass(frozen=True)
class LinesPanel:
    """Lines of a plan on the unrolled skin.

    The skin is seen from outside, so the clock, which is seen from the driver's right end, counts upward.

    Args:
        plan: the lines.
        length: of the axle [m].
        inch: whether the shop works in inches.
        job: to mark centre, flanges and perches, where it is known.
    """

    plan: LinesPlan
    length: float
    inch: bool
    job: Job | None = None

    @property
    def height(self) -> float:
        """Height on the page [mm]."""
        return _TITLE + _ROUND * _HOUR + _RULER + _KEY

    def draw(self, axes: Axes, top: float) -> None:
        """Draw with its upper edge at `top` [mm]."""
        frame = AxleFrame(_LEFT, _AXLE, self.length)
        foot = top - _TITLE - _ROUND * _HOUR
        seam = seam_of(self.plan.lines)
        ink.label(axes, frame.left, top - 4.0, "LEFT", 10.0, ha="left", fontweight="bold")
        ink.label(axes, frame.right, top - 4.0, "RIGHT", 10.0, ha="right", fontweight="bold")
        title = "tubes unrolled, seen from outside"
        ink.label(axes, (frame.left + frame.right) / 2.0, top - 4.0, title, 8.5, color=SOFT_INK)
        self._draw_skin(axes, frame, foot, seam)
        places = {line.number: foot + height_of(line.clock, seam) for line in self.plan.lines}
        for line in self.plan.lines:
            _draw_line(axes, frame, line, places[line.number])
        _draw_numbers(axes, frame, self.plan.lines, places, (foot, foot + _ROUND * _HOUR))
        draw_ruler(axes, frame, foot - 1.0, self.inch)
        _draw_key(axes, foot - _RULER - 3.6)

    def _draw_skin(self, axes: Axes, frame: AxleFrame, foot: float, seam: float) -> None:
        """The skin with its hours, and what lines keep clear of."""
        ink.box(axes, (frame.left, foot), (frame.width, _ROUND * _HOUR))
        if self.job is not None:
            _draw_obstacles(axes, frame, self.job, foot, seam)
        for hour in range(13):
            clock = (seam + hour) % 12.0
            y = foot + hour * _HOUR
            named = clock in _SIDES
            weight = THIN if named else 0.4 * THIN
            ink.line(axes, (frame.left, frame.right), (y, y), weight, SOFT_INK)
            said = _SIDES.get(clock, f"{clock or 12.0:.0f}")
            style = {"color": INK, "fontweight": "bold"} if named else {"color": SOFT_INK}
            ink.label(axes, frame.left - 2.0, y, said, 7.0 if named else 6.0, ha="right", **style)


def seam_of(lines: tuple[PlannedLine, ...]) -> float:
    """Where the skin is cut open [h]: of top, front, bottom and rear the one farthest from any line."""

    def clear(seam: float) -> float:
        gaps = [abs((line.clock - seam + 6.0) % 12.0 - 6.0) for line in lines]
        return min(gaps, default=6.0)

    return max(_SEAMS, key=clear)


def height_of(clock: float, seam: float) -> float:
    """Height of a clock position over the lower edge of the unrolled skin [mm]."""
    return (clock - seam) % 12.0 * _HOUR


def _draw_obstacles(axes: Axes, frame: AxleFrame, job: Job, foot: float, seam: float) -> None:
    """Centre and flanges all round, perches where they sit on top, hatched."""
    centre, half = job.distance_at(job.housing.centre.offset), job.housing.centre.width / 2.0
    flange = job.housing.knuckle_flange.thickness
    round_about = (
        (centre - half, centre + half),
        (0.0, flange),
        (job.housing.length - flange, job.housing.length),
    )
    for begin, end in round_about:
        left, width = frame.paper(begin), (end - begin) * frame.per_metre
        ink.box(axes, (left, foot), (width, _ROUND * _HOUR), facecolor=BAND, edgecolor=SOFT_INK)
    x = frame.paper(centre)
    ground = {"facecolor": BAND, "edgecolor": "none", "boxstyle": "square,pad=0.2"}
    ink.label(axes, x, foot + 1.5 * _HOUR, "centre", 7.5, color=INK, bbox=ground, zorder=5)
    for perch in job.housing.perches:
        left, width = frame.paper(perch.at - perch.length / 2.0), perch.length * frame.per_metre
        # A perch sits on top; how far it reaches round the tube is drawn as an hour and a half either way.
        for low, high in _wrapped(10.5, 13.5, seam):
            ink.box(
                axes,
                (left, foot + low * _HOUR),
                (width, (high - low) * _HOUR),
                hatch="....",
                edgecolor=SOFT_INK,
            )


def _wrapped(begin: float, end: float, seam: float) -> list[tuple[float, float]]:
    """Hours over the lower edge that a stretch of the clock covers, in two pieces where the skin is cut there."""
    low = (begin - seam) % 12.0
    high = low + end - begin
    return [(low, high)] if high <= 12.0 else [(low, 12.0), (0.0, high - 12.0)]


def _draw_line(axes: Axes, frame: AxleFrame, line: PlannedLine, y: float) -> None:
    """A bar from start to end, filled in stage 1 and open in stage 2, with an arrow the way the torch goes."""
    start, end = frame.paper(line.start), frame.paper(line.end)
    left, width = min(start, end), abs(end - start)
    face = INK if line.stage == 1 else "white"
    style = {"facecolor": face, "edgecolor": INK, "linewidth": 0.8 * THICK, "zorder": 4.0}
    ink.box(
        axes, (left, y - _BAR / 2.0), (width, _BAR), gid=f"line-{line.number}-stage-{line.stage}", **style
    )
    way = 1.0 if end >= start else -1.0
    ink.arrow_head(axes, (end + 2.0 * way, y), (way, 0.0))


def _draw_numbers(
    axes: Axes,
    frame: AxleFrame,
    lines: tuple[PlannedLine, ...],
    places: dict[int, float],
    heights: tuple[float, float],
) -> None:
    """The number of each line beside it, clear of every line and every other number."""
    spots: list[Spot] = []
    middles: dict[int, int] = {}
    for line in lines:
        start, end = frame.paper(line.start), frame.paper(line.end)
        for k in range(9):
            if k == 4:
                middles[line.number] = len(spots)
            spots.append(Spot(start + (end - start) * k / 8.0, places[line.number], _BAR / 2.0 + 0.3))
        spots.append(Spot(end + (1.5 if end >= start else -1.5), places[line.number], 1.4))
    sheet = Sheet((frame.left, heights[0] - 0.5, frame.right, heights[1] + 0.5), spots, over_points=True)
    for line in lines:
        size = width_of(str(line.number), _NUMBER, bold=True) + 1.8
        placed = sheet.place(middles[line.number], [(size, 3.5)])
        if placed is None:
            left, bottom = spots[middles[line.number]].x, spots[middles[line.number]].y
            box = (left - size / 2.0, bottom - 1.75, left + size / 2.0, bottom + 1.75)
        else:
            box = placed.box
            if placed.leader is not None:
                _draw_leader(axes, placed.leader)
        _draw_badge(axes, line, box)


def _draw_leader(axes: Axes, ends: tuple[float, float, float, float]) -> None:
    """From a line to its number, over lines in between, with a dot on the line it belongs to."""
    x0, y0, x1, y1 = ends
    for weight, color in ((3.0 * THIN, "white"), (THIN, INK)):
        axes.plot([x0, x1], [y0, y1], linewidth=weight, color=color, zorder=5)
    axes.plot([x0], [y0], marker="o", ms=3.0, mfc="white", mec=INK, mew=0.8, ls="none", zorder=5.5)


def _draw_badge(axes: Axes, line: PlannedLine, box: tuple[float, float, float, float]) -> None:
    """The number: white on ink in stage 1, ink on white in stage 2."""
    left, bottom, right, top = box
    first = line.stage == 1
    style = {"facecolor": INK if first else "white", "edgecolor": INK, "linewidth": THIN, "zorder": 6.0}
    ink.box(axes, (left, bottom), (right - left, top - bottom), **style)
    said = {
        "color": "white" if first else INK,
        "fontweight": "bold",
        "zorder": 7,
        "gid": f"number-{line.number}",
    }
    ink.label(axes, (left + right) / 2.0, (bottom + top) / 2.0 - 0.1, str(line.number), _NUMBER, **said)


def _draw_key(axes: Axes, y: float) -> None:
    """What filled and open mean."""
    for x, face, said in (
        (_LEFT, INK, "stage 1, before measuring"),
        (_LEFT + 52.0, "white", "stage 2, after measuring and planning again"),
    ):
        ink.box(axes, (x, y - _BAR / 2.0), (9.0, _BAR), facecolor=face, edgecolor=INK, linewidth=THICK)
        ink.label(axes, x + 11.0, y, said, 7.5, ha="left")
    ink.arrow_head(axes, (_LEFT + 134.0, y), (1.0, 0.0))
    ink.label(axes, _LEFT + 135.5, y, "torch goes", 7.5, ha="left", color=NOW)
