"""Temperature against time at the hottest spots and the bearing seats, our plan above common practice."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import FixedLocator, FuncFormatter, MaxNLocator

from axlewright import units
from axlewright.plan.report import Plan, PlanReport, Trace
from axlewright.sheets import wording
from axlewright.sheets.style import BAND, HEAT, INK, SOFT_INK, THICK, THIN, blank_figure, drawing_style
from axlewright.sheets.text import drawable, fitted
from axlewright.solid.mesh import Floats

WIDTH = 182.0
HEIGHT = 105.0
# Axes in parts of the figure; the right third holds the list of places.
_LEFT, _AXES_WIDTH, _AXES_HEIGHT = 0.085, 0.575, 0.36
_BOTTOMS = (0.575, 0.105)
_LIST_LEFT = 1.03
_LIST_WIDTH = (1.0 - _LEFT - _LIST_LEFT * _AXES_WIDTH) * WIDTH - 2.0
_DASHES: tuple[str | tuple[int, tuple[float, ...]], ...] = (
    "-",
    (0, (6.0, 2.0)),
    (0, (6.0, 1.5, 1.2, 1.5)),
    (0, (1.2, 1.5)),
    (0, (9.0, 1.5, 3.0, 1.5)),
)
_MINUTE_STEPS = (5, 10, 15, 20, 30, 60, 120, 240)
_MOST_TRACES = 8


def draw_temperatures(report: PlanReport) -> Figure:
    """Temperature against time of both plans on the same scales, bench times marked.

    The scale ends a little above the hottest spot before a bead and the hottest seat: what the skin
    does for seconds right under the arc is cut off, and the drawing says so.

    Args:
        report: the finished plan.
    """
    with drawing_style():
        figure = blank_figure(WIDTH, HEIGHT)
        plans = (report.ours, report.common_practice)
        top = _top(plans)
        end_s = max([t.time_s[-1] for plan in plans for t in plan.traces] + [p.totals.bench_s for p in plans])
        for plan, title, bottom in zip(plans, ("Our plan", "Common practice"), _BOTTOMS, strict=True):
            axes = figure.add_axes((_LEFT, bottom, _AXES_WIDTH, _AXES_HEIGHT))
            _draw_scales(axes, report.inch, float(end_s), (plan.totals.ambient_c, top))
            _draw_plan(axes, plan, title, report.inch, top)
        figure.text(
            _LEFT + _AXES_WIDTH, 0.015, "minutes from the first arc", ha="right", fontsize=7.5, color=SOFT_INK
        )
        return figure


def _top(plans: tuple[Plan, ...]) -> float:
    """Where the scale ends [degC]: above spots before a bead and seats, below the flash under the arc."""
    lasting = [_lasting(trace) for plan in plans for trace in plan.traces if trace.time_s.size]
    lasting += [max(plan.totals.hottest_spot_c, plan.totals.bearing_seat_c) for plan in plans]
    ambient = min(plan.totals.ambient_c for plan in plans)
    return ambient + 1.15 * max(max(lasting) - ambient, 10.0)


def _lasting(trace: Trace) -> float:
    """What a place stays below for all but a fiftieth of the time [degC], however the moments are spread."""
    even = np.linspace(trace.time_s[0], trace.time_s[-1], 2000)
    return float(np.quantile(np.interp(even, trace.time_s, trace.temperature_c), 0.98))


def _shown(celsius: Floats | float, inch: bool) -> Floats:
    """Temperature on the shop's scale."""
    values = np.asarray(celsius, dtype=np.float64)
    low = units.convert(0.0, "degC", "degF")
    return values * 1.8 + low if inch else values


def _draw_scales(axes: Axes, inch: bool, end_s: float, span_c: tuple[float, float]) -> None:
    """Minutes along, degrees up, every number with its unit."""
    low, high = _shown(span_c[0], inch), _shown(span_c[1], inch)
    axes.set_facecolor("white")
    axes.set_xlim(0.0, end_s / 60.0)
    axes.set_ylim(float(low - 0.06 * (high - low)), float(high))
    step = next((s for s in _MINUTE_STEPS if end_s / 60.0 / s <= 9.0), _MINUTE_STEPS[-1])
    axes.xaxis.set_major_locator(
        FixedLocator([float(tick) for tick in range(0, int(end_s // 60.0) + 1, step)])
    )
    axes.xaxis.set_major_formatter(FuncFormatter(lambda value, _place: f"{value:.0f} min"))
    axes.yaxis.set_major_locator(MaxNLocator(5, integer=True))
    unit = "°F" if inch else "°C"
    axes.yaxis.set_major_formatter(FuncFormatter(lambda value, _place: f"{value:.0f} {unit}"))
    axes.tick_params(labelsize=7.5, width=THIN, length=3.0, color=INK, labelcolor=INK)
    axes.grid(True, linewidth=0.5 * THIN, color=BAND)
    axes.set_axisbelow(True)
    for side, spine in axes.spines.items():
        spine.set_linewidth(THICK if side in ("left", "bottom") else 0.0)
        spine.set_color(INK)


def _draw_plan(axes: Axes, plan: Plan, title: str, inch: bool, top: float) -> None:
    """One plan: its title, its traces with letters, its bench time and the list of places."""
    bench = wording.typeset(units.format_duration(plan.totals.bench_s))
    axes.text(0.0, 1.035, title, transform=axes.transAxes, fontsize=10.0, fontweight="bold", color=INK)
    axes.axvline(plan.totals.bench_s / 60.0, linewidth=THICK, color=INK, linestyle=(0, (4.0, 2.0)))
    _draw_bench_time(axes, plan.totals.bench_s / 60.0, f"bench time {bench}")
    spot = float(_shown(plan.totals.hottest_spot_c, inch))
    axes.axhline(spot, linewidth=THIN, color=SOFT_INK, linestyle=(0, (1.0, 2.0)))
    traces = plan.traces[:_MOST_TRACES]
    working = (min((bead.start_s for bead in plan.beads), default=0.0) / 60.0, _end_minute(plan))
    for k, trace in enumerate(traces):
        _draw_trace(axes, trace, (k, len(traces)), working, inch)
    _draw_list(axes, plan, traces, inch, top)


def _end_minute(plan: Plan) -> float:
    """When the traces of a plan end, or its bench time where it has none."""
    return max([plan.totals.bench_s, *(float(trace.time_s[-1]) for trace in plan.traces)]) / 60.0


def _draw_bench_time(axes: Axes, minutes: float, words: str) -> None:
    """The bench time beside its line, on whichever side has room."""
    late = minutes > 0.65 * axes.get_xlim()[1]
    ground = {"facecolor": "white", "edgecolor": "none", "boxstyle": "square,pad=0.2"}
    style: dict[str, Any] = {
        "ha": "right" if late else "left",
        "va": "top",
        "fontsize": 8.5,
        "fontweight": "bold",
    }
    words = f"{words} " if late else f" {words}"
    axes.text(minutes, 0.97, words, transform=axes.get_xaxis_transform(), color=INK, bbox=ground, **style)


def _is_seat(trace: Trace) -> bool:
    """Whether a place is a bearing seat or a seal, drawn in ink; spots are drawn in the heat accent."""
    return any(word in trace.place.lower() for word in ("seat", "seal", "bearing"))


def _draw_trace(
    axes: Axes, trace: Trace, turn: tuple[int, int], working: tuple[float, float], inch: bool
) -> None:
    """A curve with its letter sitting on it."""
    k, color = turn[0], INK if _is_seat(trace) else HEAT
    minutes, shown = trace.time_s / 60.0, _shown(trace.temperature_c, inch)
    weight = 1.2 * THICK if k == 0 else 0.8 * THICK
    axes.plot(
        minutes, shown, linewidth=weight, color=color, linestyle=_DASHES[k % len(_DASHES)], gid=f"trace-{k}"
    )
    at = _tag_minute(minutes, shown, working, turn)
    low, high = axes.get_ylim()
    y = min(float(np.interp(at, minutes, shown)), high - 0.2 * (high - low))
    circle = {"boxstyle": "circle,pad=0.18", "facecolor": "white", "edgecolor": color, "linewidth": THIN}
    style: dict[str, Any] = {"ha": "center", "va": "center", "fontweight": "bold", "color": INK, "zorder": 5}
    axes.text(at, y, _letter(k), fontsize=7.0, bbox=circle, **style)


def _tag_minute(minutes: Floats, shown: Floats, working: tuple[float, float], turn: tuple[int, int]) -> float:
    """Where the k-th of several letters sits: on the highest point of its share of the time."""
    window = (working[1] - working[0]) / turn[1]
    start = working[0] + window * turn[0]
    inside = np.flatnonzero((minutes >= start + 0.2 * window) & (minutes <= start + 0.8 * window))
    return float(minutes[inside[np.argmax(shown[inside])]]) if inside.size else start + 0.5 * window


def _letter(k: int) -> str:
    """A, B, C ... for the k-th trace."""
    return chr(ord("A") + k)


def _draw_list(axes: Axes, plan: Plan, traces: tuple[Trace, ...], inch: bool, top: float) -> None:
    """Places by letter with their highest temperature, and the hottest spot before a bead."""
    rows = [(f"{_letter(k)}  {t.place}", f"     at most {_highest(t, inch)}") for k, t in enumerate(traces)]
    cut = any(float(np.max(t.temperature_c)) > top for t in traces)
    y, drop = 1.0, min(0.115, 1.1 / (2.0 * len(rows) + 3.0))
    for place, most in rows:
        _list_line(axes, y, fitted(place, _LIST_WIDTH, 7.5), INK)
        _list_line(axes, y - drop, most, SOFT_INK)
        y -= 2.15 * drop
    spot = wording.temperature(plan.totals.hottest_spot_c, inch)
    _list_line(axes, y - 0.3 * drop, drawable(f"···· hottest spot before a bead {spot}"), INK)
    if cut:
        _list_line(axes, y - 1.4 * drop, "cut at the top: under the arc", SOFT_INK)


def _list_line(axes: Axes, y: float, words: str, color: str) -> None:
    """One line of the list beside the curves."""
    axes.text(_LIST_LEFT, y, words, transform=axes.transAxes, fontsize=7.5, va="top", color=color)


def _highest(trace: Trace, inch: bool) -> str:
    """The highest temperature of a trace."""
    hottest = float(np.max(trace.temperature_c)) if trace.temperature_c.size else math.nan
    return wording.temperature(hottest, inch)
