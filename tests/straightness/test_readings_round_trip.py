"""A set of readings written as CSV reads back as the same set."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from straightness.readings_written import INCH, MM, read

from axlewright.job.schema import Job
from axlewright.straightness.readings.reading import (
    Angle,
    Dot,
    FourPoint,
    Gap,
    Height,
    Origin,
    Reading,
    ReadingSet,
    Runout,
    ToeTape,
)
from axlewright.straightness.readings.writing import write_csv


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths to the micrometre [m], finer than any gauge of the shop."""
    return st.integers(round(low * 1e6), round(high * 1e6)).map(lambda n: n / 1e6)


# Places that are on a tube of either job and clear of the perches of one.
places = lengths(0.18, 0.64) | lengths(0.98, 1.2)
names = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "Zs")), min_size=1, max_size=20).map(
    lambda text: " ".join(text.split())
)
setups = names.filter(bool).map(str.casefold).filter(lambda name: name == name.casefold())
errors = lengths(5e-5, 1e-3)
angles = st.integers(-4_000_000, 4_000_000).map(lambda n: math.radians(n / 1e6))
blocks = st.none() | st.tuples(lengths(0.03, 0.3), lengths(0.98, 1.27))
hours = st.integers(1, 720).map(lambda n: n / 60).map(lambda h: round(h, 9))
sides = st.sampled_from(["top", "front", "bottom", "rear"])
knuckles = st.sampled_from(["left", "right"])


def origins(error: st.SearchStrategy[float] = errors) -> st.SearchStrategy[Origin]:
    """Where a reading stands."""
    return st.builds(Origin, st.just(0), setups, error)


angle_errors = st.integers(2_000, 2_000_000).map(lambda n: math.radians(n / 1e6))
level = st.builds(
    Angle, origins(angle_errors), st.just("across"), st.sampled_from(["level", "level on side"]), angles
)
readings: st.SearchStrategy[Reading] = st.one_of(
    st.builds(Gap, origins(), places, sides, lengths(0.0, 0.4)),
    st.builds(Height, origins(), places, st.sampled_from(["top", "bottom"]), lengths(0.0, 2.0)),
    st.builds(
        Runout,
        origins(),
        places,
        lengths(0.0, 0.05),
        hours,
        st.integers(1, 200).map(lambda n: round(n / 60, 9)),
        blocks,
    ),
    st.builds(FourPoint, origins(), places, st.tuples(*[lengths(-0.05, 0.05)] * 4), blocks),
    st.builds(Angle, origins(angle_errors), knuckles, st.sampled_from(["camber", "toe", "caster"]), angles),
    level,
    st.builds(ToeTape, origins(), lengths(1.2, 1.21), lengths(1.2, 1.21), lengths(0.3, 1.5)),
    st.builds(Dot, origins(), knuckles, lengths(2.0, 20.0), lengths(-0.1, 0.1), lengths(-0.1, 0.1)),
)


def without_lines(found: ReadingSet) -> tuple[Reading, ...]:
    """The readings as if they stood nowhere."""
    return tuple(replace(reading, origin=replace(reading.origin, line=0)) for reading in found.readings)


@settings(max_examples=60, deadline=None)
@given(st.lists(readings, min_size=1, max_size=12), st.sampled_from([MM, INCH]))
def test_written_and_read_again_it_is_the_same_set(entries: list[Reading], job: Job) -> None:
    """Every kind, in mm and in inches, to the last digit; places read twice stay so."""
    first = read(write_csv(ReadingSet("after", tuple(entries)), job), job)
    assert not first.faults and first.name == "after"
    assert without_lines(first) == tuple(_as_read(entry) for entry in entries)
    again = read(write_csv(first, job), job)
    assert again.readings == first.readings and again.name == first.name and not again.faults


def _as_read(entry: Reading) -> Reading:
    """An entry as a file gives it: degrees are kept to 1e-9, which an angle in rad may miss by its last bit."""
    if not isinstance(entry, Angle):
        return entry
    origin = replace(entry.origin, error=_round(entry.origin.error))
    return replace(entry, origin=origin, angle=_round(entry.angle))


def _round(radians: float) -> float:
    return math.radians(round(math.degrees(radians), 9))


def test_round_figures_stay_round() -> None:
    """What was typed as 0.012 in and 25' is not written as 0.0119999 and 0.41666."""
    text = "kind,at,side,end,sense,gap,angle\ngap,12,top,,,0.012,\nangle,,,left,camber,,0.4\n"
    written = write_csv(read(text, INCH), INCH).splitlines()
    assert written[0] == "# name: after"
    assert written[1] == "kind,setup,at,side,end,sense,gap,angle,error"
    assert written[2].startswith("gap,straightedge on left tube,12,top,,,0.012,,0.0019685")
    assert written[3].startswith("angle,as on the vehicle,,,left,camber,,0.4,0.07")


def test_the_clock_and_its_error_stay_as_they_were_typed() -> None:
    """A mark of 5:20 with 20 minutes of error is written as 5.333 h and 20 minutes."""
    found = read("kind,at,total,clock,clock_error\nrunout,300,0.4,5:20,20\n")
    (line,) = write_csv(found, MM).splitlines()[2:]
    assert line == "runout,between centres,300,0.4,5.333333333,20,0.02"


def test_an_empty_set_is_a_heading() -> None:
    """Nothing read is written as a file without readings."""
    assert write_csv(ReadingSet("none", ()), MM) == "# name: none\nkind\n"
