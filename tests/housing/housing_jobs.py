"""Assemblies of the demo jobs, a job seen in a mirror, and points along seams."""

from __future__ import annotations

from functools import cache

import numpy as np
from reference.jobs import demo

from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.housing.seam import Seam
from axlewright.housing.seam_points import SAMPLES
from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.job.schema import Guard, GuardOpening, Housing, Job, TopPoint, Truss, TrussOpening
from axlewright.solid.locate import Location
from axlewright.solid.mesh import Floats, Ints
from axlewright.solid.shape import shape_values

DEMOS = ("truss-only", "rescue-truck", "cast-centre")
REAR_GUARD = (('\nside = "front"', '\nside = "rear"'), ('opening_side = "rear"', 'opening_side = "front"'))


@cache
def assembled(name: str) -> Assembly:
    """A demo job, meshed."""
    return assemble_job(demo(name))


@cache
def changed(name: str, *replacements: tuple[str, str]) -> Assembly:
    """A demo job with pieces of its text replaced, meshed."""
    text = demo_text(name)
    for old, new in replacements:
        assert old in text
        text = text.replace(old, new)
    return assemble_job(parse_job(text, name))


def seam_of(assembly: Assembly, attachment: str, name: str) -> Seam:
    """A seam by the name of its attachment and its own."""
    return next(s for s in assembly.seams if s.attachment == attachment and s.name == name)


def samples(assembly: Assembly) -> tuple[Ints, Floats]:
    """Seam number and place of the points at which stretches are sampled, shapes (P,) and (P, 3) [m]."""
    seams = np.repeat([s.seam for s in assembly.stretches], len(SAMPLES))
    arcs = np.concatenate([s.start + SAMPLES * s.length for s in assembly.stretches])
    places = [assembly.seams[n].at(assembly.seams[n].path, s) for n, s in zip(seams, arcs, strict=True)]
    return seams, np.array(places)


def gap(assembly: Assembly, location: Location, places: Floats) -> Floats:
    """Distance from places to where they are held in the mesh, found by staying inside the cell [m]."""
    corners = assembly.mesh.nodes[assembly.mesh.cells[location.cells]]
    inside = shape_values(np.clip(location.natural, -1.0, 1.0))
    return np.linalg.norm(np.einsum("pa,pai->pi", inside, corners) - places, axis=1)


def mirrored(job: Job) -> Job:
    """The same job with left and right exchanged."""
    length = job.housing.length
    attachments = {
        "trusses": tuple(_mirrored_truss(truss, length) for truss in job.trusses),
        "guards": tuple(_mirrored_guard(guard) for guard in job.guards),
        "gussets": tuple(
            g.model_copy(update={"end": "left" if g.end == "right" else "right"}) for g in job.gussets
        ),
        "brackets": tuple(b.model_copy(update={"at": length - b.at}) for b in job.brackets),
    }
    return job.model_copy(update=attachments | {"housing": mirrored_housing(job.housing)})


def mirrored_housing(housing: Housing) -> Housing:
    """The same housing with left and right exchanged."""
    length = housing.length
    perches = tuple(p.model_copy(update={"at": length - p.at}) for p in housing.perches)
    seals = tuple(s.model_copy(update={"at": length - s.at}) for s in housing.seals)
    centre = housing.centre.model_copy(update={"offset": -housing.centre.offset})
    tubes = {"left_tube": housing.right_tube, "right_tube": housing.left_tube}
    return housing.model_copy(update=tubes | {"centre": centre, "perches": perches, "seals": seals})


def _mirrored_truss(truss: Truss, length: float) -> Truss:
    openings = tuple(
        TrussOpening.model_construct(seam=o.seam, start=length - o.end, end=length - o.start)
        for o in truss.openings
    )
    top = tuple(TopPoint(length - at, height) for at, height in reversed(truss.top))
    ends = {"start": length - truss.end, "end": length - truss.start}
    return truss.model_copy(update=ends | {"top": top, "openings": openings})


def _mirrored_guard(guard: Guard) -> Guard:
    openings = tuple(GuardOpening(12.0 - o.to_clock, 12.0 - o.from_clock) for o in guard.openings)
    ends = {"from_clock": 12.0 - guard.to_clock, "to_clock": 12.0 - guard.from_clock}
    return guard.model_copy(update=ends | {"openings": openings})
