"""From a job file to the form and back nothing is changed, in either system of units."""

from __future__ import annotations

import tomllib
from collections import Counter
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from web.dimensions.forms import DEMOS, FULL, typed_demo, typed_full

from axlewright.job import demo_text, job_schema, parse_job
from axlewright.job.schema import Job
from axlewright.tasks.describing import described_job, refused
from axlewright.tasks.describing_text import written_anew
from axlewright.units import LENGTH, parse_quantity
from axlewright.web.form.layout import label, schema_name, sections
from axlewright.web.form.messages import Messages
from axlewright.web.form.sheet import Field, Rows, dimension_sheet
from axlewright.web.form.switching import switched, written
from axlewright.web.form.tree import tree_of
from axlewright.web.form.typed import Typed, cleaned

both = pytest.mark.parametrize("inch", [False, True], ids=["mm", "inch"])


def job_of(typed: Typed) -> Job:
    """The job that is typed, by way of a job file."""
    return parse_job(written_anew(tree_of(typed)), "form")


def same_but_units(one: Job, other: Job) -> bool:
    """Whether two jobs are alike in everything but the system they are written in."""
    return one.model_copy(update={"units": "mm"}) == other.model_copy(update={"units": "mm"})


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_comes_through_the_form(name: str) -> None:
    """A demo job that is typed as its file has it is the same job."""
    assert job_of(typed_demo(name)) == parse_job(demo_text(name), name)


def test_every_key_comes_through_the_form() -> None:
    """A job that uses every table is the same job after the form."""
    assert job_of(typed_full()) == parse_job(FULL, "full")


@both
@pytest.mark.parametrize("name", DEMOS)
def test_switching_units_keeps_every_figure(name: str, inch: bool) -> None:
    """A demo in the other system is the same job to the digits the job file keeps, also once switched back."""
    typed = typed_demo(name)
    there = switched(typed, inch)
    back = switched(there, typed.inch)
    assert set(there.texts) == set(typed.texts)
    assert refused(tree_of(there)) == ()
    assert same_but_units(job_of(there), parse_job(demo_text(name), name))
    assert job_of(back) == parse_job(demo_text(name), name)


def test_own_unit_stays() -> None:
    """A text that carries its own unit is not touched by the switch; a bare number is converted."""
    typed = Typed({"units": "mm", "housing.length": "51 1/2 in", "housing.centre.wall": "8"})
    there = switched(typed, True)
    assert there.text("housing.length") == "51 1/2 in"
    assert there.text("housing.centre.wall") == "0.31496063"


@pytest.mark.parametrize("text", ["", "12 3/", "abc", "1e999", "9" * 80, "12,5"])
def test_unreadable_stays(text: str) -> None:
    """What cannot be read is left as it is typed."""
    there = switched(Typed({"units": "mm", "housing.length": text}), True)
    assert there.text("housing.length") == text


def test_fractions_of_a_tape() -> None:
    """A length that lies exactly on a sixty-fourth is written as on a tape, every other as a decimal."""
    assert written(0.32385, LENGTH, True) == "12 3/4"
    assert written(-0.15875, LENGTH, True) == "-6 1/4"
    assert written(0.0047625, LENGTH, True) == "3/16"
    assert written(0.0254, LENGTH, True) == "1"
    assert written(0.1, LENGTH, True) == "3.93700787"


@given(millimetres=st.integers(-2_600_000, 2_600_000), inch=st.booleans())
def test_written_reads_back(millimetres: int, inch: bool) -> None:
    """A length written in either system reads back as the same figure."""
    si = round(millimetres * 1e-6, 9)
    assert parse_quantity(written(si, LENGTH, inch), LENGTH, inch) == si


def schema_keys(part: dict[str, Any], whole: dict[str, Any], prefix: str = "") -> list[str]:
    """Every key of the job file's own JSON Schema, tables by their dotted names."""
    found = []
    for key, inner in part["properties"].items():
        refs = [
            one["$ref"] for one in (inner, inner.get("items", {}), *inner.get("anyOf", ())) if "$ref" in one
        ]
        table = whole["$defs"][refs[0].rpartition("/")[2]] if refs else None
        if table is None or "properties" not in table:
            found.append(prefix + key)
        else:
            found += schema_keys(table, whole, f"{prefix}{key}.")
    return found


def shown_keys(typed: Typed) -> list[str]:
    """Keys that the form shows, lists by their own name."""
    found = ["units"]
    for part in dimension_sheet(typed, Messages()).parts:
        for card in part.cards:
            for control in card.controls:
                found += keys_of(control)
    return found


def keys_of(control: Field | Rows) -> list[str]:
    """Keys of one control: those of an inner table one by one, a list of pairs as one."""
    if isinstance(control, Field):
        return [schema_name(control.name)]
    inner = [schema_name(field.name) for row in control.rows for field in row.fields]
    own = schema_name(control.name)
    is_table = control.rows and control.rows[0].fields[0].name.rpartition(".")[2].isalpha()
    return list(dict.fromkeys(inner)) if is_table else [own]


def test_every_key_is_on_the_form_once() -> None:
    """A key that is added to the job file cannot be forgotten here: the form shows each key once for each table."""
    wanted = schema_keys(job_schema(), job_schema())
    typed = typed_full()
    tables = {
        "perch": 2,
        "seal": 1,
        "truss": 1,
        "guard": 1,
        "spacer": 2,
        "gusset": 4,
        "bracket": 1,
        "support": 3,
    }
    shown = Counter(shown_keys(typed))
    assert set(shown) == set(wanted)
    for key, count in shown.items():
        around = [part for part in key.split(".")[:-1] if part in tables]
        expected = tables[around[-1]] if around and not key.startswith("truss.openings") else 1
        assert count == expected, key


def test_every_table_has_its_section() -> None:
    """Each table of the job file stands in one section, or as a list inside another table."""
    placed = [table for section in sections() for table in section.tables]
    assert len(placed) == len(set(placed))
    inner = {"truss.openings"}
    wanted = {key.rpartition(".")[0] for key in schema_keys(job_schema(), job_schema())} - {""}
    assert set(placed) == wanted - inner


def test_no_label_twice_in_a_card() -> None:
    """Within a card no two fields are called the same."""
    for part in dimension_sheet(typed_full(), Messages()).parts:
        for card in part.cards:
            labels = [control.label for control in card.controls]
            assert len(labels) == len(set(labels)), card.key


def test_labels_lead_to_keys() -> None:
    """The words of the form name only keys there are."""
    known = {schema_name(place.name) for place in typed_full().places()}
    assert all(label(name) for name in known)
    assert described_job().part("units").key == "units"


@given(st.dictionaries(st.text(max_size=30), st.text(max_size=10), max_size=8))
def test_unknown_fields_are_dropped(raw: dict[str, str]) -> None:
    """What a browser sends under names the form does not have is not read."""
    known = {schema_name(place.name) for place in typed_full().places()}
    assert all(schema_name(name) in known for name in cleaned(raw).texts)


def test_gaps_are_closed() -> None:
    """Entries are counted without gaps, however a browser numbers them."""
    typed = cleaned(
        {"truss.3.name": "a", "truss.7.name": "b", "truss.7.top.5.0": "1", "truss.7.top.5.1": "2"}
    )
    assert dict(typed.texts) == {
        "truss.0.name": "a",
        "truss.1.name": "b",
        "truss.1.top.0.0": "1",
        "truss.1.top.0.1": "2",
    }


def test_empty_is_left_out() -> None:
    """An empty optional field is left out of the job file, and so is a table in which everything is."""
    tree = tree_of(cleaned({**typed_demo("truss-only").texts, "limits.spot": "  ", "bench.cool_down": ""}))
    assert tree == tomllib.loads(demo_text("truss-only"))


def test_minutes_are_minutes() -> None:
    """A bare number where a pause is asked for is minutes, as the unit beside the field says."""
    tree = tree_of(Typed({"units": "mm", "bench.cool_down": "15", "bench.turn_time": "90 s"}))
    assert tree["bench"] == {"cool_down": "15 min", "turn_time": "90 s"}
