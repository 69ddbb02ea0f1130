"""The weld page as the server gives it: what it shows of the plan, and when an arc may burn."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest
from fastapi.testclient import TestClient
from web.plan.seeded import plan_of, planned, tell_plan
from web.plan.seeded import plan_text as text_of
from web.shop_made import MadeUp
from web.weld.welding import READY

from axlewright.record.store import Store
from axlewright.tasks.standing import stands
from axlewright.web.next_step import PAGES_OF_STAGES
from axlewright.web.rendering import STATIC
from axlewright.web.weld_sheet.modules import MODULES
from axlewright.web.weld_sheet.strips import LENGTH, strips
from axlewright.web.weld_sheet.view import held, laid, weld_view


@pytest.fixture
def ready(store: Store) -> MadeUp:
    """A job with a plan, signed as ready for the arc."""
    job = planned(store)
    job.sign(READY)
    return job


def page_of(client: TestClient, job: MadeUp) -> str:
    """The weld page of a job."""
    answer = client.get(f"/jobs/{job.job}/weld")
    assert answer.status_code == 200
    return answer.text


def test_every_bead_can_be_chosen_and_lies_on_a_strip(client: TestClient, ready: MadeUp) -> None:
    """Each bead of the plan stands in the list to choose from, once, and on the drawing of its seam."""
    page = page_of(client, ready)
    tags = [bead["tag"] for bead in plan_of("rescue-truck")["beads"]]
    assert re.findall(r'data-choose="(\w+)"', page) == tags
    assert sorted(re.findall(r'<g class="bead" data-bead="(\w+)"', page)) == sorted(tags)


def test_tacks_and_cautions_are_there(client: TestClient, ready: MadeUp) -> None:
    """All tacks stand in the plan's order, three of them to hold, and every caution is one tap away."""
    page, plan = page_of(client, ready), plan_of("rescue-truck")
    assert re.findall(r'data-tack="(\w+)"', page) == [tack["tag"] for tack in plan["tacks"]]
    hold = page[page.index("To hold") : page.index("All round")]
    assert hold.count("data-tack=") == 3
    assert 'data-open="weld-cautions"' in page
    assert page.count("<li>", page.index('class="weld-caution-list"'), page.index('id="weld-else"')) == len(
        plan["cautions"]
    )


def test_no_arc_before_the_hold_point_is_signed(client: TestClient, store: Store) -> None:
    """Unsigned, signed with a line not found so, or changed since: the page says so, with the way to sign."""
    job = planned(store)
    assert 'data-held="yes"' in page_of(client, job)
    assert f"/jobs/{job.job}/stages/fit-up#hold-point" in page_of(client, job)
    job.sign(READY)
    assert 'data-held=""' in page_of(client, job)
    tell_plan(job, text_of("rescue-truck"), reason="Another order")
    page = page_of(client, job)
    assert 'data-held="yes"' in page and "Changed since it was signed" in page


def test_a_line_not_found_so_holds(store: Store) -> None:
    """A hold point signed with one line at "not yet" lets no arc burn."""
    job = planned(store)
    event = job.sign(READY)
    items = [dict(item) for item in event.body["items"]]
    items[2]["found"] = False
    job.tell("sign-off", {**event.body, "items": items})
    stops = held(stands(store, job.job))
    assert stops is not None and stops.says == "Not every line was found so"


def test_without_a_plan_it_leads_to_the_plan(client: TestClient, job: MadeUp) -> None:
    """A job without a plan has nothing to weld by; the page leads to where one is made."""
    page = page_of(client, job)
    assert "There is no plan to weld by" in page
    assert f'href="/jobs/{job.job}/plan"' in page


def test_beads_of_the_log_are_marked_as_laid(client: TestClient, ready: MadeUp) -> None:
    """Beads stopped by the log are told to the page, those taken back are not."""
    ready.tell("bench", {"event": "start", "bead": "A5"})
    ready.tell("bench", {"event": "stop", "bead": "A5"})
    ready.tell("bench", {"event": "stop", "bead": "B18"})
    ready.tell("bench", {"event": "temperature", "bead": "B18", "value": "41"})
    assert laid(stands(ready.store, ready.job)) == ("A5", "B18")
    assert 'data-laid="A5 B18"' in page_of(client, ready)


def test_the_shell_holds_nothing_of_a_job(client: TestClient, ready: MadeUp) -> None:
    """What a device keeps for when the shop is away names all scripts, and nothing of any job or person."""
    client.cookies.set("who", "Ann")
    shell = client.get("/weld-shell").text
    assert all(f'href="/static/weld/{name}"' in shell for name in MODULES)
    assert "Ann" not in shell and ready.job not in shell and "main truss" not in shell
    assert "data-choose" not in shell


def test_all_scripts_are_in_the_list() -> None:
    """Every script of the page is kept by a device, and each script asked for is there."""
    assert sorted(MODULES) == sorted(path.name for path in (STATIC / "weld").glob("*.js"))


def test_inch_shops_read_a_tape(client: TestClient, store: Store) -> None:
    """In a job in inches the marks are fractions as on a tape."""
    job = planned(store, "clamped-inch")
    marks = re.findall(r'data-marks="([^"]+)"', page_of(client, job))
    assert any(re.search(r"\d+ \d+/\d+", mark) for mark in marks)
    assert not any("mm" in mark for mark in marks)


@pytest.mark.parametrize("name", ["rescue-truck", "clamped-inch"])
def test_strips_show_seams_as_long_as_they_are(name: str) -> None:
    """Beads and openings fill the drawing of a seam from end to end, none over another (analytical: lengths add up)."""
    for strip in strips(plan_of(name)["beads"]):
        pieces = sorted([(bead.x, bead.width) for bead in strip.beads] + list(strip.openings))
        assert pieces[0][0] == pytest.approx(0.0, abs=0.1)
        assert sum(pieces[-1]) == pytest.approx(LENGTH, abs=0.1)
        for (x, width), (after, _) in pairwise(pieces):
            assert x + width <= after + 0.5


def test_the_left_flange_is_at_the_left() -> None:
    """On a seam along the axle a bead that travels to the left points to the left of its drawing."""
    plan = plan_of("rescue-truck")
    by_tag = {bead["tag"]: bead for bead in plan["beads"]}
    along = [strip for strip in strips(plan["beads"]) if strip.ends == ("left", "right")]
    assert along
    for bead in (bead for strip in along for bead in strip.beads):
        hand = by_tag[bead.tag]["direction"]
        assert hand not in ("to the left", "to the right") or bead.backwards == (hand == "to the left")


def test_lengths_are_told_in_the_shops_unit() -> None:
    """A bead's length is told as a tape shows it."""
    view = weld_view(plan_of("rescue-truck"), 2)
    assert view.lengths["A5"] == "50 mm"
    assert len(view.holding) == 3 and len(view.holding) + len(view.all_round) == len(view.tacks)


def test_tack_and_weld_lead_here(client: TestClient, ready: MadeUp) -> None:
    """The stages tack and weld lead to the page, and every page of a job has a tab for it."""
    for stage in ("tack", "weld"):
        assert "weld" in [path for _, path in PAGES_OF_STAGES[stage]]
    assert f'href="/jobs/{ready.job}/weld" aria-current="page"' in page_of(client, ready)
