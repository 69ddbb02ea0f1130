"""A job seen in a mirror gives the mesh seen in a mirror."""

from __future__ import annotations

import numpy as np
import pytest
from housing_jobs import mirrored
from reference.jobs import demo
from scipy.spatial import cKDTree

from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats

FLIP = np.array([-1.0, 1.0, 1.0])


def lopsided(name: str) -> Job:
    """A demo job whose right tube is thicker than its left."""
    job = demo(name)
    right = job.housing.right_tube.model_copy(update={"wall": 1.25 * job.housing.right_tube.wall})
    return job.model_copy(update={"housing": job.housing.model_copy(update={"right_tube": right})})


def assert_same_places(one: Floats, other: Floats) -> None:
    """Each place of one is a place of the other, as often."""
    assert one.shape == other.shape
    distance, partner = cKDTree(one).query(other)
    # 1e-9 m: rounding of positions of the order of 1 m through interpolation.
    assert distance.max() < 1e-9
    assert len(np.unique(partner)) == len(partner)


def bead_ends(assembly: Assembly) -> Floats:
    """Middle of each bead and the distance between its ends, shape (B, 4) [m]."""
    rows = []
    for bead in assembly.beads:
        seam = assembly.seams[bead.seam]
        start, middle, end = seam.at(seam.path, np.array([bead.start, (bead.start + bead.end) / 2, bead.end]))
        rows.append([*middle, np.linalg.norm(end - start)])
    return np.array(rows)


@pytest.mark.analytical
@pytest.mark.parametrize("name", ["truss-only", "rescue-truck", "cast-centre"])
def test_mirrored_job_has_the_mirrored_mesh(name: str) -> None:
    """Left and right exchanged in the job file exchanges left and right in nodes, cells and beads."""
    # Source: symmetry.
    job = lopsided(name)
    one, other = assemble_job(job), assemble_job(mirrored(job))
    assert_same_places(one.mesh.nodes * FLIP, other.mesh.nodes)
    middles = (a.mesh.cell_coordinates.mean(axis=1) for a in (one, other))
    assert_same_places(next(middles) * FLIP, next(middles))
    assert_same_places(bead_ends(one) * [-1, 1, 1, 1], bead_ends(other))
    assert [part.name for part in one.parts] == [part.name for part in other.parts]
