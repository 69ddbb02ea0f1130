"""The clock face of a guard, and its drain openings."""

from __future__ import annotations

import numpy as np
import pytest
from housing_jobs import REAR_GUARD, assembled, changed

from axlewright.housing.assembly import Assembly
from axlewright.housing.seam import Seam

OPENINGS = 'openings = [["4:50", "5:20"], ["6:40", "7:10"]]'
ROUND = "to_clock = 12"
RADIUS = 0.110


def rim(assembly: Assembly) -> Seam:
    """The guard's seam."""
    return next(seam for seam in assembly.seams if seam.kind == "guard")


def at_clock(assembly: Assembly, hours: float) -> np.ndarray:
    """Place of a clock position on the rim, seen from the centre's middle [m]."""
    seam = rim(assembly)
    assert seam.clock is not None
    after = seam.clock[0] + (hours - seam.clock[0]) % 12.0
    place = np.array([np.interp(after, seam.clock, column) for column in seam.path.T])
    return place - [assembly.section.middle, 0.0, 0.0]


@pytest.mark.analytical
@pytest.mark.parametrize(("front", "left"), [(True, 1.0), (False, -1.0)])
def test_three_oclock_is_on_the_right_hand_of_whoever_faces_the_guard(front: bool, left: float) -> None:
    """3 o'clock of a front guard lies on the driver's left (+x), of a rear guard on the driver's right; 12 is up."""
    # Source: the driver looks forward, whoever faces the front looks back at him. Tolerance 0.1 mm: chords of 6 mm.
    assembly = assembled("rescue-truck") if front else changed("rescue-truck", *REAR_GUARD)
    for hours, x, z in ((3, left, 0.0), (9, -left, 0.0), (12, 0.0, 1.0), (6, 0.0, -1.0)):
        place = at_clock(assembly, hours)
        assert place[[0, 2]] == pytest.approx([RADIUS * x, RADIUS * z], abs=1e-4)
        assert np.sign(place[1]) == (1.0 if front else -1.0)


@pytest.mark.analytical
def test_rim_is_the_stated_circle_on_the_skin() -> None:
    """Seen from the front the rim is a circle of the stated diameter about the centre's middle."""
    # Source: the job file. Tolerance: rounding at the path's points.
    assembly = assembled("rescue-truck")
    path = rim(assembly).path - [assembly.section.middle, 0.0, 0.0]
    np.testing.assert_allclose(np.hypot(path[:, 0], path[:, 2]), RADIUS, rtol=1e-9)
    np.testing.assert_allclose(path[0], path[-1], atol=1e-9)


@pytest.mark.analytical
def test_drain_openings_are_where_the_clock_says() -> None:
    """Openings given by clock positions are left open between just those positions, low on the guard."""
    # Source: the demo, 4:50 to 5:20 and 6:40 to 7:10. Tolerance a thousandth of an hour, 0.06 mm of rim.
    assembly = assembled("rescue-truck")
    seam = rim(assembly)
    assert seam.clock is not None
    edges = seam.at(seam.clock, np.array(seam.openings)) % 12.0
    np.testing.assert_allclose(edges, [[4 + 5 / 6, 5 + 1 / 3], [6 + 2 / 3, 7 + 1 / 6]], atol=1e-3)
    assert np.all(seam.at(seam.path, np.array(seam.openings).ravel())[:, 2] < -0.08)


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("given", "expected"),
    [(("11:30", "12:00"), (11.5, 12.0)), (("12:00", "12:30"), (0.0, 0.5)), (("3:00", "3:30"), (3.0, 3.5))],
)
def test_opening_next_to_where_the_rim_begins_stays_open(
    given: tuple[str, str], expected: tuple[float, float]
) -> None:
    """An opening that ends or begins where an all-round rim begins is an opening like any other."""
    # Source: the job file's clock positions; half an hour of 220 mm is pi 220 / 24 = 28.8 mm of rim seen from the
    # front. Tolerance 5 %: the rim is longer on the curved skin than seen from the front (0.05 %), chords.
    text = f'openings = [["{given[0]}", "{given[1]}"]]'
    seam = rim(changed("rescue-truck", (OPENINGS, text)))
    welded = sum(end - start for start, end in seam.welded())
    assert seam.length - welded == pytest.approx(np.pi * 0.220 / 24, rel=0.05)
    middles = np.array([(start + end) / 2 for start, end in seam.welded()])
    assert seam.clock is not None
    hours = (seam.at(seam.clock, middles) - rim(assembled("rescue-truck")).clock[0]) % 12.0  # type: ignore[index]
    assert not np.any((hours > expected[0]) & (hours < expected[1]))


@pytest.mark.analytical
def test_guard_over_part_of_the_clock_runs_from_its_first_hour_to_its_last() -> None:
    """A guard from 8 to 4 o'clock is welded clockwise over the top, eight hours of rim."""
    # Source: the job file. Tolerance 1e-6 on the clock, 0.2 mm on the place: chords.
    partial = (("from_clock = 12", "from_clock = 8"), (ROUND, "to_clock = 4"), (OPENINGS, "openings = []"))
    assembly = changed("rescue-truck", *partial)
    seam = rim(assembly)
    assert seam.clock is not None and not seam.closed
    assert (seam.clock[0], seam.clock[-1]) == pytest.approx((8.0, 16.0), abs=1e-6)
    begin, end = seam.path[[0, -1]] - [assembly.section.middle, 0.0, 0.0]
    assert begin[[0, 2]] == pytest.approx(RADIUS * np.array([-np.sqrt(3) / 2, -0.5]), abs=2e-4)
    assert end[[0, 2]] == pytest.approx(RADIUS * np.array([np.sqrt(3) / 2, -0.5]), abs=2e-4)
    assert at_clock(assembly, 12)[2] == pytest.approx(RADIUS, abs=2e-4)
