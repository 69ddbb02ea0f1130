"""What to do about a crooked housing on one picture: the decision, where to work, what to expect."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from axlewright.job.schema import Job
from axlewright.sheets import correction_words, ink
from axlewright.sheets import straightness_words as words
from axlewright.sheets.correction_lines_drawing import LinesPanel
from axlewright.sheets.correction_outcomes_drawing import OutcomesPanel
from axlewright.sheets.correction_press_drawing import PressPanel
from axlewright.sheets.style import INK, SOFT_INK, drawing_style
from axlewright.sheets.text import fitted, wrapped
from axlewright.straightness.correct.report import CorrectionReport, LinesPlan

WIDTH = 182.0
_GAP = 4.0
_WHY = 4.2
_MOST_WHY = 8


class Panel(Protocol):
    """A piece of the picture that knows its height and draws itself below a line."""

    @property
    def height(self) -> float:
        """Height on the page [mm]."""
        ...

    def draw(self, axes: Axes, top: float) -> None:
        """Draw with the upper edge at `top` [mm]."""
        ...


class Heading:
    """The decision and why, or the name of a way."""

    def __init__(self, title: str, lines: Sequence[str] = (), *, size: float = 16.0, above: str = "") -> None:
        self.title, self.lines, self.size, self.above = title, list(lines), size, above

    @property
    def height(self) -> float:
        """Height on the page [mm]."""
        return (6.0 if self.above else 0.0) + 0.62 * self.size + _WHY * len(self.lines) + 1.0

    def draw(self, axes: Axes, top: float) -> None:
        """Draw with the upper edge at `top` [mm]."""
        if self.above:
            ink.label(axes, 4.0, top - 3.0, self.above, 7.5, ha="left", color=SOFT_INK)
            top -= 6.0
        title = fitted(self.title, WIDTH - 12.0, self.size, bold=True)
        y = top - 0.28 * self.size
        ink.label(
            axes,
            4.0,
            y,
            title,
            self.size,
            ha="left",
            fontweight="bold",
            gid="decision" if self.above else "way",
        )
        for k, line in enumerate(self.lines):
            y = top - 0.62 * self.size - _WHY * (k + 0.5)
            ink.label(axes, 4.0, y, line, 8.0, ha="left", color=INK)


def draw_correction(report: CorrectionReport, job: Job | None = None) -> Figure:
    """The decision in large type, then way by way where to work, and figures now, half done and all done.

    Ways are drawn only where the decision is to correct; else what is out of limit now.

    Args:
        report: the correction.
        job: the job it belongs to; with it centre, flanges and perches are marked.
    """
    panels: list[Panel] = [_headline(report)]
    if report.decision == "correct":
        panels += _ways(report, job)
    else:
        now = correction_words.as_outcomes(report.verdict.checks)
        panels += [OutcomesPanel(now, report.inch, moments=1)] if now else []
    return _on_one_page(panels)


def draw_lines(report: CorrectionReport, plan: LinesPlan, job: Job | None = None) -> Figure:
    """Where the lines of one plan go."""
    return _on_one_page([LinesPanel(plan, length_of(report), report.inch, job)])


def draw_outcomes(report: CorrectionReport, plan: LinesPlan) -> Figure:
    """What one plan is expected to do."""
    return _on_one_page([OutcomesPanel(plan.outcomes, report.inch)])


def draw_press(report: CorrectionReport, number: int, job: Job | None = None) -> Figure:
    """Supports and ram of the set of a number, from 1."""
    assert report.press is not None
    one = report.press.sets[number - 1]
    return _on_one_page([PressPanel(number, one, length_of(report), report.inch, job)])


def length_of(report: CorrectionReport) -> float:
    """Length of the axle [m]."""
    return float(report.shape.vertical.distances[-1])


def _headline(report: CorrectionReport) -> Heading:
    """Whose housing, the decision, and why."""
    above = fitted(f"{report.job_name} · {report.job_reference}", WIDTH - 12.0, 7.5)
    why = [line for text in report.why for line in wrapped(words.sentence(text), WIDTH - 14.0, 8.0, 2)]
    return Heading(correction_words.decision(report), why[:_MOST_WHY], above=above)


def _ways(report: CorrectionReport, job: Job | None) -> list[Panel]:
    """Panels of every way that was asked for, the recommended one first."""
    made: list[tuple[bool, list[Panel]]] = []
    for plan in report.lines:
        title = correction_words.way_title(plan.way, report.recommended)
        if not plan.lines:
            remedy = wrapped(words.sentence(plan.remedy), WIDTH - 14.0, 8.0, 2)
            made.append((False, [Heading(title, remedy, size=11.0)]))
            continue
        said = wrapped(correction_words.spent(plan), WIDTH - 14.0, 8.0, 2)
        panels: list[Panel] = [
            Heading(title, said, size=11.0),
            LinesPanel(plan, length_of(report), report.inch, job),
        ]
        made.append((plan.way == report.recommended, [*panels, OutcomesPanel(plan.outcomes, report.inch)]))
    if report.press is not None:
        made.append((report.recommended == "press", _press(report, job)))
    return [panel for _first, panels in sorted(made, key=lambda way: not way[0]) for panel in panels]


def _press(report: CorrectionReport, job: Job | None) -> list[Panel]:
    """Panels of the press."""
    press = report.press
    assert press is not None
    said = [line for text in press.words for line in wrapped(words.sentence(text), WIDTH - 14.0, 8.0, 2)]
    panels: list[Panel] = [
        Heading(correction_words.way_title("press", report.recommended), said[:_MOST_WHY], size=11.0)
    ]
    panels += [
        PressPanel(k, one, length_of(report), report.inch, job) for k, one in enumerate(press.sets, start=1)
    ]
    works = press.outcomes and any(not one.refused for one in press.sets)
    return [*panels, OutcomesPanel(press.outcomes, report.inch)] if works else panels


def _on_one_page(panels: Sequence[Panel]) -> Figure:
    """Panels one below the other."""
    with drawing_style():
        height = sum(panel.height for panel in panels) + _GAP * (len(panels) + 1)
        figure, axes = ink.blank_page(WIDTH, height)
        top = height - _GAP
        for panel in panels:
            panel.draw(axes, top)
            top -= panel.height + _GAP
        return figure
