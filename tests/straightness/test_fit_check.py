"""The whole check: before, after, what changed, and that it is quick."""

from __future__ import annotations

import json
import time
from statistics import NormalDist

import numpy as np
import pytest
from reference.jobs import demo
from simulated import (
    Housing,
    Shop,
    angles,
    dots,
    four_points,
    heights,
    measured,
    random_values,
    string,
    tape,
    totals,
)

from axlewright.errors import Fault, ReadingsError
from axlewright.job.schema import Job
from axlewright.straightness.axis import span_of
from axlewright.straightness.check import straightness_report
from axlewright.straightness.files import straightness_text
from axlewright.straightness.fit.fitting import fit_shape
from axlewright.straightness.fit.shape_reports import shape_report
from axlewright.straightness.readings.reading import Reading, ReadingSet

JOB = demo("truss-only")


def thorough(job: Job) -> list[Reading]:
    """Readings of every kind, nearly sixty."""
    return [
        *string(job, "bottom"),
        *string(job, "front"),
        *heights(job),
        *four_points(job, 4),
        *totals(job),
        *angles("camber"),
        *angles("toe"),
        *angles("caster"),
        *tape(),
        *dots(job),
    ]


def read(
    values: np.ndarray, plan: list[Reading], name: str, random: np.random.Generator | None = None
) -> ReadingSet:
    """A set of readings of a housing of this shape."""
    return measured(Shop(Housing(JOB, values), random), plan, name)


@pytest.mark.analytical
def test_before_after_and_what_changed() -> None:
    """The change is after less before, known better than both errors added up; the verdict is on the latest."""
    # Source: independent errors add as squares; flanges out of square are in both sets alike and fall out of the
    # change. Tolerances: the change of a bow is read where it is largest; an exact reading of a flange that keeps its
    # prior differs from the mean by what the prior pulls.
    first, last = np.zeros(11), np.zeros(11)
    first[0], last[0] = 0.5e-3, -2.6e-3
    plan = [*four_points(JOB, 4), *angles("caster")]
    found = straightness_report(JOB, read(first, plan, "as it came"), read(last, plan, "welded"))
    assert found.before and found.after and found.change
    assert (found.before.name, found.after.name, found.change.name) == ("as it came", "welded", "change")
    assert found.change.vertical.bow.value == pytest.approx(-3.1e-3, abs=2e-5)
    for kind in ("camber", "toe"):
        for end in ("left", "right"):
            sets = [getattr(getattr(one, kind), end) for one in (found.before, found.after, found.change)]
            widths = [one.high - one.low for one in sets]
            assert sets[2].value == pytest.approx(sets[1].value - sets[0].value, abs=0.01)
            assert widths[2] < 0.6 * np.hypot(*widths[:2])
    assert found.verdict.answer == "outside" and found.latest is found.after
    assert found.change.twist.told and found.change.vertical.told
    assert straightness_report(JOB, read(first, plan, "as it came"), None).verdict.answer == "inside"


def test_a_change_is_told_only_where_both_sets_tell_it() -> None:
    """A plane read before and not after has no change to tell."""
    values = np.zeros(11)
    both = [*string(JOB, "bottom"), *string(JOB, "front")]
    sets = read(values, both, "one"), read(values, string(JOB, "front"), "other")
    for before, after in (sets, sets[::-1]):
        found = straightness_report(JOB, before, after)
        assert found.change is not None
        assert not found.change.vertical.told and not found.change.camber.left.told
        assert not found.change.vertical.left.kink.told and not found.change.vertical.bow.told
        assert found.change.fore_aft.told and found.change.toe.left.told


@pytest.mark.analytical
def test_bands_leave_out_one_case_in_twenty_on_either_side() -> None:
    """Figures and axis have bands of the normal distribution's 5 and 95 % about their value."""
    # Source: the standard library's normal distribution. Tolerance: 1.645 has four digits.
    fit = fit_shape(JOB, read(np.zeros(11), four_points(JOB), "after"))
    found = shape_report(fit)
    far = NormalDist().inv_cdf(0.95)
    spread = float(np.rad2deg(fit.axis.read(fit.axis.span.angles()[:1])[1][0]))
    assert found.camber.left.high - found.camber.left.value == pytest.approx(far * spread, rel=2e-4)
    assert found.camber.left.value - found.camber.left.low == pytest.approx(far * spread, rel=2e-4)
    shape = found.vertical
    rows = fit.axis.span.heights(fit.axis.span.half_length - shape.distances[1:-1], "vertical")
    assert (shape.high - shape.axis)[1:-1] == pytest.approx(far * fit.axis.read(rows)[1], rel=2e-4)
    assert (shape.axis - shape.low)[1:-1] == pytest.approx(far * fit.axis.read(rows)[1], rel=2e-4)


def test_no_set_and_an_empty_set_say_what_to_take() -> None:
    """Nothing to stand on is an error that says what to read."""
    with pytest.raises(ReadingsError, match="Give a file"):
        straightness_report(JOB, None, None)
    fault = Fault("line 2", "x", "is no number", "Write one.")
    with pytest.raises(ReadingsError, match="five or more stations"):
        straightness_report(JOB, None, ReadingSet("after", (), (fault,)))


def test_one_reading_gives_a_report_that_says_what_to_read_next() -> None:
    """One gap tells nothing, and the report says so and what to take."""
    found = straightness_report(JOB, None, read(np.zeros(11), string(JOB, "top")[:1], "after"))
    assert found.verdict.answer == "cannot be told"
    assert len(found.latest.untold) == 3 and found.latest.advice
    assert json.loads(straightness_text(found))["after"]["camber"]["left"]["told"] is False


def test_totals_alone_are_owned_up_to() -> None:
    """Bend and oval cannot be told apart by totals: said first of what is left out, and only then."""
    found = straightness_report(JOB, None, read(np.zeros(11), totals(JOB), "after"))
    assert "oval" in found.left_out[0]
    other = straightness_report(JOB, None, read(np.zeros(11), four_points(JOB), "after"))
    assert "oval" not in other.left_out[0]
    assert any("certify" in words for words in found.cautions)


def test_the_report_survives_a_file() -> None:
    """Every number of a report of noisy readings can be written as JSON, none of them not a number."""
    random = np.random.default_rng(3)
    values = random_values(random, span_of(JOB))
    found = straightness_report(JOB, None, read(values, thorough(JOB), "after", random))
    text = straightness_text(found)
    assert "NaN" not in text and "Infinity" not in text
    assert len(json.loads(text)["after"]["vertical"]["distances"]) == 62


def test_a_check_takes_less_than_a_twentieth_of_a_second() -> None:
    """Before and after with nearly sixty readings each are judged in 50 ms of processor time, the best of five."""
    random = np.random.default_rng(3)
    values = random_values(random, span_of(JOB))
    sets = [read(values, thorough(JOB), name, random) for name in ("before", "after")]
    spent = []
    for _ in range(5):
        start = time.process_time()
        straightness_report(JOB, sets[0], sets[1])
        spent.append(time.process_time() - start)
    # Tolerance: three times what is promised, for a slow or busy machine.
    assert min(spent) < 0.15
