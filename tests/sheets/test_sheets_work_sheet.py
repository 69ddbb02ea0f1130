"""The printed work sheet: complete, on the right paper, proof against odd names and paths."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from sample_report import sample_report
from sample_trade import trade_off

from axlewright.errors import OutputError
from axlewright.plan.report import PlanReport
from axlewright.sheets import PAPERS, work_sheet_pdf, write_work_sheet
from axlewright.sheets.setting import fonts_in
from axlewright.sheets.trade_points import NONE_HOLDS

NASTY = (
    'quote " and # hash',
    "$x$ money $",
    "back\\slash \\ #pagebreak() #panic(1)",
    "<label> @ref *bold* _under_ `code`",
    '"]; #read("/etc/hostname") [',
    "Žebřík öäü ß № Ω 中文 トラス 🚚",
    "{ } [ ] ( ) ~ -- --- // /* */ = + - 1. ",
)
needs_pdftotext = pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler-utils is not there")


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The work sheet of the large sample on A4."""
    return write_work_sheet(sample_report(full=True), tmp_path_factory.mktemp("sheet") / "work sheet é.pdf")


def short_report() -> PlanReport:
    """A sample of three beads and two tacks, quick to print."""
    report = sample_report(full=False)
    return replace(
        report, ours=replace(report.ours, beads=report.ours.beads[:3], tacks=report.ours.tacks[:2])
    )


def renamed(report: PlanReport, name: str) -> PlanReport:
    """The report with one name everywhere a user may write one."""
    first = report.seams[0]
    seams = tuple(
        replace(line, attachment=name, seam=f"{name} {k}")
        for k, line in enumerate((first, *report.seams[1:]))
    )
    number = {(line.attachment, line.seam): k for k, line in enumerate(report.seams)}
    parts = {
        kind: tuple(
            replace(p, attachment=name, seam=f"{name} {number[p.attachment, p.seam]}", **extra)
            for p in getattr(report.ours, kind)
        )
        for kind, extra in (("beads", {"direction": name, "position": name, "why": name}), ("tacks", {}))
    }
    traces = tuple(replace(trace, place=name) for trace in report.ours.traces)
    return replace(
        report,
        trade_off=replace(report.trade_off, why=name),
        job_name=name,
        job_reference=name,
        cautions=(name,),
        left_out=(name,),
        seams=seams,
        welder=replace(report.welder, process=name),
        ours=replace(report.ours, **parts, traces=traces),
    )


def text_of(path: Path) -> str:
    """The text of a PDF in reading order of the page, blanks run together."""
    command = ["pdftotext", "-layout", "-enc", "UTF-8", str(path), "-"]
    text = subprocess.run(command, capture_output=True, check=True).stdout.decode("utf-8")
    return re.sub(r"[ \u200b]+", " ", text)


def flat(text: str) -> str:
    """Text without any blanks, for names that may be broken over lines."""
    return re.sub(r"[\s\u200b]+", "", text)


def page_sizes(path: Path) -> list[tuple[float, float]]:
    """Width and height of every page [mm], as poppler reports them."""
    command = ["pdfinfo", "-l", "999", str(path)]
    lines = subprocess.run(command, capture_output=True, check=True).stdout.decode("utf-8")
    sizes = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", lines)
    return [(float(w) * 25.4 / 72.0, float(h) * 25.4 / 72.0) for w, h in sizes]


@needs_pdftotext
def test_every_bead_tack_and_caution_is_printed(sheet: Path) -> None:
    """The sheet holds each bead number at the start of a row, each tack number, and each caution."""
    report, text = sample_report(full=True), text_of(sheet)
    beads = text[text.index("Beads in order") : text.index("Shape when cold")]
    rows = set(re.findall(r"^ ?(\d+) (?!mm)", beads, flags=re.MULTILINE))
    assert rows == {str(bead.number) for bead in report.ours.beads}
    assert set(re.findall(r"T\d+", text)) == {f"T{tack.number}" for tack in report.ours.tacks}
    for words in (*report.cautions, *report.left_out):
        assert flat(words) in flat(text)


@needs_pdftotext
def test_bead_rows_hold_the_name_for_the_log(sheet: Path) -> None:
    """The name of each bead stands once among the beads in order, with what it is for."""
    report, text = sample_report(full=True), text_of(sheet)
    beads = text[text.index("Beads in order") : text.index("Shape when cold")]
    names = sorted(bead.tag for bead in report.ours.beads)
    assert sorted(re.findall(r"(?<!\w)[A-S]\d+(?!\w)", beads)) == names
    assert "write it in the bead log" in beads


@needs_pdftotext
def test_bead_rows_hold_marks_wait_and_temperature(sheet: Path) -> None:
    """Beads stand with their marks in the shop's unit, the wait before them and the spot temperature."""
    text = flat(text_of(sheet))
    bead = next(b for b in sample_report(full=True).ours.beads if b.attachment == "Truss" and b.wait_s)
    marks = f"{bead.from_x * 1000:.0f}mm{bead.to_x * 1000:.0f}mm"
    assert flat(f"{marks}{bead.direction}{bead.position}2min30s{bead.spot_c:.0f}°C") in text
    assert "5:45o'clock6:15o'clock" in text


@needs_pdftotext
def test_bead_rows_hold_position_and_reason(sheet: Path) -> None:
    """Each reason is printed as often as the plan has it, and the positions that occur are explained."""
    report = sample_report(full=True)
    text = text_of(sheet)
    beads = text[text.index("Beads in order") : text.index("Shape when cold")]
    for why in {bead.why for bead in report.ours.beads}:
        assert beads.count(why) == sum(bead.why == why for bead in report.ours.beads)
    assert len(re.findall(r" P[AB] ", beads)) >= len(report.ours.beads)
    assert "PA flat, PB horizontal vertical." in beads and "PC " not in beads


@needs_pdftotext
@pytest.mark.parametrize("beads", [18, 19, 20])
def test_turns_of_the_housing_are_ordered_on_the_page_of_their_bead(tmp_path: Path, beads: int) -> None:
    """A row orders each turn before its bead, and is never the last thing on a page."""
    report = sample_report(full=True)
    lies = [90.0 if k < beads else 270.0 for k in range(len(report.ours.beads))]
    turned = tuple(replace(b, turn_deg=lie) for b, lie in zip(report.ours.beads, lies, strict=True))
    ours = replace(report.ours, beads=turned, tacks=report.ours.tacks[:2])
    text = text_of(write_work_sheet(replace(report, ours=ours), tmp_path / "turned.pdf"))
    assert text.count("Turn the housing:") == 2
    first, second = (
        text.index("Turn the housing: front side up"),
        text.index("Turn the housing: rear side up"),
    )
    assert first < second
    rest = text[second:]
    assert f"\n{beads + 1} " in rest.split("page ")[0].replace("\n ", "\n")
    assert not re.search(rf"^ ?{beads} (?!mm)", rest, re.M)


@needs_pdftotext
def test_longer_tacks_are_named_and_lengths_printed(sheet: Path) -> None:
    """The sheet names the tacks to be made longer, and every tack stands with its length."""
    text = text_of(sheet)
    tacks = text[text.index("Tacks in order") : text.index("Hold point: before the first bead")]
    assert "Make these tacks longer: T3, T14: 30 mm, all others 20 mm." in tacks
    rows = sample_report(full=True).ours.tacks
    # Twice more in the sentence above the table; distances such as 1020 mm do not stand alone.
    assert len(re.findall(r"(?<![\d.] )(?<!\d)20 mm", tacks)) >= len(rows) - 2
    assert len(re.findall(r"(?<!\d)30 mm", tacks)) == 3


@needs_pdftotext
def test_the_trade_off_has_its_page(tmp_path: Path) -> None:
    """With plans compared there is a page for them; where none can be recommended the cover says so."""
    usual = text_of(write_work_sheet(short_report(), tmp_path / "usual.pdf"))
    assert "What was weighed against what" in usual and NONE_HOLDS not in usual
    none = replace(short_report(), trade_off=trade_off(40, recommended=None, chosen=3))
    assert NONE_HOLDS in text_of(write_work_sheet(none, tmp_path / "none.pdf")).split("\f")[0]
    without = write_work_sheet(replace(short_report(), trade_off=None), tmp_path / "without.pdf")
    assert "weighed against" not in text_of(without)
    assert len(page_sizes(without)) == len(page_sizes(tmp_path / "usual.pdf")) - 1


@needs_pdftotext
def test_a_plan_without_positions_and_reasons_has_none_on_the_sheet(tmp_path: Path) -> None:
    """Without positions there is no column for them."""
    report = short_report()
    bare = tuple(replace(bead, position="", why="", turn_deg=0.0) for bead in report.ours.beads)
    text = text_of(
        write_work_sheet(replace(report, ours=replace(report.ours, beads=bare)), tmp_path / "bare.pdf")
    )
    assert "Pos." not in text and "Turn the housing" not in text


@needs_pdftotext
def test_every_page_is_numbered_and_says_who_decides(sheet: Path) -> None:
    """Each page has its number of the total and the line that the tool advises and does not certify."""
    pages = text_of(sheet).rstrip("\f").split("\f")
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page
        assert "advises, it does not certify" in page
        assert "licensed inspector" in page
        assert "MR-0417" in page


@needs_pdftotext
def test_table_heads_are_repeated(sheet: Path) -> None:
    """The bead table of 82 rows has its head on every page it runs over."""
    text = text_of(sheet)
    beads = text[text.index("Beads in order") : text.index("Shape when cold")]
    assert beads.count("Attachment,") == beads.count("page ") > 2


@needs_pdftotext
@pytest.mark.published
@pytest.mark.parametrize("paper", PAPERS)
def test_pages_have_the_size_of_their_paper(tmp_path: Path, paper: str) -> None:
    """Pages are A4 (ISO 216: 210 x 297 mm) or Letter (8.5 x 11 in), upright or, for maps, on the side."""
    # Both sizes are from memory of the standards; tolerance: poppler prints hundredths of a point.
    size = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}[paper]
    found = page_sizes(write_work_sheet(short_report(), tmp_path / "sheet.pdf", paper))
    assert all(sorted(page) == pytest.approx(size, abs=0.05) for page in found)
    assert sum(width > height for width, height in found) == 1


def test_same_report_gives_the_same_sheet() -> None:
    """Printing a plan twice gives the same bytes, with no date in them."""
    first, second = work_sheet_pdf(short_report()), work_sheet_pdf(short_report())
    assert first == second
    assert b"CreationDate" not in first


@pytest.mark.skipif(not shutil.which("pdffonts"), reason="poppler-utils is not there")
def test_fonts_are_embedded(sheet: Path) -> None:
    """All letters come from fonts inside the file, and those are the ones brought along."""
    lines = (
        subprocess.run(["pdffonts", str(sheet)], capture_output=True, check=True).stdout.decode().splitlines()
    )
    assert len(lines) > 2
    assert all("DejaVuSans" in line and " yes yes " in line for line in lines[2:])


def test_a_system_without_fonts_is_enough(tmp_path: Path) -> None:
    """The font of the sheet is found where the system has none at all."""
    assert "DejaVu Sans" in fonts_in(tmp_path, system=False).families()


@needs_pdftotext
@pytest.mark.parametrize("name", NASTY)
def test_odd_names_are_printed_as_they_are(tmp_path: Path, name: str) -> None:
    """Names that are code to the type-setter are printed letter by letter and do nothing."""
    odd = write_work_sheet(renamed(short_report(), name), tmp_path / "odd.pdf")
    known = flat("".join(mark for mark in name if ord(mark) < 0x2E80))
    assert flat(text_of(odd)).count(known) >= 4
    assert len(page_sizes(odd)) == 8


@example("half \ud83d turned \u202e zero \x00 line \u2028")
@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(alphabet=st.characters(codec=None), max_size=120))
def test_no_name_breaks_the_sheet(name: str) -> None:
    """Any text at all as name gives a PDF."""
    assert work_sheet_pdf(renamed(short_report(), name)).startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("place", "words"),
    [
        (lambda folder: folder / "missing" / "a.pdf", "missing.*does not exist.*Make it first"),
        (lambda folder: folder, "is a folder.*Add a file name"),
        (lambda folder: folder / "file.txt" / "a.pdf", r"file\.txt.*is a file.*Name a folder"),
        (lambda folder: folder / "nul\0.pdf", r"Output file.*(Choose another name|choose another place)"),
        (
            lambda folder: folder / ("x" * 300 + ".pdf"),
            r"Output file.*(Choose another name|choose another place)",
        ),
    ],
)
def test_bad_places_are_named_with_a_remedy(
    tmp_path: Path, place: Callable[[Path], Path], words: str
) -> None:
    """A path that cannot be written to ends in one message with path and remedy, and nothing is written."""
    (tmp_path / "file.txt").write_text("x", encoding="utf-8")
    with pytest.raises(OutputError, match=words):
        write_work_sheet(short_report(), place(tmp_path))
    assert [path.name for path in tmp_path.iterdir()] == ["file.txt"]


def test_read_only_files_are_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A read-only file is refused by name and keeps what it held."""
    target = tmp_path / "kept.pdf"
    target.write_bytes(b"old")
    # The superuser may write anywhere, so what the system would answer to others is put in its mouth.
    monkeypatch.setattr(os, "access", lambda path, mode: Path(path) != target)
    with pytest.raises(OutputError, match=r"kept\.pdf.*read-only.*choose another name"):
        write_work_sheet(short_report(), target)
    assert target.read_bytes() == b"old"


def test_a_file_held_open_keeps_its_content(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the old file cannot be replaced, it stays whole and no half-written neighbour is left."""
    target = tmp_path / "open.pdf"
    target.write_bytes(b"old")

    def refuse(*_paths: object) -> None:
        raise PermissionError(13, "in use")

    monkeypatch.setattr(os, "replace", refuse)
    with pytest.raises(OutputError, match=r"open\.pdf.*in use.*Close the file"):
        write_work_sheet(short_report(), target)
    assert [path.name for path in tmp_path.iterdir()] == ["open.pdf"]
    assert target.read_bytes() == b"old"


def test_unknown_paper_is_refused(tmp_path: Path) -> None:
    """A paper the sheet is not made for is named with those it is made for."""
    with pytest.raises(OutputError, match=r"a5.*a4 and us-letter"):
        write_work_sheet(short_report(), tmp_path / "a.pdf", "a5")  # type: ignore[arg-type]
