"""Whatever a spreadsheet, an editor or a phone makes of the file, it is read, or refused in plain words."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from straightness.readings_written import MM, as_csv, as_toml, cells, read, told

from axlewright.errors import ReadingsError
from axlewright.straightness.readings.file import parse_readings, read_readings
from axlewright.straightness.readings.table import COLUMNS, MOST_ROWS
from axlewright.straightness.readings.text import LARGEST_FILE

LINE = "kind=angle setup=Bühne end=left sense=camber angle=-25'"


@pytest.mark.parametrize(
    "text",
    [
        "kind,at,side,gap\ngap,300.5,top,0.25\n",
        "kind;at;side;gap\ngap;300,5;top;0,25\n",
        "kind\tat\tside\tgap\r\ngap\t300,5\ttop\t0.25\r\n",
        "sep=;\nkind;at;side;gap\ngap;300,5;top;0,25\n",
        "SEP=\t\nkind\tat\tside\tgap\ngap\t300.5\ttop\t0.25\n",
        '"sep=\t"\nkind\tat\tside\tgap\ngap\t300.5\ttop\t0.25\n',
        '\ufeff# a remark, with a comma and a "\n\nGAP, Kind ,SIDE,at\n0.25,Gap,Top,300.5\n,,,\n',
        '"# a remark";;;\n"kind";"at";"side";"gap"\n"gap";"300,5";"top";"0,25"\n;;;\n# the end\n',
        "kind,at (mm),side,gap [mm]\ngap,300.5,top,0.25\n",
        "kind,at [cm],side,gap (in)\ngap,30.05,top,0.25 mm\n",
        'kind,at,side,gap,note\ngap,300.5,top,0.25,"two\nlines, of note"\n',
        "kind,at,side,gap,,\ngap,300.5,top,0.25,,\n",
        '[[reading]]\nkind = "Gap"\nat = 300.5\nSide = "top"\ngap = "0.25"\n',
        'reading = [{kind = "gap", at = 300.5, side = "top", gap = 0.25}]\nunits = "mm"\n',
    ],
)
def test_what_spreadsheets_write_is_read(text: str) -> None:
    """Separators, decimal commas, marks, quotes, remarks, empty columns, units in the heading, notes over two lines."""
    found = read(text, source="after.toml" if text.startswith("reading") else "after.csv")
    assert not found.faults
    (reading,) = found.readings
    assert (reading.at, reading.side, reading.gap) == (0.3005, "top", 0.00025)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("write", [as_csv, as_toml])
def test_any_usual_encoding_is_read(tmp_path: Path, encoding: str, write: object) -> None:
    """With and without a mark at the beginning of the file; the angle sign and umlauts survive."""
    path = tmp_path / "after welding.txt"
    path.write_bytes(write(cells(LINE.replace("25'", "0°25'"))).encode(encoding))  # type: ignore[operator]
    found = read_readings(path, MM)
    assert not found.faults and found.name == "after welding"
    assert found.readings[0].origin.setup == "Bühne"


def test_lines_are_counted_as_an_editor_counts_them() -> None:
    """Remarks, blank lines and a note over three lines count."""
    text = 'kind,at,side,gap,note\n# remark\n\ngap,300,top,1,"a\nb\nc"\ngap,800,top,1,\n'
    assert told(read(text))[0].startswith("after.csv line 7: at")


def test_an_inch_mark_opens_no_quotes() -> None:
    """11.8" typed by hand is 11.8 in, and the line below it is a line of its own."""
    found = read('kind,at,side,gap\ngap,11.8",top,0.25\ngap,400,top,0.25\n')
    assert [reading.at for reading in found.readings] == [0.29972, 0.4]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('gap,300,"top,1,', "cannot be split into cells"),
        ("gap,300,top,0,35", "1 cells too long"),
    ],
)
def test_a_line_that_cannot_be_split_is_told(line: str, says: str) -> None:
    """Quotes that do not match or a cell too many spoil one line only."""
    found = read(f"kind,at,side,gap\n{line}\ngap,400,top,1\n")
    (fault,) = told(found)
    assert fault.startswith("after.csv line 2") and says in fault
    assert len(found.readings) == 1


def test_columns_not_known_or_twice_are_told() -> None:
    """Neither is read; the first of two counts."""
    found = read("kind,at,side,gap,gap,colour\ngap,300,top,1,2,red\n")
    assert found.readings[0].gap == 0.001
    assert ["stands twice" in fault or "Known: kind, setup" in fault for fault in told(found)] == [True, True]


def test_a_line_that_only_names_the_separator_is_no_table() -> None:
    """sep=; alone is refused like any heading without columns."""
    with pytest.raises(ReadingsError, match="must name the columns"):
        read("sep=;\n")


def test_a_name_in_capitals_tells_toml_too() -> None:
    """AFTER.TOML is TOML, though its readings stand in a list."""
    text = 'reading = [{kind = "gap", at = 300, side = "top", gap = 1}]\n'
    assert len(read(text, source="AFTER.TOML").readings) == 1


def test_without_columns_nothing_is_read() -> None:
    """The first line has to name the columns."""
    with pytest.raises(ReadingsError, match=r"line 1 .*must name the columns, kind among them"):
        read("gap,300,top,1\n")


def test_the_name_of_a_set() -> None:
    """A remark that begins with name, the key name, or else the file's name."""
    line = cells("kind=gap at=300 side=top gap=1")
    assert read("# Name: after welding\n" + as_csv(line)).name == "after welding"
    assert read('"# name: after, cold";;\n' + as_csv(line, separator=";")).name == "after, cold"
    assert read(as_csv(line), source="first check.csv").name == "first check"
    assert read('name = "before"\n' + as_toml(line)).name == "before"
    assert len(read("# name: " + "x" * 500 + "\n" + as_csv(line)).name) == 100


def test_sizes_are_bounded(tmp_path: Path) -> None:
    """A file of more than 1 MB, or of thousands of readings, is not one of a housing."""
    path = tmp_path / "log.csv"
    path.write_bytes(b"#" * (LARGEST_FILE + 1))
    with pytest.raises(ReadingsError, match="larger than 1 MB"):
        read_readings(path, MM)
    for source in ("a.csv", "a.toml"):
        with pytest.raises(ReadingsError, match="larger than 1 MB"):
            read("#" * (LARGEST_FILE + 1), source=source)
    line = cells("kind=gap at=300 side=top gap=1")
    for text in (as_csv(*[line] * (MOST_ROWS + 1)), as_toml(*[line] * (MOST_ROWS + 1))):
        with pytest.raises(ReadingsError, match=f"at most {MOST_ROWS}"):
            read(text)
    assert len(read(as_csv(*[line | {"note": "repeat"}] * MOST_ROWS)).readings) == MOST_ROWS


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"PK\x03\x04 and so on", "spreadsheet's own file.*Save the sheet as CSV"),
        (b"kind,at\0\n", "no text"),
        (b"\x81\x8d\x8f", "no text"),
        (b"\xff\xfek", "no text"),
    ],
)
def test_what_is_no_text_is_refused(tmp_path: Path, data: bytes, says: str) -> None:
    """A spreadsheet's own file, a picture, half a file."""
    path = tmp_path / "after.csv"
    path.write_bytes(data)
    with pytest.raises(ReadingsError, match=says):
        read_readings(path, MM)


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    """A wrong name, a folder and a name that no system can open."""
    for path, says in (
        (tmp_path / "no.csv", "not there"),
        (tmp_path, "no ordinary file"),
        ("a\0b", "unreadable|null"),
    ):
        with pytest.raises(ReadingsError, match=says):
            read_readings(path, MM)


WORDS = [
    *COLUMNS,
    "gap",
    "dot",
    "300",
    "0.3",
    "1e999",
    "-",
    '"',
    "°",
    "25'",
    "[[reading]]",
    "=",
    "#",
    "\n",
    "left",
]
pieces = st.lists(st.sampled_from([*WORDS, ",", ";", "\t", " ", "\n"]) | st.text(max_size=3), max_size=60)


@settings(max_examples=150, deadline=None)
@given(pieces.map("".join), st.sampled_from(["a.csv", "a.toml"]), st.booleans())
def test_any_text_gives_readings_or_one_error(text: str, source: str, headed: bool) -> None:
    """Noise is refused with an error of ours, whatever it is."""
    heading = ",".join(COLUMNS) + "\n" if headed else ""
    try:
        assert parse_readings(heading + text, source, MM).readings
    except ReadingsError as error:
        assert all(fault.remedy and "\n" not in str(fault) for fault in error.faults)
