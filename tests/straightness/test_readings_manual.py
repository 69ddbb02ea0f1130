"""The manual says what the reader does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from straightness.readings_written import MM, read

from axlewright.straightness.readings.kinds import KINDS
from axlewright.straightness.readings.stations import stations
from axlewright.straightness.readings.table import COLUMNS, MOST_ROWS
from axlewright.straightness.readings.usual import usual_errors
from axlewright.units import parse_quantity

MANUAL = (Path(__file__).parents[2] / "docs" / "readings.md").read_text(encoding="utf-8")


def section(heading: str) -> str:
    """The text under a heading."""
    return MANUAL.split(f"## {heading}\n")[1].split("\n## ")[0]


def block(language: str) -> str:
    """The first block of code in a language."""
    return MANUAL.split(f"```{language}\n")[1].split("```")[0]


def test_the_examples_read_without_a_fault() -> None:
    """The CSV example gives twelve readings, the TOML one two of them with its own error of the string."""
    found = read(block("csv"))
    assert len(found.readings) == 12 and not found.faults and found.name == "after welding"
    two = read(block("toml"), source="after.toml")
    assert not two.faults and two.name == found.name
    string, angle = two.readings
    assert string.origin.error == 3e-4
    assert (angle.angle, angle.end) == (found.readings[9].angle, "right")
    known = {round(at, 6) for at, _ in stations(MM)}
    assert {reading.at for reading in found.readings[:6]} <= known


def test_every_column_and_kind_is_in_the_manual() -> None:
    """The table of columns holds all of them and no other, and names each kind."""
    table = [line for line in section("Columns").splitlines() if line.startswith("| `")]
    named = [name for line in table for name in re.findall(r"`(\w+)`", line.split("|")[1])]
    assert sorted(named) == sorted(COLUMNS)
    for kind in KINDS:
        assert f"`{kind}`" in table[0] and f"(`{kind}`)" in section("How each is taken")
    assert f"{MOST_ROWS} readings" in section("The file")


@pytest.mark.parametrize("name", usual_errors())
def test_every_usual_error_is_in_the_manual(name: str) -> None:
    """With its gauge, its figure and its bounds as the data file has them."""
    usual = usual_errors()[name]
    (line,) = (line for line in section("Usual errors").splitlines() if line.startswith(f"| `{name}` "))
    _, _, what, error, bounds, reason, _ = (cell.strip() for cell in line.split("|"))
    figures = [parse_quantity(text, usual.kind, False) for text in (error, *bounds.split(" to "))]
    assert (what, figures) == (usual.what, [usual.error, usual.low, usual.high])
    assert len(reason.split()) > 4
