"""Lines on the bare tube: counter-beads and heat lines as seams that hold nothing together."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from reference.jobs import demo, plain_tube, strip

from axlewright.distortion.functionals import SPRINGS, seam_rows
from axlewright.heat.system import heat_system, host_share
from axlewright.housing.assembly import assemble_job
from axlewright.housing.lines import Line
from axlewright.housing.position import NAMES, bead_directions, bead_positions

TUBE = plain_tube(strip(at=650, length=100))
BOTTOM = Line("counter-bead", 0.25, 0.2, np.pi, "counter-bead 1")
FRONT = Line("heat line", -0.45, -0.35, np.pi / 2, "heat line 1")


def test_lines_come_last_and_keep_their_place() -> None:
    """Lines stand after the job's own seams, along the axle, on the skin, at their clock position."""
    job = demo("truss-only")
    plain, assembly = assemble_job(job), assemble_job(job, (BOTTOM, FRONT))
    assert [seam.name for seam in assembly.seams[:-2]] == [seam.name for seam in plain.seams]
    bottom, front = assembly.seams[-2:]
    radius = job.housing.left_tube.outside_diameter / 2
    assert bottom.path[[0, -1]] == pytest.approx(np.array([[0.25, 0, -radius], [0.2, 0, -radius]]), abs=1e-6)
    assert front.path[0] == pytest.approx([-0.45, radius, 0], abs=1e-6)
    assert bottom.length == pytest.approx(0.05) and front.length == pytest.approx(0.1)
    assert (bottom.kind, front.kind) == ("counter-bead", "heat line")


@pytest.mark.analytical
def test_a_line_joins_nothing() -> None:
    """Both sides of a line are the same skin: its springs read nothing, its heat all stays in the tube."""
    assembly = assemble_job(TUBE, (BOTTOM, FRONT))
    springs = seam_rows(assembly)[: SPRINGS * len(assembly.stretches)]
    lines = [n for n, stretch in enumerate(assembly.stretches) if assembly.seams[stretch.seam].on_bare_skin]
    assert len(lines) == 6
    rows = SPRINGS * np.array(lines)[:, None] + np.arange(SPRINGS)
    assert abs(springs[rows.ravel()]).max() == 0
    assert host_share(assembly)[lines].tolist() == [1.0] * len(lines)
    system = heat_system(assembly, 20.0)
    assert abs(system.jump[:, lines]).max() == 0
    # Every joule put in along a stretch arrives at some node.
    assert np.asarray(system.inlet.sum(axis=0)).ravel() == pytest.approx(1.0)


@pytest.mark.analytical
def test_the_tendon_row_of_a_line_reads_its_lengthening() -> None:
    """Stretch the housing evenly along the axle and each stretch of a line lengthens by strain times length."""
    assembly = assemble_job(TUBE, (BOTTOM, FRONT))
    moved = np.zeros_like(assembly.mesh.nodes)
    moved[:, 0] = 1e-3 * assembly.mesh.nodes[:, 0]
    count = len(assembly.stretches)
    tendon = seam_rows(assembly)[SPRINGS * count : (SPRINGS + 1) * count]
    lengths = [stretch.length for stretch in assembly.stretches]
    assert tendon @ moved.ravel() == pytest.approx(1e-3 * np.array(lengths), rel=1e-6)


@pytest.mark.published
def test_a_line_at_the_bottom_is_overhead_until_the_housing_is_turned() -> None:
    """ISO 6947: a bead on top lies flat (PA), the same bead below is overhead (PE)."""
    # Source: ISO 6947 (from memory); turn 180 is upside down.
    assembly = assemble_job(TUBE, (BOTTOM, replace(BOTTOM, angle=0.0)))
    below, above = (
        [NAMES[n] for n in bead_positions(bead_directions(assembly), turn)[0].tolist()][-2:]
        for turn in (0.0, 180.0)
    )
    assert below == ["PE", "PA"]
    assert above == ["PA", "PE"]
