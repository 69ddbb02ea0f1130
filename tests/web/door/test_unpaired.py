"""Nothing is readable without being paired: over every route there is, and over every way of pretending."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from fastapi.routing import APIRoute
from fastapi.testclient import TestClient
from web.door.conftest import PHONE, SHOP, Asking
from web.shop_made import MadeUp

from axlewright.record.opening import open_store
from axlewright.web.api.app import make_api
from axlewright.web.app import all_routes, make_app
from axlewright.web.door.door import IN_FRONT
from axlewright.web.door.open_door import OpenDoor, open_door
from axlewright.web.open_shop import OpenShop
from axlewright.web.rendering import STATIC
from axlewright.web.work.bench import WorkBench

OPEN = {"/pair", "/offline"}
"""Pages in front of the door; one that is added to it must be added here by hand, too."""


def every_request(app: FastAPI, shop: OpenShop, job: str) -> Iterator[tuple[str, str]]:
    """Method and address of every route of the pages and of the API, for a job that is there."""
    own = [("", route) for route in all_routes(app)]
    api = [("/api", route) for route in make_api(shop).state.described]
    for at, route in own + api:
        path = at + re.sub(r"\{job[^}]*\}", job, route.path)
        path = re.sub(r"\{[^}]*\}", "1", path)
        for method in sorted(route.methods or {"GET"}):
            if path not in OPEN:
                yield method, path
    yield "GET", "/api/openapi.json"


@pytest.fixture
def empty_app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    """A shop that knows nothing of any job, behind a door."""
    data = tmp_path_factory.mktemp("nothing")
    store = open_store(data)
    work = WorkBench(store, data)
    yield make_app(OpenShop(store, work, data), door=open_door(data, (SHOP,)))
    work.close()
    store.close()


def test_no_route_answers_an_unpaired_device(
    open_app: FastAPI, empty_app: FastAPI, shop: OpenShop, old_job: MadeUp
) -> None:
    """Every route of pages and API answers 401, 403 or leads to the pairing page, as if the shop had no job."""
    full = TestClient(open_app, SHOP, client=PHONE, headers={"origin": SHOP}, follow_redirects=False)
    empty = TestClient(empty_app, SHOP, client=PHONE, headers={"origin": SHOP}, follow_redirects=False)
    events = len(shop.store.events(old_job.job))
    asked = list(every_request(open_app, shop, old_job.job))
    assert len(asked) > 60
    assert any(path.startswith("/api/jobs/") for _, path in asked)
    for method, path in asked:
        for accept in ("text/html", "*/*"):
            answer = full.request(method, path, headers={"accept": accept})
            if answer.status_code == 303:
                assert answer.headers["location"] == "/pair", (method, path)
                assert answer.content == b""
            else:
                assert answer.status_code == (403 if path.startswith("/devices") else 401), (method, path)
            without = empty.request(method, path, headers={"accept": accept})
            assert answer.content == without.content, (method, path)
    assert len(shop.store.events(old_job.job)) == events


def test_the_same_routes_answer_this_machine(here: TestClient, old_job: MadeUp) -> None:
    """The shop's own computer needs no pairing."""
    assert old_job.job in here.get("/").text
    assert old_job.job in here.get("/api/jobs").text


def test_only_the_pairing_page_is_in_front(phone: TestClient, old_job: MadeUp) -> None:
    """What unpaired devices get is the pairing page, its style and icons, and nothing of the other files."""
    for path in sorted(IN_FRONT):
        answer = phone.get(path)
        assert answer.status_code == 200, path
        assert b"truck" not in answer.content.lower()
    standing = [f"/static/{file.relative_to(STATIC).as_posix()}" for file in STATIC.rglob("*.*")]
    behind = [path for path in standing if path not in IN_FRONT]
    assert len(behind) > 5
    for path in behind:
        assert phone.get(path).status_code in (303, 401), path


def test_the_pairing_page_asks_for_nothing_that_is_behind(phone: TestClient) -> None:
    """Everything the pairing page names is in front of the door."""
    named = re.findall(r'(?:href|src)="(/static/[^"]+)"', phone.get("/pair").text)
    assert len(named) >= 3
    assert all(phone.get(path).status_code == 200 for path in named)


@pytest.mark.parametrize(
    "path",
    [
        "/static/icons/../plan.js",
        "/static/icons/%2e%2e/plan.js",
        "//",
        "/pair/",
        "/pair/../api/jobs",
        "/PAIR",
        "/api//jobs",
    ],
)
def test_no_way_round(phone: TestClient, old_job: MadeUp, path: str) -> None:
    """Addresses written in other ways lead to no page."""
    answer = phone.get(path)
    assert answer.status_code in (303, 401, 404)
    assert old_job.job not in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {"x-forwarded-for": "127.0.0.1"},
        {"forwarded": "for=127.0.0.1;host=localhost"},
        {"x-real-ip": "::1"},
        {"host": "localhost"},
        {"host": "localhost:8090", "origin": "http://localhost:8090"},
        {"cookie": "device="},
        {"cookie": 'device="' + "A" * 43 + '"'},
        {"cookie": "device=\udcff"},
        {"authorization": "Bearer none"},
    ],
)
def test_pretending_does_not_help(phone: TestClient, old_job: MadeUp, headers: dict[str, str]) -> None:
    """A header that says who one is opens nothing."""
    answer = phone.get(
        f"/api/jobs/{old_job.job}",
        headers={k: v.encode("utf-8", "surrogateescape") for k, v in headers.items()},
    )  # type: ignore[misc]
    assert answer.status_code == 401


@pytest.mark.parametrize("address", ["127.0.0.1", "127.8.9.10", "::1", "::ffff:127.0.0.1"])
def test_all_addresses_of_this_machine_itself(asking: Asking, address: str) -> None:
    """IPv4 or IPv6, this machine is let in by its loopback address."""
    assert asking((address, 5000), "http://localhost:8090").get("/").status_code == 200


@pytest.mark.parametrize(
    "address", ["192.168.1.5", "::ffff:192.168.1.7", "fe80::1%eth0", "fd00::7", "10.1.2.3"]
)
def test_other_addresses_are_other_devices(asking: Asking, address: str) -> None:
    """Any other address, also this machine's own in the network, has to be paired."""
    assert asking((address, 5000)).get("/").headers["location"] == "/pair"


@pytest.mark.parametrize("address", ["8.8.8.8", "2a00::1", "testclient", ""])
def test_nobody_from_beyond_the_network(asking: Asking, address: str) -> None:
    """From an address that is not of the local network not even the pairing page is shown."""
    assert asking((address, 5000)).get("/pair").status_code == 403


def test_public_ipv6_of_the_same_network(asking: Asking) -> None:
    """A public IPv6 address is of the local network where its first 64 bits are ours."""
    ours = "http://[2a00:1:2:3::5]:8090"
    assert asking(("2a00:1:2:3:4:5:6:7", 5000), ours).get("/pair").status_code == 200
    assert asking(("2a00:1:2:4:4:5:6:7", 5000), ours).get("/pair").status_code == 403


def test_a_name_of_the_network_that_leads_to_this_machine_itself(asking: Asking, old_job: MadeUp) -> None:
    """Through a name of the local network nobody is taken for this machine: another may have given it (rebinding)."""
    rebound = asking(("127.0.0.1", 5000), "http://bench.local:8090")
    assert rebound.get("/").status_code == 303
    assert rebound.get("/devices").status_code == 403


@pytest.mark.parametrize("host", ["elsewhere.example", "192.168.1.6:8090", "bench.local.elsewhere.example"])
def test_other_names_stay_refused(phone: TestClient, host: str) -> None:
    """The network's names and the very address asked are answered to, and no others."""
    assert phone.get("/pair", headers={"host": host}).status_code == 403
    assert phone.get("/pair", headers={"host": "bench.local:8090"}).status_code == 200


def test_parts_of_pages_lead_to_pairing(phone: TestClient) -> None:
    """A page that was open when its device was ended is led to the pairing page by its next request."""
    answer = phone.get("/", headers={"hx-request": "true"})
    assert answer.status_code == 401
    assert answer.headers["hx-redirect"] == "/pair"


def test_answers_of_the_door_are_careful(phone: TestClient) -> None:
    """What the door answers carries the same headers as every page."""
    for path in ("/", "/api/jobs", "/pair", "/devices"):
        assert "default-src 'self'" in phone.get(path).headers["content-security-policy"]


def test_without_a_door_there_is_nothing_to_pair(client: TestClient) -> None:
    """Where only this machine is listened to, the page says how to open the shop, and no device can be paired."""
    assert "--shop" in client.get("/devices").text
    assert client.get("/pair").status_code == 404
    assert client.post("/pair", data={"code": "", "name": ""}).status_code == 404


def test_routes_are_what_is_thought(open_app: FastAPI, door: OpenDoor) -> None:
    """The list that is tested over holds the pages that are fetched later."""
    paths = {route.path for route in all_routes(open_app) if isinstance(route, APIRoute)}
    assert {"/", "/pair", "/devices", "/jobs/{job}"} <= paths
