"""The measuring sheet: every station in its place, boxes filled with what was read, proof against odd names."""

from __future__ import annotations

import itertools
import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from looking import check_legible, flat, needs_poppler, page_sizes, pages, said, text_of
from matplotlib.figure import Figure
from matplotlib.text import Text
from reference.jobs import demo, plain_tube
from sample_straightness import sample_readings, sample_straightness

from axlewright.errors import OutputError
from axlewright.job.schema import Job
from axlewright.sheets import wording
from axlewright.sheets.measuring_drawing import _AXLE, _LEFT, _lifts, _spread, draw_measuring
from axlewright.sheets.measuring_rows import FLANGE_ROWS, fill, places, station_rows
from axlewright.sheets.measuring_sheet import measuring_sheet_pdf, write_measuring_sheet
from axlewright.sheets.measuring_words import CAUTIONS, how_rows
from axlewright.sheets.style import svg_bytes
from axlewright.straightness.readings.reading import Gap, ReadingSet
from axlewright.straightness.readings.stations import stations

JOBS = ("truss-only", "rescue-truck", "cast-centre")
NASTY = 'quote " # $x$ \\ #panic(1) <label> @ref *b* _u_ `c` ]; [ Žebřík 中文 // /* \u202e \ud83d'


@cache
def job(name: str = "truss-only") -> Job:
    """A demo job, read once."""
    return demo(name)


def readings() -> ReadingSet:
    """One reading of every kind at the stations of the first job."""
    return sample_readings(tuple(station.at for station in stations(job())))


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A filled sheet with two odd readings."""
    path = tmp_path_factory.mktemp("sheets") / "filled é.pdf"
    return write_measuring_sheet(job(), path, "a4", sample_straightness(odd=(4, 26)), readings())


@pytest.fixture(scope="module")
def blank(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A blank sheet in inches on letter paper."""
    return write_measuring_sheet(job("cast-centre"), tmp_path_factory.mktemp("sheets") / "b.pdf", "us-letter")


@pytest.mark.parametrize("name", JOBS)
def test_stations_stand_where_they_are(name: str) -> None:
    """Each station has its number over the place it has on the axle, in both views, and its distance below."""
    picture = draw_measuring(job(name))
    numbers = named(picture)
    for place in places(job(name)):
        for plane in ("vertical", "fore-aft"):
            x = numbers[f"station-{plane}-{place.number}"].get_position()[0]
            assert x == pytest.approx(_LEFT + place.station.at / job(name).housing.length * _AXLE)
        assert said(picture)[f"at-{place.number}"] == wording.length(place.station.at, job(name).inch)


def named(picture: Figure) -> dict[str, Text]:
    """Texts of a figure by their name."""
    return {str(text.get_gid()): text for text in picture.axes[0].texts if text.get_gid()}


@pytest.mark.parametrize("name", [*JOBS, "plain tube"])
def test_the_drawing_is_legible(name: str) -> None:
    """No word of the drawing leaves it or covers another."""
    check_legible(draw_measuring(plain_tube() if name == "plain tube" else job(name)))


def test_crowded_marks_are_moved_apart() -> None:
    """Distances that stand too close are moved apart and stay on the page; rings that would touch are staggered."""
    moved = _spread([10.0, 11.0, 12.0, 50.0, 99.0, 99.5], 100.0)
    assert all(b - a >= 2.8 - 1e-9 for a, b in itertools.pairwise(moved))
    assert moved[-1] <= 100.0 and moved[3] == 50.0
    assert _lifts([0.0, 3.0, 6.0, 20.0]) == pytest.approx([0.0, 4.4, 0.0, 0.0])


def test_the_signs_are_drawn_and_said() -> None:
    """The clock, and which way camber, toe and caster are plus, stand under the drawing."""
    words = said(draw_measuring(job()))
    assert [words[f"clock-{hour}"] for hour in (12, 3, 6, 9)] == ["12 top", "3 front", "6 bottom", "9 rear"]
    text = "\n".join(t.get_text() for t in draw_measuring(job()).axes[0].texts)
    for rule in ("plus: top outward", "plus: front edge inward", "plus: top rearward"):
        assert rule in text
    assert "from the driver's right end" in text


def test_readings_go_into_their_boxes() -> None:
    """Gap, dial, angle and tape each land in the box of their station or flange, everything else is listed."""
    boxes, others = fill(job(), readings(), frozenset({4}))
    assert boxes["below 1"] == [{"text": "10.10 mm", "odd": False, "line": "2"}]
    assert boxes["ahead 8"][0]["text"] == "10.20 mm"
    assert boxes["total 1"][0] == {"text": "0.30 mm", "odd": True, "line": "4"}
    assert boxes["clock 1"][0]["text"] == "5:15"
    assert boxes["angle camber left"][0]["text"] == "−0.25°"
    assert boxes["tape rear"][0]["text"] == "1502.00 mm"
    kinds = [row["what"] for row in others]
    assert kinds == ["dial, whole turn", "dial at four marks", "height", "gap", "laser dot"]
    assert "V-blocks at 100 mm and 1200 mm" in str(others[0]["where"])
    known = {box for _what, _sign, box in FLANGE_ROWS}
    assert {box for box in boxes if box.startswith(("angle", "tape"))} <= known


def test_no_reading_is_lost() -> None:
    """Every line of the file stands on the sheet, in a box or in the list."""
    boxes, others = fill(job(), readings(), frozenset())
    lines = {str(cell["line"]) for cells in boxes.values() for cell in cells} | {
        str(r["line"]) for r in others
    }
    assert lines == {str(reading.origin.line) for reading in readings().readings}


@pytest.mark.parametrize(("off", "boxed"), [(0.0009, True), (0.003, False)])
def test_a_reading_beside_its_station_is_not_written_into_the_box(off: float, boxed: bool) -> None:
    """A millimetre off the mark is the mark; more is another place and is listed with its distance."""
    gap = readings().readings[0]
    assert isinstance(gap, Gap)
    moved = replace(readings(), readings=(replace(gap, at=gap.at + off),))
    boxes, others = fill(job(), moved, frozenset())
    assert ("below 1" in boxes) is boxed and bool(others) is not boxed


def test_two_readings_of_one_place_share_its_box() -> None:
    """A place read twice has both values in its box."""
    twice = replace(readings(), readings=(readings().readings[0], *readings().readings))
    boxes, _others = fill(job(), twice, frozenset())
    assert len(boxes["below 1"]) == 2
    rows = station_rows(job(), boxes)
    assert len(rows[0]["boxes"][0]) == 2 and len(rows[1]["boxes"][0]) == 1  # type: ignore[index]


@needs_poppler
def test_the_blank_sheet_has_a_box_for_everything(blank: Path) -> None:
    """Stations with their distances, readings at the flanges, how each is taken with its usual error, cautions."""
    text = text_of(blank)
    readings_page = next(page for page in pages(blank) if "At each station" in page)
    for place in places(job("cast-centre")):
        assert (
            f"{place.number} {wording.length(place.station.at, True)} {place.station.tube[:-5]}"
            in readings_page
        )
    for what, _sign, _box in FLANGE_ROWS:
        assert what in readings_page
    for name, how, error, _sign in how_rows(True):
        assert all(word in text for word in f"{name} {how} {error}".split())
    for caution in CAUTIONS:
        assert flat(caution) in flat(text)
    assert "0.002 in" in text and "mm" not in text.replace("mm (2 in)", "")
    assert "signature" in text and "Look again" not in text


@needs_poppler
def test_the_filled_sheet_has_verdict_limits_and_marks(filled: Path) -> None:
    """Verdict, limits with their answers, values read, odd ones marked, doubts in words, and the picture."""
    report, text = sample_straightness(odd=(4, 26)), text_of(filled)
    first = pages(filled)[0]
    assert flat(report.verdict.words) in flat(first)
    assert "bow up ±0.50 mm −0.90 mm −1.00 to −0.80 mm OUTSIDE" in first
    assert "camber left ±0.50° +0.16°" in first
    assert "Toe-in at a tyre of 800 mm: left +1.00 mm or +0.039 in" in first.replace("\n", " ")
    assert "Line 4: It lies 0.4 mm off the rest: read it again. It is left out of the figures." in first
    assert "10.10 mm" in text and text.count("odd, line 4") == 2 and "odd, line 26" in text
    assert "after.csv line 40" in text
    assert "Sag of the housing" in text


@needs_poppler
def test_values_stand_in_the_column_of_their_set(tmp_path: Path) -> None:
    """With only a check before the work the values stand under "before"."""
    path = tmp_path / "before.pdf"
    write_measuring_sheet(job(), path, "a4", sample_straightness(sets="before"), readings())
    write_measuring_sheet(job(), tmp_path / "after.pdf", "a4", sample_straightness(), readings())
    words = tmp_path / "before.pdf", tmp_path / "after.pdf"
    left, right = (_left_edge(path, "−0.25°") for path in words)
    assert right - left == pytest.approx(32.0, abs=0.5), "boxes before and after are 32 mm wide"


def _left_edge(path: Path, word: str) -> float:
    """Where a word first stands on the page [mm]."""
    told = subprocess.run(["pdftotext", "-bbox", str(path), "-"], capture_output=True, check=True)
    line = next(line for line in told.stdout.decode("utf-8").splitlines() if f">{word}<" in line)
    return float(line.split('xMin="')[1].split('"')[0]) * 25.4 / 72.0


@needs_poppler
@pytest.mark.published
def test_pages_have_the_size_of_their_paper(filled: Path, blank: Path) -> None:
    """Pages are A4 (ISO 216: 210 x 297 mm) or Letter (8.5 x 11 in), all upright."""
    # Both sizes are from memory of the standards; poppler prints hundredths of a point.
    assert page_sizes(filled) == {(210.0, 297.0)}
    assert page_sizes(blank) == {(215.9, 279.4)}


@needs_poppler
def test_every_page_says_who_decides(filled: Path) -> None:
    """Each page has its number and the line that the tool advises and does not certify."""
    found = pages(filled)
    for number, page in enumerate(found, start=1):
        assert f"page {number} of {len(found)}" in page and "advises, it does not certify" in page


@needs_poppler
def test_odd_names_are_printed_as_they_are(tmp_path: Path) -> None:
    """Names that are code to the type-setter are printed letter by letter and do nothing."""
    odd = job().model_copy(update={"job": job().job.model_copy(update={"name": NASTY, "reference": NASTY})})
    path = write_measuring_sheet(odd, tmp_path / "odd.pdf", readings=replace(readings(), name=NASTY))
    known = flat('quote " # $x$ \\ #panic(1) <label> @ref *b* _u_ `c` ]; [ Žebřík')
    assert flat(text_of(path)).count(known) >= 3


def test_same_check_gives_the_same_sheet() -> None:
    """Printing twice gives the same bytes and the same drawing, with no date in them."""
    first, second = (measuring_sheet_pdf(job(), "a4") for _ in range(2))
    assert first == second and b"CreationDate" not in first
    assert svg_bytes(draw_measuring(job())) == svg_bytes(draw_measuring(job()))


def test_bad_paper_and_bad_places_are_refused(tmp_path: Path) -> None:
    """An unknown paper and a missing folder end in one message with the remedy, before anything is drawn."""
    with pytest.raises(OutputError, match=r"a5.*a4 and us-letter"):
        write_measuring_sheet(job(), tmp_path / "a.pdf", "a5")  # type: ignore[arg-type]
    with pytest.raises(OutputError, match=r"missing.*does not exist.*Make it first"):
        write_measuring_sheet(job(), tmp_path / "missing" / "a.pdf")
    assert not list(tmp_path.iterdir())
