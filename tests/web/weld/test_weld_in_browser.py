"""The weld page in a real browser: arc, count-down, taps that wait, undo, marks, heat, and being read aloud."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from web.browser.tabs import opened
from web.browser.test_every_page import SMALL_TARGETS, TARGET, violations
from web.weld.welding import Welding, welding

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture
def weld(browser: Browser, tmp_path: Path) -> Iterator[Welding]:
    """A weld that is ready for the arc."""
    with welding(tmp_path / "shop") as ready:
        yield ready


@pytest.fixture
def page(tab: Page, weld: Welding) -> Page:
    """The weld page, its next bead told."""
    return shown(tab, weld)


def shown(tab: Page, weld: Welding, what: str = "go") -> Page:
    """The page once it shows what it should."""
    tab.goto(weld.url)
    tab.wait_for_selector(f'[data-shows="{what}"]')
    return tab


def sees(page: Page, what: str) -> None:
    """Wait until the page shows it."""
    expect(page.locator("[data-weld]")).to_have_attribute("data-shows", what)


def told(weld: Welding) -> list[tuple[str, str]]:
    """Events and beads, as they were written down."""
    return [(event.get("event", event["kind"]), event.get("bead", "")) for event in weld.companion.events]


def part(page: Page, name: str) -> str:
    """Words of a part of the page."""
    return page.locator(f'[data-part="{name}"]').inner_text()


def all_sent(page: Page, weld: Welding, count: int) -> None:
    """Wait until so many events are written down and nothing waits on the device."""
    expect(page.locator('[data-part="link"]')).to_have_text("Connected.")
    assert len(weld.companion.events) == count


def test_button_space_and_foot_switch_start_and_stop(page: Page, weld: Welding) -> None:
    """The arc starts and stops by the control, the space bar and any key; each is one event with its own key."""
    weld.companion.wait_s = 0.0
    page.locator('[data-part="arc"]').click()
    sees(page, "burning")
    page.wait_for_timeout(700)
    page.keyboard.press("Space")
    expect(page.locator('[data-part="tag"]')).to_have_text("B18")
    page.wait_for_timeout(700)
    page.keyboard.press("b")
    sees(page, "burning")
    assert "50 mm long" in part(page, "clock-says")
    page.wait_for_timeout(700)
    page.keyboard.press("b")
    expect(page.locator('[data-part="count"]')).to_have_text("2 of 12 beads laid")
    all_sent(page, weld, 4)
    assert told(weld) == [("start", "A5"), ("stop", "A5"), ("start", "B18"), ("stop", "B18")]
    assert len({event["key"] for event in weld.companion.events}) == 4


def test_a_bouncing_switch_counts_once(page: Page, weld: Welding) -> None:
    """Presses within half a second, a key held down and a double click are one tap."""
    for _ in range(3):
        page.keyboard.press("b")
    page.keyboard.down("x")
    page.keyboard.down("x")
    page.keyboard.up("x")
    page.locator('[data-part="arc"]').dblclick()
    sees(page, "burning")
    all_sent(page, weld, 1)


def test_keys_with_another_use_are_no_switch(page: Page, weld: Welding) -> None:
    """Tab, arrows, keys with Control, the space bar on another button and what is typed in a dialog start no arc."""
    for key in ("Tab", "ArrowDown", "PageDown", "Control+c", "F2", "Escape"):
        page.keyboard.press(key)
    page.get_by_role("button", name="Note").press("Space")
    expect(page.locator("#weld-note")).to_be_visible()
    page.locator("#note-words").fill("tip stuck")
    page.locator("#note-words").press("b")
    page.get_by_role("button", name="Keep the note").click()
    all_sent(page, weld, 1)
    assert weld.companion.events[0]["note"] == "tip stuckb"


def test_the_count_down_ends_by_itself(page: Page, weld: Welding) -> None:
    """After a bead the wait counts down by the clock; when it is over the page says go, and the sound for it is due."""
    page.evaluate(
        "() => { window.heard = []; document.addEventListener('weld:sound', e => heard.push(e.detail)) }"
    )
    page.keyboard.press("Space")
    sees(page, "burning")
    page.wait_for_timeout(700)
    page.keyboard.press("Space")
    sees(page, "wait")
    assert re.fullmatch(r"0:0[123]", part(page, "clock"))
    sees(page, "go")
    assert page.evaluate("heard") == ["go"]


def test_too_hot_is_another_sound_and_said_at_once(page: Page, weld: Welding) -> None:
    """What must stop is told as an alert, with the sound for stop, once."""
    page.evaluate(
        "() => { window.heard = []; document.addEventListener('weld:sound', e => heard.push(e.detail)) }"
    )
    weld.companion.more["stop"] = "The skin is at 92 °C."
    expect(page.get_by_role("alert").filter(has_text="92 °C")).to_be_visible()
    page.wait_for_timeout(300)
    assert page.evaluate("heard") == ["stop"]


def test_sounds_are_made_once_asked_for(page: Page) -> None:
    """Sound is off until tapped, says that it is on, and is remembered over a reload."""
    sound = page.locator('[data-part="sound"]')
    expect(sound).to_have_text("Sound: off")
    sound.click()
    expect(sound).to_have_attribute("aria-pressed", "true")
    page.reload()
    expect(sound).to_have_text(re.compile("Sound: on|Tap for sound"))
    page.mouse.click(5, 5)
    expect(sound).to_have_text("Sound: on")


def test_taps_wait_while_offline_and_come_once_each_in_order(page: Page, weld: Welding) -> None:
    """Offline the page goes on by itself and says how many taps wait; back again, each comes once, in order."""
    weld.companion.wait_s = 1.0
    page.context.set_offline(True)
    for _ in range(3):
        page.keyboard.press("Space")
        page.wait_for_timeout(700)
    expect(page.locator('[data-part="link"]')).to_contain_text("Not connected: 3 taps wait")
    assert weld.companion.events == []
    page.context.set_offline(False)
    expect(page.locator('[data-part="link"]')).to_have_text("Connected.", timeout=15000)
    assert told(weld) == [("start", "A5"), ("stop", "A5"), ("start", "B18")]
    times = [event["told_at"] for event in weld.companion.events]
    assert times == sorted(times)


def test_an_answer_that_is_lost_counts_once(page: Page, weld: Welding) -> None:
    """Where the shop wrote a tap down and its answer was lost, the retry has the same key and counts once."""
    weld.companion.breaks = 2
    page.keyboard.press("Space")
    all_sent(page, weld, 1)
    assert weld.companion.posts == 3


def test_the_page_opens_while_the_shop_is_away(page: Page, weld: Welding) -> None:
    """Loaded anew without the shop's computer, the page shows the next bead and its seam, and keeps taps."""
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    page.context.set_offline(True)
    page.reload()
    sees(page, "go")
    assert part(page, "tag") == "A5"
    expect(page.locator('[data-strip="A"]')).to_be_visible()
    page.keyboard.press("Space")
    sees(page, "burning")
    expect(page.locator('[data-part="link"]')).to_contain_text("Not connected: 1 tap waits")
    page.context.set_offline(False)
    page.reload()
    all_sent(page, weld, 1)


def test_undo_takes_back_the_last_tap(page: Page, weld: Welding) -> None:
    """Undo writes a withdrawal of the last tap; the bead is next again, and a second undo takes back the one before."""
    page.keyboard.press("Space")
    sees(page, "burning")
    page.get_by_role("button", name="Undo: start A5").click()
    sees(page, "go")
    all_sent(page, weld, 2)
    taken = weld.companion.events[1]
    assert taken["kind"] == "withdrawal"
    assert weld.companion.amended(taken) == 10
    expect(page.get_by_role("button", name="Undo", exact=True)).to_be_disabled()


def test_a_longer_bead_puts_its_stop_right(page: Page, weld: Welding) -> None:
    """After a stop its mark is stepped up by a glove; an event in place of the stop carries it, and its time."""
    page.keyboard.press("Space")
    sees(page, "burning")
    page.wait_for_timeout(700)
    page.keyboard.press("Space")
    sees(page, "wait")
    page.get_by_role("button", name="Longer, shorter, skipped").click()
    expect(page.locator("#length-end")).to_have_value("455 mm")
    page.get_by_role("button", name="Stopped at: much more").click()
    page.get_by_role("button", name="Stopped at: more").click()
    page.get_by_role("button", name="Keep these marks").click()
    all_sent(page, weld, 3)
    stop, right = weld.companion.events[1:]
    assert (right["event"], right["bead"], right["end"], right["start"]) == ("stop", "A5", "466 mm", "")
    assert weld.companion.amended(right) == 11 and right["told_at"] == stop["told_at"]


def test_a_bead_can_be_skipped(page: Page, weld: Welding) -> None:
    """A skipped bead is told and the next one stands."""
    page.get_by_role("button", name="Longer, shorter, skipped").click()
    page.get_by_role("button", name="Skip A5").click()
    expect(page.locator('[data-part="tag"]')).to_have_text("B18")
    all_sent(page, weld, 1)
    assert told(weld) == [("skip", "A5")]


def test_a_reading_is_drawn(page: Page, weld: Welding) -> None:
    """A reading goes to where the next bead starts unless told otherwise, and is drawn beside what was expected."""
    page.get_by_role("button", name="Temperature").click()
    expect(page.locator("#reading-where")).to_have_value("A5")
    page.get_by_role("button", name="What the thermometer shows: much more").click()
    page.get_by_role("button", name="Keep the reading").click()
    expect(page.locator(".weld-drift")).to_be_visible()
    assert weld.companion.events[0]["value"] == "54 degC"
    expect(page.locator('[data-part="drift"] li')).to_have_text(
        re.compile("A5: expected 41 °C, measured 54 °C")
    )


def test_something_else_is_laid_instead(page: Page, weld: Welding) -> None:
    """Another bead chosen from the list is next, said in words, and its start is what is told."""
    page.get_by_role("button", name="Something else").click()
    page.locator('[data-choose="A10"]').click()
    expect(page.locator('[data-part="tag"]')).to_have_text("A10")
    expect(page.locator('[data-part="changed"]')).to_have_text("The plan changed: now A10 instead of A5.")
    page.keyboard.press("Space")
    sees(page, "burning")
    all_sent(page, weld, 1)
    assert told(weld) == [("start", "A10")]


def test_a_cracked_tack_is_told(page: Page, weld: Welding) -> None:
    """A tack chosen from the list is told as cracked."""
    page.get_by_role("button", name="A tack cracked").click()
    page.locator('[data-crack="T4"]').click()
    all_sent(page, weld, 1)
    assert told(weld) == [("no tack", "T4")]


def test_a_doubt_is_asked_about(page: Page, weld: Welding) -> None:
    """A reading that does not fit opens a question; it can be taken back, and is asked about once."""
    page.get_by_role("button", name="Temperature").click()
    page.get_by_role("button", name="Keep the reading").click()
    all_sent(page, weld, 1)
    weld.companion.more["doubts"] = ["value, event 10: 44 degC is far from what can be there."]
    expect(page.locator("#weld-ask")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator("#weld-ask")).to_be_visible()
    page.get_by_role("button", name="Take it back: temperature A5").click()
    expect(page.locator("#weld-ask")).not_to_be_visible()
    all_sent(page, weld, 2)
    assert weld.companion.amended(weld.companion.events[1]) == 10


def test_nothing_is_asked_while_an_arc_burns(page: Page, weld: Welding) -> None:
    """A question waits until the arc is off; with a dialog open, a foot switch still stops the arc."""
    page.keyboard.press("b")
    sees(page, "burning")
    weld.companion.more["doubts"] = ["The tip may be stuck."]
    page.get_by_role("button", name="Cautions").click()
    page.wait_for_timeout(700)
    expect(page.locator("#weld-ask")).not_to_be_visible()
    page.keyboard.press("b")
    sees(page, "wait")
    page.locator("#weld-cautions").get_by_role("button", name="Close").click()
    expect(page.locator("#weld-ask")).to_contain_text("The tip may be stuck.")


def test_after_a_power_cut_the_bead_is_asked_about(page: Page, weld: Welding) -> None:
    """A bead that burned when the power went is asked about; "stopped at this mark" tells its stop with the mark."""
    weld.companion.more["unfinished"] = {
        "tag": "A5",
        "since": "2026-03-14T13:52:10Z",
        "number": 9,
        "to": "455 mm",
    }
    expect(page.get_by_role("heading", name="What happened to bead A5?")).to_be_visible()
    page.get_by_role("button", name="Stopped at: much less").click()
    page.get_by_role("button", name="It stopped at this mark").click()
    all_sent(page, weld, 1)
    assert (weld.companion.events[0]["event"], weld.companion.events[0]["end"]) == ("stop", "445 mm")


def test_a_refused_tap_is_told(page: Page, weld: Welding) -> None:
    """What the shop's computer will not write down is said, with why, and holds up nothing after it."""
    weld.companion.refuses = True
    page.keyboard.press("Space")
    expect(page.locator("#weld-ask")).to_contain_text("is not in the plan")
    page.get_by_role("button", name="I have seen it").click()
    sees(page, "go")


def test_tacks_are_ticked_one_by_one_or_at_once(tab: Page, weld: Welding) -> None:
    """In the tack stage tacks are ticked in the plan's order, then all at once; no arc control is there."""
    weld.companion.tacks = 8
    page = shown(tab, weld, "tacks")
    expect(page.locator('[data-part="arc"]')).to_be_hidden()
    page.locator('[data-tack="T1"]').click()
    expect(page.locator('[data-tack="T1"]')).to_have_attribute("aria-pressed", "true")
    expect(page.locator("[data-tack].next")).to_have_attribute("data-tack", "T2")
    page.get_by_role("button", name="All tacks are set").click()
    sees(page, "go")
    all_sent(page, weld, 2)
    assert told(weld) == [("tack", "T1"), ("tacks done", "")]


def test_held_there_is_no_arc(tab: Page, tmp_path: Path) -> None:
    """Before the hold point is signed no control and no key starts an arc; the cautions can be read."""
    with welding(tmp_path / "held", signed=False) as weld:
        page = shown(tab, weld)
        expect(page.locator('[data-part="arc"]')).to_be_hidden()
        page.keyboard.press("Space")
        page.get_by_role("button", name="Cautions").click()
        expect(page.locator("#weld-cautions")).to_be_visible()
        page.wait_for_timeout(300)
        assert weld.companion.events == []


def test_two_devices_see_the_same(page: Page, weld: Welding, browser: Browser) -> None:
    """What one device taps stands on the other within a second."""
    for other in opened(browser, "phone", "dark"):
        shown(other, weld)
        page.keyboard.press("Space")
        expect(other.locator("[data-weld]")).to_have_attribute("data-shows", "burning", timeout=1000)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", ["phone", "desktop"])
def test_nothing_keeps_anybody_out(browser: Browser, weld: Welding, size: str, scheme: str) -> None:
    """No violation of WCAG 2.2 AA, no target under 48 px, nothing wider than the screen, a control fit for gloves."""
    for page in opened(browser, size, scheme):
        shown(page, weld)
        for press in (False, True):
            if press:
                page.keyboard.press("Space")
                sees(page, "burning")
            assert violations(page) == []
            assert page.evaluate(SMALL_TARGETS, TARGET) == []
        box = page.locator('[data-part="arc"]').bounding_box()
        assert box is not None and box["height"] >= 96
        assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
        page.get_by_role("button", name="Temperature").click()
        assert violations(page) == []


def test_what_waits_is_worked_out_here(page: Page) -> None:
    """While taps wait the page knows by itself: a stop put right is still a stop, and undoing an undo counts again."""
    seen = page.evaluate(
        """async () => { const { project } = await import('/static/weld/project.js');
        const at = '2026-03-14T13:52:10Z';
        const bead = (tag) => ({ tag, wait_s: 30, start_at: at });
        const answer = { number: 5, state: 'ready', laid: 0, burning: null, next: ['A1', 'A2', 'A3'].map(bead) };
        const tap = (key, event, bead, more) =>
          ({ key, kind: 'bench', event, bead, told_at: '2026-03-14T13:53:00Z', ...more });
        const back = (key, amends_key) => ({ key, kind: 'withdrawal', amends_key });
        const first = [tap('a', 'start', 'A1'), tap('b', 'stop', 'A1')];
        const told = (taps) => { const s = project(answer, [], taps);
          return [s.burning?.tag ?? '', s.laid, s.next.map(one => one.tag).join(), s.next[0].start_at.slice(11, 19)] };
        return [told(first),
          told([...first, tap('c', 'start', 'A2'), tap('d', 'stop', 'A1', { amends_key: 'b', end: '9 mm' })]),
          told([...first, back('e', 'b')]), told([...first, back('e', 'b'), back('f', 'e')]),
          told([tap('g', 'stop', 'A9', { amends: 3 })]), project(answer, [{ ...first[0], number: 4 }], []).burning] }"""
    )
    assert seen == [
        ["", 1, "A2,A3", "13:53:30"],
        ["A2", 1, "A2,A3", "13:53:30"],
        ["A1", 0, "A1,A2,A3", "13:52:10"],
        ["", 1, "A2,A3", "13:53:30"],
        ["", 0, "A1,A2,A3", "13:52:10"],
        None,
    ]


def test_marks_step_as_on_the_tape(page: Page) -> None:
    """Marks are stepped by millimetres, sixteenths, minutes of the clock and degrees (analytical: sums by hand)."""
    stepped = page.evaluate(
        """async () => { const { stepped } = await import('/static/weld/marks.js');
        return [['310 mm', false, 1], ['12 3/4 in', false, 1], ['12 15/16 in', false, 1], ['12 3/4 in', true, -1],
          ['4:55', false, 2],
          ['12:00', false, -1], ['seam 40 mm', true, 1], ['-2 °C', true, 1], ['1/16 in', false, -1], ['door', false, 1]]
          .map(one => stepped(...one)) }"""
    )
    assert stepped == [
        "311 mm",
        "12 13/16 in",
        "13 in",
        "12 1/4 in",
        "5:05",
        "11:55",
        "seam 50 mm",
        "8 °C",
        "0 in",
        "door",
    ]
