"""What the plan says about the fixture a housing is welded in; the mechanics is in `distortion.fixture`."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from axlewright.distortion.shape import ColdShape, cold_shape
from axlewright.job.fixture import Fixture
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.distortion_measure import distortion
from axlewright.plan.fixture_report import FixtureReport, FixtureStage, FixtureSupportLine
from axlewright.plan.prebend import PLANES, Prebend, best_shims
from axlewright.solid.mesh import Floats
from axlewright.units import format_deflection, format_force, format_stress
from axlewright.weld.steel import steel

WORTH_SAYING = 1.1
"""Rounding the shims is remarked on where it leaves this many times the distortion of the exact ones."""


def settled(bench: OnTheBench, ours: Trial, common: Trial) -> tuple[OnTheBench, Trial, Trial]:
    """Choose the shims for our plan, and look at both plans on them; nothing changes without a fixture."""
    if bench.fixture is None:
        return bench, ours, common
    shimmed = bench.prebent_for(ours.walked)
    # Common practice was tried on the job's own tacks; ours may have longer ones and more of them.
    return shimmed, shimmed.reread(ours), shimmed.with_own_tacks().reread(common)


def fixture_report(bench: OnTheBench, trial: Trial) -> FixtureReport | None:
    """What a plan does in its fixture; None where the housing lies free.

    Args:
        bench: the job on the bench, its shims chosen.
        trial: the plan, tried on it.
    """
    prebend, job = bench.prebend(trial.walked), bench.job
    if prebend is None or job.fixture is None:
        return None
    shims, flat = bench.shim_heights, prebend.flat
    held = prebend.release.on_shims(flat, shims)
    free_job = job.model_copy(update={"fixture": None})
    free = replace(bench, job=free_job, shims=None).try_plan(trial.timeline.steps)
    exact = best_shims(prebend, None) if job.fixture.prebend == "best" else shims
    return FixtureReport(
        along=job.housing.length / 2 - bench.model.stations,
        supports=_supports(bench, prebend, held, exact),
        prebend=job.fixture.prebend,
        shim_step=job.fixture.shim_step,
        prebent=_stage(bench, cold_shape(bench.model.stations, prebend.release.on_shims(0 * flat, shims))),
        clamped=_stage(bench, cold_shape(bench.model.stations, held)),
        released=_stage(bench, trial.shape),
        flat=_stage(bench, prebend.shape(np.zeros_like(shims))),
        unclamped=_stage(bench, free.shape),
        tube_stress=prebend.stress(shims),
        allowed_stress=prebend.allowed,
        yield_strength=steel(job.housing.steel).yield_strength,
        tack_load=trial.worst_tack,
        tack_load_unclamped=free.worst_tack,
        remarks=_remarks(bench, job.fixture, prebend, exact),
    )


def fixture_cautions(report: FixtureReport | None, inch: bool) -> tuple[str, ...]:
    """What to mind about the fixture, for the head of the list of cautions."""
    if report is None:
        return ()
    said = [
        f"Stored force: welded and cold, a clamp still holds up to {format_force(report.largest_push, inch)}. Let the "
        "housing cool to the air of the shop first. Then stand clear of its ends and slacken all clamps in turn, a "
        "little at a time; never one of them all the way.",
        f"Tacks: clamped, the worst tack carries {100 * report.tack_load:.0f} % of its strength; lying free it would "
        f"be {100 * report.tack_load_unclamped:.0f} %. Look at the tacks after each bead for as long as they hold.",
    ]
    if report.tube_stress > report.allowed_stress * (1 + 1e-6):
        said.append(
            f"Pre-bend: the given shims bend the tubes to {format_stress(report.tube_stress, inch)}, more than the "
            f"{format_stress(report.allowed_stress, inch)} that leave room for the welding. A tube that yields does "
            "not come back as planned: use thinner shims."
        )
    return tuple(said)


def _supports(
    bench: OnTheBench, prebend: Prebend, held: Floats, exact: Floats
) -> tuple[FixtureSupportLine, ...]:
    fixture, shims = prebend.release.fixture, bench.shim_heights
    before = prebend.release.pushes(prebend.release.on_shims(0 * held, shims), shims)
    after = prebend.release.pushes(held, shims)
    lines: list[FixtureSupportLine] = []
    numbers = {at: n for n, at in enumerate(sorted(_places(bench)), start=1)}
    for holding, part in zip(fixture.holdings, fixture.parts, strict=True):
        # Each support gives way under its push, so the axis stands that much off its shim.
        bent = _off_line(holding.at, shims[part] - before[part] / holding.stiffness)
        plane = PLANES[0] if holding.vertical else PLANES[1]
        for n, at in enumerate(holding.at):
            place, k = bench.job.distance_at(float(at)), part.start + n
            lines.append(
                FixtureSupportLine(
                    numbers[round(place, 6)],
                    place,
                    plane,
                    float(holding.stiffness[n]),
                    float(shims[k]),
                    float(exact[k]),
                    float(bent[n]),
                    float(before[k]),
                    float(after[k]),
                )
            )
    return tuple(lines)


def _places(bench: OnTheBench) -> set[float]:
    assert bench.job.fixture is not None
    return {round(support.at, 6) for support in bench.job.fixture.supports}


def _off_line(at: Floats, heights: Floats) -> Floats:
    """Heights over the line through the first and the last."""
    share = (at - at[0]) / (at[-1] - at[0])
    return np.asarray(heights - (1 - share) * heights[0] - share * heights[-1])


def _stage(bench: OnTheBench, shape: ColdShape) -> FixtureStage:
    camber, toe = np.rad2deg(shape.camber), np.rad2deg(shape.toe)
    return FixtureStage(
        shape.vertical,
        shape.fore_aft,
        shape.bow_vertical,
        shape.bow_fore_aft,
        (float(camber[0]), float(camber[1])),
        (float(toe[0]), float(toe[1])),
        distortion(shape, bench.job.housing.length),
    )


def _remarks(bench: OnTheBench, fixture: Fixture, prebend: Prebend, exact: Floats) -> tuple[str, ...]:
    inch, said = bench.job.inch, []
    for plane, way in zip(PLANES, ("up and down", "forward and back"), strict=True):
        few = len(fixture.holding(plane))
        if few in (1, 2):
            count = "One support" if few == 1 else "Two supports"
            said.append(f"{count} cannot keep the housing from bending {way}; it takes three.")
    if fixture.prebend == "best":
        said += _about_shims(prebend, exact, bench.shim_heights, inch)
    turned = any(turn != 0.0 for turn in bench.job.bench.turns)
    said.append("The housing stays clamped from before the first tack until it is cold.")
    if turned:
        said.append("Where the plan turns the housing, the fixture turns with it.")
    return tuple(said)


def _about_shims(prebend: Prebend, exact: Floats, shims: Floats, inch: bool) -> list[str]:
    """What rounding costs, and whether the tube's strength sets the limit."""
    said = []
    best, ours = prebend.distortion(exact), prebend.distortion(shims)
    if ours > WORTH_SAYING * best:
        said.append(
            f"With shims of any height the distortion would be {format_deflection(best, inch)}; in steps of yours "
            f"it is {format_deflection(ours, inch)}. Thinner shims, or foil on top, come closer."
        )
    if prebend.stress(exact) > 0.99 * prebend.allowed:
        said.append(
            f"More pre-bend would help, but the tubes are bent to {format_stress(prebend.allowed, inch)} already, "
            "half of their yield strength."
        )
    return said
