"""Long work on the pages: begun, watched and stopped, with and without scripts."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient
from web.work.benches import ENDLESS, Shop

from axlewright.web.app import make_app
from axlewright.web.open_shop import OpenShop

HTMX = {"HX-Request": "true"}


@pytest.fixture(scope="module")
def pages(shop: Shop) -> Iterator[TestClient]:
    """The shop's pages as a browser on this machine asks for them."""
    app = make_app(OpenShop(shop.store, shop.work, shop.data))
    with TestClient(app, base_url="http://localhost", follow_redirects=False) as client:
        client.cookies.set("who", "Ann")
        yield client


@pytest.fixture
def searching(shop: Shop) -> Iterator[str]:
    """A search that goes on until it is stopped."""
    work = shop.ask(shop.job(), "plan", **ENDLESS)
    shop.until(work.id, lambda found: found.searching)
    yield work.id
    shop.work.stop(work.id, keep=False)


def test_a_plain_form_is_led_to_the_page_of_the_result(shop: Shop, pages: TestClient) -> None:
    """Without scripts a form begins work and leads to the job's page; the name at the bench is who asked."""
    job = shop.measured_job()
    answer = pages.post(f"/jobs/{job}/long-work/check", data={"key": "k" * 32, "number": "", "reason": ""})
    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{job}/check")
    (work,) = shop.work.of_job(job)
    assert (work.kind, work.who, work.options) == ("check", "Ann", {})
    event = shop.done(work.id)
    assert event.key == "k" * 32
    answer = pages.get(f"/long-work/{work.id}")
    assert (answer.status_code, answer.headers["location"]) == (303, f"/jobs/{job}/check")


def test_options_come_from_the_form(shop: Shop, pages: TestClient) -> None:
    """Ways, cycle and a crack of a correction go with the work, and so does the reason."""
    job = shop.measured_job()
    shop.judged(job)
    told = {"ways": ["press", "heat lines"], "cycle": "2", "cracked": "yes", "reason": "looked again"}
    pages.post(f"/jobs/{job}/long-work/correct", data=told)
    (work,) = shop.work.of_job(job)
    assert work.options == {"ways": ["press", "heat lines"], "cycle": "2", "cracked": "yes"}
    event = shop.done(work.id)
    assert (event.body["decision"], event.body["cycle"], event.reason) == ("send out", 2, "looked again")


def test_a_page_that_watches_asks_again_by_itself(shop: Shop, pages: TestClient, searching: str) -> None:
    """The part of a page shows stage, count, time and both ways to stop, and fetches its count anew."""
    text = pages.get(f"/long-work/{searching}", headers=HTMX).text
    found = shop.now(searching)
    assert f'hx-get="/long-work/{searching}?heard={found.stages}"' in text and "delay:600ms" in text
    assert re.search(r'role="status">Looking for a better order<', text)
    assert re.search(r'<progress aria-label="[^"]+" value="\d+" max="1000000">', text)
    assert re.search(r"\d+ s</span>.*of 1000000</span>, best so far .*mm", text)
    assert "Stop and keep the best so far" in text and ">Stop<" in text
    assert "style=" not in text and "<html" not in text


def test_only_what_is_new_is_told(shop: Shop, pages: TestClient, searching: str) -> None:
    """As long as the stage is the same only the count is sent; a new stage brings its words and buttons."""
    stages = shop.now(searching).stages
    same = pages.get(f"/long-work/{searching}?heard={stages}", headers=HTMX).text
    new = pages.get(f"/long-work/{searching}?heard={stages - 1}", headers=HTMX).text
    assert "hx-swap-oob" not in same and "<form" not in same
    assert new.count("hx-swap-oob") == 2 and "Stop and keep the best so far" in new
    assert "HX-Refresh" not in pages.get(f"/long-work/{searching}", headers=HTMX).headers


def test_a_page_of_its_own_loads_itself_anew_without_scripts(pages: TestClient, searching: str) -> None:
    """A browser without scripts gets a whole page that is loaded anew every two seconds."""
    text = pages.get(f"/long-work/{searching}").text
    assert '<noscript><meta http-equiv="refresh" content="2"></noscript>' in text and "<h1>" in text


def test_a_reload_finds_the_work_again(shop: Shop, pages: TestClient, searching: str) -> None:
    """The job's own page and any other know what runs, whoever asks; asking again begins nothing new."""
    job = shop.now(searching).job
    assert [one.id for one in shop.work.of_job(job)] == [searching]
    answer = pages.post(f"/jobs/{job}/long-work/plan", data={"seconds": "600"}, headers=HTMX)
    assert answer.status_code == 200
    # Another search was asked for, so it took the place of the first.
    latest, first = shop.work.of_job(job)
    assert (first.status, latest.running) == ("stopped", True)
    pages.post(f"/jobs/{job}/long-work/plan", data={"seconds": "600"}, headers=HTMX)
    assert len(shop.work.of_job(job)) == 2
    shop.work.stop(latest.id, keep=False)


def test_it_is_stopped_from_the_page(shop: Shop, pages: TestClient, searching: str) -> None:
    """The button stops at once; the page that watched is loaded anew."""
    answer = pages.post(f"/long-work/{searching}/stop", headers=HTMX)
    assert answer.headers["HX-Refresh"] == "true" and "Stopped" in answer.text
    assert shop.now(searching).status == "stopped"
    polled = pages.get(f"/long-work/{searching}?heard=1", headers=HTMX)
    assert polled.headers["HX-Refresh"] == "true"
    page = pages.get(f"/long-work/{searching}")
    assert page.status_code == 200 and "refresh" not in page.text


def test_the_best_so_far_is_kept_from_the_page(shop: Shop, pages: TestClient, searching: str) -> None:
    """The other button ends the search and lets the work come to its result."""
    answer = pages.post(f"/long-work/{searching}/stop", data={"keep": "yes"})
    assert answer.status_code == 303
    assert shop.done(searching).kind == "plan"


@pytest.mark.parametrize(
    ("address", "status"), [("/jobs/{job}/long-work/nonsense", 422), ("/jobs/none/long-work/plan", 404)]
)
def test_what_is_not_there_is_told_plainly(shop: Shop, pages: TestClient, address: str, status: int) -> None:
    """Unknown work and unknown jobs are refused as every page refuses."""
    assert pages.post(address.format(job=shop.job())).status_code == status
    assert pages.get("/long-work/none").status_code == 404
    assert pages.post("/long-work/none/stop").status_code == 404


def test_pages_do_not_wait_for_a_search(shop: Shop, pages: TestClient, searching: str) -> None:
    """While a search runs, nine of ten answers of the list of jobs and of the work itself come within 100 ms."""
    taken = []
    for _ in range(20):
        for address in ("/", f"/long-work/{searching}"):
            began = time.perf_counter()
            assert pages.get(address).status_code == 200
            taken.append(time.perf_counter() - began)
    assert shop.now(searching).searching
    assert sorted(taken)[int(0.9 * len(taken))] < 0.1, taken
