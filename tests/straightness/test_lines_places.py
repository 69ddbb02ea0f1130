"""Where a counter-bead or heat line may go, and what its place is called."""

from __future__ import annotations

from functools import cache
from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lines_written import bare_housing
from reference.jobs import demo

from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.housing.lines import Line, line_seam
from axlewright.housing.section import Section
from axlewright.job.schema import Job, Seal
from axlewright.solid.mesh import Floats
from axlewright.straightness.correct.candidates import (
    APART,
    FROM_FLANGE,
    FROM_SEAL,
    candidates,
)
from axlewright.straightness.correct.sides import side_in_words

DEMOS = ("truss-only", "rescue-truck", "cast-centre")
NEAR = 1e-3
"""Marks 1 mm apart tell a distance at least this well [m]."""


@cache
def meshed(name: str) -> tuple[Job, Assembly]:
    """A demo with a seal left in each tube."""
    job = demo(name)
    seals = (Seal(name="left seal", at=0.13), Seal(name="right seal", at=job.housing.length - 0.13))
    job = job.model_copy(update={"housing": job.housing.model_copy(update={"seals": seals})})
    return job, assemble_job(job)


def marks(section: Section, line: Line) -> Floats:
    """Marks on the skin every 1 mm along a line, shape (n, 3) [m]."""
    seam = line_seam(section, line)
    return seam.at(seam.path, np.arange(0.0, seam.length, 1e-3))


def nearest(points: Floats, others: Floats) -> float:
    """Least distance between two clouds [m]."""
    return float(np.linalg.norm(points[:, None] - others[None], axis=-1).min())


def attached_near(assembly: Assembly, points: Floats) -> float:
    """Least distance from points to any node of what stands on the housing, perches included [m]."""
    nodes = np.concatenate([part.mesh.nodes for part in assembly.parts[1:]])
    return nearest(points, nodes)


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_lines_keep_off_everything_that_must_not_be_touched(name: str) -> None:
    """Every place is on bare tube, clear of flanges, centre, seals, seams, and whatever stands on the housing."""
    # The stated distances; measured here on the mesh and on marks every 1 mm, not on footprints.
    job, assembly = meshed(name)
    found = candidates(job, assembly.seams, "counter-bead", job.welder.bead_length)
    assert len(found) > 20
    seams = np.concatenate([seam.at(seam.path, np.arange(0.0, seam.length, 1e-3)) for seam in assembly.seams])
    inner = job.housing.length / 2 - job.housing.knuckle_flange.thickness
    for line in found:
        points, x = marks(assembly.section, line), np.array([line.start, line.end])
        assert np.abs(x).max() <= inner - FROM_FLANGE + 1e-9
        assert np.abs(x - job.housing.centre.offset).min() >= job.housing.centre.width / 2 + APART - 1e-9
        for seal in job.housing.seals:
            inside = max(line.end, min(line.start, job.x_at(seal.at)))
            assert abs(inside - job.x_at(seal.at)) >= FROM_SEAL - 1e-9
        assert nearest(points, seams) >= APART - NEAR
        assert attached_near(assembly, points) >= 0.9 * APART
        radius = np.hypot(points[:, 1], points[:, 2])
        np.testing.assert_allclose(radius, job.housing.left_tube.outside_diameter / 2, atol=0.003)


@pytest.mark.analytical
def test_no_line_lies_under_a_truss_or_along_its_edge() -> None:
    """Along the truss the top hours are not offered; on bare tube beyond it all twelve are."""
    job, assembly = meshed("truss-only")
    under = {
        round(line.angle * 6 / pi)
        for line in candidates(job, assembly.seams, "counter-bead", 0.05)
        if 0.206 < job.distance_at(line.start) < 1.134
    }
    assert under
    assert not under & {11, 12, 1}
    assert 6 in under
    bare = bare_housing()
    offered = candidates(bare, (), "counter-bead", 0.05)
    assert {round(line.angle * 6 / pi) for line in offered} == set(range(1, 13))


@pytest.mark.analytical
def test_lines_run_along_the_axle_and_are_as_long_as_the_beads() -> None:
    """Each line has the bead length asked for, begins nearer the left flange, and is named by its kind."""
    job = bare_housing()
    for line in candidates(job, (), "heat line", 0.04):
        assert line.start - line.end == pytest.approx(0.04, abs=1e-12)
        assert line.kind == "heat line"


@pytest.mark.analytical
def test_neighbouring_places_along_the_axle_do_not_touch() -> None:
    """At any hour the next place along the axle begins at least 25 mm after the last one ends."""
    for name in DEMOS:
        job, assembly = meshed(name)
        found = candidates(job, assembly.seams, "counter-bead", job.welder.bead_length)
        begin = np.unique(np.round([job.distance_at(line.start) for line in found], 9))
        assert np.diff(begin).min() >= job.welder.bead_length + APART - 1e-8


@pytest.mark.analytical
def test_earlier_lines_are_kept_clear_of() -> None:
    """A place on an earlier line, or nearer than 25 mm to it, is not offered again; all others still are."""
    job = bare_housing()
    fresh = candidates(job, (), "counter-bead", 0.05)
    laid = fresh[17]
    again = candidates(job, (), "counter-bead", 0.05, (laid,))
    section = Section(job.housing)
    gone = [line for line in fresh if line not in again]
    assert laid in gone
    for line in fresh:
        apart = nearest(marks(section, line), marks(section, laid))
        if apart < APART - NEAR:
            assert line in gone
        if apart > APART + NEAR:
            assert line in again


@pytest.mark.analytical
def test_a_bead_longer_than_the_bare_tube_has_no_place() -> None:
    """Where no bare stretch is long enough nothing is offered."""
    assert candidates(bare_housing(), (), "counter-bead", 0.49) == ()


@pytest.mark.analytical
@settings(max_examples=30)
@given(at=st.floats(0.06, 0.45), length=st.floats(0.03, 0.08))
def test_a_seal_anywhere_is_kept_clear_of(at: float, length: float) -> None:
    """Wherever a seal sits in a tube, no line comes nearer than 50 mm to it along the axle."""
    job = bare_housing()
    seals = (Seal(name="seal", at=at),)
    job = job.model_copy(update={"housing": job.housing.model_copy(update={"seals": seals})})
    for line in candidates(job, (), "counter-bead", length):
        begin, end = job.distance_at(line.start), job.distance_at(line.end)
        assert end <= at - FROM_SEAL + 1e-9 or begin >= at + FROM_SEAL - 1e-9


@pytest.mark.analytical
def test_places_are_called_by_what_one_sees() -> None:
    """Clock positions read as top, front, bottom and rear, seen from the driver's right end of the axle."""
    # Seen from the driver's right end, 3 o'clock looks forward (the house's clock; y forward, z up).
    assert [side_in_words(hour) for hour in (12.0, 3.0, 6.0, 9.0)] == ["top", "front", "bottom", "rear"]
    assert side_in_words(5.0) == "bottom, a little to the front"
    assert side_in_words(7.0) == "bottom, a little to the rear"
    assert side_in_words(1.0) == "top, a little to the front"
    assert side_in_words(11.0) == "top, a little to the rear"
    assert side_in_words(2.0) == "front, a little above"
    assert side_in_words(4.0) == "front, a little below"
    assert side_in_words(8.0) == "rear, a little below"
    assert side_in_words(10.0) == "rear, a little above"
    for hour in np.linspace(0.3, 12.0, 40):
        y, z = np.sin(hour * pi / 6), np.cos(hour * pi / 6)
        words = side_in_words(float(hour))
        nearest_one = max((("top", z), ("bottom", -z), ("front", y), ("rear", -y)), key=lambda one: one[1])[0]
        assert nearest_one in words
