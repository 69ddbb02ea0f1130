"""The fixture on paper and on the screen."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from matplotlib.lines import Line2D
from matplotlib.text import Text
from sample_report import LENGTH, sample_report

from axlewright.cli.show import show_plan
from axlewright.plan.fixture_report import FixtureReport, FixtureStage, FixtureSupportLine, Plane
from axlewright.plan.report import PlanReport
from axlewright.sheets import draw_fixture, save_drawings
from axlewright.sheets.fixture_block import fixture_block
from axlewright.sheets.fixture_words import push, shim
from axlewright.sheets.sheet_data import sheet_data
from axlewright.sheets.work_sheet import work_sheet_pdf

ALONG = np.linspace(0.0, LENGTH, 27)


def stage(bow: float) -> FixtureStage:
    """An arc."""
    line = bow * 4 * ALONG / LENGTH * (1 - ALONG / LENGTH)
    return FixtureStage(line, 0.1 * line, bow, 0.1 * bow, (0.1, 0.1), (0.0, 0.0), abs(bow))


def support(number: int, plane: Plane, height: float) -> FixtureSupportLine:
    """A support."""
    return FixtureSupportLine(number, 0.3 * number, plane, 5e7, height, height, height / 2, 5300.0, -8300.0)


def with_fixture(*, planes: tuple[Plane, ...] = ("vertical",), inch: bool = False) -> PlanReport:
    """The invented report with a fixture of four supports."""
    heights = (0.0, 0.0015, 0.0005, 0.0)
    fixture = FixtureReport(
        along=ALONG,
        supports=tuple(support(n, plane, heights[n - 1]) for plane in planes for n in (1, 2, 3, 4)),
        prebend="best",
        shim_step=0.0005,
        prebent=stage(0.0012),
        clamped=stage(0.0007),
        released=stage(0.0001),
        flat=stage(-0.0006),
        unclamped=stage(-0.0006),
        tube_stress=90e6,
        allowed_stress=177.5e6,
        yield_strength=355e6,
        tack_load=0.91,
        tack_load_unclamped=0.84,
        remarks=("The housing stays clamped until it is cold.",),
    )
    return replace(sample_report(inch=inch), fixture=fixture)


def test_shims_are_named_as_they_are_bought() -> None:
    """Millimetres to the hundredth; inches as fractions of 1/64, else in thousandths."""
    assert [shim(value, False) for value in (0.0015, 0.0005, 0.00119, 0.002)] == [
        "1.5 mm",
        "0.5 mm",
        "1.19 mm",
        "2 mm",
    ]
    sixty_fourths = [shim(0.0254 * n / 64, True) for n in (1, 3, 32, 64, 80)]
    assert sixty_fourths == ["1/64 in", "3/64 in", "1/2 in", "1 in", "1 1/4 in"]
    assert shim(0.00025, True) == "0.010 in"


def test_forces_say_which_way() -> None:
    """A positive push is up or forward; next to nothing is nothing."""
    assert push(8300.0, "vertical", False) == "8.3 kN up"
    assert push(-8300.0, "fore-aft", False) == "8.3 kN back"
    assert push(10.0, "vertical", True) == "nothing"


@pytest.mark.parametrize("planes", [("vertical",), ("fore-aft",), ("vertical", "fore-aft")])
def test_the_drawing_shows_three_axes_and_every_shim(planes: tuple[Plane, ...]) -> None:
    """Each plane held has its view: pre-bent, clamped and released axis to scale, shims hatched to the same scale."""
    report = with_fixture(planes=planes)
    figure = draw_fixture(report)
    assert figure is not None
    scale = figure_scale(figure)
    for plane in planes:
        for name in ("prebent", "clamped", "released"):
            (line,) = (one for one in figure.findobj(Line2D) if one.get_gid() == f"fixture-{plane}-{name}")
            assert report.fixture is not None
            made: FixtureStage = getattr(report.fixture, name)
            expected = made.vertical if plane == "vertical" else made.fore_aft
            drawn = np.asarray(line.get_ydata())
            assert np.ptp(drawn) == pytest.approx(np.ptp(expected) * 158.0 / LENGTH * scale)
        hatched = [
            patch for patch in figure.axes[0].patches if str(patch.get_gid()).startswith(f"shim-{plane}")
        ]
        heights = [patch.get_height() for patch in hatched]  # type: ignore[attr-defined]
        assert heights == pytest.approx([0.0015 * 158.0 / LENGTH * scale, 0.0005 * 158.0 / LENGTH * scale])


def figure_scale(figure: object) -> float:
    """The enlargement printed on a drawing."""
    words = [text.get_text() for text in figure.findobj(Text)]  # type: ignore[attr-defined]
    (scale,) = (text for text in words if "times larger" in text)
    return float(scale.split("drawn ")[1].split(" times")[0])


def test_drawing_stays_on_its_page() -> None:
    """No word of the drawing runs over its edge, and no two of them overlap."""
    figure = draw_fixture(with_fixture(planes=("vertical", "fore-aft"), inch=True))
    assert figure is not None
    figure.canvas.draw()
    page = figure.bbox
    boxes = [text.get_window_extent() for text in figure.findobj(Text) if text.get_text()]
    assert all(page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 for box in boxes)
    for n, box in enumerate(boxes):
        assert not any(box.overlaps(other) for other in boxes[:n])


def test_the_sheet_has_a_page_for_the_fixture() -> None:
    """Shims, forces and the way from clamping to letting go stand on the sheet, if there is a fixture."""
    block = fixture_block(with_fixture(planes=("vertical", "fore-aft")))
    assert block is not None
    assert "1.5 mm under the housing at support 2" in block["do"]
    assert "0.5 mm behind the housing at support 3" in block["do"]
    assert [plane["title"] for plane in block["planes"]] == ["Held up and down", "Held forward and back"]
    assert block["stages"][3] == ["spring-back on letting go", "−0.60 mm", "−0.06 mm", ""]
    assert sheet_data(sample_report())["fixture"] is None
    for paper in ("a4", "us-letter"):
        assert len(work_sheet_pdf(with_fixture(), paper)) > len(work_sheet_pdf(sample_report(), paper))


def test_the_drawing_is_saved(tmp_path: Path) -> None:
    """The fixture's drawing is written beside the others where there is a fixture."""
    assert tmp_path / "fixture.svg" in save_drawings(with_fixture(), tmp_path)
    assert draw_fixture(sample_report()) is None


def test_the_screen_tells_the_fixture_in_eighty_columns(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Shims first, then forces and stages; no line is wider than the window."""
    monkeypatch.setenv("COLUMNS", "80")
    show_plan(with_fixture(planes=("vertical", "fore-aft"), inch=True), every_tack=False)
    screen = capsys.readouterr().out
    block = screen.split("\nFixture\n")[1].split("\nBefore the arc")[0]
    assert block.startswith("Before the first tack put in these shims")
    assert "spring-back on letting go" in block
    assert max(map(len, block.splitlines())) <= 80
