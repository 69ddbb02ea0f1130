"""What holds for every page of `pages.py`, in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page
from web.browser.pages import PAGES
from web.browser.served import Served
from web.browser.tabs import opened

pytestmark = pytest.mark.xdist_group("browser")

AXE = Path(__file__).parent / "axe.min.js"
TARGET = 48
"""Height and width of what is tapped with gloves on [px]."""

each_page = pytest.mark.parametrize("path", PAGES.values(), ids=PAGES)

SMALL_TARGETS = """least => [...document.querySelectorAll(
    'button, .button, select, textarea, summary, .choice label, .tick, nav a, header a, a.figure, ' +
    'input:not([type=hidden]):not([type=checkbox]):not([type=radio])')]
  .filter(each => each.checkVisibility())
  .map(each => [each, each.getBoundingClientRect()])
  .filter(([each, box]) => box.height < least - 0.5 || box.width < least - 0.5)
  .map(([each, box]) => `${each.outerHTML.slice(0, 90)}: ${box.width} x ${box.height}`)"""


REACHABLE = """() => { return [...document.querySelectorAll(
    'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]')]
  .filter(each => each.checkVisibility() && !each.disabled && each.tabIndex >= 0 && !each.closest('dialog:not([open])'))
  .filter(each => each.type !== 'radio' || each === group(each).find(one => one.checked) ||
    !group(each).some(one => one.checked) && each === group(each)[0]).length;
  function group(one) { return [...document.querySelectorAll(`input[type=radio][name="${one.name}"]`)] } }"""

WHERE = """() => {
  const at = document.activeElement;
  const shown = at.closest('.choice label') ?? at.closest('.sheet.leads') ?? at;
  const style = getComputedStyle(shown);
  return [at === document.body, style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2, at.outerHTML];
}"""


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    """A tab as narrow as phones are."""
    yield from opened(browser, "phone", "light")


@pytest.fixture
def coloured(browser: Browser, scheme: str) -> Iterator[Page]:
    """A tab on a tablet, light and dark."""
    yield from opened(browser, "tablet", scheme)


def violations(page: Page) -> list[str]:
    """What axe finds on a page against WCAG 2.2 AA and its own best practices."""
    # Evaluated, not added as a script: the content security policy would refuse that.
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    found: dict[str, Any] = page.evaluate("() => axe.run(document, {resultTypes: ['violations']})")
    return [
        f"{one['id']}: {one['help']}: {[node['html'][:160] for node in one['nodes']][:4]}"
        for one in found["violations"]
    ]


@each_page
def test_nothing_keeps_anybody_out(coloured: Page, shop_served: Served, path: str) -> None:
    """Axe finds no violation, in light and in dark, also with everything unfolded."""
    coloured.goto(shop_served.url(path))
    assert violations(coloured) == []
    coloured.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true })")
    assert violations(coloured) == []


@each_page
def test_everything_can_be_tapped_with_gloves_on(phone: Page, shop_served: Served, path: str) -> None:
    """Every button, field and link of its own line is at least 48 px high and wide."""
    phone.goto(shop_served.url(path))
    phone.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true })")
    assert phone.evaluate(SMALL_TARGETS, TARGET) == []


@each_page
def test_no_page_is_wider_than_a_phone(phone: Page, shop_served: Served, path: str) -> None:
    """At 360 px no page scrolls sideways, also with everything unfolded."""
    phone.goto(shop_served.url(path))
    phone.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true })")
    assert phone.evaluate("() => document.documentElement.scrollWidth") <= 360


@each_page
def test_everything_can_be_reached_by_keyboard(tab: Page, shop_served: Served, path: str) -> None:
    """The Tab key comes to every control once, from top to bottom, and where it is can be seen."""
    tab.goto(shop_served.url(path))
    seen = []
    for _ in range(tab.evaluate(REACHABLE)):
        tab.keyboard.press("Tab")
        seen.append(tab.evaluate(WHERE))
    assert not any(lost for lost, _, _ in seen)
    assert [html[:120] for _, visible, html in seen if not visible] == []
    tab.keyboard.press("Tab")
    assert tab.evaluate(
        "() => document.activeElement === document.body || document.activeElement.matches('.skip')"
    )
