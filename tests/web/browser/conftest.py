"""A browser and shops to look at; without chromium these tests are skipped."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from web.browser.served import ARGUMENTS, CHROMIUM, SIZES, Served, served

NO_FAULT = ("Failed to load resource", "Response Status Error Code", "htmx:")


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


def opened(browser: Browser, size: str, scheme: str) -> Iterator[Page]:
    """A tab of some size, light or dark."""
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme)  # type: ignore[arg-type]
    page = context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("console", lambda line: complaints.append(line.text) if line.type == "error" else None)
    yield page
    context.close()
    # That an answer was an error, or did not come, is told of on the console as well: that is no fault of the page.
    broken = [line for line in complaints if not line.startswith(NO_FAULT)]
    assert not broken, broken
