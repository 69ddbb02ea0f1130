"""A job from an empty form to a correction, in a real browser at tablet size, with real searches."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from web.browser.served import Served, served
from web.browser.tabs import opened

pytestmark = pytest.mark.xdist_group("browser")

MEASURED = {
    "job.name": "Farm truck, plain truss",
    "housing.length": "1300",
    "housing.left_tube.outside_diameter": "89",
    "housing.left_tube.wall": "8",
    "housing.right_tube.outside_diameter": "3 1/2 in",
    "housing.right_tube.wall": "8",
    "housing.centre.height": "300",
    "housing.centre.depth": "150",
    "housing.centre.width": "300",
    "housing.centre.wall": "8",
    "housing.knuckle_flange.diameter": "200",
    "housing.knuckle_flange.thickness": "22",
    "truss.0.from": "206",
    "truss.0.to": "1094",
    "truss.0.width": "60",
    "truss.0.thickness": "5",
    "truss.0.top.0.0": "206",
    "truss.0.top.0.1": "190",
    "truss.0.top.1.0": "1094",
    "truss.0.top.1.1": "190",
    "welder.process": "135",
    "welder.volts": "20.5",
    "welder.amps": "165",
    "welder.travel_speed": "270",
    "welder.wire_diameter": "1.0",
    "welder.wire_feed": "6.5",
    "straightness.camber": "0.10",
    "straightness.source": "invented for this test",
}
"""An invented housing, as it is typed."""

CAMBER = {"before": ("0.02", "-0.01", "0.0"), "after": ("-0.42", "-0.38", "0.0")}
"""Angle finder on the left and the right flange, and on a bar across [deg]; after the work both lean in too far."""

PATIENCE = 120_000
"""How long a search may take on a busy machine [ms]."""


@pytest.fixture
def tablet(browser: Browser) -> Iterator[Page]:
    """A tab of a tablet."""
    yield from opened(browser, "tablet", "light")


@pytest.fixture
def new_shop(browser: Browser, tmp_path: Path) -> Iterator[Served]:
    """A shop that was never opened before."""
    with served(tmp_path / "data", filled=False) as shop:
        yield shop


def fill_in(tab: Page) -> None:
    """Fill in the form of a new job and begin it."""
    tab.get_by_role("link", name="Fill in the form").click()
    tab.get_by_role("button", name="Add a truss").click()
    expect(tab.locator("[name='truss.0.from']")).to_be_visible()
    for name, value in MEASURED.items():
        field = tab.locator(f"[name='{name}']")
        if field.evaluate("each => each.tagName") == "SELECT":
            field.select_option(value)
        else:
            field.fill(value)
    tab.get_by_role("button", name="Begin the job").click()
    expect(tab.locator("h1")).to_have_text(MEASURED["job.name"])


def plan(tab: Page) -> None:
    """Have a plan made, reload the page in the middle of the search, then keep the best so far."""
    tab.get_by_role("navigation", name="Pages of the job").get_by_role("link", name="Plan").click()
    tab.get_by_role("button", name="Make a plan").click()
    keep = tab.get_by_role("button", name=re.compile("keep the best"))
    expect(keep).to_be_visible(timeout=PATIENCE)
    tab.reload()
    expect(tab.get_by_text("Making a plan")).to_be_visible()
    expect(keep).to_be_visible()
    keep.click()
    expect(tab.get_by_role("heading", level=1)).to_contain_text(re.compile(r"Plan \d+"), timeout=PATIENCE)
    expect(tab.get_by_text("common practice").first).to_be_visible()


def measure(tab: Page, which: str) -> None:
    """Type what the angle finder shows, and have it judged."""
    tab.goto(re.sub(r"(/jobs/[0-9a-f]+).*", rf"\1/readings/{which}", tab.url))
    section = tab.locator("section.way").filter(has_text="Quickest for camber")
    for row, shown in zip(section.locator(".reading").all(), CAMBER[which], strict=True):
        row.locator("input:not([type=hidden])").first.fill(shown)
    tab.get_by_role("button", name="Save and check").click()
    expect(tab).to_have_url(re.compile(r"/check$"))
    expect(tab.locator("#verdict")).to_be_visible(timeout=PATIENCE)


def test_a_job_from_an_empty_form_to_a_correction(tablet: Page, new_shop: Served) -> None:
    """A newcomer enters a housing, plans, reloads in the middle, measures before and after, and is told what to do."""
    tablet.goto(new_shop.url("/"))
    tablet.get_by_role("link", name="New job").click()
    fill_in(tablet)
    plan(tablet)
    measure(tablet, "before")
    measure(tablet, "after")
    expect(tablet.locator("#verdict")).to_contain_text("Not straight", timeout=20_000)
    tablet.get_by_role("link", name="See how to bring it back").click()
    tablet.get_by_role("button", name="Work out what to do").click()
    expect(tablet.locator("#decision")).to_be_visible(timeout=PATIENCE)
    expect(tablet.locator("#decision")).to_contain_text(
        re.compile(r"Correct it: \d+|Send it out|Measure first")
    )
