"""Stations and the form: clear of flange, centre, perch and what is welded on; ready to be filled in."""

from __future__ import annotations

import csv
from itertools import pairwise

import pytest
from reference.jobs import demo, plain_tube, strip
from straightness.readings_written import INCH, MM, TRUCK, read, told

from axlewright.errors import ReadingsError
from axlewright.job.schema import Job
from axlewright.straightness.readings.blank import blank_csv
from axlewright.straightness.readings.kinds import KINDS
from axlewright.straightness.readings.reading import Gap, Runout
from axlewright.straightness.readings.stations import CLEAR, open_sides, stations, tube_at

JOBS = [MM, INCH, TRUCK, plain_tube(), *(plain_tube(strip(at=600, clock=c, length=500)) for c in (3, 6, 9))]


@pytest.mark.parametrize("job", JOBS)
def test_stations_are_where_a_reading_can_be_taken(job: Job) -> None:
    """On the tube they name, clear of its ends and of perches, with front and bottom bare."""
    found = stations(job)
    assert found == tuple(sorted(found))
    for at, tube in found:
        assert tube_at(job, at) == tube
        assert tube_at(job, at - CLEAR) == tube_at(job, at + CLEAR) == tube
        assert all(abs(at - perch.at) >= perch.length / 2 + CLEAR - 1e-9 for perch in job.housing.perches)
        assert {"front", "bottom"} <= set(open_sides(job, at))
    assert {tube for _, tube in found} == {"left tube", "right tube"}
    assert all(second.at - first.at >= 0.04 - 1e-9 for first, second in pairwise(found))


def test_stations_of_the_demo_are_round_figures() -> None:
    """Four on each tube from end to end, on whole 5 mm; in inches on quarters, five on the long tube."""
    assert [round(at * 1e3) for at, _ in stations(MM)] == [35, 235, 440, 640, 960, 1060, 1165, 1265]
    assert [at / 0.0254 for at, _ in stations(INCH)] == pytest.approx(
        [1.5, 8.25, 15, 21.5, 28.25, 38.75, 43.5, 47, 53]
    )


def test_a_bracket_below_moves_stations_aside() -> None:
    """A strip along the whole bottom of a tube leaves the stations beside it."""
    job = plain_tube(strip(at=600, clock=6, length=500))
    right = [at for at, tube in stations(job) if tube == "right tube"]
    assert right and not any(0.35 - CLEAR < at < 0.85 + CLEAR for at in right)


def test_a_bracket_behind_moves_no_station() -> None:
    """Nothing is read on the rear, so what stands there is in nobody's way."""
    assert stations(plain_tube(strip(at=600, clock=9, length=500))) == stations(plain_tube())
    assert stations(plain_tube(strip(at=600, clock=3, length=500))) != stations(plain_tube())


def test_where_nothing_is_bare_stations_are_still_given() -> None:
    """With strips along front and bottom of the whole tube the places beside flange and centre are the last resort."""
    front = strip("a", 380, 3, 396) + strip("b", 780, 3, 400)
    below = strip("c", 380, 6, 396) + strip("d", 780, 6, 400)
    assert [tube for _, tube in stations(plain_tube(front + below))].count("right tube") == 5
    only_front = plain_tube(front)
    assert all("bottom" in open_sides(only_front, at) for at, _ in stations(only_front))


def test_open_sides_of_a_housing_with_its_truss() -> None:
    """Under the truss the top is taken; beside it all is bare; a gusset takes front and rear."""
    assert open_sides(MM, 0.3) == ("front", "bottom", "rear")
    assert open_sides(MM, 0.1) == ("top", "front", "bottom", "rear")
    assert open_sides(TRUCK, 0.04) == ("top", "bottom")


@pytest.mark.parametrize("job", JOBS)
def test_the_form_is_an_empty_form(job: Job) -> None:
    """Read back as it is, it says that no reading is filled in, and nothing else."""
    with pytest.raises(ReadingsError, match="no reading is filled in"):
        read(blank_csv(job), job)


@pytest.mark.parametrize("job", JOBS)
def test_the_form_filled_in_reads_without_a_fault(job: Job) -> None:
    """A figure in every cell that a kind needs makes every line a reading; the form holds the quick kinds."""
    figures = {"total": "0.01", "clock": "3", "angle": "0.2", "gap": "1", "front": "50 in", "rear": "50 in"}
    lines = blank_csv(job).splitlines()
    head = next(line for line in lines if line.startswith("kind,"))
    rows = list(csv.DictReader(line for line in lines if not line.startswith("#")))
    filled = [head]
    for row in rows:
        row |= {name: figures[name] for name in KINDS[row["kind"]].measured}
        row |= {"diameter": "24 in"} if row["kind"] == "toe" else {}
        filled.append(",".join(row.values()))
    found = read("\n".join(filled), job)
    assert told(found) == []
    assert len(found.readings) == len(rows) == 9 + 3 * len(stations(job))
    sides = {reading.side for reading in found.readings if isinstance(reading, Gap)}
    assert sides == {"front", "bottom"}


def test_the_form_says_what_is_quickest_and_what_welding_ends() -> None:
    """Camber, toe and bow in both planes have their quickest way marked; under the truss the dial comes before."""
    form = blank_csv(demo("truss-only"))
    for words in (
        "QUICKEST FOR CAMBER",
        "QUICKEST FOR TOE",
        "BOW SEEN FROM ABOVE",
        "BOW SEEN FROM THE FRONT",
    ):
        assert words in form
    assert "runout,between centres,235,,,,,,,,,,,,before welding only" in form
    assert "runout,between centres,35,,,,,,,,,,,,\n" in form
    assert "millimetres" in form and "inches" in blank_csv(INCH)
    remarks = [line for line in form.splitlines() if line.startswith("#")]
    # A spreadsheet splits a remark at a separator.
    assert not any(mark in line for line in remarks for mark in ",;\t")


def test_the_form_of_a_dial_reads_as_runout() -> None:
    """A line of the form with total and clock filled in is a runout between centres."""
    form = blank_csv(MM).replace("runout,between centres,35,,,,,,,", "runout,between centres,35,,,,,0.4,6,")
    (reading,) = read(form).readings
    assert isinstance(reading, Runout) and (reading.at, reading.total, reading.clock) == (0.035, 0.0004, 6.0)
