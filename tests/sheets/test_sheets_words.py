"""Numbers and names as they stand on drawings and sheets."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from sample_report import all_round, clock_face, sample_report, straight, upright

from axlewright.sheets import wording
from axlewright.sheets.places import clock_at, mark, mark_along, runs_along_axle, seam_works
from axlewright.sheets.summary import summary
from axlewright.sheets.text import _font, breakable, clean, drawable, fitted, width_of


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0.0, ""), (0.2, "5 s"), (45.0, "45 s"), (61.0, "1 min 5 s"), (150.0, "2 min 30 s"), (900.0, "15 min")],
)
def test_waits_are_rounded_up(seconds: float, words: str) -> None:
    """A wait is never shown shorter than planned, and by less than five seconds longer."""
    assert wording.wait(seconds) == words


@pytest.mark.parametrize(
    ("shown", "expected"),
    [
        (wording.angle(-0.084), "−0.08°"),
        (wording.angle(0.31), "+0.31°"),
        (wording.angle(0.001), "0.00°"),
        (wording.deflection(-0.00025, False), "−0.25 mm"),
        (wording.deflection(0.00025, True), "+0.010 in"),
        (wording.temperature(65.0, False), "65 °C"),
        (wording.temperature(65.0, True), "149 °F"),
        (wording.weld_size(0.0035, False), "3.5 mm"),
        (wording.weld_size(0.0035, True), "0.14 in"),
        (wording.length(0.32385, True), "12 3/4 in"),
        (wording.band("−0.34 mm", "−0.16 mm"), "−0.34 to −0.16 mm"),
        (wording.band("−0.11°", "+0.05°"), "−0.11° to +0.05°"),
    ],
)
def test_numbers_carry_sign_and_unit(shown: str, expected: str) -> None:
    """Numbers stand with a true minus, a plus where above nought, and their unit."""
    assert shown == expected


def test_signs_are_put_into_words() -> None:
    """Each sign has its own words, and what rounds to nought has neither."""
    assert wording.camber_meaning(-0.3) == "top leans in"
    assert wording.camber_meaning(0.3) == "top leans out"
    assert wording.camber_meaning(0.004) == "upright"
    assert wording.toe_word(-0.3) == "toe-out"
    assert wording.bow_meaning(-0.0003, True) == "middle down"
    assert wording.bow_meaning(0.0003, False) == "middle forward"


def test_overloaded_tacks_are_called_overloaded() -> None:
    """A tack load above its strength says so beside the figure."""
    report = sample_report(full=False)
    totals = replace(report.ours.totals, tack_utilisation=1.12, seal_c=None)
    rows = {row[0]: row for row in summary(replace(report, ours=replace(report.ours, totals=totals)))}
    assert rows["tack load, of its strength"][1] == "112 %, overloaded"
    assert rows["tack load, of its strength"][3] == "78 %"
    assert rows["seal, at most"][1:] == ["", "", "38 °C", ""]


def test_tapes_serve_only_seams_along_the_axle() -> None:
    """Seams along the axle are read from the flange in both directions; round and upright ones are not."""
    assert runs_along_axle(straight("a", "b", (0.2, 1.1)))
    assert runs_along_axle(straight("a", "b", (1.1, 0.2)))
    assert not runs_along_axle(upright("a", "b", 0.2, 0.1))
    climbing = replace(
        straight("a", "b", (0.2, 1.1)),
        path_s=np.array([0.0, 0.4, 0.7, 1.1]),
        path_x=np.array([0.2, 0.6, 0.7, 1.1]),
    )
    assert not runs_along_axle(climbing)
    assert runs_along_axle(replace(climbing, openings=((0.4, 0.7),)))
    assert not runs_along_axle(all_round("a", (0.2, 0.28), 0.06))
    assert not runs_along_axle(clock_face("a", 0.15))


@pytest.mark.analytical
def test_marks_name_flange_distance_clock_or_distance_along_the_seam() -> None:
    """A mark is a tape reading, a clock position, or a tape reading with the distance along the seam."""
    assert mark(straight("a", "b", (1.1, 0.2)), 0.1, False) == "1000 mm"
    round_seam = all_round("a", (0.2, 0.28), 0.06)
    assert (mark(round_seam, 0.1, False), mark_along(round_seam, 0.1, False)) == ("280 mm", "seam 100 mm")
    guard = clock_face("a", 0.15)
    assert (mark(guard, guard.length * 0.375, False), mark_along(guard, 0.1, False)) == ("4:30 o'clock", "")


@pytest.mark.analytical
def test_clock_runs_on_past_twelve() -> None:
    """A path from 10 o'clock past 12 reads 1 o'clock after it, and past a closed joint too."""
    guard = clock_face("a", 0.15)
    turned = replace(guard, path_clock=(np.linspace(10.0, 22.0, 49) - 1.0) % 12.0 + 1.0)
    assert clock_at(turned, 0.25 * guard.length) % 12.0 == pytest.approx(1.0)
    assert clock_at(turned, 1.25 * guard.length) % 12.0 == pytest.approx(1.0)
    with pytest.raises(ValueError, match="no clock face"):
        clock_at(straight("a", "b", (0.2, 1.1)), 0.1)


def test_seams_of_one_attachment_stand_together() -> None:
    """However the report orders its seams, one attachment is not torn apart, and no bead is lost."""
    report = sample_report(full=True)
    works = seam_works(replace(report, seams=report.seams[::2] + report.seams[1::2]))
    names = [work.line.attachment for work in works]
    assert len(list(dict.fromkeys(names))) == sum(a != b for a, b in itertools.pairwise([None, *names]))
    assert sum(len(work.beads) for work in works) == len(report.ours.beads)


@given(st.text(max_size=80))
def test_any_text_can_be_drawn_on_one_line(text: str) -> None:
    """Whatever a name holds, what is drawn has a shape for each character and no break."""
    shown = drawable(text)
    assert all(_font(bold=False).get_char_index(ord(mark)) for mark in shown)
    assert shown.isprintable() or not shown


@given(st.text(alphabet=st.characters(codec=None), max_size=60))
@example("half \ud83d turned \u202e zero \x00 line \u2028")
def test_clean_text_can_be_encoded(text: str) -> None:
    """Lone halves of characters, control characters and marks that turn the text are gone."""
    shown = clean(text)
    shown.encode("utf-8")
    assert not {"\n", "\x00", "\u202e", "\u2028"} & set(shown)
    assert clean(shown) == shown


@given(st.text(max_size=60), st.floats(8.0, 60.0))
def test_fitted_text_fits(text: str, width: float) -> None:
    """Cut text is never wider than asked for."""
    assert width_of(fitted(text, width, 9.0), 9.0) <= width


def test_long_words_may_be_broken() -> None:
    """A word without blanks gets invisible places to break, and nothing else changes."""
    broken = breakable("x" * 100 + " short")
    assert broken.replace("\u200b", "") == "x" * 100 + " short"
    assert max(len(part) for part in broken.replace(" ", "\u200b").split("\u200b")) <= 28
