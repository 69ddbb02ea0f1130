"""The plan's view in a real browser: loaded when seen, turned, played, read aloud, and without WebGL."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from plan.picture_read import ReadBack, read_back
from playwright.sync_api import Browser, Page, expect
from web.browser.served import Served, served
from web.browser.tabs import opened
from web.browser.test_every_page import SMALL_TARGETS, TARGET, violations
from web.view.viewed_plans import picture, with_picture

pytestmark = pytest.mark.xdist_group("browser")

COUNT_FRAMES = """() => { window.asked = 0; const real = window.requestAnimationFrame;
  window.requestAnimationFrame = (then) => { window.asked += 1; return real.call(window, then); }; }"""


@pytest.fixture(scope="module")
def plans(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A shop with two plans that have a picture."""
    with served(tmp_path_factory.mktemp("views"), filled=False) as shop:
        jobs = {
            "axle": with_picture(shop.store)[0].job,
            "inch": with_picture(shop.store, "clamped-inch")[0].job,
        }
        yield Served(shop.address, jobs, shop.store)


@pytest.fixture(scope="module")
def drawn() -> ReadBack:
    """What the picture holds."""
    return read_back(picture())


def show(page: Page, plans: Served, job: str = "axle") -> Page:
    """The plan page with its view in sight and ready."""
    page.goto(plans.url(f"/jobs/{{{job}}}/plan"))
    page.locator("[data-view]").scroll_into_view_if_needed()
    page.wait_for_selector('[data-ready="yes"]')
    page.wait_for_timeout(400)
    return page


def seen(page: Page) -> bytes:
    """What the picture looks like now."""
    page.wait_for_timeout(400)
    return page.locator(".view-picture").screenshot()


def scrub(page: Page, moment: int) -> None:
    """Drag the slider to a moment."""
    page.locator("#view-time").evaluate(
        "(slider, n) => { slider.value = n; slider.dispatchEvent(new Event('input')); }", moment
    )


def told(page: Page) -> str:
    """The line that says what the picture shows."""
    return page.locator('[data-part="line"]').inner_text()


def test_it_is_fetched_when_it_comes_into_sight(tab: Page, plans: Served) -> None:
    """Neither picture nor three.js comes with the page; both come once the view is scrolled to, each once."""
    asked: list[str] = []
    tab.on("request", lambda request: asked.append(request.url))
    tab.goto(plans.url("/jobs/{axle}/plan"))
    tab.wait_for_timeout(400)
    assert not [url for url in asked if "view.bin" in url or "three.min.js" in url]
    tab.locator("[data-view]").scroll_into_view_if_needed()
    tab.wait_for_selector('[data-ready="yes"]')
    assert len([url for url in asked if "view.bin" in url]) == 1
    assert len([url for url in asked if "three.min.js" in url]) == 1


def test_buttons_go_from_bead_to_bead_and_words_follow(tab: Page, plans: Served, drawn: ReadBack) -> None:
    """Next and previous go to the starts of beads; line, slider and step list say the same bead."""
    show(tab, plans)
    assert told(tab).startswith("Tacked up.")
    for _ in range(3):
        tab.get_by_role("button", name="Next bead").click()
    third = drawn.header["beads"][2]
    assert f"Bead 3 of 36, {third['tag']}: {third['attachment']}, {third['seam']}" in told(tab)
    assert f"{third['spot_c']:.0f} °C" in told(tab)
    words = tab.locator("#view-time").get_attribute("aria-valuetext") or ""
    assert f"bead 3 of 36, {third['tag']}" in words and "spot" in words
    tab.get_by_text("All beads in order").click()
    step = tab.locator('.view-list [aria-current="step"]')
    expect(step).to_contain_text(third["tag"])
    tab.get_by_role("button", name="Previous bead").click()
    assert "Bead 2 of 36" in told(tab)
    tab.locator('[data-part="steps"] button').nth(11).click()
    assert "Bead 12 of 36" in told(tab)


def test_the_last_moment_tells_the_cold_shape(tab: Page, plans: Served, drawn: ReadBack) -> None:
    """At the end of the slider the words give bow, camber and toe of the cold housing, and ambient temperature."""
    show(tab, plans)
    scrub(tab, len(drawn.arrays["time"]) - 1)
    assert told(tab).startswith("All is cold")
    bow, _, camber, *_ = drawn.arrays["figures"][-1].tolist()
    figures = tab.locator('[data-part="figures"]').inner_text()
    assert f"{abs(1000 * bow):.2f} mm {'up' if bow > 0 else 'down'}" in figures
    assert f"{abs(camber):.2f}°" in figures
    assert f"{drawn.header['ambient_c']:.0f} °C" in figures


def test_everything_works_by_keyboard(tab: Page, plans: Served) -> None:
    """Arrow keys scrub on the slider and turn on the picture; plus zooms, 0 shows all again; Enter plays and pauses."""
    show(tab, plans)
    tab.locator("#view-time").focus()
    tab.keyboard.press("ArrowRight")
    assert tab.locator("#view-time").input_value() == "1"
    stood = tab.locator(".view-picture")
    stood.focus()
    looks = [seen(tab)]
    for key in ("ArrowLeft", "ArrowUp", "+"):
        tab.keyboard.press(key)
        looks.append(seen(tab))
    assert len(set(looks)) == 4
    tab.keyboard.press("0")
    assert seen(tab) == looks[0]
    play = tab.locator('[data-part="play"]')
    play.focus()
    tab.keyboard.press("Enter")
    expect(play).to_have_text("Pause")
    tab.wait_for_timeout(900)
    tab.keyboard.press("Enter")
    expect(play).to_have_text("Play")
    stopped = tab.locator("#view-time").input_value()
    assert int(stopped) > 1
    tab.wait_for_timeout(300)
    assert tab.locator("#view-time").input_value() == stopped


def test_a_finger_turns_it_and_two_zoom(browser: Browser, plans: Served) -> None:
    """Dragging turns the housing, pinching makes it larger, and the page does not scroll meanwhile."""
    context = browser.new_context(viewport={"width": 820, "height": 1180}, has_touch=True)
    page = show(context.new_page(), plans)
    box = page.locator(".view-picture").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    session = context.new_cdp_session(page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        session.send(
            "Input.dispatchTouchEvent",
            {"type": kind, "touchPoints": [{"x": a, "y": b, "id": n} for n, (a, b) in enumerate(points)]},
        )

    scrolled = page.evaluate("window.scrollY")
    before = seen(page)
    touch("touchStart", (x, y))
    for step in range(1, 8):
        touch("touchMove", (x + 12 * step, y + 3 * step))
    touch("touchEnd")
    turned = seen(page)
    assert turned != before
    touch("touchStart", (x - 40, y), (x + 40, y))
    for step in range(1, 8):
        touch("touchMove", (x - 40 - 10 * step, y), (x + 40 + 10 * step, y))
    touch("touchEnd")
    assert seen(page) != turned
    assert page.evaluate("window.scrollY") == scrolled
    context.close()


def test_a_tap_on_a_bead_goes_to_its_start(tab: Page, plans: Served) -> None:
    """A tap beside the number of a bead, where the bead is, goes to the start of a bead right there."""
    show(tab, plans)
    tab.locator('[data-look="behind"]').click()
    tab.wait_for_timeout(400)
    box = tab.locator(".view-label.bead:not(.now):not(.behind):visible").first.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] + 5
    tab.mouse.click(x, y)
    tab.wait_for_timeout(400)
    assert told(tab).startswith("Bead ") and "The arc starts" in told(tab)
    present = tab.locator(".view-label.bead.now:visible").bounding_box()
    assert present is not None
    assert abs(present["x"] + present["width"] / 2 - x) < 60 and abs(present["y"] - y) < 60


def test_numbers_do_not_cover_one_another(tab: Page, plans: Served) -> None:
    """Zoomed in, where all numbers are shown, no two of them overlap but for the present one."""
    show(tab, plans)
    tab.set_viewport_size({"width": 360, "height": 740})
    for _ in range(2):
        tab.get_by_role("button", name="Zoom in").click()
    tab.wait_for_timeout(400)
    boxes = tab.locator(".view-label.bead:not(.now):visible").evaluate_all(
        """(labels) => labels.map((each) => each.getBoundingClientRect()).map((b) => [b.x, b.y, b.right, b.bottom])"""
    )
    assert len(boxes) >= 3
    for n, a in enumerate(boxes):
        for b in boxes[n + 1 :]:
            assert not (a[0] < b[2] - 2 and b[0] < a[2] - 2 and a[1] < b[3] - 2 and b[1] < a[3] - 2)


def test_it_lies_as_on_the_bench(tab: Page, plans: Served, drawn: ReadBack) -> None:
    """Ticked, the housing is drawn as it is turned at that moment, and the words say how it lies."""
    show(tab, plans)
    turned = next((n for n, turn in enumerate(drawn.arrays["turn"]) if turn), None)
    scrub(tab, turned or 3)
    before = seen(tab)
    tab.get_by_label("As it lies on the bench").check()
    assert "The housing lies" in told(tab)
    assert (seen(tab) != before) == (turned is not None)


def test_nothing_is_drawn_while_nothing_changes(tab: Page, plans: Served) -> None:
    """Standing still, the page asks for no further pictures: an old laptop stays cool."""
    show(tab, plans)
    tab.wait_for_timeout(600)
    tab.evaluate(COUNT_FRAMES)
    tab.wait_for_timeout(1000)
    assert tab.evaluate("window.asked") == 0
    tab.locator(".view-picture").focus()
    tab.keyboard.press("ArrowLeft")
    tab.wait_for_timeout(600)
    assert 1 <= tab.evaluate("window.asked") <= 2


def test_with_less_motion_it_steps_from_bead_to_bead(
    browser: Browser, plans: Served, drawn: ReadBack
) -> None:
    """Where the browser asks for less motion, playing shows the starts of beads only."""
    context = browser.new_context(reduced_motion="reduce", viewport={"width": 1366, "height": 900})
    page = show(context.new_page(), plans)
    shown: set[int] = set()
    page.locator('[data-part="play"]').click()
    for _ in range(50):
        shown.add(int(page.locator("#view-time").input_value()))
        page.wait_for_timeout(100)
    starts = {
        n
        for n, doing in enumerate(drawn.arrays["doing"])
        if drawn.header["doing_words"][doing] == "arc starts"
    }
    assert len(shown) >= 3 and shown <= starts | {0}
    context.close()


def test_without_webgl_words_and_steps_still_tell_the_plan(tab: Page, plans: Served) -> None:
    """A browser that cannot draw in three dimensions says so; buttons, slider and words work."""
    tab.add_init_script("HTMLCanvasElement.prototype.getContext = () => null;")
    show(tab, plans)
    expect(tab.locator('[data-part="waits"]')).to_contain_text("cannot draw in three dimensions")
    tab.get_by_role("button", name="Next bead").click()
    assert "Bead 1 of 36" in told(tab)


def test_a_lost_picture_is_told_of_and_comes_back(tab: Page, plans: Served) -> None:
    """When the graphics are taken away, the page says so and goes on telling; given back, it draws again."""
    show(tab, plans)
    before = seen(tab)
    tab.evaluate(
        """() => { const gl = document.querySelector('.view-picture canvas').getContext('webgl2');
                   window.lost = gl.getExtension('WEBGL_lose_context'); window.lost.loseContext(); }"""
    )
    expect(tab.locator('[data-part="waits"]')).to_contain_text("was lost")
    tab.get_by_role("button", name="Next bead").click()
    assert "Bead 1 of 36" in told(tab)
    tab.get_by_role("button", name="Previous bead").click()
    tab.evaluate("() => window.lost.restoreContext()")
    expect(tab.locator('[data-part="waits"]')).to_be_hidden()
    assert seen(tab) == before


def test_dark_mode_changes_the_colours_at_once(tab: Page, plans: Served) -> None:
    """When the device goes dark, the picture is drawn anew in the colours for it."""
    show(tab, plans)
    light = seen(tab)
    tab.emulate_media(color_scheme="dark")
    assert seen(tab) != light


def test_a_shop_that_works_in_inches_reads_inches(tab: Page, plans: Served, drawn: ReadBack) -> None:
    """Temperatures are in degF and lengths in inches, on the scale, in the words and in the steps."""
    show(tab, plans, "inch")
    assert "°F" in tab.locator('[data-part="scale"]').inner_text()
    assert f"{1.8 * drawn.header['beads'][0]['spot_c'] + 32:.0f} °F" in told(tab)
    text = tab.locator('[data-part="figures"]').inner_text()
    assert " in " in text and "mm" not in text
    tab.get_by_text("All beads in order").click()
    assert "/16 in" in tab.locator('[data-part="steps"]').inner_text()


@pytest.mark.parametrize("size", ["phone", "tablet", "desktop"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_can_be_used_by_everybody(browser: Browser, plans: Served, size: str, scheme: str) -> None:
    """No violation of WCAG 2.2 AA that axe finds, every target at least 48 px, no sideways scrolling."""
    for page in opened(browser, size, scheme):
        show(page, plans)
        page.get_by_role("button", name="Next bead").click()
        for summary in page.locator(".view details > summary").all():
            summary.click()
        assert violations(page) == []
        assert page.evaluate(SMALL_TARGETS, TARGET) == []
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
