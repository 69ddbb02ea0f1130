"""A known shape comes back from readings of every kind, with the right sign."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference.jobs import demo
from simulated import (
    Housing,
    Shop,
    angles,
    dots,
    four_points,
    heights,
    measured,
    origin,
    places,
    random_values,
    string,
    tape,
    totals,
)

from axlewright.job.schema import Job
from axlewright.straightness.axis import PLANES, span_of
from axlewright.straightness.fit.fitting import ShapeFit, fit_shape
from axlewright.straightness.fit.turning import four_point_offset
from axlewright.straightness.readings.reading import Dot, Reading, Runout

UPRIGHT, LEVEL = slice(0, 2), slice(2, 4)


def exact_totals(job: Job, blocks: bool) -> list[Reading]:
    """Dial totals with well-marked clocks: the mean of a badly marked one is put back by its spread."""
    return [replace(one, clock_error=0.02) for one in totals(job, blocks=blocks) if isinstance(one, Runout)]


def plans(job: Job) -> dict[str, tuple[list[Reading], list[int]]]:
    """Readings of one kind each, and which of camber l, r, toe l, r, twist, axis up and forward they tell."""
    return {
        "string on top": (string(job, "top"), [0, 1, 5]),
        "string on the bottom": (string(job, "bottom"), [0, 1, 5]),
        "string on the front": (string(job, "front"), [2, 3, 6]),
        "string on the rear": (string(job, "rear"), [2, 3, 6]),
        "heights of the top": (heights(job), [0, 1, 5]),
        "heights of the bottom": (heights(job, "bottom"), [0, 1, 5]),
        "totals between centres": (exact_totals(job, False), [0, 1, 2, 3, 5, 6]),
        "totals in V-blocks": (exact_totals(job, True), [0, 1, 2, 3, 5, 6]),
        "four-point between centres": (four_points(job), [0, 1, 2, 3, 5, 6]),
        "four-point in V-blocks": (four_points(job, blocks=True), [0, 1, 2, 3, 5, 6]),
        "camber and level": (angles("camber"), [0, 1]),
        "toe and level on side": (angles("toe"), [2, 3]),
        "caster": (angles("caster"), [4]),
        "toe tape and toe": ([*tape(), *angles("toe", level=False)[:1], *angles("toe")[2:]], [2, 3]),
        "dots": (dots(job), [0, 1, 2, 3]),
    }


def readings_of(fit: ShapeFit) -> tuple[np.ndarray, np.ndarray]:
    """Angles and both axes at four stations, and what is told, as rows of the fit."""
    span = fit.axis.span
    x = np.array([fit.job.x_at(at) for at in places(fit.job, 2)])
    rows = [*span.angles()[:, None], *(span.heights(x, plane) for plane in PLANES)]
    values = np.array([np.atleast_1d(fit.axis.read(row)[0]) for row in rows], dtype=object)
    return values, np.array([bool(fit.told(row).all()) for row in rows])


def truth_of(housing: Housing) -> list[np.ndarray]:
    """The same of the housing itself, by geometry."""
    ends = ("left", "right")
    axis = np.array([housing.axis(at) for at in places(housing.job, 2)])
    flat = [*map(housing.camber, ends), *map(housing.toe, ends), housing.figure("twist")]
    return [*(np.array([one]) for one in flat), axis[:, 1], axis[:, 0]]


@pytest.mark.analytical
@pytest.mark.parametrize("name", list(plans(demo("truss-only"))))
@pytest.mark.parametrize("job_name", ["truss-only", "cast-centre"])
def test_each_kind_alone_gives_the_shape_back(job_name: str, name: str) -> None:
    """Exact readings of one kind tell what that kind can tell and nothing else, to a few micrometres."""
    # Source: the shape the readings were worked out from by geometry. Tolerance: the pull of the priors (20 mm, and
    # flanges square within 0.05 deg, here square) and sines against angles: 3 um, 0.002 deg.
    job = demo(job_name)
    values = random_values(np.random.default_rng(3), span_of(job))
    values[[3, 4, 8, 9]] = 0.0
    plan, tells = plans(job)[name]
    housing = Housing(job, values)
    fit = fit_shape(job, measured(Shop(housing), plan))
    found, told = readings_of(fit)
    assert list(np.flatnonzero(told)) == tells
    for number in tells:
        off = np.abs(found[number] - truth_of(housing)[number]).max()
        assert off < (3e-6 if number > 4 else math.radians(0.002))
    assert not fit.doubts


shapes = st.integers(0, 2**32 - 1)


@pytest.mark.analytical
@settings(max_examples=40)
@given(shapes, st.sampled_from(["truss-only", "rescue-truck", "cast-centre"]))
def test_all_kinds_together_give_the_shape_back(seed: int, job_name: str) -> None:
    """Exact readings of all kinds in one set agree with each other and give any shape back, flanges and twist too."""
    # Tolerance: flanges now lean, which angle finders of 6e-4 deg tell; their prior, to which 0.1 deg are two
    # standard deviations, still pulls by up to 30 um.
    job = demo(job_name)
    housing = Housing(job, random_values(np.random.default_rng(seed), span_of(job)))
    fine = [
        replace(one, origin=replace(one.origin, error=1e-5)) for one in (*angles("camber"), *angles("toe"))
    ]
    rest = [one for name, (plan, _) in plans(job).items() if "and" not in name for one in plan]
    fit = fit_shape(job, measured(Shop(housing), [*rest, *fine]))
    found, told = readings_of(fit)
    assert told.all()
    for number, (one, truth) in enumerate(zip(found, truth_of(housing), strict=True)):
        assert np.abs(one - truth).max() < (30e-6 if number > 4 else math.radians(0.003))
    assert not fit.doubts
    assert len(fit.used) == len(rest) + len(fine)


@pytest.mark.analytical
def test_a_dot_inside_a_tube_tells_where_the_tube_is() -> None:
    """On targets in the middle of the tubes, dots and angles of one flange give the axis of both tubes."""
    # Tolerance: the flange's own lean cancels between dot and angle finder; priors pull by some micrometres.
    job = demo("truss-only")
    housing = Housing(job, random_values(np.random.default_rng(8), span_of(job)))
    fine = [
        replace(one, origin=replace(one.origin, error=1e-6)) for one in (*angles("camber"), *angles("toe"))
    ]
    spots = [
        Dot(origin("laser", 2e-6), end, distance, 0.0, 0.0)  # type: ignore[arg-type]
        for end in ("left", "right")
        for distance in (0.2, 0.4, job.housing.length)
    ]
    fit = fit_shape(job, measured(Shop(housing), [*fine, *spots]))
    x = np.array([job.x_at(0.2), job.x_at(job.housing.length - 0.2)])
    for plane, part in (("vertical", 1), ("fore-aft", 0)):
        found = fit.axis.read(fit.axis.span.heights(x, plane))[0]  # type: ignore[arg-type]
        truth = [housing.axis(at)[part] for at in (0.2, job.housing.length - 0.2)]
        assert found == pytest.approx(truth, abs=2e-5)


@pytest.mark.analytical
def test_errors_of_tape_and_dial_are_those_of_their_readings() -> None:
    """A tape read twice tells both toes to root 2 error / diameter, four dial readings an offset to error / root 2."""
    # Source: sums of independent errors. Tolerance: the weak prior's share, below 1 in 1000.
    job = demo("truss-only")
    both = span_of(job).angles()[2:4].sum(axis=0)[None]
    fit = fit_shape(job, measured(Shop(Housing(job, np.zeros(11))), tape(0.5e-3, 0.7)))
    assert fit.axis.read(both)[1] == pytest.approx(math.sqrt(2.0) * 0.5e-3 / 0.7, rel=1e-3)
    _, covariance = four_point_offset(four_points(job, error=0.02e-3)[0])  # type: ignore[arg-type]
    assert np.sqrt(np.diag(covariance)) == pytest.approx([0.02e-3 / math.sqrt(2.0)] * 2, rel=1e-12)


@pytest.mark.analytical
def test_a_level_bar_or_heights_tell_one_camber_from_the_other() -> None:
    """Camber of both flanges tells their sum alone; heights in the same set-up tell the level as a bar does."""
    job = demo("truss-only")
    housing = Housing(job, random_values(np.random.default_rng(5), span_of(job)))
    plain = angles("camber", level=False)
    rows = span_of(job).angles()[:2]
    alone = fit_shape(job, measured(Shop(housing), plain))
    assert not alone.told(rows).any() and alone.told(rows.sum(axis=0)[None]).all()
    same = [replace(one, origin=replace(one.origin, setup="as on the vehicle")) for one in heights(job)]
    level = fit_shape(job, measured(Shop(housing), [*plain, *same]))
    assert level.told(rows).all()


@pytest.mark.analytical
def test_points_are_the_axis_as_single_readings_say() -> None:
    """Points drawn for exact readings lie on the true axis, each with the line it came from."""
    job = demo("truss-only")
    housing = Housing(job, random_values(np.random.default_rng(6), span_of(job)))
    plan = [*string(job, "bottom"), *string(job, "rear"), *four_points(job), *heights(job)]
    fit = fit_shape(job, measured(Shop(housing), plan))
    for plane, part in (("vertical", 1), ("fore-aft", 0)):
        points = fit.points(plane)  # type: ignore[arg-type]
        for at, offset, line in points:
            assert offset == pytest.approx(housing.axis(at)[part], abs=5e-6)
            assert plan[line - 2].at == at  # type: ignore[union-attr]
        assert len(points) == (26 if plane == "vertical" else 16)
