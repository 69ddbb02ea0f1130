"""The reduced model of a job: everything a plan needs, and nothing of the mesh's size."""

from __future__ import annotations

import hashlib
import json
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from functools import cached_property, lru_cache
from pathlib import Path

import numpy as np

from axlewright.distortion.condense import Condensed, condense, full_model
from axlewright.distortion.skin_store import load_skin, save_skin
from axlewright.distortion.store import load_arrays, save_arrays
from axlewright.heat.reduce import FlowParts, HeatModes, reduce_heat
from axlewright.heat.skin import SkinHeat, skin_heat
from axlewright.heat.state import Pass, arc_pass
from axlewright.heat.system import heat_system, host_share, thicknesses
from axlewright.heat.varied import HeatFactors, varied_modes
from axlewright.housing.assembly import Assembly, assemble_job
from axlewright.housing.lines import Line
from axlewright.housing.seam import stretches_of
from axlewright.job.schema import Job
from axlewright.solid.mesh import Floats, Ints

BUILDING_ROOMS = ("solid", "weld", "housing", "heat", "distortion")
"""Rooms whose code shapes a model."""

ARRAYS = {
    *("rate", "inlet", "spot", "places", "watch", "loss", "across_seams"),
    *("compliance", "thermal", "stations"),
}
"""Names of the arrays a model is kept as."""

USUAL_PAUSES = 64
"""How many pauses are remembered with what they leave of each mode."""

Say = Callable[[str], None]
"""Told what is being worked on, for people who wait."""


@dataclass(frozen=True)
class Model:
    """The reduced model of one job.

    Args:
        assembly: parts, seams, beads and stretches.
        modes: the reduced heat balance.
        base: the condensed structure before fit-up.
        stations: x of the sections at which the axis is followed [m].
        host_share: share of the heat that enters the host, by stretch [1].
        host_thickness: wall of the host, by stretch [m].
        build_s: time it took to build or load [s].
        from_cache: True if it was loaded.
    """

    assembly: Assembly
    modes: HeatModes
    base: Condensed
    stations: Floats
    host_share: Floats
    host_thickness: Floats
    build_s: float
    from_cache: bool

    @cached_property
    def pieces(self) -> tuple[Ints, ...]:
        """Numbers of the stretches each bead is made of, in the order of their arc length."""
        beads = range(len(self.assembly.beads))
        return tuple(stretches_of(self.assembly.stretches, bead) for bead in beads)

    @cached_property
    def lengths(self) -> Floats:
        """Length of every stretch, shape (S,) [m]."""
        return np.array([stretch.length for stretch in self.assembly.stretches])

    @cached_property
    def passes(self) -> dict[tuple[int, bool, float, float], Pass]:
        """Arc passes worked out so far, by bead, sense, power and travel speed: every plan uses them again."""
        return {}

    @cached_property
    def faded(self) -> dict[float, Floats]:
        """Share of each mode left after the pauses that come again and again."""
        return {}

    def fading(self, seconds: float) -> Floats:
        """Share of each mode left after a time without an arc, shape (m,)."""
        if seconds not in self.faded:
            if len(self.faded) >= USUAL_PAUSES:
                self.faded.clear()
            self.faded[seconds] = np.exp(-self.modes.rate * seconds)
        return self.faded[seconds]

    def varied(self, factors: HeatFactors) -> Model:
        """The same housing with other heat flow, without building it again; see `heat.varied`."""
        modes, turn = varied_modes(self.modes, factors)
        return replace(self, modes=modes, base=Condensed(self.base.compliance, self.base.thermal @ turn))

    def bead_pass(self, bead: int, reverse: bool, power: float, travel_speed: float) -> Pass:
        """What welding a bead does to the thermal state."""
        key = (bead, reverse, power, travel_speed)
        if key not in self.passes:
            path = self.pieces[bead][::-1] if reverse else self.pieces[bead]
            self.passes[key] = arc_pass(self.modes, path, power, self.lengths[path] / travel_speed)
        return self.passes[key]


def build_model(
    job: Job, cache: Path | None = None, say: Say = lambda _: None, lines: tuple[Line, ...] = ()
) -> Model:
    """Build the reduced model of a job, or load it if the same geometry was built before.

    Args:
        job: the job.
        cache: folder of built models, or None to build afresh and keep nothing.
        say: told the stage of the work.
        lines: counter-beads and heat lines on the bare tube.

    Raises:
        GeometryError: the dimensions turn some part inside out.
    """
    began = time.perf_counter()
    say("meshing the housing")
    assembly = assemble_job(job, lines)
    path = None if cache is None else cache / f"{_fingerprint(job, lines)}.npz"
    kept = None if path is None else load_arrays(path)
    if kept is not None and set(kept) != ARRAYS:
        kept = None
    if kept is not None:
        return _model(assembly, kept, time.perf_counter() - began, True)
    say("reducing the heat flow")
    modes, shapes = _reduced(assembly, job)
    arrays = _built(assembly, modes, shapes, say)
    if path is not None and save_arrays(path, arrays):
        save_skin(path, skin_heat(modes, shapes, assembly.mesh.cells))
    return _model(assembly, arrays, time.perf_counter() - began, False)


def skin_of(model: Model, job: Job, cache: Path | None = None, say: Say = lambda _: None) -> SkinHeat:
    """The modes over the skin of a job's model as built, kept beside the model or else worked out again.

    Where they are worked out again, they come with modes of their own, which another machine may have turned
    otherwise; states are told in the modes that belong to the skin.

    Args:
        model: the job's reduced model, as built.
        job: the job.
        cache: folder of built models, or None to look nothing up and keep nothing.
        say: told the stage of the work.
    """
    path = None if cache is None else cache / f"{_fingerprint(job, ())}.npz"
    kept = None if path is None else load_skin(path, model.modes)
    if kept is not None:
        return kept
    say("reducing the heat flow")
    skin = skin_heat(*_reduced(model.assembly, job), model.assembly.mesh.cells)
    if path is not None:
        save_skin(path, skin)
    return skin


def _reduced(assembly: Assembly, job: Job) -> tuple[HeatModes, Floats]:
    seals = tuple((seal.name, seal.at) for seal in job.housing.seals)
    beads = np.array([stretch.bead for stretch in assembly.stretches])
    return reduce_heat(heat_system(assembly, job.ambient.temperature, seals), beads)


def _built(assembly: Assembly, modes: HeatModes, shapes: Floats, say: Say) -> dict[str, Floats]:
    assert modes.parts is not None
    say("solving the housing's stiffness")
    full = full_model(assembly)
    base = condense(full, shapes)
    return {
        "rate": modes.rate,
        "inlet": modes.inlet,
        "spot": modes.spot,
        "places": np.array(modes.places),
        "watch": modes.watch,
        "loss": modes.parts.loss,
        "across_seams": modes.parts.across_seams,
        "compliance": base.compliance,
        "thermal": base.thermal,
        "stations": full.readings.stations,
    }


def _model(assembly: Assembly, arrays: dict[str, Floats], seconds: float, from_cache: bool) -> Model:
    places = tuple(str(place) for place in arrays["places"])
    parts = FlowParts(arrays["loss"], arrays["across_seams"])
    modes = HeatModes(arrays["rate"], arrays["inlet"], arrays["spot"], places, arrays["watch"], parts)
    base = Condensed(arrays["compliance"], arrays["thermal"])
    walls = np.array([thicknesses(assembly, s.seam, s.middle)[0] for s in assembly.stretches])
    return Model(assembly, modes, base, arrays["stations"], host_share(assembly), walls, seconds, from_cache)


def _fingerprint(job: Job, lines: tuple[Line, ...]) -> str:
    """Name of a model by all that shapes it: geometry, bead length, air temperature, and the code that builds it."""
    shaping = job.model_dump(
        mode="json",
        include={"housing", "trusses", "guards", "spacers", "gussets", "brackets", "ambient"},
    )
    text = json.dumps([code_digest(), job.welder.bead_length, shaping, *map(asdict, lines)], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()[:32]


@lru_cache(maxsize=1)
def code_digest() -> str:
    """Digest of the modules that build a model, so that a model built by other code is never used."""
    total = hashlib.sha256()
    for room in BUILDING_ROOMS:
        for module in sorted((Path(__file__).parent.parent / room).glob("*.py")):
            total.update(module.read_bytes())
    return total.hexdigest()
