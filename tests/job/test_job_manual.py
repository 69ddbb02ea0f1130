"""The manual page of the job file names every key, its range, and only keys that exist."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from axlewright.job import demo_names
from axlewright.job.faults import place, record_at
from axlewright.job.lines import Path as KeyPath
from axlewright.job.schema import job_schema

PAGE = (Path(__file__).parents[2] / "docs" / "job-file.md").read_text(encoding="utf-8")

# heading in the manual: where the table is in the file
TABLES: dict[str, KeyPath] = {
    "`[job]`": ("job",),
    "`[housing]`": ("housing",),
    "`[housing.left_tube]` and `[housing.right_tube]`": ("housing", "left_tube"),
    "`[housing.centre]`": ("housing", "centre"),
    "`[housing.knuckle_flange]`": ("housing", "knuckle_flange"),
    "`[[housing.perch]]`": ("housing", "perch"),
    "`[[housing.seal]]`": ("housing", "seal"),
    "`[[truss]]`": ("truss",),
    "Drain openings of a truss": ("truss", "openings"),
    "`[[guard]]`": ("guard",),
    "`[[spacer]]`": ("spacer",),
    "`[[gusset]]`": ("gusset",),
    "`[[bracket]]`": ("bracket",),
    "`[welder]`": ("welder",),
    "`[supports]`": ("supports",),
    "`[fixture]`": ("fixture",),
    "`[[fixture.support]]`": ("fixture", "support"),
    "`[bench]`": ("bench",),
    "`[limits]`": ("limits",),
    "`[straightness]`": ("straightness",),
    "`[ambient]`": ("ambient",),
}
HEADED = {
    "`[housing]`": {"left_tube", "right_tube", "centre", "knuckle_flange", "perch", "seal"},
    "`[fixture]`": {"support"},
}
"""Keys that are tables with headings of their own."""


def _rows(heading: str) -> dict[str, str]:
    """Rows of the table under a heading, by key."""
    section = PAGE.split(f"## {heading}\n")[1].split("\n## ")[0]
    return {match.group(1): match.group(0) for match in re.finditer(r"^\| `(\w+)` \|.*$", section, re.M)}


def _record(path: KeyPath) -> dict:
    """The table's part of the schema."""
    record = record_at(path)
    assert record is not None
    return job_schema()["$defs"][record.__name__]


@pytest.mark.parametrize("heading", TABLES)
def test_every_key_has_its_row(heading: str) -> None:
    """The rows under a heading are the table's keys, in order; tables have their own headings."""
    tables = HEADED.get(heading, set())
    expected = [key for key in _record(TABLES[heading])["properties"] if key not in tables]
    assert list(_rows(heading)) == expected


@pytest.mark.parametrize("heading", TABLES)
def test_every_row_tells_range_and_need(heading: str) -> None:
    """A row states the plausible range that the reader enforces, and whether the key is needed."""
    record, rows = _record(TABLES[heading]), _rows(heading)
    for key, row in rows.items():
        field = record["properties"][key]
        text = "" if field.get("type") == "array" else str(field)
        if match := re.search(r"must be ([^;]*?)\.'", text):
            assert match.group(1) in row
        assert ("| yes |" in row) == (key in record.get("required", []))


def test_all_tables_of_the_schema_are_in_the_manual() -> None:
    """No table of the schema is left out."""
    named = {record_at(path) for path in TABLES.values()}
    assert {record.__name__ for record in named if record} == set(job_schema()["$defs"])
    assert set(_rows("Top of the file")) == {"units"}


def test_places_are_spoken_as_in_the_manual() -> None:
    """Messages name tables as they are headed in the file."""
    assert place(("truss", 1, "thickness")) == "thickness in [[truss]] no. 2"
    assert place(("housing", "perch", 0)) == "[[housing.perch]] no. 1"
    assert place(("truss", 0, "top", 2, 1)) == "top (entry 3, number 2) in [[truss]] no. 1"
    assert place(("units",)) == "units"
    assert place(()) == "the file"


def test_the_demo_in_the_manual_exists() -> None:
    """The command the manual tells to start with prints a demo that is there."""
    for name in re.findall(r"axlewright demo ([\w-]+)", PAGE):
        assert name in demo_names()
