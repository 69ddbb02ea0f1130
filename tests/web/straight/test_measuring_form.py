"""The form that readings are typed into: the blank form's places, and what is typed comes back the same."""

from __future__ import annotations

import csv

import pytest
from hypothesis import given
from hypothesis import strategies as st

from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.job.reading import parse_job
from axlewright.straightness.readings.blank import blank_csv
from axlewright.straightness.readings.file import parse_readings
from axlewright.straightness.readings.table import table_of
from axlewright.tasks.measuring import demo_of, judged, sheet_of, typed_text, with_faults
from axlewright.tasks.measuring_form import PlaceRow, blank_groups, columns, filled_form, kinds

JOB = parse_job(demo_text("rescue-truck"), "job.toml")
CELLS = st.dictionaries(st.sampled_from(sorted(columns())), st.text(max_size=30), max_size=6)


def test_the_form_has_every_place_of_the_blank_form() -> None:
    """Before the work each line of the blank CSV form is a line of the page, in its order."""
    lines = [line for line in blank_csv(JOB).splitlines() if not line.startswith("#")]
    rows = [row for group in blank_groups(JOB, "before") for row in group.rows]
    wanted = [
        (row["kind"], row["at"], row["side"], row["end"], row["sense"]) for row in csv.DictReader(lines)
    ]
    names = ("kind", "at", "side", "end", "sense")
    assert [tuple(row.cells.get(name, "") for name in names) for row in rows] == wanted


def test_after_the_work_places_that_are_covered_are_left_out() -> None:
    """What the blank form marks as readable before welding only is not asked for after it."""
    after = [row for group in blank_groups(JOB, "after") for row in group.rows]
    before = [row for group in blank_groups(JOB, "before") for row in group.rows]
    assert not [row for row in after if row.hint] and len(before) > len(after)


def test_every_kind_of_reading_can_be_added() -> None:
    """Kinds that the blank form does not ask for follow as groups without a line."""
    assert {group.kind for group in blank_groups(JOB, "before")} == set(kinds())


@pytest.mark.parametrize("which", ["before", "after"])
def test_readings_go_through_the_form_unchanged(which: str) -> None:
    """The demo's file, put into the form and written out again, is the same set of readings."""
    text = demo_readings("rescue-truck", which)
    groups = filled_form(blank_groups(JOB, which), sheet_of(text, "readings.csv").rows)
    rows = [row for group in groups for row in group.rows]
    again, _ = typed_text("", rows)

    def told(readings: str) -> set[str]:
        found = parse_readings(readings, "x.csv", JOB).readings
        return {repr(one).replace(f"line={one.origin.line},", "") for one in found}

    assert told(again) == told(text)


def test_a_decimal_comma_becomes_a_point() -> None:
    """A file with decimal commas goes on in the form with points, for the form's own text has commas between cells."""
    sheet = sheet_of("kind;at;side;gap\nstring;175;front;26,2\n", "x.csv")
    assert sheet.rows[0].cells["gap"] == "26.2"


def test_readings_of_a_place_read_twice_stand_below_each_other() -> None:
    """The second reading of a place follows in the same group, and is not lost."""
    text = "kind,at,side,gap,note\nstring,175,front,26,\nstring,175,front,26.1,repeat\n"
    groups = {g.name: g for g in filled_form(blank_groups(JOB, "after"), sheet_of(text, "x.csv").rows)}
    gaps = [row.cells["gap"] for row in groups["string-front"].rows if row.filled]
    assert gaps == ["26", "26.1"]


def test_a_kind_that_is_not_known_keeps_its_line() -> None:
    """A line whose kind is misspelled stays to be put right."""
    groups = filled_form(blank_groups(JOB, "after"), sheet_of("kind,at,gap\nstrng,175,26\n", "x.csv").rows)
    assert groups[-1].name == "other" and groups[-1].rows[0].cells["kind"] == "strng"


def test_faults_stand_at_their_lines() -> None:
    """Of three lines the second is refused; it alone carries the reason, named by its column."""
    rows = [
        PlaceRow({"kind": "string", "at": "175", "side": "front", "gap": "26"}),
        PlaceRow({"kind": "string", "at": "800", "side": "front", "gap": "26"}),
        PlaceRow({"kind": "string", "at": "330", "side": "front", "gap": "26.1"}),
    ]
    text, lines = typed_text("after welding", rows)
    verdict = judged(text, "readings.csv", JOB)
    found = with_faults(lines, verdict)
    assert [bool(row.faults) for row in found] == [False, True, False]
    assert found[1].faults[0].where == "at" and "centre" in found[1].faults[0].allowed
    assert verdict.refused == 1 and verdict.readings is not None and len(verdict.readings.readings) == 2


@given(st.lists(CELLS, max_size=6), st.text(max_size=40))
def test_whatever_is_typed_stands_on_its_own_line(cells: list[dict[str, str]], name: str) -> None:
    """Each typed line is one line of the text, with its cells as typed but for space, whatever characters they hold."""
    rows = [PlaceRow({"kind": "string", **one}) for one in cells]
    text, lines = typed_text(name, rows)
    written = {row.line: row for row in table_of(text, "readings.csv").rows}
    for row in lines:
        wanted = {key: " ".join(cell.split()) for key, cell in row.cells.items() if key != "kind"}
        kept = {key: cell for key, cell in written[row.line].cells.items() if key != "kind"}
        assert kept == {key: cell for key, cell in wanted.items() if cell}


@given(st.lists(st.dictionaries(st.sampled_from(sorted(columns())), st.text(max_size=30)), max_size=5))
def test_judging_never_breaks(cells: list[dict[str, str]]) -> None:
    """Whatever is typed is used or refused in words; nothing is raised."""
    text, _ = typed_text("x", [PlaceRow(one) for one in cells])
    verdict = judged(text, "readings.csv", JOB)
    assert verdict.readings is not None or verdict.faults


def test_only_the_demo_job_is_offered_invented_readings() -> None:
    """The demo with readings is known again; another demo and a real job are not."""
    assert demo_of(JOB) == "rescue-truck"
    assert demo_of(parse_job(demo_text("cast-centre"), "job.toml")) == ""


@pytest.mark.parametrize("kind", ["", "#string", '"#', ",;", "# name: x"])
def test_no_line_passes_for_a_comment(kind: str) -> None:
    """A line whose kind is missing or looks like a comment is refused with its reason, never passed over."""
    rows = [
        PlaceRow({"kind": kind, "setup": "#1", "at": "175", "side": "front", "gap": "26"}),
        PlaceRow({"kind": "string", "at": "330", "side": "front", "gap": "26"}),
    ]
    text, lines = typed_text("", rows)
    verdict = judged(text, "readings.csv", JOB)
    told = verdict.readings is not None and len(verdict.readings.readings) + verdict.refused == 2
    assert told and (kind == "#string" or with_faults(lines, verdict)[0].faults)
