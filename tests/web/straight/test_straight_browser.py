"""In a real browser: invented readings typed in, checked and corrected; and what holds for every page."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect
from web.browser.served import Served
from web.browser.tabs import opened
from web.browser.test_every_page import AXE, SMALL_TARGETS, TARGET
from web.shop_made import MadeUp, made_up
from web.straight import made

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture
def checked(shop_served: Served) -> MadeUp:
    """A job with a check and a correction."""
    job = made_up(shop_served.store, "Rescue truck front axle", "MR-07")
    made.check(job)
    made.correction(job)
    return job


@pytest.fixture(params=[("phone", "light"), ("tablet", "dark")], ids=["phone-light", "tablet-dark"])
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    """A tab on a phone in the light and on a tablet in the dark."""
    yield from opened(browser, *request.param)


def test_every_page_keeps_the_rules(page: Page, checked: MadeUp, shop_served: Served) -> None:
    """No page scrolls sideways or breaks a rule that axe knows, and everything is large enough for gloves."""
    for path in ("readings/before", "readings/after?demo=yes", "check", "correct"):
        page.goto(f"{shop_served.address}/jobs/{checked.job}/{path}")
        for each in page.locator("details").all():
            each.evaluate("each => { each.open = true; }")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), path
        small = page.evaluate(SMALL_TARGETS, TARGET)
        assert not small, (path, small[:5])
        page.evaluate(AXE.read_text(encoding="utf-8"))
        found = page.evaluate("axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa']})")
        wrong = [f"{one['id']}: {one['nodes'][0]['html'][:120]}" for one in found["violations"]]
        assert not wrong, (path, wrong)


def test_enter_goes_on_and_the_place_stands_out(page: Page, checked: MadeUp, shop_served: Served) -> None:
    """Enter leads to the next field instead of sending the form; the station being typed is marked in the drawing."""
    page.goto(f"{shop_served.address}/jobs/{checked.job}/readings/after")
    rows = page.locator("#rows-string-front .reading")
    rows.nth(0).locator("input:not([type=hidden])").first.focus()
    assert page.locator(".station.now").count() == 1
    page.keyboard.press("Enter")
    again = rows.nth(1).locator("input:not([type=hidden])").first
    expect(again).to_be_focused()
    page.locator("#rows-string-front + button").click()
    expect(rows).to_have_count(9)
    expect(rows.nth(8).locator("input:not([type=hidden]), select").first).to_be_focused()


def test_from_readings_to_a_correction(browser: Browser, shop_served: Served) -> None:
    """On a tablet: the invented readings are entered, judged, found not straight, and a way back is worked out."""
    job = made_up(shop_served.store, "Rescue truck front axle", "MR-07").job
    for tab in opened(browser, "tablet", "light"):
        tab.goto(f"{shop_served.address}/jobs/{job}/check")
        for which in ("before", "after"):
            tab.goto(f"{shop_served.address}/jobs/{job}/readings/{which}")
            tab.get_by_role("link", name="Fill in the invented demo readings").click()
            expect(tab.get_by_text("These readings are invented.")).to_be_visible()
            tab.get_by_role("button", name="Save and check").click()
            expect(tab).to_have_url(re.compile(r"/check$"))
        expect(tab.locator("#verdict")).to_contain_text("Not straight: camber left is −0.19°", timeout=60_000)
        tab.get_by_role("link", name=re.compile("−0.19°")).first.click()
        expect(tab.locator("dialog#whence")).to_contain_text("Camber, left, after the work")
        tab.keyboard.press("Escape")
        tab.get_by_role("link", name="See how to bring it back").click()
        tab.get_by_role("button", name="Work out what to do").click()
        expect(tab.locator("#decision")).to_contain_text("Correct it: 11 counter-beads.", timeout=120_000)
        expect(tab.locator(".way-told[open] .unrolled.wide .stroke")).to_have_count(11)
