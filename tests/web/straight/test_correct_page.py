"""The page of the correction: the decision, the ways side by side, places to scale, and why not."""

from __future__ import annotations

import html
import json
import re
from typing import Any

import pytest
from fastapi.testclient import TestClient
from web.shop_made import MadeUp
from web.straight import made
from web.straight.test_axis_picture import OUTLINE
from web.straight.test_check_page import as_written, words_of

from axlewright.web.straight.correction_picture import (
    along,
    from_behind,
    height_of,
    press_picture,
    seam_of,
    unrolled,
)
from axlewright.web.straight.correction_views import expected, way_views


def report() -> dict[str, Any]:
    """correction.json of the demo."""
    return json.loads(made.correction_text())  # type: ignore[no-any-return]


def shown(client: TestClient, job: MadeUp, told: dict[str, Any] | None = None) -> str:
    """The page of a job with a correction."""
    made.check(job)
    made.correction(job, json.dumps(told) if told else "")
    answer = client.get(f"/jobs/{job.job}/correct")
    assert answer.status_code == 200
    return answer.text


def test_the_decision_and_its_reasons_are_the_report_s(client: TestClient, job: MadeUp) -> None:
    """Correct it, by how many of which, and why, in the words of correction.json."""
    said = words_of(shown(client, job))
    lines = next(plan["lines"] for plan in report()["lines"] if plan["way"] == "counter-beads")
    assert f"Correct it: {len(lines)} counter-beads." in said
    for sentence in report()["why"]:
        assert as_written(sentence) in said
    for sentence in report()["cautions"]:
        assert as_written(sentence) in said
    assert "Stop. Let it cool. Measure. Plan again." in said


def test_the_ways_stand_side_by_side(client: TestClient, job: MadeUp) -> None:
    """Each way with how many, its chance and its bench time; the recommended one first; a refused press says why."""
    page = shown(client, job)
    titles = re.findall(r'<h3><a href="#way-\d">([^<]+)</a>', page)
    assert titles == ["Counter-beads", "Heat lines", "Press"]
    said = words_of(page)
    for plan in report()["lines"]:
        assert f"{100 * plan['inside']:.0f} of 100 cases" in said
    for reason in report()["press"]["sets"][0]["refused"]:
        assert reason in said


def test_the_order_tells_where_and_when(client: TestClient, job: MadeUp) -> None:
    """Every line stands in the table with its marks from the left flange, clock and turn."""
    said = words_of(shown(client, job))
    for plan in report()["lines"]:
        for line in plan["lines"]:
            assert f"{line['number']} {1000 * line['start']:.0f} mm to {1000 * line['end']:.0f} mm" in said
    assert "lay it front side up" in said and "lay it upside down" in said


@pytest.mark.analytical
def test_lines_are_drawn_where_they_go() -> None:
    """On the unrolled tubes a line begins at its distance and lies as many hours over the edge as its clock says."""
    lines = report()["lines"][0]["lines"]
    svg, at, seam = (
        unrolled(lines, OUTLINE, "wide", "counter-beads"),
        along("wide", OUTLINE.length),
        seam_of(lines),
    )
    foot = 22.0 + 12 * 17.0
    for line in lines:
        drawn = re.search(rf'data-number="{line["number"]}">.*?<circle cx="([\d.]+)" cy="([\d.]+)"', svg)
        assert drawn is not None
        assert float(drawn[1]) == pytest.approx(at.left + line["start"] * at.per_metre, abs=0.02)
        assert float(drawn[2]) == pytest.approx(foot - ((line["clock"] - seam) % 12.0) * 17.0, abs=0.02)
    assert height_of(seam, seam) == 0.0


@pytest.mark.analytical
def test_from_behind_lines_lie_on_the_skin() -> None:
    """A line at 6 lies a tube's radius below the axle line; one at 4 is on the far side and dashed."""
    line = {"number": 1, "clock": 6.0, "start": 0.3, "end": 0.35, "stage": 1}
    svg = from_behind([line], OUTLINE, "wide", "heat lines")
    drawn = re.search(r'<circle cx="[\d.]+" cy="([\d.]+)" r="8" class="badge"', svg)
    edge = re.search(r'<path d="M[\d.]+ ([\d.]+)L', svg)
    assert drawn is not None and edge is not None
    per_metre = along("wide", OUTLINE.length).per_metre
    # The outline begins at the upper skin, a radius over the axle line: the line lies a diameter below that.
    assert float(drawn[1]) - float(edge[1]) == pytest.approx(0.089 * per_metre, abs=0.02)
    assert "hidden" not in svg
    assert "hidden" in from_behind([{**line, "clock": 4.0}], OUTLINE, "wide", "heat lines")


def test_numbers_from_behind_do_not_cover_each_other() -> None:
    """Lines at 5 and 7 of one place, which coincide from behind, stand apart."""
    lines = [
        {"number": n, "clock": c, "start": 0.1, "end": 0.15, "stage": 1} for n, c in ((1, 5.0), (2, 7.0))
    ]
    for size in ("wide", "narrow"):
        heights = re.findall(r'cy="([\d.]+)" r="8"', from_behind(lines, OUTLINE, size, "counter-beads"))
        assert abs(float(heights[0]) - float(heights[1])) >= 16.0


def test_a_press_that_may_do_is_drawn_with_its_limits(client: TestClient, job: MadeUp) -> None:
    """Ram and supports stand at their distances, and the page says when to stop pushing."""
    told = report()
    told["press"]["sets"][0]["refused"] = []
    told["recommended"] = "press"
    push = told["press"]["sets"][0]
    page = shown(client, job, told)
    assert "Never push beyond 2.55 mm, and never load beyond 296.8 kN." in words_of(page)
    assert "Correct it: 1 push of a press." in words_of(page)
    svg, at = press_picture(push, OUTLINE, "wide"), along("wide", OUTLINE.length)
    ram = re.search(r'<line x1="([\d.]+)"[^>]*class="ram"', svg)
    assert ram is not None and float(ram[1]) == pytest.approx(at.x(push["push_at"]), abs=0.01)
    supports = re.findall(r'<path d="M([\d.]+) [^"]*" class="support"', svg)
    assert [float(x) for x in supports] == pytest.approx([at.x(one) for one in push["supports"]], abs=0.01)


@pytest.mark.parametrize(
    ("decision", "words"),
    [("leave it", "Leave it as it is."), ("send out", "Send it out."), ("measure first", "Measure first.")],
)
def test_every_decision_is_shown(client: TestClient, job: MadeUp, decision: str, words: str) -> None:
    """Without a way to work by the page says what to do instead, and gives no order to follow."""
    told = report() | {"decision": decision, "recommended": None, "lines": [], "press": None}
    page = shown(client, job, told)
    assert f'id="decision">{words}' in page and 'class="order"' not in page and "When to stop" not in page


def test_it_can_be_asked_again(client: TestClient, job: MadeUp) -> None:
    """Ways, cycle and a crack are asked for; a crack is never taken for granted."""
    page = shown(client, job)
    form = page[page.index('class="ask"') :]
    assert re.findall(r'name="ways" value="([^"]+)" checked', form) == [
        "counter-beads",
        "heat lines",
        "press",
    ]
    assert 'name="cycle"' in form and re.search(r'name="cracked" value="yes">', form)
    assert f'action="/jobs/{job.job}/long-work/correct"' in page


def test_earlier_corrections_are_listed(client: TestClient, job: MadeUp) -> None:
    """Those before the latest stand below, by their cycle, with their sheets."""
    made.check(job)
    first = made.correction(job)
    made.correction(job, cycle=2)
    page = client.get(f"/jobs/{job.job}/correct").text
    assert "Round 1" in words_of(page[page.index('id="earlier"') :])
    assert f"/jobs/{job.job}/documents/{first.number}/correction-sheet-a4.pdf" in page


def test_a_correction_is_out_of_date_once_measured_again(client: TestClient, job: MadeUp) -> None:
    """Readings or a check made since are named."""
    shown(client, job)
    job.readings("after")
    assert "This correction is out of date" in client.get(f"/jobs/{job.job}/correct").text


def test_a_check_without_a_correction_asks_for_one(client: TestClient, job: MadeUp) -> None:
    """The page says by the verdict whether there is anything to do, and offers to work it out."""
    made.check(job)
    page = client.get(f"/jobs/{job.job}/correct").text
    assert "let us see what brings it back" in page and "Work out what to do" in page


def test_figures_can_be_asked_where_they_are_from(client: TestClient, job: MadeUp) -> None:
    """Chances, bench times and what to expect lead to an explanation that is there."""
    page = shown(client, job)
    asked = sorted(set(re.findall(r'hx-get="(/jobs/[^"]+/whence/[^"]+)"', page)))
    assert len(asked) >= 5
    for address in asked:
        assert client.get(html.unescape(address)).status_code == 200, address


def test_what_is_expected_is_said_by_the_band() -> None:
    """A band within the limits is inside, one beyond is outside, one across a limit cannot be told."""
    outcome = {"wanted": 0.0, "limit": 0.1, "done": {"value": 0.0, "low": -0.05, "high": 0.05, "told": True}}
    assert expected(outcome) == "inside"
    assert expected(outcome | {"done": {"value": 0.3, "low": 0.2, "high": 0.4, "told": True}}) == "outside"
    assert (
        expected(outcome | {"done": {"value": 0.1, "low": 0.0, "high": 0.2, "told": True}})
        == "cannot be told"
    )
    assert (
        expected(outcome | {"done": {"value": 0.0, "low": 0.0, "high": 0.0, "told": False}})
        == "cannot be told"
    )


def test_turns_are_said_once() -> None:
    """How to lay the housing is said where it changes, and at the beginning of each half."""
    steps = way_views(report(), OUTLINE)[0].stages
    for half in steps:
        assert half[0].turned
    assert [bool(step.turned) for step in steps[0]] == [True, False, False, True, False, False]
