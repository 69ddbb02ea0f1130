"""The trial sheet: one page with every mark, time and box, in mm and inch, dial and straightedge."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from looking import check_legible, flat, needs_poppler, page_sizes, pages, said

from axlewright.errors import OutputError
from axlewright.job.settings import Welder
from axlewright.sheets.trial_drawing import draw_trial
from axlewright.sheets.trial_sheet import trial_sheet_pdf, write_trial_sheet
from axlewright.straightness.learn.trial import TrialTube, on_the_watch
from axlewright.straightness.learn.trial_design import plan_trial
from axlewright.straightness.learn.trial_plan import TrialPlan

WELDER = Welder(volts=22.0, amps=180.0, travel_speed=6e-3, wire_diameter=1e-3, wire_feed=8.0 / 60.0)


@cache
def metric() -> TrialPlan:
    """A metre of tube, read by dial."""
    return plan_trial(TrialTube(outside_diameter=88.9e-3, wall=9.5e-3, length=1.0), WELDER, counts=(3,))


@cache
def imperial() -> TrialPlan:
    """Forty inches of stiff tube, five beads, read by straightedge: the fullest page, with every remark."""
    given = {"outside_diameter": 4.5, "wall": 0.5, "length": 40, "air": 68}
    tube = TrialTube.model_validate(given, context={"inch": True})
    return plan_trial(tube, WELDER, "straightedge", inch=True, counts=(5,))


@pytest.mark.parametrize("plan", [metric, imperial])
def test_nothing_on_the_drawing_is_cut_off_or_covered(plan: object) -> None:
    """Every mark is on the page and legible, every bead has its number."""
    figure = draw_trial(plan())  # type: ignore[operator]
    check_legible(figure)
    assert {f"number-{bead.number}" for bead in plan().beads} <= set(said(figure))  # type: ignore[operator]


@needs_poppler
@pytest.mark.parametrize(
    ("plan", "paper", "size"), [(metric, "a4", (210.0, 297.0)), (imperial, "us-letter", (215.9, 279.4))]
)
def test_one_page_holds_the_whole_trial(
    tmp_path: Path, plan: object, paper: str, size: tuple[float, float]
) -> None:
    """On one page: every time, bend and temperature expected, every caution and every remark."""
    trial: TrialPlan = plan()  # type: ignore[operator]
    path = write_trial_sheet(trial, tmp_path / "trial.pdf", paper)  # type: ignore[arg-type]
    assert len(pages(path)) == 1
    assert page_sizes(path) == {size}
    text = flat(pages(path)[0])
    times = [*(bead.arc_start for bead in trial.beads), *(bead.read_at for bead in trial.beads)]
    times += [one.time for one in trial.temperatures]
    assert all(on_the_watch(time) in text for time in times)
    # A list in two columns is woven together line by line: beginnings are looked for.
    for words in (*trial.remarks, *trial.cautions):
        assert flat(words[:24]) in text, words
    scale, digits = (1 / 0.0254, 3) if trial.inch else (1e3, 2)
    for bead in trial.beads:
        assert f"{scale * bead.bend.middle:+.{digits}f}".replace("-", "−") in text
    assert flat("360 to 460 mm") in text or trial.inch


def test_the_same_plan_gives_the_same_page() -> None:
    """Set twice, byte for byte."""
    assert trial_sheet_pdf(metric()) == trial_sheet_pdf(metric())


def test_an_unknown_paper_is_refused(tmp_path: Path) -> None:
    """Sheets are made for a4 and us-letter."""
    with pytest.raises(OutputError, match="a4"):
        write_trial_sheet(metric(), tmp_path / "trial.pdf", "a3")  # type: ignore[arg-type]
