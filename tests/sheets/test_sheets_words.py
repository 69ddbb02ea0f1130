"""Numbers and names as they stand on drawings and sheets."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from sample_report import all_round, clock_face, sample_report, straight, upright

from axlewright.plan.bead_words import runs_along_axle
from axlewright.sheets import wording
from axlewright.sheets.places import clock_at, mark, mark_along, seam_works
from axlewright.sheets.plain_text import breakable, clean
from axlewright.sheets.summary import summary
from axlewright.sheets.text import _font, drawable, fitted, width_of, wrapped
from axlewright.sheets.turns import enlarged_tacks, turns_before


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
    assert rows["seal, at most"][1:] == ["", "", "38 °C", "34 to 44 °C"]


def test_turns_and_distortion_stand_among_the_sums() -> None:
    """Turns with their time are listed where a plan has any, distortion with no sign in the shop's unit."""
    report = sample_report(full=False)
    rows = {row[0]: row for row in summary(report)}
    assert rows["turns of the housing"][1::2] == ["3", "none"]
    assert rows["of which turning"][1::2] == ["6 min", "none"]
    assert rows["distortion (bow, camber and toe together)"][1::2] == ["0.28 mm", "0.49 mm"]
    inch = {row[0]: row for row in summary(sample_report(full=False, inch=True))}
    assert inch["distortion (bow, camber and toe together)"][1::2] == ["0.011 in", "0.019 in"]
    still = replace(report.ours, totals=replace(report.ours.totals, turns=0, turn_s=0.0))
    assert "turns of the housing" not in {row[0] for row in summary(replace(report, ours=still))}


@pytest.mark.parametrize(
    ("degrees", "words"),
    [
        (0.0, "as on the vehicle"),
        (90.0, "front side up"),
        (180.0, "upside down"),
        (270.0, "rear side up"),
        (360.0, "as on the vehicle"),
        (45.0, "turned 45° (90° is front side up)"),
    ],
)
def test_how_the_housing_lies_is_put_into_words(degrees: float, words: str) -> None:
    """Quarter turns have names; anything between is told by its angle and what the angle counts towards."""
    assert wording.turned(degrees) == words


def test_turns_are_told_from_how_the_bead_before_lay() -> None:
    """It is tacked as on the vehicle: a first bead lying so needs no turn, a change later does."""
    beads = sample_report(full=False).ours.beads[:4]
    lying = [replace(b, turn_deg=lie) for b, lie in zip(beads, (0.0, 0.0, 180.0, 0.0), strict=True)]
    assert turns_before(lying) == ("", "", "upside down", "as on the vehicle")


def test_longer_tacks_are_grouped_by_length() -> None:
    """Tacks of one length are named together, the shorter group first; without any there is no sentence."""
    tacks = sample_report(full=False).ours.tacks[:5]
    lengths = (0.02, 0.04, 0.03, 0.04, 0.02)
    mixed = [
        replace(t, number=k + 1, length=length, enlarged=length > 0.02)
        for k, (t, length) in enumerate(zip(tacks, lengths, strict=True))
    ]
    said = "Make these tacks longer: T3: 30 mm; T2, T4: 40 mm, all others 20 mm."
    assert enlarged_tacks(mixed, False) == said
    assert enlarged_tacks(mixed[1:4], True) == "Make these tacks longer: T3: 1 3/16 in; T2, T4: 1 9/16 in."
    assert enlarged_tacks(mixed[:1], False) == ""


def test_only_positions_that_occur_are_explained() -> None:
    """Welding positions are explained in the order of the standard, unknown ones not at all."""
    assert wording.positions(["PF", "PA", "PF", ""]) == "PA flat, PF vertical up"
    assert wording.positions([""]) == ""


def test_texts_are_wrapped_between_words() -> None:
    """Lines stay within the width and hold the text in order; what is too much for the last line is cut."""
    text = "one two three four five six seven eight nine ten"
    lines = wrapped(text, 20.0, 9.0, most=9)
    assert len(lines) > 2 and " ".join(lines) == text
    assert all(width_of(line, 9.0) <= 20.0 for line in lines)
    short = wrapped(text, 20.0, 9.0, most=2)
    assert len(short) == 2 and short[0] == lines[0] and short[1].endswith("…")
    assert wrapped("", 20.0, 9.0, most=2) == [""]


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
