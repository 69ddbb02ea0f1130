"""What the prediction depends on: share of each uncertain input, and the band of our plan beside common practice."""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.plan.report import Band, HowSure, Matter, Plan, PlanBands, PlanReport, Totals
from axlewright.sheets import ink, wording
from axlewright.sheets.style import BAND, INK, PAPER, SOFT_INK, THICK, THIN, drawing_style
from axlewright.sheets.sureness import by_share, percent, sentences

WIDTH = 182.0
HEIGHT = 154.0
_BLOCK = 40.0
_TOP = HEIGHT - 17.0
_BAR_LEFT, _BAR_WIDTH = 54.0, 40.0
_SCALE_LEFT, _SCALE_WIDTH = 108.0, 68.0
_INPUTS = 4
_SEEN = 0.005
_ROW = 5.4
_FOOT_LETTERS = 112
_DASH = (0, (4.0, 1.6))


@dataclass(frozen=True)
class Block:
    """One figure of the plan: its key, title, where its band and value stand, and how it is written."""

    figure: str
    title: str
    band: Callable[[PlanBands], Band]
    value: Callable[[Totals], float]
    words: Callable[[float, bool], str]
    least: Callable[[Totals], float]
    limit: float | None = None


_BLOCKS = (
    Block(
        "distortion",
        "Distortion: bow, camber and toe together",
        lambda bands: bands.distortion,
        lambda totals: totals.distortion,
        wording.distortion,
        lambda totals: 0.0,
    ),
    Block(
        "hottest_spot",
        "Hottest spot before a bead",
        lambda bands: bands.hottest_spot_c,
        lambda totals: totals.hottest_spot_c,
        wording.temperature,
        lambda totals: totals.ambient_c,
    ),
    Block(
        "tack_load",
        "Heaviest loaded tack, of its strength",
        lambda bands: bands.tack_utilisation,
        lambda totals: totals.tack_utilisation,
        lambda load, inch: wording.tack_load(load),
        lambda totals: 0.0,
        limit=1.0,
    ),
)


def draw_what_matters(report: PlanReport) -> Figure:
    """For each main figure: bars of the inputs it depends on, and the band of our plan beside that of common practice.

    Args:
        report: the finished plan, with how sure it is.

    Raises:
        ValueError: how sure the plan is was not worked out.
    """
    if report.how_sure is None:
        raise ValueError("how sure the plan is was not worked out")
    with drawing_style():
        figure, axes = ink.blank_page(WIDTH, HEIGHT)
        ink.label(
            axes, 4.0, HEIGHT - 6.0, "What the prediction depends on", 10.0, ha="left", fontweight="bold"
        )
        ink.label(axes, _SCALE_LEFT - 4.0, HEIGHT - 6.0, "How sure it is", 10.0, ha="left", fontweight="bold")
        for number, block in enumerate(_BLOCKS):
            top = _TOP - number * _BLOCK
            ink.line(axes, (3.0, WIDTH - 3.0), (top + 5.0, top + 5.0))
            ink.label(axes, 4.0, top + 1.0, block.title, 8.5, ha="left", fontweight="bold")
            _draw_bars(axes, report.how_sure, block, top - 6.0)
            _draw_bands(axes, report, block, top - 6.0)
        _draw_key(axes, report)
        return figure


def _draw_bars(axes: Axes, sure: HowSure, block: Block, top: float) -> None:
    """The inputs with the largest shares, then all others and what acts together."""
    matter = next((m for m in sure.matters if m.figure == block.figure), Matter(block.figure, ()))
    ranked = by_share(sure, matter) if matter.shares else []
    shown = [pair for pair in ranked[:_INPUTS] if pair[1] >= _SEEN]
    bars = (
        [*shown, ("all others, and together", max(0.0, 1.0 - sum(share for _, share in shown)))]
        if shown
        else []
    )
    if not bars:
        ink.label(axes, 4.0, top, "nothing that was drawn moves it", 7.5, ha="left", color=SOFT_INK)
    for row, (words, share) in enumerate(bars):
        y = top - row * _ROW
        ink.label(axes, _BAR_LEFT - 2.0, y, words, 7.5, ha="right")
        width = _BAR_WIDTH * min(share, 1.0)
        # The largest is black and the rest is white, so that the bars tell apart on any printer.
        colour = INK if row == 0 else (PAPER if row == len(bars) - 1 else BAND)
        ink.box(axes, (_BAR_LEFT, y - 1.7), (width, 3.4), facecolor=colour, gid=f"share-{block.figure}-{row}")
        ink.label(axes, _BAR_LEFT + width + 1.5, y, percent(share), 7.5, ha="left")


def _draw_bands(axes: Axes, report: PlanReport, block: Block, top: float) -> None:
    """Both plans on one scale from nought, or from the air of the shop."""
    plans = [plan for plan in (report.ours, report.common_practice) if plan.how_sure is not None]
    least = block.least(report.ours.totals)
    most = max(edge for plan in plans for edge in _edges(plan, block))
    most = max(most, block.limit or most) * 1.02 - 0.02 * least
    stretch = _SCALE_WIDTH / max(most - least, 1e-9)

    def at(value: float) -> float:
        return _SCALE_LEFT + max(value - least, 0.0) * stretch

    for row, plan in enumerate(plans):
        _draw_band(axes, plan, block, (top + 2.0 - 12.0 * row, row == 0, report.inch), at)
    foot = top - 20.5
    ink.line(axes, (_SCALE_LEFT, _SCALE_LEFT + _SCALE_WIDTH), (foot, foot), color=SOFT_INK)
    ends = ((_SCALE_LEFT, least, "left"), (_SCALE_LEFT + _SCALE_WIDTH, most, "right"))
    for x, value, side in ends:
        ink.line(axes, (x, x), (foot, foot + 1.2), color=SOFT_INK)
        ink.label(axes, x, foot - 2.2, block.words(value, report.inch), 7.0, ha=side, color=SOFT_INK)
    if block.limit is not None:
        x = at(block.limit)
        # Broken where words stand.
        for low, high in ((foot, top - 10.2), (top - 4.0, top + 1.9), (top + 5.4, top + 6.2)):
            axes.plot([x, x], [low, high], linewidth=THIN, color=INK, linestyle=_DASH, gid="limit")
        ink.label(axes, x, top + 7.5, "strength", 7.0)


def _edges(plan: Plan, block: Block) -> tuple[float, float]:
    """The ends of what is drawn of a plan."""
    assert plan.how_sure is not None
    return block.band(plan.how_sure).high, block.value(plan.totals)


def _draw_band(
    axes: Axes, plan: Plan, block: Block, place: tuple[float, bool, bool], at: Callable[[float], float]
) -> None:
    """One plan: its band as a box, the middle as a bar across it, the planned value as a wedge above it."""
    y, ours, inch = place
    assert plan.how_sure is not None
    band, value = block.band(plan.how_sure), block.value(plan.totals)
    low, middle, high = at(band.low), at(band.middle), at(band.high)
    style = {} if ours else {"hatch": ink.HATCH, "hatch_linewidth": THIN}
    colour = BAND if ours else PAPER
    name = "our plan" if ours else "common practice"
    gid = f"band-{block.figure}-{'ours' if ours else 'common'}"
    ink.box(axes, (low, y - 4.6), (high - low, 3.6), facecolor=colour, gid=gid, **style)
    ink.line(axes, (middle, middle), (y - 5.8, y - 1.0), 1.5 * THICK)
    _mark_planned(axes, at(value), y - 0.3)
    edges = wording.band(block.words(band.low, inch), block.words(band.high, inch))
    text = f"{name}: {block.words(value, inch)}, band {edges}"
    ink.label(axes, _SCALE_LEFT, y + 2.0, text, 7.2, ha="left", gid=f"words-{gid}")


def _mark_planned(axes: Axes, x: float, y: float) -> None:
    """A wedge whose point is at the planned value."""
    axes.plot([x], [y], marker="v", markersize=4.2, color=INK, markeredgewidth=0.0, zorder=5)


def _draw_key(axes: Axes, report: PlanReport) -> None:
    """What the marks mean, and how often our plan beats common practice."""
    y = 13.0
    ink.line(axes, (3.0, WIDTH - 3.0), (y + 4.0, y + 4.0))
    ink.box(axes, (4.0, y - 1.4), (10.0, 2.8), facecolor=BAND)
    ink.label(axes, 16.0, y, "80 of 100 cases (10-90 %)", 7.2, ha="left")
    ink.line(axes, (59.0, 59.0), (y - 2.2, y + 2.2), 1.5 * THICK)
    ink.label(axes, 61.0, y, "half lie below", 7.2, ha="left")
    _mark_planned(axes, 87.0, y)
    ink.label(axes, 90.0, y, "as planned", 7.2, ha="left")
    ink.label(axes, 112.0, y, "bars: share of the uncertainty", 7.2, ha="left")
    for line, text in enumerate(textwrap.wrap(sentences(report)[1], _FOOT_LETTERS)):
        ink.label(axes, 4.0, y - 5.4 - 3.6 * line, text, 7.2, ha="left")
