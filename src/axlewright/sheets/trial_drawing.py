"""The scrap tube from the side and from its end: supports, beads, dial and thermometer spot, dimensioned."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon

from axlewright.sheets import ink, wording
from axlewright.sheets.style import BAND, HEAT, INK, NOW, PAPER, SOFT_INK, THICK, THIN, drawing_style
from axlewright.straightness.learn.trial_plan import PlannedBead, TrialPlan

WIDTH, HEIGHT = 182.0, 63.5
_LEFT, _SPAN = 6.0, 126.0
_AXIS, _HALF = 34.5, 6.6
_BENCH = 17.5
_SECTION = (157.0, 34.0)
_RADIUS = 13.0
_TEXT = 6.8
_CLOSEST = 3.0


def draw_trial(plan: TrialPlan) -> Figure:
    """The trial's set-up, ready to be marked out: 182 by 63.5 mm.

    Args:
        plan: the planned trial.
    """
    with drawing_style():
        figure, axes = ink.blank_page(WIDTH, HEIGHT)
        _draw_tube(axes, plan)
        _draw_beads(axes, plan)
        _draw_gauge(axes, plan)
        _draw_marks(axes, plan)
        _draw_section(axes, plan)
        return figure


def _paper(plan: TrialPlan, distance: float) -> float:
    """Place on paper of a distance from the left end [mm]."""
    return _LEFT + distance / plan.tube.length * _SPAN


def _draw_tube(axes: Axes, plan: TrialPlan) -> None:
    """Tube, its bore and axis, the two supports and the bench."""
    ink.label(axes, _LEFT, HEIGHT - 3.5, "Side, beads on top", 8.5, ha="left", fontweight="bold")
    ink.box(axes, (_LEFT, _AXIS - _HALF), (_SPAN, 2 * _HALF), linewidth=THICK, facecolor=PAPER)
    ink.box(axes, (_LEFT - 2.0, _BENCH - 1.6), (_SPAN + 4.0, 1.6), facecolor=BAND)
    dash = (0, (12.0, 2.0, 2.0, 2.0))
    axes.plot([_LEFT - 3, _LEFT + _SPAN + 3], [_AXIS, _AXIS], linewidth=THIN, color=SOFT_INK, linestyle=dash)
    for at in (plan.tube.left_support, plan.tube.right_support):
        x = _paper(plan, at)
        corners = [(x, _AXIS - _HALF), (x - 3.2, _BENCH), (x + 3.2, _BENCH)]
        axes.add_patch(Polygon(corners, closed=True, facecolor=PAPER, edgecolor=INK, linewidth=THIN))


def _draw_beads(axes: Axes, plan: TrialPlan) -> None:
    """Beads with their numbers and hand of travel; the spot the thermometer reads."""
    top = _AXIS + _HALF
    for bead in plan.beads:
        if bead.at is None:
            start, end = _paper(plan, bead.start), _paper(plan, bead.end)
            ink.box(
                axes,
                (start, top),
                (end - start, 1.4),
                facecolor=HEAT,
                edgecolor=HEAT,
                gid=f"bead-{bead.number}",
            )
            ink.arrow(axes, (start, top + 2.9), (end, top + 2.9))
            x = (start + end) / 2.0
        else:
            x = _paper(plan, bead.at)
            low = _HALF * math.cos(bead.length / plan.tube.outside_diameter)
            height = _HALF - low + 1.4
            ink.box(axes, (x - 0.7, top - height + 1.4), (1.4, height), facecolor=HEAT, edgecolor=HEAT)
        ink.label(axes, x, top - 4.6, str(bead.number), 10.0, fontweight="bold", gid=f"number-{bead.number}")
    _draw_spot(axes, _paper(plan, plan.spot.at), top - _spot_depth(plan))


def _spot_depth(plan: TrialPlan) -> float:
    """How far below the tube's top line the spot is seen from the side [mm]."""
    angle = plan.spot.around / (plan.tube.outside_diameter / 2.0)
    return max(_HALF * (1.0 - math.cos(angle)), 1.2)


def _draw_spot(axes: Axes, x: float, y: float) -> None:
    for radius in (1.5, 0.5):
        axes.add_patch(Circle((x, y), radius, fill=radius < 1.0, color=NOW, linewidth=THICK, zorder=5))


def _draw_gauge(axes: Axes, plan: TrialPlan) -> None:
    """The dial under the tube, or where the straightedge goes when the tube is turned over."""
    x = _paper(plan, plan.tube.dial)
    if plan.way == "dial":
        ink.line(axes, (x, x), (_AXIS - _HALF, _BENCH + 5.6), THICK)
        axes.add_patch(
            Circle((x, _BENCH + 3.2), 2.6, facecolor=PAPER, edgecolor=INK, linewidth=THICK, zorder=4)
        )
        ink.line(axes, (x, x + 1.4), (_BENCH + 3.2, _BENCH + 4.6))
        ink.label(
            axes, x + 4.0, _BENCH + 3.4, "dial, up against the tube: tube down is plus", _TEXT, ha="left"
        )
        return
    left, right = (_paper(plan, at) for at in (plan.tube.left_support, plan.tube.right_support))
    under = _AXIS - _HALF
    # Another position of the same thing: thin, long dashes and two dots (ISO 128).
    for corner, size in (
        ((left - 4.0, under - 3.6), (right - left + 8.0, 1.4)),
        *_blocks(left, right, under),
    ):
        ink.box(axes, corner, size, facecolor="none", linestyle=(0, (8.0, 1.5, 1.0, 1.5, 1.0, 1.5)))
    words = "to read: turn the tube over, straightedge on two blocks; gap here"
    ink.label(axes, x, _BENCH + 3.4, words, _TEXT)
    ink.arrow_head(axes, (x, under - 0.2), (0.0, 1.0))


def _blocks(
    left: float, right: float, under: float
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    for x in (left, right):
        yield (x - 2.0, under - 2.2), (4.0, 2.2)


def _draw_marks(axes: Axes, plan: TrialPlan) -> None:
    """Distances from the left end: marks on the tube above it, supports and gauge below it."""
    tube = plan.tube
    above = {
        mark for bead in plan.beads for mark in ((bead.start, bead.end) if bead.at is None else (bead.at,))
    }
    heads = {plan.spot.at: NOW} | dict.fromkeys(above, INK)
    foot = _AXIS + _HALF + 6.6
    for x, (mark, color) in zip(_spaced(plan, sorted(heads)), sorted(heads.items()), strict=True):
        on = _paper(plan, mark)
        ink.line(axes, (on, on, x), (_AXIS + _HALF + 1.8, foot - 1.6, foot), THIN, SOFT_INK)
        words = wording.length(mark, plan.inch)
        ink.label(axes, x, foot + 0.6, words, _TEXT, rotation=90, va="bottom", color=color, fontweight="bold")
    for mark in (0.0, tube.left_support, tube.dial, tube.right_support, tube.length):
        x = _paper(plan, mark)
        ink.line(axes, (x, x), (_BENCH - 2.0, _BENCH - 5.0), THIN, SOFT_INK)
        words = wording.length(mark, plan.inch)
        nudge = {0.0: -1.5, tube.length: 1.5}.get(mark, 0.0)
        ink.label(axes, x + nudge, _BENCH - 6.0, words, _TEXT, rotation=90, va="top")
    ink.label(
        axes,
        _LEFT + _SPAN / 4.0,
        _BENCH - 4.5,
        "all from the left end, where the tape hooks on",
        _TEXT,
        color=SOFT_INK,
    )


def _spaced(plan: TrialPlan, marks: list[float]) -> list[float]:
    """Places of words over marks, moved apart where they would touch [mm]."""
    wanted = np.array([_paper(plan, mark) for mark in marks])
    for _ in range(60):
        near = np.flatnonzero(np.diff(wanted) < _CLOSEST - 1e-6)
        for k in near:
            middle = wanted[k : k + 2].mean()
            wanted[k : k + 2] = middle + np.array([-0.5, 0.5]) * _CLOSEST
        if not len(near):
            break
    return [float(x) for x in wanted]


def _draw_section(axes: Axes, plan: TrialPlan) -> None:
    """The tube from its left end: how far beads round it and the spot lie from the top, along the skin."""
    x, y = _SECTION
    ink.label(axes, x, HEIGHT - 3.5, "From the left end", 8.5, fontweight="bold")
    bore = _RADIUS * (1.0 - 2.0 * plan.tube.wall / plan.tube.outside_diameter)
    for radius in (_RADIUS, bore):
        axes.add_patch(Circle((x, y), radius, fill=False, edgecolor=INK, linewidth=THICK))
    ink.label(axes, x, y, f"⌀ {wording.length(plan.tube.outside_diameter, plan.inch)}", _TEXT)
    ink.label(axes, x, y - 4.0, f"wall {_wall(plan)}", _TEXT)
    ink.label(axes, x - _RADIUS - 3.0, y - _RADIUS - 1.0, "rear", _TEXT, color=SOFT_INK)
    ink.label(axes, x + _RADIUS + 3.0, y - _RADIUS - 1.0, "front", _TEXT, color=SOFT_INK)
    for bead in {(bead.at is None, bead.length): bead for bead in plan.beads}.values():
        _draw_round(axes, plan, bead)
    angle = plan.spot.around / (plan.tube.outside_diameter / 2.0)
    _draw_spot(axes, x + _RADIUS * math.sin(angle), y + _RADIUS * math.cos(angle))
    words = f"spot: {wording.length(plan.spot.around, plan.inch)} from the top line,"
    for k, part in enumerate((words, "along the skin") if plan.spot.beside else ("spot: on the top line",)):
        ink.label(axes, x, 11.0 - 3.2 * k, part, _TEXT, color=NOW)


def _draw_round(axes: Axes, plan: TrialPlan, bead: PlannedBead) -> None:
    """A bead seen from the end: a dot on top, or an arc with the distances of its ends from the top line."""
    x, y = _SECTION
    if bead.at is None:
        axes.add_patch(Circle((x, y + _RADIUS + 0.8), 1.0, color=HEAT, zorder=4))
        return
    ends = np.array([bead.start, bead.end]) / (plan.tube.outside_diameter / 2.0)
    angle = np.linspace(ends[0], ends[1], 40)
    radius = _RADIUS + 0.9
    axes.plot(x + radius * np.sin(angle), y + radius * np.cos(angle), linewidth=2.6 * THICK, color=HEAT)
    for end, mark in zip(ends, (bead.start, bead.end), strict=True):
        place = (x + (_RADIUS + 3.0) * math.sin(end), y + (_RADIUS + 3.0) * math.cos(end))
        side = "left" if end > 0 else "right"
        ink.label(axes, *place, wording.length(abs(mark), plan.inch), _TEXT, ha=side, fontweight="bold")
    ink.line(axes, (x, x), (y + _RADIUS - 3.0, y + _RADIUS + 4.0), THIN, SOFT_INK)


def _wall(plan: TrialPlan) -> str:
    wall = plan.tube.wall
    return f"{wall / 0.0254:.3f} in" if plan.inch else f"{wall * 1e3:.3g} mm"
