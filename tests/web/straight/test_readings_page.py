"""Typing readings in: what is used is written down as typed, what is not is told at its line, nothing typed is lost."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient
from httpx2 import Response
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from web.shop_made import MadeUp

from axlewright.job.demo_jobs import demo_readings, demo_text
from axlewright.job.reading import parse_job
from axlewright.job.writing import write_job
from axlewright.record.store import Store
from axlewright.straightness.readings.file import parse_readings
from axlewright.tasks.keeping import start_job
from axlewright.tasks.measuring_form import columns
from axlewright.tasks.standing import stands as state
from axlewright.tasks.telling import Telling
from axlewright.web.open_shop import OpenShop

GOOD = "kind,at,side,gap\nstring,175,front,26\nstring,330,front,26.2\nstring,485,front,26.7\n"
BAD_LINE = GOOD + "string,800,front,27\n"


@pytest.fixture
def asked(shop: OpenShop, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What the work bench is asked for, which then does nothing."""
    found: list[str] = []

    def ask(job: str, kind: str, options: object, telling: Telling) -> None:
        found.append(f"{kind} {job} {telling.reason}".strip())

    monkeypatch.setattr(shop.work, "ask", ask)
    return found


def fields_of(page: str) -> dict[str, str]:
    """Fields of the form for readings with what stands in them."""
    form = page[page.index('id="readings"') : page.index("</form>", page.index('id="readings"'))]
    found = {}
    for tag in re.findall(r"<input [^>]*>", form):
        attributes = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        if "name" in attributes and attributes.get("type") != "checkbox":
            found[attributes["name"]] = html.unescape(attributes.get("value", ""))
    for name, inside in re.findall(r'<select id="[^"]*" name="([^"]+)"[^>]*>(.*?)</select>', form, re.S):
        chosen = re.search(r"<option selected>([^<]*)<", inside) or re.search(
            r"<option selected>([^<]*)", inside
        )
        found[name] = html.unescape(chosen[1]) if chosen else ""
    return found


def typed(client: TestClient, job: str, which: str = "after", **cells: str) -> Response:
    """Send the blank form with some of its cells filled in: r0_gap for the gap of the line numbered 0."""
    sent = fields_of(client.get(f"/jobs/{job}/readings/{which}").text)
    sent |= {name.replace("_", "-", 2): value for name, value in cells.items()}
    return client.post(f"/jobs/{job}/readings/{which}", data=sent)


def at_place(client: TestClient, job: str, which: str, place: dict[str, str]) -> str:
    """The mark of the line of a place, "r-12"."""
    found = fields_of(client.get(f"/jobs/{job}/readings/{which}").text)
    marks = {name.rpartition("-")[0] for name in found if name.startswith("r-")}
    return next(
        mark
        for mark in sorted(marks)
        if all(found.get(f"{mark}-{column}") == cell for column, cell in place.items())
    )


def readings_of(store: Store, job: str, which: str = "after") -> str:
    """Text of the last readings."""
    event = state(store, job).latest[f"readings {which}"]
    return store.document(event.documents[0]).data.decode()


def test_the_form_asks_for_every_place(client: TestClient, job: MadeUp) -> None:
    """A blank form shows each station with its unit, and says how each is taken with a drawing."""
    page = client.get(f"/jobs/{job.job}/readings/before").text
    assert page.count('class="reading"') == 33
    assert "175 mm" in page and "camber, left" in page and page.count('class="how') >= 11
    assert "style=" not in page and "onclick" not in page


def test_what_is_typed_is_written_down_and_checked(
    client: TestClient, job: MadeUp, store: Store, asked: list[str]
) -> None:
    """Two gaps typed at their stations become a set of two readings, and a check of it is asked for at once."""
    first = at_place(client, job.job, "after", {"kind": "string", "at": "175", "side": "front"})
    second = at_place(client, job.job, "after", {"kind": "string", "at": "330", "side": "front"})
    answer = typed(
        client,
        job.job,
        **{f"{first}_gap".replace("r-", "r_"): "26", f"{second}_gap".replace("r-", "r_"): "26.2"},
    )
    assert answer.status_code == 303 and answer.headers["location"] == f"/jobs/{job.job}/check"
    event = state(store, job.job).latest["readings after"]
    assert event.body == {"set": "after", "used": 2, "refused": 0}
    read = parse_readings(
        readings_of(store, job.job), "readings.csv", parse_job(demo_text("rescue-truck"), "x")
    )
    assert [(round(one.at, 3), round(one.gap, 4)) for one in read.readings] == [
        (0.175, 0.026),
        (0.33, 0.0262),
    ]  # type: ignore[union-attr]
    assert asked == [f"check {job.job}"]


def test_a_line_that_cannot_be_used_is_told_where_it_stands(
    client: TestClient, job: MadeUp, store: Store, asked: list[str]
) -> None:
    """The rest is written down; the line keeps what was typed and says why, as the command line would."""
    first = at_place(client, job.job, "after", {"kind": "string", "at": "175", "side": "front"})
    second = at_place(client, job.job, "after", {"kind": "string", "at": "330", "side": "front"})
    answer = typed(
        client,
        job.job,
        **{f"{first}_gap".replace("r-", "r_"): "26", f"{second}_gap".replace("r-", "r_"): "about 26"},
    )
    assert answer.status_code == 200
    assert state(store, job.job).latest["readings after"].body == {"set": "after", "used": 1, "refused": 1}
    line = re.search(r'<li class="reading wrong".*?</li>', answer.text, re.S)
    assert line is not None
    told = html.unescape(line[0])
    assert 'value="about 26"' in told and "a length is a number followed by its unit" in told
    assert "330 mm" in told and answer.text.count('class="reading wrong"') == 1


def test_nothing_is_written_where_nothing_can_be_used(
    client: TestClient, job: MadeUp, store: Store, asked: list[str]
) -> None:
    """A form in which no line can be used comes back as it was typed, and the record stays as it is."""
    first = at_place(client, job.job, "after", {"kind": "string", "at": "175", "side": "front"})
    answer = typed(client, job.job, **{f"{first}_gap".replace("r-", "r_"): "9999"})
    assert answer.status_code == 422 and 'value="9999"' in answer.text
    assert "readings after" not in state(store, job.job).latest and not asked
    assert client.post(f"/jobs/{job.job}/readings/after", data={}).status_code == 422


def test_an_uploaded_file_is_kept_as_it_is(
    client: TestClient, job: MadeUp, store: Store, asked: list[str]
) -> None:
    """The document is the file byte for byte, comments and all; TOML stays TOML."""
    text = demo_readings("rescue-truck", "after")
    answer = client.post(f"/jobs/{job.job}/readings/after/file", files={"file": ("after.csv", text.encode())})
    assert answer.status_code == 303 and readings_of(store, job.job) == text
    toml = '[[reading]]\nkind = "toe"\nfront = 1250\nrear = 1251.5\ndiameter = 600\n'
    client.post(f"/jobs/{job.job}/readings/after/file", files={"file": ("after.toml", toml.encode())})
    event = state(store, job.job).latest["readings after"]
    assert event.documents[0].name == "readings.toml" and readings_of(store, job.job) == toml


def test_a_pasted_table_is_taken(client: TestClient, job: MadeUp, store: Store, asked: list[str]) -> None:
    """A table from a spreadsheet, separated by tabs, is read; a line that cannot be used is told in the form."""
    answer = client.post(f"/jobs/{job.job}/readings/after/file", data={"text": BAD_LINE.replace(",", "\t")})
    assert answer.status_code == 200 and 'value="800"' in answer.text
    assert "lies on the centre" in answer.text
    assert state(store, job.job).latest["readings after"].body == {"set": "after", "used": 3, "refused": 1}


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\x00\x01\x02",
        b"PK\x03\x04 a spreadsheet",
        b"kind\n" * 4000,
        b"x" * 1_100_000,
        b"kind,at\nstring,175\n",
    ],
)
def test_a_file_that_is_none_is_refused_in_words(
    client: TestClient, job: MadeUp, store: Store, asked: list[str], data: bytes
) -> None:
    """What is no table of readings is refused on the page, and the record stays as it is."""
    answer = client.post(f"/jobs/{job.job}/readings/after/file", files={"file": ("after.csv", data)})
    assert answer.status_code == 422 and "Nothing was written down" in answer.text
    assert "readings after" not in state(store, job.job).latest


def test_the_last_readings_are_gone_on_from(
    client: TestClient, job: MadeUp, store: Store, asked: list[str]
) -> None:
    """The form shows the last set; a set that puts it right amends its event, one measured anew does not."""
    client.post(f"/jobs/{job.job}/readings/after/file", data={"text": GOOD})
    before = state(store, job.job).latest["readings after"]
    page = client.get(f"/jobs/{job.job}/readings/after").text
    sent = fields_of(page)
    assert sorted(value for name, value in sent.items() if name.endswith("-gap") and value) == [
        "26",
        "26.2",
        "26.7",
    ]
    client.post(f"/jobs/{job.job}/readings/after", data=sent | {"amends": "yes"})
    amended = state(store, job.job).latest["readings after"]
    assert amended.amends == before.number and amended.number > before.number
    sent = fields_of(client.get(f"/jobs/{job.job}/readings/after").text)
    client.post(f"/jobs/{job.job}/readings/after", data=sent)
    assert state(store, job.job).latest["readings after"].amends is None


def test_the_same_telling_counts_once(
    client: TestClient, job: MadeUp, store: Store, asked: list[str]
) -> None:
    """A form sent twice, by an impatient finger, is one set of readings."""
    sent = {"text": GOOD, "key": "told-once"}
    for _ in range(2):
        client.post(f"/jobs/{job.job}/readings/after/file", data=sent)
    assert len(state(store, job.job).of_kind("readings")) == 1


def test_the_demo_job_offers_invented_readings(
    client: TestClient, job: MadeUp, store: Store, asked: list[str]
) -> None:
    """They are marked as invented on the page and in the name they are written down with."""
    assert "invented demo readings" in client.get(f"/jobs/{job.job}/readings/after").text
    page = client.get(f"/jobs/{job.job}/readings/after?demo=yes").text
    assert "These readings are invented" in page
    answer = client.post(f"/jobs/{job.job}/readings/after", data=fields_of(page))
    assert answer.status_code == 303
    assert "# name: after welding, invented for the demo" in readings_of(store, job.job)
    told = state(store, job.job).latest["readings after"].body
    assert told["used"] == 27 and told["refused"] == 0


def test_an_inch_job_is_typed_in_inches(client: TestClient, store: Store, asked: list[str]) -> None:
    """Stations stand on quarters of an inch as on the tape, and a bare number is inches."""
    inch = start_job(store, inch_job(), "job.toml", Telling("Ann")).job
    page = client.get(f"/jobs/{inch}/readings/after").text
    assert re.search(r'<span class="place">[0-9]+ [0-9]/[0-9] in</span>', page) and " mm</span>" not in page
    assert '<span class="unit" aria-hidden="true">in</span>' in page
    fields = fields_of(page)
    mark = next(name for name in fields if name.endswith("-gap")).rpartition("-")[0]
    client.post(f"/jobs/{inch}/readings/after", data=fields | {f"{mark}-gap": "1.02"})
    read = parse_readings(readings_of(store, inch), "x.csv", parse_job(inch_job(), "x"))
    assert read.readings[0].gap == pytest.approx(1.02 * 0.0254)  # type: ignore[union-attr]


def inch_job() -> str:
    """The demo's truss job as a file in inches."""
    job = parse_job(demo_text("truss-only"), "x")
    return write_job(job.model_copy(update={"units": "inch"}))


def test_another_line_can_be_had_without_scripts(client: TestClient, job: MadeUp, store: Store) -> None:
    """The button for another line sends the form, which comes back with one line more and all that was typed."""
    sent = fields_of(client.get(f"/jobs/{job.job}/readings/after").text)
    mark = at_place(client, job.job, "after", {"kind": "string", "at": "175", "side": "front"})
    page = client.post(
        f"/jobs/{job.job}/readings/after", data=sent | {f"{mark}-gap": "26", "add": "four-point"}
    ).text
    assert "at 12" in page and 'value="26"' in page
    assert "readings after" not in state(store, job.job).latest
    row = client.get(f"/jobs/{job.job}/readings/after/row?add=four-point").text
    assert row.count("<input") >= 6 and "<html" not in row
    assert client.get(f"/jobs/{job.job}/readings/after/row?add=nothing").status_code == 422


def test_signed_readings_ask_for_a_reason(client: TestClient, store: Store, asked: list[str]) -> None:
    """Readings behind a signed hold point are not changed without a reason; with one they are, and it is kept."""
    job = (
        MadeUp(store, start_job(store, demo_text("rescue-truck"), "job.toml", Telling("Ann")).job)
        .up_to("intake")
        .job
    )
    page = client.get(f"/jobs/{job}/readings/before").text
    assert 'name="reason"' in page
    assert client.post(f"/jobs/{job}/readings/before/file", data={"text": GOOD}).status_code == 409
    answer = client.post(
        f"/jobs/{job}/readings/before/file", data={"text": GOOD, "reason": "a slip of the pen"}
    )
    assert answer.status_code == 303
    assert state(store, job).latest["readings before"].reason == "a slip of the pen"


def test_unknown_sets_and_jobs_are_not_there(client: TestClient, job: MadeUp) -> None:
    """There are readings before and after, of jobs in the record."""
    assert client.get(f"/jobs/{job.job}/readings/during").status_code == 422
    assert client.get("/jobs/nobody/readings/after").status_code == 404
    assert client.get("/jobs/nobody/measuring-sheet-a4.pdf").status_code == 404


def test_the_blank_sheet_comes_as_pdf(client: TestClient, job: MadeUp) -> None:
    """Both papers are made in a process of their own, once for a job file."""
    first = client.get(f"/jobs/{job.job}/measuring-sheet-a4.pdf")
    again = client.get(f"/jobs/{job.job}/measuring-sheet-us-letter.pdf")
    assert first.content.startswith(b"%PDF") and again.content.startswith(b"%PDF")
    assert again.elapsed.total_seconds() < 0.5
    assert client.get(f"/jobs/{job.job}/measuring-sheet-a3.pdf").status_code == 422


CELL = st.one_of(
    st.text(max_size=20),
    st.sampled_from(
        ["26", "-0.3", "25'", '0°25"', "#", '"', "1e309", "nan", "12 3/4 in", "５", "0.3 out", "\x00", "٣"]
    ),
)
NAMES = st.tuples(st.integers(0, 40), st.sampled_from(sorted(columns()))).map(lambda n: f"r-{n[0]}-{n[1]}")


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(
    st.dictionaries(st.one_of(NAMES, st.sampled_from(["name", "reason", "key", "amends"])), CELL, max_size=14)
)
def test_arbitrary_cells_never_break_the_page(
    client: TestClient, job: MadeUp, asked: list[str], cells: dict[str, str]
) -> None:
    """Whatever is typed is written down or refused in words, and what was typed comes back."""
    answer = client.post(f"/jobs/{job.job}/readings/after", data=cells)
    assert answer.status_code in (200, 303, 422)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(st.one_of(st.binary(max_size=300), st.text(max_size=300).map(str.encode)))
def test_arbitrary_files_never_break_the_page(
    client: TestClient, job: MadeUp, asked: list[str], data: bytes
) -> None:
    """Whatever is uploaded is written down or refused in words."""
    for name in ("x.csv", "x.toml"):
        answer = client.post(f"/jobs/{job.job}/readings/after/file", files={"file": (name, data)})
        assert answer.status_code in (200, 303, 422)


@pytest.fixture(autouse=True)
def _no_broken_page(shop: OpenShop) -> Iterator[None]:
    """Nothing may break inside."""
    yield
    assert not list((shop.data / "broke").glob("*.txt"))
