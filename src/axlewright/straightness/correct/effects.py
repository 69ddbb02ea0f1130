"""What a line on the bare tube does to the shape of the housing as it is, with everything welded on.

The welded housing is elastic: parts, the maker's joints, and a spring for every bead (`distortion.springs`). A line
pulls along itself with its tendon force and shortens the wall across it; nothing new is held together, so effects add
up and their order does not matter. By reciprocity (Maxwell and Betti) what a pull at a line does to the axis is what a
pull at the axis does to the line: the structure is solved once for the few figures of the axis, and any number of lines
is read off these fields.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from scipy.sparse import csc_array

from axlewright.distortion.condense import FullModel, full_model
from axlewright.distortion.functionals import SPRINGS, seam_rows, spring_stiffness
from axlewright.distortion.model import code_digest
from axlewright.distortion.shape import cold_shape
from axlewright.distortion.springs import fillet_stiffness
from axlewright.distortion.store import load_arrays, save_arrays
from axlewright.housing.assembly import Assembly
from axlewright.housing.lines import Line, line_seam
from axlewright.housing.seam import cut_into_beads, cut_into_stretches
from axlewright.job.schema import Job
from axlewright.plan.settings import weld_settings
from axlewright.solid.factor import Factor
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PARAMETERS, projected, span_of
from axlewright.weld.shrinkage import tendon_force, transverse_shrinkage
from axlewright.weld.steel import POISSON, YOUNGS, steel

Say = Callable[[str], None]


@dataclass(frozen=True)
class Effects:
    """What each line does to the shape, by what it pulls.

    Args:
        along: for each newton of tendon force, shape (lines, 11) [1/N of `straightness.axis.PARAMETERS`].
        across: for each metre by which the wall would close across the line, shape (lines, 11) [1/m].
        walls: thickness of the wall at each line, shape (lines,) [m].
    """

    along: Floats
    across: Floats
    walls: Floats

    def of(self, heat_input: float, tendon: float = 1.0, across: float = 1.0) -> Floats:
        """What each line does to the shape's parameters, shape (lines, 11).

        Args:
            heat_input: net heat put in along a line [J/m].
            tendon: the shop's own factor on the pull along a line [1].
            across: the same on the shrinkage across it [1].

        Source: `weld.shrinkage`: a line takes all its heat in one wall, as a bead on plate does.
        Raises: ValueError for a heat input that is not above zero.
        """
        closing = np.array([float(transverse_shrinkage(heat_input, wall)) for wall in self.walls])
        return tendon * float(tendon_force(heat_input)) * self.along + across * closing[:, None] * self.across


def with_lines(assembly: Assembly, lines: tuple[Line, ...], longest: float) -> Assembly:
    """The same mesh with lines as its only seams."""
    seams = tuple(line_seam(assembly.section, line) for line in lines)
    beads = cut_into_beads(seams, longest)
    return replace(assembly, seams=seams, beads=beads, stretches=cut_into_stretches(beads))


def effects_of(
    job: Job, assembly: Assembly, lines: tuple[Line, ...], cache: Path | None, say: Say
) -> Effects:
    """What each line does, from the cache where the same housing was looked at before.

    Args:
        job: the job.
        assembly: its mesh and seams.
        lines: the lines, each in one piece.
        cache: folder of built models, or None to build afresh and keep nothing.
        say: told the stage of the work.
    """
    path = None if cache is None else cache / f"lines-{_fingerprint(job, lines)}.npz"
    kept = None if path is None else load_arrays(path)
    if kept is None or set(kept) != {"along", "across"}:
        say("solving the welded housing's stiffness")
        kept = dict(zip(("along", "across"), _solved(job, assembly, lines), strict=True))
        if path is not None:
            save_arrays(path, kept)
    middles = np.array([(line.start + line.end) / 2.0 for line in lines])
    return Effects(kept["along"], kept["across"], np.asarray(assembly.section.wall(middles)))


def welded_stiffness(job: Job, assembly: Assembly, full: FullModel) -> csc_array:
    """Stiffness of the housing with every seam welded, shape (3 N, 3 N) [N/m]."""
    if not assembly.stretches:
        return full.stiffness
    springs = full.rows[: SPRINGS * len(assembly.stretches)]
    per_length = fillet_stiffness(weld_settings(job).leg, steel(job.housing.steel))
    return csc_array(full.stiffness + springs.T @ spring_stiffness(assembly, per_length) @ springs)


def _solved(job: Job, assembly: Assembly, lines: tuple[Line, ...]) -> tuple[Floats, Floats]:
    full = full_model(assembly)
    fields = Factor(welded_stiffness(job, assembly, full)).solve(full.readings.rows.toarray().T)
    laid = with_lines(assembly, lines, np.inf)
    count = len(laid.stretches)
    read = seam_rows(laid)[SPRINGS * count :] @ fields
    lengths = np.array([stretch.length for stretch in laid.stretches])
    walls = np.array([line_wall(laid, stretch.seam) for stretch in laid.stretches])
    # A metre of closing pulls with E t / (1 - nu^2) on every metre of line (plane stress; `distortion.springs`).
    pull = YOUNGS / (1.0 - POISSON**2) * walls * lengths
    on_line = np.zeros((len(lines), count))
    on_line[[stretch.seam for stretch in laid.stretches], np.arange(count)] = 1.0
    along, across = -on_line @ read[:count], -on_line @ (pull[:, None] * read[count:])
    stations = full.readings.stations
    return _parameters(job, stations, along), _parameters(job, stations, across)


def line_wall(laid: Assembly, seam: int) -> float:
    """Thickness of the wall under the middle of a line [m]."""
    middle = laid.seams[seam].path[:, 0].mean()
    return float(laid.section.wall(middle))


def _parameters(job: Job, stations: Floats, readings: Floats) -> Floats:
    """Parameters of the shapes that readings of axis and flanges tell, shape (n, 11)."""
    return np.array([shape_parameters(job, stations, reading) for reading in readings]).reshape(
        -1, len(PARAMETERS)
    )


def shape_parameters(job: Job, stations: Floats, reading: Floats) -> Floats:
    """Parameters of the shape that one reading of axis and flanges tells, shape (11,)."""
    shape = cold_shape(stations, reading)
    angles = np.array([*shape.camber, *shape.toe, shape.twist])
    return projected(span_of(job), stations, shape.vertical, shape.fore_aft, angles)


def _fingerprint(job: Job, lines: tuple[Line, ...]) -> str:
    """Name of a table of effects by all that shapes it: geometry, bead size, places, and the code."""
    shaping = job.model_dump(
        mode="json", include={"housing", "trusses", "guards", "spacers", "gussets", "brackets", "welder"}
    )
    code = hashlib.sha256(Path(__file__).read_bytes()).hexdigest()
    places = [(line.start, line.end, line.angle) for line in lines]
    text = json.dumps([code_digest(), code, shaping, places], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:32]
