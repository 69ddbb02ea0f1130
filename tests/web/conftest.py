"""An opened shop, and a browser's place in front of it, for each test of the pages."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from playwright.sync_api import Browser, Page, sync_playwright
from web.browser.served import ARGUMENTS, CHROMIUM, Served, served
from web.browser.tabs import opened
from web.shop_made import MadeUp, lived_in, made_up

from axlewright.record.opening import open_store
from axlewright.record.store import Store
from axlewright.web.app import make_app
from axlewright.web.open_shop import OpenShop
from axlewright.web.work.bench import WorkBench

FROM_HERE = {"origin": "http://localhost"}
"""What a browser sends along when a page of the shop asks."""


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty record."""
    store = open_store(tmp_path / "data")
    yield store
    store.close()


@pytest.fixture
def shop(store: Store, tmp_path: Path) -> Iterator[OpenShop]:
    """A shop with an empty record."""
    work = WorkBench(store, tmp_path / "data")
    yield OpenShop(store, work, tmp_path / "data")
    work.close()


@pytest.fixture
def app(shop: OpenShop) -> FastAPI:
    """The application of the shop."""
    return make_app(shop)


@pytest.fixture
def client(app: FastAPI, shop: OpenShop) -> Iterator[TestClient]:
    """Asks the application as a browser on this machine would; a test fails with what broke inside, if anything did."""
    yield TestClient(app, base_url="http://localhost", headers=FROM_HERE, follow_redirects=False)
    broke = [file.read_text(encoding="utf-8") for file in sorted((shop.data / "broke").glob("*.txt"))]
    assert not broke, broke[0]


@pytest.fixture
def job(store: Store) -> MadeUp:
    """A new job of the demo's housing."""
    return made_up(store)


@pytest.fixture
def old_job(store: Store) -> MadeUp:
    """A job that something of every kind was told about."""
    return lived_in(store)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's chromium."""
    if not CHROMIUM.exists():
        pytest.skip(f"{CHROMIUM} is not installed")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def shop_served(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A shop with jobs, the same for all tests: those that change something make their own."""
    with served(tmp_path_factory.mktemp("shop")) as shop:
        yield shop


@pytest.fixture(scope="session")
def empty_shop(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A shop without a job."""
    with served(tmp_path_factory.mktemp("empty"), filled=False) as shop:
        yield shop


@pytest.fixture(params=["light", "dark"])
def scheme(request: pytest.FixtureRequest) -> str:
    """Light and dark."""
    return request.param


@pytest.fixture
def tab(browser: Browser) -> Iterator[Page]:
    """A tab on a desktop; it fails a test in which the browser refused or could not run something."""
    yield from opened(browser, "desktop", "light")
