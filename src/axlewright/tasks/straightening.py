"""What brings a housing back, and everything printed of its straightness."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from matplotlib.figure import Figure
from threadpoolctl import threadpool_limits

from axlewright.housing.lines import Line
from axlewright.job.schema import Job
from axlewright.sheets.correction_drawing import draw_correction
from axlewright.sheets.correction_sheet import write_correction_sheet
from axlewright.sheets.measuring_sheet import write_measuring_sheet
from axlewright.sheets.setting import PAPERS
from axlewright.sheets.straightness_drawing import draw_straightness
from axlewright.sheets.style import png_bytes, svg_bytes
from axlewright.shop.factors import ShopFactors
from axlewright.straightness.correct.deciding import correction_report
from axlewright.straightness.correct.lines_plan import laid_lines, lines_plan
from axlewright.straightness.correct.press_plan import press_plan
from axlewright.straightness.correct.report import WAYS, CorrectionReport, LinesPlan, Way
from axlewright.straightness.files import correction_text, read_correction, straightness_text
from axlewright.straightness.fit.fitting import fit_shape
from axlewright.straightness.readings.blank import blank_csv
from axlewright.tasks.checking import Checked
from axlewright.tasks.places import written

Say = Callable[[str], None]


def write_straightness(checked: Checked, folder: Path) -> tuple[Path, ...]:
    """Write straightness.json, the drawing, and the filled measuring sheet on both papers.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    figure = draw_straightness(checked.report, checked.job)
    done = _told_and_drawn(folder, "straightness", straightness_text(checked.report), figure)
    for paper in PAPERS:
        sheet = folder / f"measuring-sheet-{paper}.pdf"
        done.append(write_measuring_sheet(checked.job, sheet, paper, checked.report, checked.latest))
    return tuple(done)


def _told_and_drawn(folder: Path, name: str, text: str, figure: Figure) -> list[Path]:
    """A report as JSON, and its drawing in both forms."""
    return [
        written(folder, f"{name}.json", text),
        written(folder, f"{name}.svg", svg_bytes(figure)),
        written(folder, f"{name}.png", png_bytes(figure)),
    ]


def write_form(job: Job, folder: Path) -> tuple[Path, ...]:
    """Write a blank measuring sheet on both papers, and the table to type the readings into.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    done = [written(folder, "readings.csv", blank_csv(job))]
    for paper in PAPERS:
        done.append(write_measuring_sheet(job, folder / f"measuring-sheet-{paper}.pdf", paper))
    return tuple(done)


@dataclass(frozen=True)
class Asked:
    """How a correction is asked for.

    Args:
        ways: ways to look at.
        cycle: which correction this would be, from 1.
        cracked: whether a crack was found.
        earlier: correction.json of an earlier correction whose lines are kept clear of.
    """

    ways: tuple[Way, ...] = WAYS
    cycle: int = 1
    cracked: bool = False
    earlier: tuple[Path, ...] = ()


def correct(
    checked: Checked,
    asked: Asked,
    cache: Path | None = None,
    say: Say = lambda stage: None,
    shop: ShopFactors | None = None,
) -> CorrectionReport:
    """What to do about the shape last measured.

    Args:
        checked: the check.
        asked: what is asked for.
        cache: folder of built models, or None to build afresh.
        say: told the stage of the work.
        shop: what the shop's own results have taught; left out: nothing.

    Raises:
        GeometryError: the dimensions do not make a body.
        ReadingsError: an earlier correction cannot be read.
    """
    return correct_after(checked, asked, tuple(map(read_correction, asked.earlier)), cache, say, shop)


def correct_after(
    checked: Checked,
    asked: Asked,
    earlier: tuple[CorrectionReport, ...],
    cache: Path | None = None,
    say: Say = lambda stage: None,
    shop: ShopFactors | None = None,
) -> CorrectionReport:
    """The same as `correct`, with earlier corrections that have been read in place of the files of `asked`.

    Raises:
        GeometryError: the dimensions do not make a body.
    """
    job, fit = checked.job, fit_shape(checked.job, checked.latest)
    laid = _laid_before(job, earlier)
    plans: list[LinesPlan] = []
    with threadpool_limits(limits=1, user_api="blas"):
        for way in asked.ways:
            if way != "press":
                plans.append(lines_plan(job, fit.axis, way, cache, say, laid, shop))
    press = press_plan(job, fit.axis) if "press" in asked.ways else None
    report = checked.report
    return correction_report(
        job, fit.axis, report.latest, report.verdict, tuple(plans), press, asked.cycle, asked.cracked
    )


def _laid_before(job: Job, earlier: tuple[CorrectionReport, ...]) -> tuple[Line, ...]:
    """Lines of the ways that earlier corrections recommended, or of all where none was."""
    found: list[Line] = []
    for report in earlier:
        for plan in report.lines:
            if report.recommended in (None, plan.way):
                found += laid_lines(job, plan)
    return tuple(found)


def write_correction(job: Job, report: CorrectionReport, folder: Path) -> tuple[Path, ...]:
    """Write correction.json, the drawing, and the correction sheet on both papers.

    Raises:
        OutputError: the folder cannot be made or written to.
    """
    figure = draw_correction(report, job)
    done = _told_and_drawn(folder, "correction", correction_text(report), figure)
    for paper in PAPERS:
        sheet = folder / f"correction-sheet-{paper}.pdf"
        done.append(write_correction_sheet(_to_work_by(report), sheet, paper, job))
    return tuple(done)


def _to_work_by(report: CorrectionReport) -> CorrectionReport:
    """The report with the recommended way alone: a sheet at the bench must not offer two ways at once."""
    if report.recommended is None:
        return report
    lines = tuple(plan for plan in report.lines if plan.way == report.recommended)
    return replace(report, lines=lines, press=report.press if report.recommended == "press" else None)
