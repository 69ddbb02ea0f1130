"""Shop units: what a tape says goes in, SI comes out, and back."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from axlewright import units
from axlewright.errors import JobFileError

# Factors: NIST SP 811 (2008), appendix B.8 (exact for inch, foot and pound-force by definition).
PUBLISHED_FACTORS = [
    (1.0, "in", "m", 0.0254),
    (1.0, "ft", "m", 0.3048),
    (1.0, "lbf", "N", 4.4482216152605),
    (1.0, "lbf*ft", "N*m", 1.3558179483314),
    (1.0, "ksi", "MPa", 6.894757293168),
    (1.0, "in/min", "m/s", 0.0254 / 60.0),
    (1.0, "kJ/in", "J/m", 1000.0 / 0.0254),
    (32.0, "degF", "degC", 0.0),
    (212.0, "degF", "degC", 100.0),
    (-40.0, "degF", "degC", -40.0),
]


@pytest.mark.published
@pytest.mark.parametrize(("value", "source", "target", "expected"), PUBLISHED_FACTORS)
def test_factors_are_the_published_ones(value: float, source: str, target: str, expected: float) -> None:
    """Conversions agree with NIST SP 811 to rounding (13 digits; 1e-12 K where the value is zero)."""
    assert units.convert(value, source, target) == pytest.approx(expected, rel=1e-13, abs=1e-12)


# text, kind, inch job, SI value by hand
READINGS = [
    ("12 3/4 in", units.LENGTH, False, 12.75 * 0.0254),
    ("12-3/4 in", units.LENGTH, False, 12.75 * 0.0254),
    ('12 3/4"', units.LENGTH, False, 12.75 * 0.0254),
    ("12¾ in", units.LENGTH, False, 12.75 * 0.0254),
    ("12 3⁄4 in", units.LENGTH, False, 12.75 * 0.0254),
    ("3/16 inch", units.LENGTH, False, 0.1875 * 0.0254),
    ("-3/4", units.LENGTH, True, -0.75 * 0.0254),
    ("12 3/4", units.LENGTH, True, 12.75 * 0.0254),
    ("4 ft 3 1/2 in", units.LENGTH, False, 51.5 * 0.0254),
    ("4' 3\"", units.LENGTH, False, 51.0 * 0.0254),
    ("4 ft", units.LENGTH, False, 48.0 * 0.0254),
    ("3.5 mm", units.LENGTH, True, 0.0035),
    ("13 cm", units.LENGTH, True, 0.13),
    ("1.3 m", units.LENGTH, True, 1.3),
    ("89", units.LENGTH, False, 0.089),
    ("+1e2 mm", units.LENGTH, False, 0.1),
    (89, units.LENGTH, False, 0.089),
    (2.5, units.LENGTH, True, 0.0635),
    ("65 degC", units.TEMPERATURE, True, 65.0),
    ("150 degF", units.TEMPERATURE, False, 65.555556),
    ("65 °C", units.TEMPERATURE, True, 65.0),
    (68, units.TEMPERATURE, True, 20.0),
    ("300 mm/min", units.SPEED, True, 0.005),
    (270, units.SPEED, False, 0.0045),
    (6, units.SPEED, True, 0.00254),
    (6.5, units.WIRE_FEED, False, 6.5 / 60.0),
    (300, units.WIRE_FEED, True, 0.127),
    ("15 min", units.TIME, False, 900.0),
    (25, units.TIME, True, 25.0),
    ("0.5 kJ/mm", units.HEAT_INPUT, False, 500_000.0),
    ("9.3 kN", units.FORCE, True, 9300.0),
    ("100 lbf.ft", units.TORQUE, False, 135.581795),
    ("0.3 deg", units.ANGLE, False, 0.3),
    ("20.5 V", units.VOLTAGE, False, 20.5),
    ("165 A", units.CURRENT, False, 165.0),
    ("235 MPa", units.STRESS, False, 235e6),
    ("50 kN/mm", units.STIFFNESS, True, 5e7),
    (100000, units.STIFFNESS, True, 17512683.525),
]


@pytest.mark.analytical
@pytest.mark.parametrize(("text", "kind", "inch", "expected"), READINGS)
def test_what_a_shop_writes_is_read(text: object, kind: units.Kind, inch: bool, expected: float) -> None:
    """Every usual way to write a reading gives its SI value (to the resolution kept for its kind)."""
    assert units.parse_quantity(text, kind, inch) == pytest.approx(expected, rel=1e-9, abs=1e-12)


REFUSED = [
    ("20 degC", units.LENGTH, "degC measures temperature"),
    ("12 mm", units.TEMPERATURE, "mm measures length"),
    ("5 kN", units.HEAT_INPUT, "kN measures force"),
    ("5 kJ/mm", units.FORCE, "measures heat input"),
    ("5 parsec", units.LENGTH, "not known"),
    ("5 mm**9999", units.LENGTH, "not known"),
    ("", units.LENGTH, "number followed by its unit"),
    ("mm", units.LENGTH, "number followed by its unit"),
    ("nan", units.LENGTH, "number followed by its unit"),
    ("1/0 in", units.LENGTH, "number followed by its unit"),
    ("12 5/4 in", units.LENGTH, "number followed by its unit"),
    ("3/4", units.LENGTH, "a fraction needs its unit"),
    ("4 ft 30 mm", units.LENGTH, "feet are followed by inches"),
    ("1e999 mm", units.LENGTH, "finite"),
    ("9" * 61, units.LENGTH, "at most 60 characters"),
    (math.nan, units.LENGTH, "finite"),
    (-math.inf, units.LENGTH, "finite"),
    (10**400, units.LENGTH, "finite"),
    (True, units.LENGTH, "a number, or text"),
    (None, units.LENGTH, "a number, or text"),
    ([1], units.LENGTH, "a number, or text"),
]


@pytest.mark.parametrize(("value", "kind", "words"), REFUSED)
def test_what_cannot_be_read_is_refused_in_words(value: object, kind: units.Kind, words: str) -> None:
    """Text of the wrong kind, without number, or not finite is refused with the reason."""
    with pytest.raises(JobFileError, match=r".") as caught:
        units.parse_quantity(value, kind, inch=False)
    assert words in str(caught.value)


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text makes the reader fail in another way than by refusing it."""
    try:
        assert math.isfinite(units.parse_quantity(text, units.LENGTH, inch=True))
    except JobFileError as error:
        assert "\n" not in str(error)


@given(
    st.sampled_from([units.LENGTH, units.TEMPERATURE, units.SPEED, units.WIRE_FEED, units.TIME]),
    st.floats(-3.0, 3.0),
    st.booleans(),
)
def test_a_number_written_in_shop_units_reads_back_exactly(
    kind: units.Kind, value: float, inch: bool
) -> None:
    """The number written for an SI value of a kind's resolution is read as that very value."""
    si = round(value, kind.digits)
    assert units.to_si(units.from_si(si, kind, inch), kind, inch) == si


def test_round_numbers_come_back_round() -> None:
    """An inch and a millimetre are written as 1, not as a string of nines."""
    assert units.from_si(0.0254, units.LENGTH, inch=True) == 1.0
    assert units.from_si(0.089, units.LENGTH, inch=False) == 89.0
    assert units.from_si(20.0, units.TEMPERATURE, inch=True) == 68.0
    assert units.from_si(round(12.1875 * 0.0254, 9), units.LENGTH, inch=True) == 12.1875


TAPE = [
    (12.75 * 0.0254, "12 3/4 in"),
    (0.0, "0 in"),
    (0.0254, "1 in"),
    (0.75 * 0.0254, "3/4 in"),
    (-12.75 * 0.0254, "-12 3/4 in"),
    (12.97 * 0.0254, "13 in"),
    (12.03 * 0.0254, "12 in"),
    (12.04 * 0.0254, "12 1/16 in"),
    (-0.0001, "0 in"),
]


@pytest.mark.analytical
@pytest.mark.parametrize(("metres", "text"), TAPE)
def test_inches_read_as_on_a_tape(metres: float, text: str) -> None:
    """Lengths in inch jobs are rounded to the nearest sixteenth and written as a tape is read."""
    assert units.format_length(metres, inch=True) == text


@given(st.floats(-3.0, 3.0))
def test_tape_text_reads_back_within_half_a_sixteenth(metres: float) -> None:
    """A length written as a tape fraction reads back within half of 1/16 in (1e-9 m for rounding)."""
    back = units.parse_quantity(units.format_length(metres, inch=True), units.LENGTH, inch=True)
    assert abs(back - metres) <= 0.0254 / 32.0 + 1e-9


@given(st.integers(-2600, 2600))
def test_whole_millimetres_read_back_exactly(millimetres: int) -> None:
    """A whole number of millimetres survives writing and reading."""
    text = units.format_length(millimetres / 1000.0, inch=False)
    assert text == f"{millimetres} mm"
    assert units.parse_quantity(text, units.LENGTH, inch=True) == pytest.approx(
        millimetres / 1000.0, abs=1e-12
    )


FORMATS = [
    (units.format_deflection, 0.00025, "0.25 mm", "0.010 in", units.LENGTH),
    (units.format_temperature, 65.0, "65 degC", "149 degF", units.TEMPERATURE),
    (units.format_force, 9300.0, "9.3 kN", "2091 lbf", units.FORCE),
    (units.format_torque, 120.0, "120 N.m", "89 lbf.ft", units.TORQUE),
    (units.format_travel_speed, 0.0045, "270 mm/min", "10.6 in/min", units.SPEED),
    (units.format_wire_feed, 0.125, "7.5 m/min", "295 in/min", units.WIRE_FEED),
    (units.format_heat_input, 600_000.0, "0.60 kJ/mm", "15.2 kJ/in", units.HEAT_INPUT),
    (units.format_stress, 235e6, "235 MPa", "34.1 ksi", units.STRESS),
    (units.format_stiffness, 5e7, "50.0 kN/mm", "285507 lbf/in", units.STIFFNESS),
]


@pytest.mark.analytical
@pytest.mark.parametrize(("write", "si", "metric", "inch", "kind"), FORMATS)
def test_values_are_written_in_shop_units_and_read_back(write, si, metric, inch, kind) -> None:
    """Each quantity is written in both systems and reads back within the digits shown (2 %)."""
    assert write(si, False) == metric
    assert write(si, True) == inch
    for text in (metric, inch):
        assert units.parse_quantity(text, kind, inch=False) == pytest.approx(si, rel=0.02)


def test_nothing_is_minus_nothing() -> None:
    """A value that rounds to zero carries no sign."""
    assert units.format_deflection(-1e-9, inch=False) == "0.00 mm"
    assert units.format_angle(-0.001) == "0.00 deg"
    assert units.format_angle(-0.314) == "-0.31 deg"


def test_a_rise_has_no_offset() -> None:
    """A difference of 30 K is 54 degF, not 86."""
    assert units.format_temperature_rise(30.0, inch=False) == "30 degC"
    assert units.format_temperature_rise(30.0, inch=True) == "54 degF"


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (25, "25 s"),
        (119, "119 s"),
        (900, "15 min"),
        (7500, "2 h 05 min"),
        (3599, "1 h 00 min"),
        (-900, "-15 min"),
    ],
)
def test_times_are_written_as_spoken(seconds: float, text: str) -> None:
    """Seconds below two minutes, then minutes, then hours and minutes."""
    assert units.format_duration(seconds) == text


@pytest.mark.parametrize(
    ("clock", "text"), [(5.5, "5:30"), (12.0, "12:00"), (0.5, "12:30"), (0.0, "12:00"), (11.999, "12:00")]
)
def test_clock_positions_are_written_to_the_minute(clock: float, text: str) -> None:
    """Clock positions are written with hours from 1 to 12."""
    assert units.format_clock(clock) == text


def test_shown_values_stay_short_and_on_one_line() -> None:
    """Whatever was met, a message can show it."""
    assert units.show("a\nb\x1b") == '"a?b?"'
    assert len(units.show("x" * 1000)) < 70
    assert units.show([1, 2]) == "a list"
    assert units.show({"a": 1}) == "a table"
