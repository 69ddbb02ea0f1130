"""The fixture from the side: the axis pre-bent, welded and let go of, and below it the bench with its shims."""

from __future__ import annotations

import math

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.plan.fixture_report import FixtureReport, FixtureStage, FixtureSupportLine, Floats
from axlewright.plan.report import PlanReport
from axlewright.sheets import fixture_words, ink, wording
from axlewright.sheets.style import BAND, HEAT, INK, SOFT_INK, THICK, THIN, drawing_style

WIDTH = 182.0
_VIEW, _KEY = 74.0, 12.0
_LEFT, _SPAN = 12.0, WIDTH - 24.0
_TALLEST = 13.0
_BENCH, _BLOCK = 9.0, 7.0
_STYLES: tuple[tuple[str, str, float, object], ...] = (
    ("prebent", "clamped, before the first arc", 0.8 * THICK, (0, (1.2, 1.6))),
    ("clamped", "welded and cold, still clamped", 0.8 * THICK, (0, (5.0, 2.0))),
    ("released", "let go", 1.3 * THICK, "-"),
)
_TITLES = {"vertical": "From behind, as the driver sits", "fore-aft": "From above"}
_UP = {"vertical": "up", "fore-aft": "forward"}


def draw_fixture(report: PlanReport) -> Figure | None:
    """The axis at three moments over the bench with its shims, one view for each plane held; None without a fixture.

    Args:
        report: the finished plan.
    """
    fixture = report.fixture
    if fixture is None:
        return None
    with drawing_style():
        height = _KEY + _VIEW * len(fixture.planes)
        figure, axes = ink.blank_page(WIDTH, height)
        scale = _scale(fixture, report.length)
        for n, plane in enumerate(fixture.planes):
            _draw_view(axes, report, plane, height - (n + 1) * _VIEW, scale)
        _draw_key(axes, scale)
        return figure


def _offsets(stage: FixtureStage, plane: str) -> Floats:
    return stage.vertical if plane == "vertical" else stage.fore_aft


def _scale(fixture: FixtureReport, length: float) -> float:
    """Enlargement across the axle against the scale along it: 1, 2, 3 or 5 times a power of ten."""
    heights = [support.shim for support in fixture.supports]
    for name, *_ in _STYLES:
        stage: FixtureStage = getattr(fixture, name)
        heights += [float(np.abs(_offsets(stage, plane)).max()) for plane in fixture.planes]
    most = _TALLEST / (max(*heights, 1e-6) * _SPAN / length)
    power = 10.0 ** math.floor(math.log10(most))
    return max(step * power for step in (1.0, 2.0, 3.0, 5.0) if step * power <= most * (1.0 + 1e-9))


def _draw_view(axes: Axes, report: PlanReport, plane: str, foot: float, scale: float) -> None:
    """Title, the three axes about the line between the flanges, and the bench under them."""
    fixture, right, middle = report.fixture, _LEFT + _SPAN, foot + 48.0
    assert fixture is not None
    paper = _SPAN / report.length
    ink.label(axes, WIDTH / 2.0, foot + 69.0, _TITLES[plane], 10.0, fontweight="bold")
    ink.label(axes, _LEFT, foot + 69.0, "LEFT", 10.0, ha="left", fontweight="bold")
    ink.label(axes, right, foot + 69.0, "RIGHT", 10.0, ha="right", fontweight="bold")
    ink.label(axes, 3.0, middle, _UP[plane], 7.0, rotation=90 if plane == "fore-aft" else 0, color=SOFT_INK)
    ink.label(axes, 3.0, middle + 10.0, "▲", 5.0)
    dash = (0, (12.0, 2.0, 2.0, 2.0))
    axes.plot([_LEFT, right], [middle, middle], linewidth=THIN, color=SOFT_INK, linestyle=dash)
    for name, _words, weight, style in _STYLES:
        y = middle + _offsets(getattr(fixture, name), plane) * paper * scale
        color = HEAT if name == "prebent" else INK
        gid = f"fixture-{plane}-{name}"
        axes.plot(_LEFT + fixture.along * paper, y, linewidth=weight, color=color, linestyle=style, gid=gid)
    _draw_bench(axes, report, plane, foot, scale)


def _draw_bench(axes: Axes, report: PlanReport, plane: str, foot: float, scale: float) -> None:
    """Bench, blocks, shims to scale, and the words at each support."""
    assert report.fixture is not None
    paper, top = _SPAN / report.length, foot + _BENCH
    ink.box(axes, (_LEFT, top - 2.0), (_SPAN, 2.0), facecolor=BAND)
    held = [support for support in report.fixture.supports if support.plane == plane]
    for n, support in enumerate(held):
        x = _LEFT + support.at_x * paper
        ink.box(axes, (x - 3.5, top), (7.0, _BLOCK))
        if support.shim > 0.0:
            height = max(support.shim * paper * scale, 0.4)
            ink.hatched(axes, (x - 4.5, top + _BLOCK), (9.0, height), f"shim-{plane}-{support.number}")
        _draw_words(axes, support, (x, top), report.inch, crowded=len(held) > 4 and bool(n % 2))


def _draw_words(
    axes: Axes, support: FixtureSupportLine, place: tuple[float, float], inch: bool, *, crowded: bool
) -> None:
    """Number in the block, shim over it, position under it, and what the clamp holds when cold."""
    x, top = place
    ink.label(axes, x, top + _BLOCK / 2.0, str(support.number), 9.0, fontweight="bold")
    below = top - 4.3 - (2.9 if crowded else 0.0)
    inside = min(max(x, _LEFT + 6.0), _LEFT + _SPAN - 6.0)
    words = f"shim {fixture_words.shim(support.shim, inch)}" if support.shim > 0.0 else "no shim"
    ink.label(axes, inside, below, f"{wording.length(support.at_x, inch)}: {words}", 7.0, fontweight="bold")


def _draw_key(axes: Axes, scale: float) -> None:
    """What the lines mean, and the scale."""
    ink.line(axes, (3.0, WIDTH - 3.0), (10.0, 10.0))
    x = 4.0
    for name, words, weight, style in _STYLES:
        color = HEAT if name == "prebent" else INK
        axes.plot([x, x + 9.0], [6.4, 6.4], linewidth=weight, color=color, linestyle=style)
        ink.label(axes, x + 10.5, 6.4, words, 7.5, ha="left")
        x += 62.0
    ink.hatched(axes, (4.0, 1.2), (9.0, 2.4), "key-shim")
    ink.label(axes, 14.5, 2.4, "shim", 7.5, ha="left")
    words = f"offsets and shims drawn {scale:g} times larger"
    ink.label(axes, WIDTH - 4.0, 2.4, words, 8.5, ha="right", fontweight="bold")
