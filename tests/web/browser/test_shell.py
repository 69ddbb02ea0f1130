"""What the shell does in a real browser: dialog, faults, the installed shop, a walk through a job's first stage."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect
from web.browser.served import Served
from web.browser.test_every_page import violations
from web.shop_made import made_up

pytestmark = pytest.mark.xdist_group("browser")


def test_a_number_answers_where_it_comes_from(tab: Page, shop_served: Served) -> None:
    """A figure opens a dialog with the answer, by keyboard too; Escape closes it and the figure has the focus again."""
    tab.goto(shop_served.url("/controls"))
    figure = tab.locator("a.figure").first
    figure.focus()
    tab.keyboard.press("Enter")
    dialog = tab.get_by_role("dialog", name="Bow")
    expect(dialog).to_be_visible()
    assert violations(tab) == []
    tab.keyboard.press("Escape")
    expect(dialog).to_be_hidden()
    expect(figure).to_be_focused()
    figure.click()
    dialog.get_by_role("button", name="Close").click()
    expect(dialog).to_be_hidden()


def test_a_fault_of_a_part_is_shown_and_the_page_stays(tab: Page, shop_served: Served) -> None:
    """An answer of 4xx to a part of a page is told at the top of it; what was typed stays."""
    tab.goto(shop_served.url("/controls"))
    tab.get_by_label("Note").fill("typed before")
    tab.evaluate("() => htmx.ajax('GET', '/jobs/none/nothing', '#main')")
    expect(tab.locator("#told")).to_contain_text("leads to nothing")
    expect(tab.locator("#told")).to_be_focused()
    expect(tab.get_by_label("Note")).to_have_value("typed before")


def test_a_shop_that_is_gone_is_told_of(tab: Page, shop_served: Served) -> None:
    """Where the shop's computer does not answer, a part of a page says so, and a whole page is the one for it."""
    tab.goto(shop_served.url("/controls"))
    tab.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    tab.wait_for_function("() => navigator.serviceWorker.controller !== null")
    tab.context.set_offline(True)
    tab.evaluate("() => htmx.ajax('GET', '/jobs/none/nothing', '#main').catch(() => {})")
    expect(tab.locator("#told")).to_contain_text("does not answer")
    tab.goto(shop_served.url("/jobs/{new}"))
    expect(tab.get_by_role("heading", level=1)).to_have_text("The shop's computer does not answer")
    assert tab.evaluate("() => getComputedStyle(document.querySelector('.sheet')).borderTopStyle") == "solid"
    kept = tab.evaluate(
        """async () => { const names = await caches.keys(); const kept = await caches.open(names[0]);
           return (await kept.keys()).map(request => new URL(request.url).pathname) }"""
    )
    assert all(path.startswith("/static/") or path in ("/offline", "/weld-shell") for path in kept)
    tab.context.set_offline(False)


def test_an_empty_shop_says_what_to_do(tab: Page, empty_shop: Served) -> None:
    """Who comes first is told what a job is and offered a new one and the demo."""
    tab.goto(empty_shop.url("/"))
    expect(tab.get_by_role("link", name="New job")).to_be_visible()
    expect(tab.get_by_role("button", name="Open the demo job")).to_be_visible()
    assert violations(tab) == []


def test_a_walk_through_the_first_stage(tab: Page, shop_served: Served) -> None:
    """From the list to the job, its readings there, the hold point signed line by line, and the stage is done."""
    job = made_up(shop_served.store, "Walked by a person", "W-1")
    job.readings("before")
    tab.goto(shop_served.url("/"))
    tab.get_by_role("link", name="Walked by a person").click()
    tab.get_by_role("link", name="Look and sign").click()
    for line in tab.locator(".answer").all():
        line.get_by_role("radio", name="yes").check()
    tab.get_by_label("Signed by").fill("Ann Önal")
    tab.get_by_role("button", name="Sign").click()
    expect(tab.locator(".notice.well")).to_contain_text("Signed by Ann Önal")
    expect(tab.locator(".stages li").first).to_contain_text("done")
    expect(tab.locator(".at-bench summary")).to_contain_text("Ann Önal")
    assert [e.kind for e in shop_served.store.events(job.job)] == [
        "job file",
        "readings",
        "sign-off",
        "stage",
    ]


def test_a_form_sent_twice_counts_once(tab: Page, shop_served: Served) -> None:
    """Two quick taps write one note."""
    job = made_up(shop_served.store, "Tapped twice", "W-2")
    tab.goto(shop_served.url(f"/jobs/{job.job}"))
    tab.get_by_label("What is worth writing down").fill("once")
    tab.get_by_role("button", name="Keep the note").dblclick()
    expect(tab.locator(".note-words")).to_have_text("once")
    assert [e.kind for e in shop_served.store.events(job.job)] == ["job file", "note"]


def test_less_motion_is_respected(browser: Browser, shop_served: Served) -> None:
    """Where less motion is asked for, nothing moves by itself."""
    context = browser.new_context(reduced_motion="reduce")
    page = context.new_page()
    page.goto(shop_served.url("/controls"))
    moving = page.evaluate("() => document.getAnimations().length")
    context.close()
    assert moving == 0
