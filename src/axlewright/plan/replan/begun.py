"""What a job was begun with: the bench with the plan's tacks and shims, and the plan's steps.

A plan may ask for longer tacks than the job's own, for more of them, and for shims of its own choice. Where things
stand can only be told on the same bench, so it is read from plan.json with the steps.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from axlewright.errors import Fault, LogError
from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.replan.intent import Intent
from axlewright.plan.replan.names import Names
from axlewright.plan.replan.replay import names_for
from axlewright.plan.timeline import Step
from axlewright.shop.factors import ShopFactors

NEAR = 1e-4
"""How far a place of plan.json may be from the job's own [m]; it is written to the micrometre."""

ROUNDED = 1e-6
"""Lengths this close are the same: plan.json is written to the micrometre [m]."""

TURN_ROUNDED = 0.051
"""Turns are written to a tenth of a degree [deg]."""

_REMEDY = "Plan the job again, or leave the option out."


class _Read(BaseModel):
    """What is read of a record; whatever else it holds is left alone."""

    model_config = ConfigDict(extra="ignore", allow_inf_nan=False)


class _Bead(_Read):
    attachment: str
    seam: str
    from_s_mm: float
    to_s_mm: float
    wait_s: float = Field(ge=0.0)
    turn_deg: float


class _Tack(_Read):
    attachment: str
    seam: str
    at_s_mm: float
    length_mm: float = Field(gt=0.0)


class _Support(_Read):
    at_mm: float
    plane: str
    shim_mm: float


class _Fixture(_Read):
    supports: list[_Support]


class _Plan(_Read):
    beads: list[_Bead]
    tacks: list[_Tack]
    fixture: _Fixture | None


@dataclass(frozen=True)
class Begun:
    """What a job was begun with.

    Args:
        bench: the job on the bench, with the plan's tacks and shims.
        steps: the plan.
    """

    bench: OnTheBench
    steps: tuple[Step, ...]

    def intent(self, common: Trial, shop: ShopFactors | None = None) -> Intent:
        """What to hold any way on against.

        Args:
            common: common practice, tried on the job's own tacks.
            shop: what the shop has learned, whose middle the bench has; left out: nothing.
        """
        if self.bench.fixture is not None:
            common = self.bench.with_own_tacks().reread(common)
        return Intent(self.bench, self.steps, common, shop)


def read_plan_json(bench: OnTheBench, path: Path) -> Begun:
    """What a plan.json on disk says; see `begun_with`.

    Raises:
        LogError: it cannot be read, is no plan.json, or is of another job.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "it is not UTF-8 text"
        raise LogError(Fault(str(path), "unreadable", reason, _REMEDY)) from error
    return begun_with(bench, text, str(path))


def begun_with(bench: OnTheBench, text: str, source: str) -> Begun:
    """Bench and steps of a plan.json of the same job.

    Args:
        bench: the job on the bench, with its own tacks.
        text: contents of the file.
        source: stands for the file in messages.

    Raises:
        LogError: it is no plan.json, or of another job.
    """
    try:
        plan = _Plan.model_validate_json(text)
    except ValidationError as error:
        raise LogError(_no_plan(source, error)) from error
    names = names_for(bench, ())
    planned = _with_shims(_with_tacks(bench, names, plan.tacks, source), plan.fixture, source)
    return Begun(planned, _steps(names, bench.job.bench.turns, plan.beads, source))


def _no_plan(source: str, error: ValidationError) -> Fault:
    """The first thing that is wrong with the file, by its place in it."""
    first = error.errors(include_url=False, include_context=False, include_input=False)[0]
    place = ".".join(str(part) for part in first["loc"])
    said = f"{place}: {first['msg']}" if place else first["msg"]
    return Fault(source, said, "must be a plan.json as this program writes it", _REMEDY)


def _other_job(source: str, given: str, allowed: str) -> LogError:
    return LogError(Fault(source, given, allowed, f"Is it a plan of this job? {_REMEDY}"))


def _steps(names: Names, turns: tuple[float, ...], beads: list[_Bead], source: str) -> tuple[Step, ...]:
    steps = [step for step in (_step(names, turns, bead) for bead in beads) if step is not None]
    count = len(names.assembly.beads)
    if len(beads) != count or sorted(step.bead for step in steps) != list(range(count)):
        allowed = f"must have each of the job's {count} beads once, at turns that it allows"
        raise _other_job(source, f"a plan of {len(beads)} beads", allowed)
    return tuple(steps)


def _step(names: Names, turns: tuple[float, ...], read: _Bead) -> Step | None:
    """A bead of the file by its ends; None where the job has none there, or does not turn the housing that way."""
    turn = min(turns, key=lambda turn: abs(turn - read.turn_deg))
    if abs(turn - read.turn_deg) > TURN_ROUNDED:
        return None
    seam, begin, end = names.seam(read.attachment, read.seam), 1e-3 * read.from_s_mm, 1e-3 * read.to_s_mm
    low, high = sorted((begin, end))
    for number, bead in enumerate(names.assembly.beads):
        if bead.seam == seam and max(abs(bead.start - low), abs(bead.end - high)) <= NEAR:
            return Step(number, begin > end, read.wait_s, turn)
    return None


def _with_tacks(bench: OnTheBench, names: Names, tacks: list[_Tack], source: str) -> OnTheBench:
    """The bench with the plan's tacks: the job's own in order, longer or not, then those added."""
    usual, own = bench.tack_places.tolist(), bench.job.welder.tack_length
    places = [_stretch(names, tack) for tack in tacks]
    found = [place for place in places if place is not None]
    if len(found) < len(tacks) or found[: len(usual)] != usual or len(set(found)) < len(found):
        allowed = f"must have the job's {len(usual)} tacks in their order, then those added"
        raise _other_job(source, f"a plan of {len(tacks)} tacks", allowed)
    # Tacks as long as the spacing would be a bead; nothing that a plan asks for comes near.
    longest = max(own, bench.job.welder.tack_spacing)
    lengths = [own if abs(1e-3 * tack.length_mm - own) < ROUNDED else 1e-3 * tack.length_mm for tack in tacks]
    if max(lengths, default=0.0) > longest + ROUNDED:
        number = int(np.argmax(lengths))
        said, allowed = (
            f"T{number + 1} of {1e3 * lengths[number]:.0f} mm",
            f"must be at most {1e3 * longest:.0f} mm",
        )
        raise _other_job(source, said, allowed)
    added = tuple(found[len(usual) :])
    if not added and set(lengths) <= {own}:
        return bench
    return replace(bench, extra_tacks=added, longer_tacks=tuple(lengths))


def _stretch(names: Names, tack: _Tack) -> int | None:
    """The stretch a tack of the file sits on; None where the job has none there."""
    seam = names.seam(tack.attachment, tack.seam)
    for number, stretch in enumerate(names.assembly.stretches):
        if stretch.seam == seam and abs(stretch.middle - 1e-3 * tack.at_s_mm) <= NEAR:
            return number
    return None


def _with_shims(bench: OnTheBench, read: _Fixture | None, source: str) -> OnTheBench:
    """The bench with the plan's shims; the same one where it has them already."""
    wanted, given = _supports(bench), read.supports if read is not None else []
    same = len(given) == len(wanted) and all(
        support.plane == plane and abs(1e-3 * support.at_mm - at) <= NEAR
        for support, (plane, at) in zip(given, wanted, strict=True)
    )
    if not same:
        allowed = f"must have the job's {len(wanted)} in their places"
        raise _other_job(source, f"a fixture of {len(given)} supports", allowed)
    shims = np.array([1e-3 * support.shim_mm for support in given])
    if np.all(np.abs(shims - bench.shim_heights) < ROUNDED):
        return bench
    return replace(bench, shims=tuple(shims.tolist()))


def _supports(bench: OnTheBench) -> list[tuple[str, float]]:
    """Plane and distance from the left flange of each support, in the order of the shims [m]."""
    holdings = bench.fixture.holdings if bench.fixture is not None else ()
    return [
        ("vertical" if holding.vertical else "fore-aft", bench.job.distance_at(float(at)))
        for holding in holdings
        for at in holding.at
    ]
