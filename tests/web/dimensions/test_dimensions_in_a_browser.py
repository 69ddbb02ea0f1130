"""Filling in the dimensions form in a real browser."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect
from web.browser.served import Served
from web.dimensions.forms import typed_demo
from web.shop_made import made_up

from axlewright.job import demo_text, parse_job
from axlewright.tasks.keeping import job_of
from axlewright.tasks.standing import stands as state

pytestmark = pytest.mark.xdist_group("browser")

MEASURE = "[data-field='{}'] .measure"


def opened(tab: Page, served: Served) -> str:
    """Open the form of a job of its own; its name."""
    job = made_up(served.store, "Truck for the form").job
    tab.goto(served.url(f"/jobs/{job}/dimensions"))
    return job


def length_of(tab: Page, field: str) -> float:
    """Length of a dimension line on the drawing."""
    line = tab.locator(MEASURE.format(field))
    return abs(float(line.get_attribute("x2") or 0) - float(line.get_attribute("x1") or 0))


def test_the_drawing_follows_the_typing(tab: Page, shop_served: Served) -> None:
    """The drawing changes while a length is typed, without leaving the field, and the field in focus is highlighted."""
    opened(tab, shop_served)
    before = length_of(tab, "housing.perch.0.at")
    tab.locator("#f-housing-perch-0-at").click()
    expect(tab.locator("[data-field='housing.perch.0.at']")).to_have_class(re.compile("now"))
    tab.locator("#f-housing-perch-0-at").press_sequentially("0", delay=20)
    tab.locator("#f-housing-perch-0-at").fill("224")
    expect(tab.locator("[data-field='housing.perch.0.at'] text")).to_have_text("224")
    assert length_of(tab, "housing.perch.0.at") == pytest.approx(2 * before, rel=1e-4)
    expect(tab.locator("#f-housing-perch-0-at")).to_be_focused()
    expect(tab.locator(".dimension.now")).to_have_count(1)
    tab.locator("#f-housing-length").focus()
    expect(tab.locator(".dimension.now")).to_have_attribute("data-field", "housing.length")


def test_fast_typing_ends_with_the_last_value(tab: Page, shop_served: Served) -> None:
    """However fast it is typed, the drawing ends with what stands in the field: old answers do not overtake."""
    opened(tab, shop_served)
    field = tab.locator("#f-housing-length")
    for value in range(1300, 1330):
        field.fill(str(value))
        tab.wait_for_timeout(15)
    expect(tab.locator("[data-field='housing.length'] text")).to_have_text("1329")
    tab.wait_for_timeout(400)
    expect(tab.locator("[data-field='housing.length'] text")).to_have_text("1329")


def test_messages_come_when_a_field_is_left(tab: Page, shop_served: Served) -> None:
    """A wrong value is told at its field once that is left, and no longer once it is right."""
    opened(tab, shop_served)
    wall, message = tab.locator("#f-housing-left_tube-wall"), tab.locator("#m-housing-left_tube-wall")
    wall.fill("80")
    tab.wait_for_timeout(400)
    expect(message).to_be_hidden()
    wall.press("Tab")
    expect(message).to_have_text(re.compile("80 mm: must be 2 to 25 mm"))
    expect(wall).to_have_attribute("aria-invalid", "true")
    expect(tab.locator("#standing")).to_contain_text("1 to put right")
    wall.fill("8.5")
    wall.press("Tab")
    expect(message).to_be_hidden()
    expect(wall).not_to_have_attribute("aria-invalid", "true")
    expect(tab.locator("#standing")).to_have_text("Everything fits together.")


def test_from_typing_to_saved(tab: Page, shop_served: Served) -> None:
    """Changed, switched to inches, refused with the message at the field, put right and saved."""
    job = opened(tab, shop_served)
    tab.locator("#f-housing-centre-height").fill("301.625")
    tab.get_by_role("radio", name="inch").check()
    expect(tab.locator("#f-housing-centre-height")).to_have_value("11 7/8")
    expect(tab.locator("[data-of='housing.length'] .unit")).to_have_text("in")
    tab.locator("#f-welder-tack_length").fill("5")
    tab.get_by_role("button", name="Save", exact=True).click()
    expect(tab.locator("#summary")).to_be_focused()
    tab.locator("#summary a").first.click()
    expect(tab.locator("#f-welder-tack_length")).to_be_focused()
    expect(tab.locator("#m-welder-tack_length")).to_be_visible()
    tab.locator("#f-welder-tack_length").fill("3/4")
    tab.get_by_role("button", name="Save", exact=True).click()
    expect(tab.get_by_text("The comments in it go.")).to_be_visible()
    tab.get_by_role("button", name="Save", exact=True).click()
    tab.wait_for_url(f"**/jobs/{job}")
    made = job_of(shop_served.store, state(shop_served.store, job))
    assert made.inch
    assert made.housing.centre.height == 0.301625
    assert made.welder.tack_length == 0.01905


def test_rows_and_mirror(tab: Page, shop_served: Served) -> None:
    """A gusset is added and mirrored without the page being left, and the new entry is gone to."""
    opened(tab, shop_served)
    tab.get_by_role("button", name="Mirror Gusset 1 to the other side").click()
    expect(tab.locator("#f-gusset-4-name")).to_be_focused()
    expect(tab.locator("#f-gusset-4-end")).to_have_value("right")
    tab.get_by_role("button", name="Add below corner 2").click()
    expect(tab.locator("#f-truss-0-top-2-0")).to_be_focused()
    tab.get_by_role("button", name="Remove corner 3", exact=True).click()
    expect(tab.locator("#f-truss-0-top-2-0")).to_have_value("620")


def test_a_whole_new_job(tab: Page, shop_served: Served) -> None:
    """A new job by form: rows added by button, every field typed, and it is the demo's housing."""
    tab.goto(shop_served.url("/jobs/new"))
    tab.get_by_role("link", name="Fill in the form").click()
    tab.get_by_role("button", name="Add a truss").click()
    expect(tab.locator("#f-truss-0-name")).to_be_focused()
    for row in range(4):
        tab.get_by_role("button", name="Add a corner").click()
        expect(tab.locator(f"#f-truss-0-top-{row + 2}-0")).to_be_focused()
    for row in range(2):
        tab.get_by_role("button", name="Add a drain opening").click()
        expect(tab.locator(f"#f-truss-0-openings-{row}-seam")).to_be_focused()
    tab.locator("#f-housing-length").fill("1300")
    # The rest at once, as a browser that fills in forms would.
    texts = {name: text for name, text in typed_demo("truss-only").texts.items() if name != "units"}
    tab.evaluate(
        """texts => Object.entries(texts).forEach(([name, text]) => {
          const field = document.getElementById("dimensions").elements[name];
          field.value = text;
          field.dispatchEvent(new Event("input", { bubbles: true }));
        })""",
        texts,
    )
    tab.get_by_role("button", name="Begin the job").click()
    tab.wait_for_url(re.compile("/jobs/[0-9a-f]{32}$"))
    job = tab.url.rpartition("/")[2]
    made = job_of(shop_served.store, state(shop_served.store, job))
    assert made == parse_job(demo_text("truss-only"), "demo")
    tab.goto(shop_served.url("/jobs/new/dimensions"))
    expect(tab.locator("#draft-found")).to_be_hidden()


def test_a_draft_is_kept(tab: Page, shop_served: Served) -> None:
    """What was typed and not saved is offered when the page is opened again, rows and units with it."""
    job = opened(tab, shop_served)
    tab.locator("#f-housing-length").fill("1310")
    tab.get_by_role("button", name="Copy Gusset 1").click()
    expect(tab.locator("#f-gusset-4-name")).to_be_focused()
    tab.locator("#f-gusset-4-height").fill("50")
    tab.wait_for_timeout(500)
    tab.goto(shop_served.url(f"/jobs/{job}/dimensions"))
    expect(tab.locator("#f-housing-length")).to_have_value("1300")
    tab.get_by_role("button", name="Go on with it").click()
    expect(tab.locator("#f-gusset-4-height")).to_have_value("50")
    expect(tab.locator("#f-housing-length")).to_have_value("1310")
    tab.goto(shop_served.url(f"/jobs/{job}/dimensions"))
    tab.get_by_role("button", name="Throw it away").click()
    tab.reload()
    expect(tab.locator("#draft-found")).to_be_hidden()


def test_focus_is_not_hidden_on_a_phone(tab: Page, shop_served: Served) -> None:
    """On a phone the field in focus lies between the drawing above and the save bar below, for every tenth field."""
    opened(tab, shop_served)
    tab.set_viewport_size({"width": 360, "height": 740})
    assert tab.evaluate("document.documentElement.scrollWidth") == 360
    fields = tab.locator("#dimensions .fields input:not([type=hidden])")
    for n in range(0, fields.count(), 10):
        field = fields.nth(n)
        field.evaluate("one => { scrollTo(0, 0); one.focus(); }")
        seen = field.evaluate(
            """one => { const box = one.getBoundingClientRect();
              return document.elementFromPoint(box.left + 20, box.top + box.height / 2) === one; }"""
        )
        assert seen, field.get_attribute("name")
