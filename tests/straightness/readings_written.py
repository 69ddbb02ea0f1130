"""Readings written as a shop would: the same cells as CSV and as TOML."""

from __future__ import annotations

import csv
import io
import json

from reference.jobs import demo

from axlewright.job.schema import Job
from axlewright.straightness.readings.file import parse_readings
from axlewright.straightness.readings.reading import ReadingSet

MM, INCH = demo("truss-only"), demo("cast-centre")
"""Tubes of MM: 22 to 650 and 950 to 1278 mm; of INCH: 0.875 to 28.75 and 38.25 to 53.625 in."""

TRUCK = demo("rescue-truck")
"""MM with perches at 60 to 164 and 1136 to 1240 mm."""

Cells = dict[str, str]


def cells(words: str) -> Cells:
    """Cells of a line such as "kind=gap at=300 note=read_again"; underscores in values are blanks."""
    pairs = (word.split("=", 1) for word in words.split())
    return {name: value.replace("_", " ") for name, value in pairs}


def as_csv(*rows: Cells, separator: str = ",") -> str:
    """The rows as CSV."""
    columns = list(dict.fromkeys(name for row in rows for name in row))
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, delimiter=separator, lineterminator="\n", quoting=csv.QUOTE_ALL)
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def as_toml(*rows: Cells) -> str:
    """The rows as TOML; what is a number is written as one."""
    tables = [["[[reading]]", *(f"{name} = {_value(cell)}" for name, cell in row.items())] for row in rows]
    return "\n".join("\n".join(table) for table in tables) + "\n"


def _value(cell: str) -> str:
    try:
        float(cell)
    except ValueError:
        return json.dumps(cell, ensure_ascii=False)
    return cell


def read(text: str, job: Job = MM, source: str = "after.csv") -> ReadingSet:
    """The readings in a text."""
    return parse_readings(text, source, job)


def read_lines(*lines: str, job: Job = MM) -> ReadingSet:
    """Readings of lines in the words of `cells`."""
    return read(as_csv(*(cells(line) for line in lines)), job)


def told(readings: ReadingSet) -> list[str]:
    """What is told about lines that are not used."""
    return [str(fault) for fault in readings.faults]
