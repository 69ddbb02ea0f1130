"""Weld maps: every seam unrolled, on as many pages as the work needs."""

from __future__ import annotations

from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.plan.report import PlanReport
from axlewright.sheets import ink
from axlewright.sheets.clock_face import ClockPanel
from axlewright.sheets.places import SeamWork, seam_works
from axlewright.sheets.strip import StripPanel, wanted_width
from axlewright.sheets.style import SOFT_INK, THICK, drawing_style
from axlewright.sheets.text import fitted, width_of

# Fits A4 and US Letter on their sides with margins, a running head and a footer.
PAGE_WIDTH = 252.0
PAGE_HEIGHT = 164.0
_MARGIN = 3.0
_TITLE = 10.0
_KEY = 9.5
_MOST_STRETCH = 1.7
_BEAD_KEY = "bead: weld in order of number, along the arrow; heavy frame: bead 1; small: its name for the log"
_COLUMN = (PAGE_WIDTH - 2.0 * _MARGIN) / 2.0

Panel = StripPanel | ClockPanel


@dataclass(frozen=True)
class Placed:
    """A panel with its column (0 left, 1 right) and the depth of its upper edge below the title [mm]."""

    panel: Panel
    column: int
    depth: float


def draw_weld_maps(report: PlanReport) -> tuple[Figure, ...]:
    """Weld map pages of our plan: beads numbered in order, hand of travel, tacks, drain openings.

    Seams of one attachment stand together; a page is 252 by 164 mm and prints at full size on A4 and
    US Letter turned on their sides.

    Args:
        report: the finished plan.
    """
    with drawing_style():
        panels = [_panel(work, report.inch) for work in seam_works(report)]
        pages = _pages(panels)
        return tuple(_draw_page(report, page, k + 1, len(pages)) for k, page in enumerate(pages))


def _panel(work: SeamWork, inch: bool) -> Panel:
    """The fitting kind of panel for a seam."""
    if work.line.path_clock is not None:
        return ClockPanel(work, _COLUMN)
    return StripPanel(work, inch, wanted_width(work, _COLUMN, 2.0 * _COLUMN))


def _pages(panels: list[Panel]) -> list[list[Placed]]:
    """Fill two columns from the top, in order; wide panels take both; a new page when one is full."""
    room = PAGE_HEIGHT - 2.0 * _MARGIN - _TITLE - _KEY
    pages: list[list[Placed]] = [[]]
    used = [0.0, 0.0]
    for panel in panels:
        wide = panel.width > _COLUMN
        column = 0 if wide or used[0] <= used[1] + 1e-6 else 1
        depth = max(used) if wide else used[column]
        if depth > 0.0 and depth + panel.height > room + 1e-6:
            pages.append([])
            used, column, depth = [0.0, 0.0], 0, 0.0
        pages[-1].append(Placed(panel, column, depth))
        for k in (0, 1) if wide else (column,):
            used[k] = depth + panel.height
    return pages


def _draw_page(report: PlanReport, page: list[Placed], number: int, count: int) -> Figure:
    """One page: title, panels stretched to use spare height, key."""
    figure, axes = ink.blank_page(PAGE_WIDTH, PAGE_HEIGHT)
    _draw_title(axes, report, number, count)
    room = PAGE_HEIGHT - 2.0 * _MARGIN - _TITLE - _KEY
    deepest = max((placed.depth + placed.panel.height for placed in page), default=room)
    stretch = min(room / deepest, _MOST_STRETCH)
    top = PAGE_HEIGHT - _MARGIN - _TITLE
    for placed in page:
        left = _MARGIN + placed.column * _COLUMN
        placed.panel.draw(axes, left, top - placed.depth * stretch, placed.panel.height * stretch)
    _draw_key(axes)
    return figure


def _draw_title(axes: Axes, report: PlanReport, number: int, count: int) -> None:
    """What the page is, and of which job."""
    y = PAGE_HEIGHT - _MARGIN - 4.0
    title = "Weld map" if count == 1 else f"Weld map {number} of {count}"
    ink.label(axes, _MARGIN + 2.0, y, title, 14.0, ha="left", fontweight="bold")
    room = PAGE_WIDTH - 2.0 * _MARGIN - 8.0 - width_of(title, 14.0, bold=True)
    job = fitted(f"{report.job_name} · {report.job_reference}", room, 9.5)
    ink.label(axes, PAGE_WIDTH - _MARGIN - 2.0, y, job, 9.5, ha="right")
    foot = PAGE_HEIGHT - _MARGIN - _TITLE + 1.5
    ink.line(axes, (_MARGIN, PAGE_WIDTH - _MARGIN), (foot, foot), THICK)


def _draw_key(axes: Axes) -> None:
    """What the marks mean."""
    y = _MARGIN + 3.0
    ink.line(axes, (_MARGIN, PAGE_WIDTH - _MARGIN), (y + 4.4, y + 4.4))
    x = _MARGIN + 2.0
    ink.box(axes, (x, y - 3.2), (11.0, 6.4))
    ink.label(axes, x + 4.0, y + 1.0, "7", 8.0, fontweight="bold")
    ink.label(axes, x + 8.2, y + 1.0, "B3", 5.5, color=SOFT_INK)
    ink.arrow(axes, (x + 2.0, y - 1.8), (x + 9.0, y - 1.8))
    x = _words(axes, x + 13.0, y, _BEAD_KEY)
    ink.tack_mark(axes, x + 1.0, y - 1.0)
    x = _words(axes, x + 3.5, y, "T: tack")
    ink.hatched(axes, (x, y - 2.4), (9.0, 4.8), "key-opening")
    _words(axes, x + 11.0, y, "leave open, no weld")


def _words(axes: Axes, x: float, y: float, text: str) -> float:
    """Words of the key; returns where the next mark may start [mm]."""
    ink.label(axes, x, y, text, 7.5, ha="left", color=SOFT_INK)
    return x + width_of(text, 7.5) + 7.0
