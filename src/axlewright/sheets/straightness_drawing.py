"""The housing's axis before and after, both planes on one picture, with its bands and its limits."""

from __future__ import annotations

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.job.schema import Housing, Job
from axlewright.sheets import ink
from axlewright.sheets import straightness_words as words
from axlewright.sheets.axle_frame import TITLES, UPWARD, AxleFrame, draw_outline, draw_ruler
from axlewright.sheets.straightness_marks import (
    TALLEST,
    Drawn,
    Offsets,
    View,
    draw_dial_scale,
    draw_limits,
    draw_odd_lines,
    draw_shape,
    offsets_for,
)
from axlewright.sheets.style import BAND, INK, SOFT_INK, THICK, THIN, drawing_style
from axlewright.sheets.text import fitted, wrapped
from axlewright.straightness.axis import PLANES
from axlewright.straightness.report import StraightnessReport

WIDTH = 182.0
_HEAD, _VIEW, _NOTE, _KEY = 19.0, 68.0, 4.0, 16.0
_CHANGE = 12.0
"""What the words on a second set and on the change take below each view [mm]."""
_LEFT, _AXLE = 24.0, 148.0
_MIDDLE = 35.5
_MOST_NOTES = 6


def draw_straightness(report: StraightnessReport, job: Job | None = None) -> Figure:
    """Both planes, before and after, left flange at left, offsets enlarged by the factor written on the picture.

    The latest set is drawn in thick ink with solid points, an earlier one thin and soft with open points. The band
    holds 90 % of what the readings allow.

    Args:
        report: the check.
        job: the job it belongs to; with it the bare housing is outlined behind the axis.
    """
    with drawing_style():
        notes = _notes(report)
        tall = _VIEW + (_CHANGE if len(sets_of(report)) > 1 else 0.0)
        height = _HEAD + 2.0 * tall + _NOTE * len(notes) + 2.0 + _KEY
        figure, axes = ink.blank_page(WIDTH, height)
        length = float(report.latest.vertical.distances[-1])
        frame = AxleFrame(_LEFT, _AXLE, length)
        scale = offsets_for(report, frame)
        _draw_head(axes, report, height)
        for k, plane in enumerate(PLANES):
            top = height - _HEAD - k * tall
            view = View(plane, frame, top - _MIDDLE, scale)
            _draw_view(axes, report, view, job.housing if job else None)
        _draw_notes(axes, notes, _KEY + _NOTE * len(notes) + 1.0)
        _draw_key(axes, report, scale, outlined=job is not None)
        return figure


def sets_of(report: StraightnessReport) -> tuple[Drawn, ...]:
    """The sets that are there, earlier first."""
    both = (("before", report.before), ("after", report.after))
    there = [(name, shape) for name, shape in both if shape is not None]
    return tuple(Drawn(name, shape, shape is report.latest) for name, shape in there)


def _draw_head(axes: Axes, report: StraightnessReport, height: float) -> None:
    """Whose housing it is, and the verdict."""
    name = fitted(f"{report.job_name} · {report.job_reference}", WIDTH - 8.0, 7.5)
    ink.label(axes, 4.0, height - 3.5, name, 7.5, ha="left", color=SOFT_INK)
    for k, line in enumerate(wrapped(words.sentence(report.verdict.words), WIDTH - 16.0, 10.0, 2, bold=True)):
        y = height - 9.0 - 4.6 * k
        ink.label(axes, 4.0, y, line, 10.0, ha="left", fontweight="bold", gid=f"verdict-{k}")


def _draw_view(axes: Axes, report: StraightnessReport, view: View, housing: Housing | None) -> None:
    """One plane: outline, limits, both axes with bands and points, and what they say in words."""
    frame, middle = view.frame, view.middle
    if housing is not None:
        draw_outline(axes, frame, middle, housing, view.plane)
    draw_limits(axes, view, words.bow_limits(report.verdict, view.plane))
    dash = (0, (12.0, 2.0, 2.0, 2.0))
    axes.plot([frame.left, frame.right], [middle, middle], lw=THIN, color=SOFT_INK, ls=dash, zorder=2.0)
    sets = sets_of(report)
    for drawn in sets:
        draw_shape(axes, view, drawn)
    draw_odd_lines(axes, view, sets)
    draw_dial_scale(axes, view, report.inch)
    draw_ruler(axes, frame, middle - TALLEST - 3.5, report.inch)
    _draw_titles(axes, view)
    _draw_end_words(axes, view, sets)
    _draw_untold(axes, view, sets)
    _draw_bow_words(axes, report, view, sets)


def _draw_titles(axes: Axes, view: View) -> None:
    """Title of the view, and which way is which."""
    frame, y = view.frame, view.middle + _MIDDLE - 3.5
    ink.label(axes, WIDTH / 2.0, y, TITLES[view.plane], 10.0, fontweight="bold")
    ink.label(axes, frame.left, y, "LEFT", 10.0, ha="left", fontweight="bold")
    ink.label(axes, frame.right, y, "RIGHT", 10.0, ha="right", fontweight="bold")
    upward = UPWARD[view.plane]
    turn = 90 if len(upward) > 4 else 0
    ink.label(axes, 4.0, view.middle, upward, 7.0, rotation=turn, color=SOFT_INK)
    ink.line(axes, (4.0, 4.0), (view.middle + 7.5, view.middle + 12.0))
    ink.label(axes, 4.0, view.middle + 12.0, "▲", 5.0)


def _draw_end_words(axes: Axes, view: View, sets: tuple[Drawn, ...]) -> None:
    """Camber or toe at both flanges with its band; the earlier set below the latest."""
    name = "camber" if view.plane == "vertical" else "toe"
    for end, x in (("left", view.frame.left), ("right", view.frame.right)):
        style = {"ha": end}
        for drawn in sets:
            figure = drawn.end(view.plane, end)
            gid = f"{name}-{end}-{drawn.name}"
            if not drawn.latest:
                said = f"{drawn.name} {words.with_band(figure, 'deg', False)}"
                ink.label(axes, x, view.middle + _MIDDLE - 15.6, said, 7.0, color=SOFT_INK, gid=gid, **style)
                continue
            meaning = words.angle_meaning(figure.value, view.plane) if figure.told else ""
            said = f"{name} {words.value(figure, 'deg', False)}" + (f": {meaning}" if meaning else "")
            ink.label(axes, x, view.middle + _MIDDLE - 8.2, said, 8.5, gid=gid, **style)
            if figure.told:
                spread = f"{drawn.name}, band {words.band(figure, 'deg', False)}"
                ink.label(axes, x, view.middle + _MIDDLE - 12.1, spread, 7.0, **style)


def _draw_untold(axes: Axes, view: View, sets: tuple[Drawn, ...]) -> None:
    """In large type, for each set whose readings do not tell this plane: that they do not."""
    untold = [drawn for drawn in sets if not words.plane_of(drawn.shape, view.plane).told]
    ground = {"facecolor": "white", "edgecolor": INK, "linewidth": THIN, "boxstyle": "square,pad=0.5"}
    for k, drawn in enumerate(untold):
        y = view.middle + 8.0 - (16.0 if k else 0.0)
        said = f"{drawn.name}: {words.UNTOLD}"
        gid = f"untold-{view.plane}-{drawn.name}"
        x = view.frame.left + view.frame.width / 2.0
        ink.label(axes, x, y, said, 11.0, fontweight="bold", bbox=ground, gid=gid, zorder=9)


def _draw_bow_words(axes: Axes, report: StraightnessReport, view: View, sets: tuple[Drawn, ...]) -> None:
    """Bow of the latest set, of the earlier one, and what changed."""
    y, inch = view.middle - TALLEST - 13.5, report.inch
    for drawn in reversed(sets):
        if not words.plane_of(drawn.shape, view.plane).told:
            continue
        said = f"bow {drawn.name} {words.bow(words.plane_of(drawn.shape, view.plane), view.plane, inch)}"
        size, color = (8.5, INK) if drawn.latest else (7.5, SOFT_INK)
        ink.label(axes, WIDTH / 2.0, y, said, size, color=color, gid=f"bow-{view.plane}-{drawn.name}")
        y -= 3.9
    if report.change is not None:
        for k, line in enumerate(words.change(report.change, view.plane, inch)):
            ink.label(axes, WIDTH / 2.0, y - 3.5 * k, line, 7.5, gid=f"change-{view.plane}-{k}")


def _notes(report: StraightnessReport) -> list[str]:
    """Twist, toe at the tyre and what to read next, line by line."""
    latest = report.latest
    said = [words.twist(latest), words.tyre(report.verdict, report.inch)]
    said += list(latest.untold)
    said += [f"Next: {advice.words} {advice.why}" for advice in latest.advice[:1]]
    lines = [line for text in said if text for line in wrapped(words.sentence(text), WIDTH - 14.0, 7.5, 2)]
    return lines[:_MOST_NOTES]


def _draw_notes(axes: Axes, notes: list[str], top: float) -> None:
    for k, note in enumerate(notes):
        ink.label(axes, 4.0, top - _NOTE * (k + 0.5), note, 7.5, ha="left", gid=f"note-{k}")


def _draw_key(axes: Axes, report: StraightnessReport, scale: Offsets, *, outlined: bool) -> None:
    """What the lines mean, and the scale."""
    ink.line(axes, (3.0, WIDTH - 3.0), (_KEY - 1.5, _KEY - 1.5))
    for k, drawn in enumerate(reversed(sets_of(report))):
        y = 11.2 - 4.2 * k
        weight, color, fill = (1.3 * THICK, INK, BAND) if drawn.latest else (0.9 * THIN, SOFT_INK, "none")
        line = drawn.style
        ink.box(axes, (4.0, y - 1.3), (11.0, 2.6), facecolor=fill, edgecolor=SOFT_INK, linewidth=0.5 * THIN)
        axes.plot([4.0, 15.0], [y, y], linewidth=weight, color=color, linestyle=line, zorder=4)
        face = INK if drawn.latest else "white"
        axes.plot([9.5], [y], marker="o", markersize=3.4, color=color, markerfacecolor=face, zorder=5)
        told = f"{drawn.name}: {drawn.shape.name}, {drawn.shape.readings} readings, 90 % band"
        ink.label(axes, 17.0, y, fitted(told, 100.0, 7.5), 7.5, ha="left", gid=f"key-{drawn.name}")
    _draw_limit_key(axes, report, scale)
    said = f"offsets drawn {scale.factor:g} times larger" + (", housing outlined" if outlined else "")
    ink.label(axes, WIDTH - 4.0, 11.2, said, 8.0, ha="right", fontweight="bold", gid="scale")


def _draw_limit_key(axes: Axes, report: StraightnessReport, scale: Offsets) -> None:
    """The limits on the bow, and those that lie beyond the picture."""
    spelled: dict[str, bool] = {}
    for plane in PLANES:
        for check in words.bow_limits(report.verdict, plane):
            allowed = words.allowed(check.wanted, check.limit, check.unit, report.inch)
            outer = max(abs(check.wanted + check.limit), abs(check.wanted - check.limit))
            spelled[allowed] = scale.holds(outer)
    if not spelled:
        return
    said = "; ".join(text + ("" if inside else ", off the picture") for text, inside in spelled.items())
    shown = fitted(f"limit of the bow {said}", WIDTH - 21.0, 7.5)
    y = 11.2 - 4.2 * len(sets_of(report))
    axes.plot([4.0, 15.0], [y, y], linewidth=THIN, color=SOFT_INK, linestyle=(0, (1.5, 1.5)))
    ink.label(axes, 17.0, y, shown, 7.5, ha="left", gid="limit")
