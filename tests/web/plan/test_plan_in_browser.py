from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect
from web.browser.served import Served, served
from web.browser.tabs import opened
from web.browser.test_every_page import SMALL_TARGETS, TARGET, violations
from web.plan.seeded import planned

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture(scope="module")
def plans(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A shop with two planned jobs."""
    with served(tmp_path_factory.mktemp("plans"), filled=False) as shop:
        jobs = {"axle": planned(shop.store).job, "inch": planned(shop.store, "clamped-inch").job}
        yield Served(shop.address, jobs, shop.store)


def marked(page: Page) -> str | None:
    """Number of the plan marked in the list."""
    return page.locator('.plans input[name="number"]:checked').get_attribute("value")


def test_a_plan_is_chosen_by_keyboard(tab: Page, plans: Served) -> None:
    """Arrow keys go through the plans in the list; picture and button follow, and the button can be pressed."""
    tab.goto(plans.url("/jobs/{axle}/plan"))
    button = tab.locator("[data-take]")
    expect(button).to_be_disabled()
    tab.locator('.plans input[name="number"]:checked').focus()
    tab.keyboard.press("ArrowDown")
    assert marked(tab) == "13"
    expect(tab.locator("a.plan-mark.looked")).to_have_attribute("data-plan", "13")
    expect(button).to_be_enabled()
    expect(button).to_have_text("Take plan 13")
    asked = []
    tab.route("**/long-work/choose", lambda route: (asked.append(route.request.post_data), route.abort()))
    button.focus()
    tab.keyboard.press("Enter")
    tab.wait_for_timeout(200)
    assert asked and "number=13" in asked[0]


def test_a_plan_is_chosen_in_the_picture(tab: Page, plans: Served) -> None:
    """Keys go from mark to mark of the picture, which is one stop of the Tab key; a touch marks the plan too."""
    tab.goto(plans.url("/jobs/{axle}/plan"))
    assert tab.locator('a.plan-mark[tabindex="0"]').count() == 1
    tab.locator("a.plan-mark.chosen").focus()
    tab.keyboard.press("ArrowRight")
    assert marked(tab) == "13"
    assert tab.evaluate("document.activeElement.dataset.plan") == "13"
    tab.locator('a.plan-mark[data-plan="20"] text').click()
    assert marked(tab) == "20"
    assert tab.locator(".plans tr.looked").get_attribute("data-plan") == "20"


def test_every_mark_is_met_where_it_is_touched(tab: Page, plans: Served) -> None:
    """A touch on the middle of each mark meets that mark, also where marks crowd."""
    tab.goto(plans.url("/jobs/{axle}/plan"))
    tab.locator(".trade-picture").scroll_into_view_if_needed()
    missed = tab.evaluate(
        """() => [...document.querySelectorAll('a.plan-mark')].filter(mark => {
          const box = mark.querySelector('.dot').getBoundingClientRect();
          const met = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
          return met?.closest('a[data-plan]')?.dataset.plan !== mark.dataset.plan; }).map(mark => mark.dataset.plan)"""
    )
    assert missed == []


def test_other_axes_are_drawn_at_once(tab: Page, plans: Served) -> None:
    """Choosing another count redraws the picture without loading the page anew."""
    tab.goto(plans.url("/jobs/{axle}/plan"))
    tab.evaluate("window.stays = true")
    tab.locator('select[name="across"]').select_option("spot")
    expect(tab.locator(".trade-picture")).to_have_attribute(
        "aria-label", "Plans by hottest spot and distortion"
    )
    assert tab.evaluate("window.stays")
    assert tab.locator('a.plan-mark[tabindex="0"]').count() == 1


def test_a_number_says_where_it_comes_from(tab: Page, plans: Served) -> None:
    """A number opens the dialog with formula and values; a value leads on to where that comes from; Escape closes."""
    tab.goto(plans.url("/jobs/{axle}/plan"))
    tab.locator("#both a.ask", has_text="1 h 37 min").first.focus()
    tab.keyboard.press("Enter")
    dialog = tab.locator("#whence")
    expect(dialog).to_be_visible()
    expect(dialog.locator("h2")).to_have_text("Bench time")
    expect(dialog).to_contain_text("between_beads in [bench] of the job file")
    assert violations(tab) == []
    dialog.locator("a", has_text="23.23 min").click()
    expect(dialog.locator("h2")).to_have_text("Arc time")
    tab.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    assert tab.url.endswith("/plan")


def test_without_scripts_plans_are_looked_at_and_numbers_asked(browser: Browser, plans: Served) -> None:
    """Without scripts a mark leads to the page with that plan marked, and a number to a page of its own."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(plans.url("/jobs/{axle}/plan"))
    page.goto(plans.address + (page.locator('a.plan-mark[data-plan="5"]').get_attribute("href") or ""))
    assert page.locator('.plans input[value="5"]').is_checked()
    page.locator(".counts a.ask").first.click()
    expect(page.locator("h1")).to_have_text("Bench time")
    context.close()


@pytest.mark.parametrize("job", ["axle", "inch"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_of_the_plan_keeps_anybody_out(
    browser: Browser, plans: Served, job: str, scheme: str
) -> None:
    """Axe finds no violation on the plan page, in light and in dark, also with everything unfolded."""
    for page in opened(browser, "tablet", scheme):
        page.goto(plans.url(f"/jobs/{{{job}}}/plan"))
        page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true })")
        assert violations(page) == []


@pytest.mark.parametrize("job", ["axle", "inch"])
def test_the_plan_suits_a_phone_and_gloves(browser: Browser, plans: Served, job: str) -> None:
    """At 360 px nothing scrolls sideways, and what is tapped is at least 48 px high and wide."""
    for page in opened(browser, "phone", "light"):
        page.goto(plans.url(f"/jobs/{{{job}}}/plan"))
        page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true })")
        assert page.evaluate("() => document.documentElement.scrollWidth") <= 360
        assert page.evaluate(SMALL_TARGETS, TARGET) == []


def test_paper_shows_what_is_folded(tab: Page, plans: Served) -> None:
    """When printed, folded beads, tacks and cautions are all on the paper."""
    tab.goto(plans.url("/jobs/{axle}/plan"))
    tab.locator("#cautions summary").click()
    tab.emulate_media(media="print")
    tab.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert tab.locator("#cautions li").first.is_visible()
    assert tab.locator(".bead-number").last.is_visible()
    assert tab.locator(".tacks li").last.is_visible()
    tab.evaluate("dispatchEvent(new Event('afterprint'))")
