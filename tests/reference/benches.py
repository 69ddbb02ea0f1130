"""Models and walks for tests, built once for all test workers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np

from axlewright.distortion.model import Model, build_model
from axlewright.distortion.shape import ColdShape
from axlewright.distortion.springs import Shrinkage, fillet_stiffness
from axlewright.distortion.walk import Walker
from axlewright.job.schema import Job
from axlewright.plan.bench import OnTheBench, on_the_bench
from axlewright.plan.timeline import Step
from axlewright.weld.steel import steel

CACHE: list[Path | None] = [None]
"""Folder for built models, set once by the test session."""


@cache
def _bench(text: str) -> OnTheBench:
    job = Job.model_validate_json(text)
    return on_the_bench(job, build_model(job, CACHE[0]))


def bench_for(job: Job) -> OnTheBench:
    """A job on the bench; the same job twice gives the same bench."""
    return _bench(job.model_dump_json())


def as_numbered(model: Model, reverse: bool = False) -> tuple[Step, ...]:
    """All beads in the order of their numbers, without waiting."""
    return tuple(Step(bead, reverse, 0.0) for bead in range(len(model.assembly.beads)))


def cold_walk(bench: OnTheBench, shrink: Shrinkage, steps: tuple[Step, ...] | None = None) -> ColdShape:
    """Lay all beads with a given shrinkage and no heat: mechanics alone."""
    cold = replace(bench)
    cold.__dict__["tacks"] = replace(bench.tacks, states=np.zeros_like(bench.tacks.states))
    laying = bench.in_time(steps or as_numbered(bench.model)).laying
    laying = replace(laying, states=np.zeros_like(laying.states))
    per_length = fillet_stiffness(bench.settings.leg, steel(bench.job.housing.steel))
    walker = Walker(cold.tacked, bench.tacks.stretches, shrink, per_length, bench.model.lengths)
    return bench.shape(walker.walk(laying))


def tendon_only(bench: OnTheBench, factor: float = 1.0) -> Shrinkage:
    """The tendon force alone."""
    return Shrinkage(factor * bench.shrink.tendon, np.zeros_like(bench.shrink.across), 0.0)
