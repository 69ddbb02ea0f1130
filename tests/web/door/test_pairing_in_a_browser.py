"""Pairing as a phone does it, in a real browser."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page
from web.browser.served import Served

pytestmark = pytest.mark.xdist_group("browser")


def test_the_qr_code_fills_the_field(tab: Page, shop_served: Served) -> None:
    """Opened by the QR code the page has the code in its field and no longer in its address."""
    tab.goto(shop_served.url("/pair#k7qm2xrt"))
    tab.wait_for_function("document.getElementById('code').value !== ''")
    assert tab.locator("#code").input_value() == "K7QM-2XRT"
    assert tab.url == shop_served.url("/pair")
    assert tab.evaluate("document.activeElement.id") == "name"


@pytest.mark.parametrize("fragment", ["", "#", "#short", "#%3Cscript%3E", "#%"])
def test_anything_else_behind_the_address_fills_nothing(
    tab: Page, shop_served: Served, fragment: str
) -> None:
    """What is no code is not put into the field."""
    tab.goto(shop_served.url(f"/pair{fragment}"))
    tab.wait_for_load_state("networkidle")
    assert tab.locator("#code").input_value() == ""


def test_the_list_follows_by_itself(tab: Page, shop_served: Served) -> None:
    """A device that is paired while the page is open comes up on the list, and its code is told to be used."""
    tab.goto(shop_served.url("/devices"))
    code = tab.locator("#code-shown").inner_text()
    origin = shop_served.address
    tab.request.post(
        shop_served.url("/pair"), form={"code": code, "name": "Ben's tablet"}, headers={"origin": origin}
    )
    tab.get_by_text("Ben's tablet").wait_for(timeout=15_000)
    tab.get_by_text("The code was used").wait_for(timeout=15_000)
