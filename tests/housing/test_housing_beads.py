"""Beads cover what is to be welded and nothing else."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from housing_jobs import DEMOS, assembled, seam_of
from hypothesis import given
from hypothesis import strategies as st
from reference.jobs import demo

from axlewright.housing.assembly import Assembly
from axlewright.housing.seam import STRETCH, Bead, Seam, cut_into_beads, cut_into_stretches, stretches_of

TOLD_APART = 1e-6
"""Pieces of seam shorter than this are dropped [m]."""

ROUNDING = 1e-3
"""Share of the bead length by which rounding of dimensions may lengthen a bead rather than add one."""


@st.composite
def seams(draw: st.DrawFn) -> Seam:
    """A straight seam of any length with openings, which may overlap, and corners anywhere on it."""
    length = draw(st.floats(0.02, 2.0))
    place = st.floats(0.0, length)
    pairs = draw(st.lists(st.tuples(place, place), max_size=5))
    openings = tuple((min(pair), max(pair)) for pair in pairs)
    corners = tuple(draw(st.lists(place, max_size=3)))
    path = np.linspace([0.0, 0, 0], [length, 0, 0], draw(st.integers(2, 40)))
    up, aside = (np.tile(axis, (len(path), 1)) for axis in ([0.0, 0, 1], [0.0, 1, 0]))
    return Seam("any", "truss", "any seam", 0, 1, path, up, aside, openings=openings, corners=corners)


def length_to_weld(seam: Seam) -> float:
    """Length of the seam less the union of its openings, by walking over sorted openings."""
    closed, reached = 0.0, 0.0
    for start, end in sorted(seam.openings):
        closed += max(start - reached, 0.0)
        reached = max(reached, end)
    return closed + max(seam.length - reached, 0.0)


@pytest.mark.analytical
@given(seam=seams(), longest=st.floats(0.01, 0.5))
def test_beads_cover_exactly_what_is_welded(seam: Seam, longest: float) -> None:
    """Beads do not overlap, leave openings out, turn no corner, add up to the length to weld, and none is too long."""
    # Source: definition. Tolerances: slivers below `TOLD_APART` at each edge; `ROUNDING` on the longest bead.
    beads = cut_into_beads((seam,), longest)
    edges = len(seam.openings) * 2 + len(seam.corners) + 1
    assert sum(bead.length for bead in beads) == pytest.approx(length_to_weld(seam), abs=edges * TOLD_APART)
    assert all(0 < bead.length <= longest * (1 + ROUNDING) for bead in beads)
    assert all(bead.start >= 0.0 and bead.end <= seam.length for bead in beads)
    assert all(one.end <= other.start + 1e-12 for one, other in pairwise(beads))
    for bead in beads:
        for start, end in seam.openings:
            assert min(bead.end, end) - max(bead.start, start) < TOLD_APART
        for corner in seam.corners:
            assert not bead.start + TOLD_APART < corner < bead.end - TOLD_APART


@pytest.mark.analytical
@given(length=st.floats(0.005, 0.5))
def test_stretches_cover_their_bead(length: float) -> None:
    """Stretches of a bead are equal, follow one another from its start to its end, and are about 25 mm long."""
    # Source: definition; rounding to the nearest number keeps them within 2/3 and 3/2 of 25 mm but for shorter beads.
    # (A bead alone on its seam is cut in two at least, so here it has a neighbour.)
    bead = Bead(0, 0.1, 0.1 + length)
    pieces = [piece for piece in cut_into_stretches((bead, Bead(0, 9.0, 9.1))) if piece.bead == 0]
    assert pieces[0].start == pytest.approx(bead.start) and pieces[-1].end == pytest.approx(bead.end)
    assert sum(piece.length for piece in pieces) == pytest.approx(length, rel=1e-9)
    assert all(one.end == pytest.approx(two.start) for one, two in pairwise(pieces))
    assert max(piece.length for piece in pieces) <= 1.5 * STRETCH * (1 + 1e-9)
    assert len(pieces) == 1 or min(piece.length for piece in pieces) >= STRETCH / 1.5


@pytest.mark.analytical
def test_stretches_of_a_bead_are_its_own() -> None:
    """Stretches found for a bead carry its number and its seam, in the order of arc length."""
    # Source: definition.
    assembly = assembled("rescue-truck")
    for number, bead in enumerate(assembly.beads):
        own = [assembly.stretches[n] for n in stretches_of(assembly.stretches, number)]
        assert own and all((s.bead, s.seam) == (number, bead.seam) for s in own)
        assert own[0].start == bead.start and own[-1].end == bead.end


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_no_bead_of_a_demo_crosses_an_opening_or_a_corner(name: str) -> None:
    """In the demos no bead is longer than asked for, runs over an opening or round a corner."""
    # Source: the job files.
    assembly, longest = assembled(name), demo(name).welder.bead_length
    for bead in assembly.beads:
        seam = assembly.seams[bead.seam]
        assert bead.length <= longest * (1 + ROUNDING)
        assert all(bead.end <= start + 1e-9 or bead.start >= end - 1e-9 for start, end in seam.openings)
        assert not any(bead.start + 1e-9 < corner < bead.end - 1e-9 for corner in seam.corners)
    welded = sum(bead.length for bead in assembly.beads)
    assert welded == pytest.approx(sum(length_to_weld(seam) for seam in assembly.seams), abs=1e-5)


@pytest.mark.common_practice
@pytest.mark.parametrize(("name", "least", "most"), [("truss-only", 36, 36), ("rescue-truck", 95, 105)])
def test_demos_have_as_many_beads_as_they_should(name: str, least: int, most: int) -> None:
    """Beads of 50 mm, as is common practice, make 36 of the truss and about 100 of the whole job."""
    # Source: common practice, beads of 2 in at most. 36 follows from the seams: 349, 446 and 99 mm a side between
    # openings, so 7 + 9 + 2 beads twice.
    assert least <= len(assembled(name).beads) <= most


@pytest.mark.analytical
def test_truss_openings_are_where_the_tape_says() -> None:
    """A drain opening given by tape readings is left open between just those readings, on both seams."""
    # Source: the job file, readings 555-615 and 975-1035 mm. Tolerance 0.01 mm: the seam is a polyline of 2 mm steps.
    assembly = assembled("truss-only")
    for seam in assembly.seams:
        edges = np.array(seam.openings).ravel()
        readings = assembly.section.half_length - seam.at(seam.path, edges)[:, 0]
        np.testing.assert_allclose(readings, [0.555, 0.615, 0.975, 1.035], atol=1e-5)


@pytest.mark.analytical
@pytest.mark.parametrize("name", DEMOS)
def test_truss_seams_begin_and_end_where_the_tape_says(name: str) -> None:
    """Both seams of a truss run from its first tape reading to its last."""
    # Source: the job file. Tolerance: rounding.
    assembly, truss = assembled(name), demo(name).trusses[0]
    for seam in (seam for seam in assembly.seams if seam.kind == "truss"):
        readings = assembly.section.half_length - seam.path[[0, -1], 0]
        np.testing.assert_allclose(readings, [truss.start, truss.end], rtol=1e-12)


@pytest.mark.analytical
def test_opening_of_one_seam_leaves_the_other_welded() -> None:
    """An opening on the rear seam alone is not on the front seam."""
    # Source: the demo, one rear opening from 16 to 17 1/2 in beside the bridged part.
    assembly = assembled("cast-centre")
    front, rear = (seam_of(assembly, "bridge truss", name) for name in ("front seam", "rear seam"))
    assert (len(front.openings), len(rear.openings)) == (1, 2)
    assert rear.openings[0][1] - rear.openings[0][0] == pytest.approx(1.5 * 0.0254, abs=1e-5)


def bead_ends_x(assembly: Assembly) -> np.ndarray:
    """Position of both ends of every bead, x from the centre's middle [m]."""
    ends = [
        assembly.seams[b.seam].at(assembly.seams[b.seam].path, np.array([b.start, b.end]))
        for b in assembly.beads
    ]
    return np.array(ends)[:, :, 0] - assembly.section.middle


@pytest.mark.common_practice
def test_bridge_truss_leaves_the_casting_unwelded() -> None:
    """No bead of a bridging truss touches the casting, and its plate clears the casting's top by what was asked for."""
    # Source: common practice, no weld on an unknown casting. No tolerance but 1e-9 m of rounding.
    assembly = assembled("cast-centre")
    centre, truss = assembly.section.housing.centre, demo("cast-centre").trusses[0]
    ends = bead_ends_x(assembly)
    assert np.abs(ends).min() >= centre.width / 2 - 1e-9
    assert np.all(np.sign(ends[:, 0]) == np.sign(ends[:, 1]))
    nodes = assembly.parts[assembly.seams[0].guest].mesh.nodes
    above = nodes[np.abs(nodes[:, 0] - assembly.section.middle) < centre.width / 2]
    assert truss.clear_of_centre is not None
    assert above[:, 2].min() >= centre.height / 2 + truss.clear_of_centre - 1e-9
