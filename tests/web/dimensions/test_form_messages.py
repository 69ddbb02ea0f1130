"""The form says what the job file would say, at the field it is about."""

from __future__ import annotations

import re
import tomllib

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from web.dimensions.forms import FULL, SentForm, typed_demo, typed_full

from axlewright.errors import AxlewrightError
from axlewright.job import demo_text, parse_job
from axlewright.tasks.describing import refused
from axlewright.tasks.describing_text import written_anew
from axlewright.web.form.messages import anchor_label, anchors_of, messages_for
from axlewright.web.form.tree import tree_of, typed_of
from axlewright.web.form.typed import Typed, blank, cleaned

WRONG = {
    "number out of range": ("housing.length", "89"),
    "inches in a mm job": ("housing.left_tube.outside_diameter", "3.5"),
    "no number": ("housing.centre.height", "about 30 cm"),
    "unfinished fraction": ("housing.centre.depth", "12 3/"),
    "fraction without a unit": ("housing.centre.width", "12 3/4"),
    "comma": ("welder.volts", "20,5"),
    "unit of something else": ("welder.amps", "20 V"),
    "clock that is none": ("gusset.0.clock", "13:30"),
    "no such choice": ("truss.0.form", "tube"),
    "missing": ("welder.travel_speed", ""),
    "wall thicker than any tube": ("housing.right_tube.wall", "44.5 mm"),
    "outside and inside swapped": ("housing.right_tube.outside_diameter", "200"),
    "box without its width": ("truss.0.width", ""),
    "pressed with a casting": ("housing.centre.casting", "steel"),
    "corner beyond the end": ("truss.0.top.5.0", "1200"),
    "corner that is no length": ("truss.0.top.2.1", "high"),
    "top too low": ("truss.0.top.3.1", "120"),
    "opening that ends before it begins": ("truss.0.openings.1.to", "900"),
    "opening of a guard that is no clock": ("guard.0.openings.1.0", "late"),
    "perch that is not there": ("spacer.1.perch", "middle perch"),
    "name twice": ("gusset.1.name", "left front gusset"),
    "name too long": ("gusset.1.name", "x" * 81),
    "turn beyond a full one": ("bench.turns", "0, 90, 400"),
    "turn twice": ("bench.turns", "0, 90, 90"),
    "order twice": ("bench.order.1", "guard"),
    "half a bead": ("bench.beads_between_cool_downs", "4.5"),
    "shim where it does not hold": ("fixture.support.2.shim_behind", "2"),
    "shims that nothing uses": ("fixture.prebend", "best"),
    "tack longer than its spacing": ("welder.tack_length", "55"),
    "share above one": ("welder.efficiency", "1.2"),
    "stand off the axle": ("supports.right", "1400"),
    "number of thirty digits": ("housing.length", "9" * 30),
    "bracket on a gusset": ("bracket.0.at", "1290"),
}


def job_file_messages(typed: Typed) -> list[str]:
    """What the job file with these tables is refused with, without lines and places."""
    try:
        parse_job(written_anew(tree_of(typed)), "shop.toml")
    except AxlewrightError as error:
        return [f"{fault.value}|{fault.allowed}|{fault.remedy}" for fault in error.faults]
    return []


def form_messages(typed: Typed) -> list[str]:
    """What the form is refused with."""
    return [f"{one.fault.value}|{one.fault.allowed}|{one.fault.remedy}" for one in refused(tree_of(typed))]


@pytest.mark.parametrize("name", WRONG)
def test_same_words_as_the_job_file(name: str) -> None:
    """A wrong figure gets the words of the job file."""
    field, text = WRONG[name]
    typed = cleaned({**typed_full().texts, field: text})
    assert form_messages(typed) == job_file_messages(typed)
    assert form_messages(typed), "nothing is wrong with it"


@pytest.mark.parametrize("name", WRONG)
def test_at_its_field(name: str) -> None:
    """The message stands at the field that was typed, at the list around it, or at another one it does not go with."""
    field, text = WRONG[name]
    typed = cleaned({**typed_full().texts, field: text})
    elsewhere = {"outside and inside swapped", "bracket on a gusset"}
    anchors = [line.anchor for line in messages_for(typed).lines]
    assert all(anchor in set(anchors_of(typed)) for anchor in anchors)
    if name not in elsewhere:
        assert any(field.startswith(anchor) for anchor in anchors), anchors


def test_a_casting_keeps_all_welds_off() -> None:
    """Work that must not go ahead is refused on the form as in the file, the message at the guard it forbids."""
    texts = {**typed_full().texts, "housing.family": "cast", "housing.centre.casting": "unknown"}
    typed = cleaned(texts)
    assert form_messages(typed) == job_file_messages(typed)
    assert "guard.0" in {line.anchor for line in messages_for(typed).lines}


def test_empty_form_tells_what_is_needed() -> None:
    """An empty form says of every needed field that it is missing, and of nothing else."""
    messages = messages_for(blank())
    assert messages.missing == len(messages.lines) == 17
    assert messages.to_mend == ()


def test_messages_wait_until_a_field_is_left() -> None:
    """Only fields that were touched show their message, with the lists around them."""
    typed = cleaned({**typed_full().texts, "housing.length": "9", "truss.0.top.1.0": "x", "welder.volts": ""})
    messages = messages_for(typed)
    assert {line.anchor for line in messages.only(["welder.volts"]).lines} == {"welder.volts"}
    assert {line.anchor for line in messages.only(["truss.0.top.1.0"]).lines} == {"truss.0.top.1.0"}
    assert messages.only(["*"]) == messages
    assert messages.only([]).lines == ()


def test_lists_speak_for_their_entries() -> None:
    """A message on a list as a whole is shown once one of its entries was touched."""
    low = cleaned({**typed_full().texts, "truss.0.top.3.1": "120"})
    assert {line.anchor for line in messages_for(low).only(["truss.0.top.3.1"]).lines} == {"truss.0.top"}


def test_one_slip_is_one_message() -> None:
    """A wrong entry of a short list is one message, as in the job file, not also a list too short."""
    typed = cleaned({**typed_full().texts, "bench.turns": "upside"})
    assert form_messages(typed) == job_file_messages(typed)
    assert len(form_messages(typed)) == 1


def test_labels_of_places() -> None:
    """A place is called by its table, its number and its own name."""
    assert anchor_label("truss.0.top.2.1") == "Truss 1, corner 3, height"
    assert anchor_label("housing.perch.1.at") == "Spring perch 2, place of its middle"
    assert anchor_label("housing.left_tube.wall") == "Left tube, wall"
    assert anchor_label("housing.centre.height") == "Centre: height"
    assert anchor_label("guard.0") == "Guard 1"


NAMES = sorted(place.name for place in typed_full().places())
TEXTS = st.one_of(
    st.text(max_size=40),
    st.sampled_from(
        ["nan", "inf", "-1", "0", "1e308", "١٢", "½", "\x00", "12 3/0", "0:60", "true", "'", '"', "<b>", "[]"]
    ),
    st.integers(-(10**20), 10**20).map(str),
    st.floats(allow_nan=True).map(repr),
)


@given(name=st.sampled_from(NAMES), text=TEXTS)
@example("units", "")
@example("units", "inch")
@example("units_typed", "inch")
@example("last", "[[[[")
@example("last", '{"housing.length": 5}')
@example("touched", "* * truss")
@example("housing.length", "1" * 4000)
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_in_any_field_gives_a_page(client: TestClient, name: str, text: str) -> None:
    """Whatever is typed anywhere, the drawings come, and saving gives a page or a job."""
    texts = {**typed_full().texts, "units_typed": "mm", name: text, "touched": name}
    drawn = client.post("/jobs/new/dimensions/drawing", data=texts)
    assert drawn.status_code == 200
    assert drawn.text.count("<svg") == drawn.text.count("</svg>") > 20
    assert "nan" not in re.sub(r">[^<]*<|\"[^\" ]{0,3}nan", "", drawn.text) or "nan" in text
    assert client.post("/jobs/new/dimensions", data=texts).status_code in (303, 422)


@given(
    action=st.text(max_size=30)
    | st.sampled_from(
        [
            "add:job",
            "add:units",
            "remove:truss.9",
            "copy:housing",
            "mirror:truss.0",
            "add:truss.0.top.0",
            "after:truss.0.top.99",
            "add:",
            ":",
            "remove:truss.-1",
            "add:bench.order",
            "remove:bench.turns.0",
        ]
    )
)
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_button_gives_a_page(client: TestClient, action: str) -> None:
    """Whatever a button asks for, the form comes back with all that was typed."""
    answer = client.post("/jobs/new/dimensions", data={**typed_full().texts, "do": action})
    assert answer.status_code in (200, 303)
    if answer.status_code == 200 and action not in ("remove:truss.0",):
        assert SentForm(answer.text).fields["housing.length"] == "1300"


def test_many_faults_are_counted(client: TestClient) -> None:
    """On top stand at most twenty messages, and how many more there are; each leads to a place of the page."""
    texts = {name: "?" if name != "units" else text for name, text in typed_full().texts.items()}
    page = client.post("/jobs/new/dimensions", data=texts).text
    assert "more faults follow" in page
    form = SentForm(page)
    links = [link[1:] for link in form.links if link.startswith("#f-")]
    assert len(links) > 20
    assert set(links) <= set(form.ids)


def test_summary_links_lead_somewhere(client: TestClient) -> None:
    """Every message on top leads to its field, which points to the message and says that it is wrong."""
    typed = cleaned({**typed_demo("rescue-truck").texts, "truss.0.top.2.1": "120"})
    page = client.post("/jobs/new/dimensions", data=dict(typed.texts)).text
    form = SentForm(page)
    assert "#f-truss-0-top" in form.links
    assert "f-truss-0-top" in form.ids
    assert "m-truss-0-top" in form.ids
    assert len(form.ids) == len(set(form.ids))


def test_full_example_is_a_job() -> None:
    """The largest job of these tests is a job."""
    assert refused(tree_of(typed_of(tomllib.loads(FULL)))) == ()
    assert refused(tomllib.loads(demo_text("truss-only"))) == ()
