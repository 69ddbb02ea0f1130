"""Wall and opening of the centre."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from reference.jobs import demo
from scipy.spatial import cKDTree

from axlewright.housing.body import AROUND, FACETS, housing_part
from axlewright.housing.part import Part
from axlewright.housing.section import Section
from axlewright.job.schema import Housing
from axlewright.solid.mesh import Floats
from axlewright.solid.surface import quad_areas


def housing(**centre: object) -> Housing:
    """The demo's housing with figures of its centre changed."""
    whole = demo("truss-only").housing
    return whole.model_copy(update={"centre": whole.centre.model_copy(update=centre)})


@cache
def meshed(side: str | None) -> Part:
    """The demo's housing with its opening on one side, or with none."""
    if side is None:
        return housing_part(housing(opening_diameter=None))
    return housing_part(housing(opening_side=side))


def middles(part: Part) -> Floats:
    """Middles of a part's cells, sorted, shape (E, 3) [m]."""
    found = part.mesh.cell_coordinates.mean(axis=1)
    return found[np.lexsort(found.T)]


@pytest.mark.analytical
def test_wall_of_the_centre_is_measured_square_to_the_skin() -> None:
    """Over the centre the bore's nearest distance to the skin is the stated wall."""
    # Source: the definition of a wall thickness, against a dense sampling of the skin. Tolerance 0.5 %: samples 0.5 mm
    # apart miss the nearest point by 0.35 mm at most, (0.35 / 8)^2 / 2 = 0.1 %; the curvature across one sample.
    wall = 0.012
    plain = housing(opening_diameter=None, wall=wall)
    section, nodes = Section(plain), housing_part(plain).mesh.nodes
    inner = nodes[len(nodes) // 2 :] / [
        1.0,
        FACETS,
        FACETS,
    ]  # the mesh is drawn that much larger, facets on the skin
    reach = 0.35 * plain.centre.width
    inner = inner[np.abs(inner[:, 0] - section.middle) < reach]
    assert len(inner) > 10 * AROUND
    x = section.middle + np.arange(-reach - 0.02, reach + 0.02, 5e-4)
    skin = section.point(x[:, None], np.linspace(0, 2 * np.pi, 2000)[None, :]).reshape(-1, 3)
    distance, _ = cKDTree(skin).query(inner)
    np.testing.assert_allclose(distance, wall, rtol=5e-3)


@pytest.mark.analytical
def test_centre_has_the_stated_height_and_depth() -> None:
    """At its middle the centre is as high and deep as stated."""
    # Source: the job file. Tolerance 1 %: the mean that rounds the corner between tube and centre adds
    # (44.5 / 150)^6 / 6 = 0.01 % to the height and (44.5 / 75)^6 / 6 = 0.7 % to the shallower depth.
    whole = housing()
    section = Section(whole)
    middle = np.array(section.middle)
    assert 2 * section.half_height(middle) == pytest.approx(whole.centre.height, rel=0.01)
    assert 2 * section.half_depth(middle) == pytest.approx(whole.centre.depth, rel=0.01)


@pytest.mark.analytical
@pytest.mark.parametrize(("side", "sign"), [("front", 1.0), ("rear", -1.0)])
def test_opening_removes_cells_on_its_side_only(side: str, sign: float) -> None:
    """The opening for the carrier leaves the other side whole and takes a disc of its diameter out of its own."""
    # Source: the job file. The hole's area seen from its side is pi D^2 / 4; tolerance 8 %: cells go as wholes, 13 mm
    # of 220 mm, those inside by their middle.
    plain, open_ = meshed(None), meshed(side)
    away = [middles(part) for part in (plain, open_)]
    kept, untouched = (np.round(m[sign * m[:, 1] < 0][:, 0], 9) for m in away)
    np.testing.assert_array_equal(kept, untouched)
    assert (sign * away[0][:, 1] > 0).sum() > (sign * away[1][:, 1] > 0).sum()
    seen = []
    for part in (plain, open_):
        flat = part.mesh.nodes[part.airy_faces]
        flat = flat[sign * flat[:, :, 1].mean(axis=1) > 0] * [1.0, 0.0, 1.0]
        seen.append(quad_areas(flat).sum())
    assert seen[0] - seen[1] == pytest.approx(np.pi / 4 * 0.22**2, rel=0.08)


@pytest.mark.analytical
def test_cast_cells_are_those_of_the_centre() -> None:
    """In a cast housing the casting reaches over the centre's width and the tubes are steel."""
    # Source: the job file. Tolerance: one cell of 13 mm at either end.
    whole = demo("cast-centre").housing
    part = housing_part(whole)
    assert part.cast_cells is not None
    cast = part.mesh.cell_coordinates[part.cast_cells]
    ends = np.array([cast[:, :, 0].min(), cast[:, :, 0].max()]) - whole.centre.offset
    np.testing.assert_allclose(ends, np.array([-0.5, 0.5]) * whole.centre.width, atol=0.013)
    assert housing_part(housing()).cast_cells is None
