"""The correction sheet: in order, with the stop between the stages, and nothing to work by unless it shall be."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from looking import flat, needs_poppler, page_sizes, pages, text_of
from reference.jobs import demo
from sample_correction import press_set, sample_correction

from axlewright.errors import OutputError
from axlewright.sheets import wording
from axlewright.sheets.correction_sheet import correction_sheet_pdf, write_correction_sheet
from axlewright.sheets.correction_words import STOP, press_facts
from axlewright.straightness.correct.report import WAYS, CorrectionReport

NASTY = 'quote " # $x$ \\ #panic(1) <label> @ref *b* _u_ `c` ]; [ Žebřík'


def sheet(folder: Path, report: CorrectionReport, paper: str = "a4") -> Path:
    """The sheet of a report."""
    return write_correction_sheet(report, folder / "sheet.pdf", paper)  # type: ignore[arg-type]


@needs_poppler
@pytest.mark.parametrize(("count", "inch"), [(6, False), (24, True)])
def test_lines_stand_in_order_with_the_stop_between_the_stages(
    tmp_path: Path, count: int, inch: bool
) -> None:
    """Each line has its row with clock, from, to and torch; the stop and its hold point stand between the stages."""
    report = sample_correction(count=count, inch=inch)
    text = text_of(sheet(tmp_path, report, "us-letter" if inch else "a4"))
    first, second = text[text.index("Stage 1:") :].split(STOP)
    second = second[second.index("Stage 2:") :]
    for line in report.lines[0].lines:
        half = first if line.stage == 1 else second
        start, end = wording.length(line.start, inch), wording.length(line.end, inch)
        clock = f"{int(line.clock)}:{round(line.clock % 1 * 60):02d}"
        assert f"{clock} {start} {end} " in half.replace("\n", " "), line.number
        assert line.side.split(",")[0] in half
    assert f"Stage 1: {count // 2} lines, then measure" in text
    assert text.index("Hold point: not one line of stage 2") > text.index(STOP)
    assert "2 min 30 s" in text and "14 s" in text
    assert wording.temperature(22.0, inch) in first


@needs_poppler
def test_turns_are_ordered_in_both_stages(tmp_path: Path) -> None:
    """Each stage begins by saying how the housing lies, because it was moved to be measured."""
    text = text_of(sheet(tmp_path, sample_correction()))
    first, second = text.split(STOP)
    assert first.count("Turn the housing: upside down") == 1
    assert "Turn the housing: upside down" in second and "Turn the housing: front side up" in second


@needs_poppler
def test_expected_figures_stand_beside_boxes_to_fill_in(tmp_path: Path) -> None:
    """After the stop stand the figures expected half done, after the last line those of all done, with bands."""
    text = text_of(sheet(tmp_path, sample_correction()))
    half, done = text.split("Expected and measured")[1:3]
    assert "camber left ±0.25° +0.62° +0.34° +0.23° to +0.45°" in half
    assert "camber left ±0.25° +0.62° +0.05° −0.11° to +0.21°" in done
    assert "bow up ±0.50 mm −0.90 mm −0.05 mm −0.35 to +0.25 mm" in done
    assert "All limits are kept in about 93 of 100 cases." in text.replace("\n", " ")


@needs_poppler
def test_heat_settings_and_the_infrared_check_are_printed(tmp_path: Path) -> None:
    """What not to exceed stands with degree signs, and how warm the bearing seats get."""
    text = text_of(sheet(tmp_path, sample_correction(ways=("heat lines",))))
    assert "Heat settings and infrared check" in text
    assert "Never above 650 °C: look with the infrared thermometer" in text
    assert "Warmest knuckle bearing seat on the way: 64 °C." in text


@needs_poppler
def test_a_single_line_stops_for_measuring_all_the_same(tmp_path: Path) -> None:
    """With one stage only there is the stop, the record of all done, and no stage 2."""
    text = text_of(sheet(tmp_path, sample_correction(count=1)))
    assert "Lines in order" in text and STOP in text and "Stage 2" not in text
    assert "camber left ±0.25° +0.62° +0.05°" in text


@needs_poppler
def test_press_sets_have_their_table(tmp_path: Path) -> None:
    """Each push has supports, ram, loads, limits and rows for push, release and measure; the first is filled in."""
    report = sample_correction(ways=("press",))
    text = text_of(sheet(tmp_path, report))
    assert "Left tube: supports at 50 mm and 620 mm, ram at 430 mm on the bottom (6:00)." in text.replace(
        "’", "'"
    )
    assert "on the front (3:00)." in text.replace("’", "'")
    for name, value in press_facts(press_set("left"), False):
        assert name in text and flat(value) in flat(text)
    assert text.count("reading after release") == 2 and text.count("1 2.10 mm") == 2
    assert "Never push beyond 4.90 mm, and never load beyond 164.0 kN." in text.replace("\n", " ")
    assert "Hold point: before the first push" in text
    assert "most strained old weld" in text and "0.31%atthefrontseamofthetruss" in flat(text)


@needs_poppler
def test_a_refused_push_has_no_table(tmp_path: Path) -> None:
    """Where pressing is refused the sheet says so with the reason, and has no rows to push by."""
    refused = press_set(refused=("The wall dents before the tube yields.",))
    text = text_of(sheet(tmp_path, sample_correction(ways=("press",), sets=(refused,))))
    assert (
        "DO NOT PRESS HERE: left tube at 430 mm, bottom" in text
        and "The wall dents before the tube yields." in text
    )
    assert "reading after release" not in text and "before the first push" not in text


@needs_poppler
@pytest.mark.parametrize(
    ("decision", "words"),
    [("leave it", "LEAVE IT"), ("send out", "SEND OUT"), ("measure first", "MEASURE FIRST")],
)
def test_other_decisions_give_nothing_to_work_by(tmp_path: Path, decision: str, words: str) -> None:
    """The decision stands on top with why, limits and cautions; there is no line and no push."""
    report = replace(sample_correction(ways=WAYS), decision=decision)  # type: ignore[arg-type]
    path = sheet(tmp_path, report)
    text = text_of(path)
    assert len(pages(path)) == 1
    assert (
        text.index(words) < text.index("Camber left is 0.62° and 0.25° is allowed") < text.index("Cautions")
    )
    assert "bow up ±0.50 mm −0.90 mm −1.00 to −0.80 mm OUTSIDE" in text
    for absent in ("Stage", "Turn the housing", "ram", "Hold point"):
        assert absent not in text.replace("framework", "")
    for caution in report.cautions:
        assert caution in text


@needs_poppler
def test_a_way_that_does_not_do_says_why(tmp_path: Path) -> None:
    """A way without lines is named with its remedy and has no table."""
    text = text_of(sheet(tmp_path, sample_correction(count=0)))
    assert "No place on the bare tubes turns the flanges the way that is needed." in text
    assert "Lines in order" not in text


@needs_poppler
def test_the_recommended_way_comes_first(tmp_path: Path) -> None:
    """All ways asked for are printed, the recommended one first."""
    press = replace(sample_correction(ways=WAYS, count=2), recommended="press")
    text = text_of(write_correction_sheet(press, tmp_path / "all.pdf", "a4", demo("rescue-truck")))
    assert text.index("Press, recommended") < text.index("Counter-beads\n") < text.index("Heat lines\n")
    assert "CORRECT: press, 2 sets" in text
    heat = replace(sample_correction(ways=("counter-beads", "heat lines"), count=1), recommended="heat lines")
    text = text_of(sheet(tmp_path, heat))
    assert text.index("Heat lines, recommended") < text.index("Counter-beads\n")


@needs_poppler
@pytest.mark.published
@pytest.mark.parametrize(("paper", "size"), [("a4", (210.0, 297.0)), ("us-letter", (215.9, 279.4))])
def test_pages_have_the_size_of_their_paper(tmp_path: Path, paper: str, size: tuple[float, float]) -> None:
    """Pages are A4 (ISO 216) or Letter (8.5 x 11 in), numbered, and say who decides."""
    # Both sizes are from memory of the standards; poppler prints hundredths of a point.
    path = sheet(tmp_path, sample_correction(), paper)
    assert page_sizes(path) == {size}
    found = pages(path)
    for number, page in enumerate(found, start=1):
        assert f"page {number} of {len(found)}" in page and "advises, it does not certify" in page


@needs_poppler
def test_odd_names_are_printed_as_they_are(tmp_path: Path) -> None:
    """Words that are code to the type-setter are printed letter by letter and do nothing."""
    report = sample_correction(ways=("counter-beads", "press"), count=2)
    plan = replace(
        report.lines[0],
        lines=tuple(replace(line, side=NASTY) for line in report.lines[0].lines),
        heat=(NASTY,),
    )
    odd = replace(report, job_name=NASTY, job_reference=NASTY, why=(NASTY,), cautions=(NASTY,), lines=(plan,))
    assert flat(text_of(sheet(tmp_path, odd))).count(flat(NASTY)) >= 7


def test_same_report_gives_the_same_sheet() -> None:
    """Printing twice gives the same bytes, with no date in them."""
    first, second = (correction_sheet_pdf(sample_correction()) for _ in range(2))
    assert first == second and b"CreationDate" not in first


def test_bad_paper_and_bad_places_are_refused(tmp_path: Path) -> None:
    """An unknown paper and a missing folder end in one message with the remedy."""
    with pytest.raises(OutputError, match=r"a5.*a4 and us-letter"):
        sheet(tmp_path, sample_correction(), "a5")
    with pytest.raises(OutputError, match=r"missing.*does not exist.*Make it first"):
        sheet(tmp_path / "missing", sample_correction())
    assert not list(tmp_path.iterdir())
