"""The plans of the study, spread widely: by the trade, by rule, careless, by chance, and ours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from axlewright.plan.bench import OnTheBench, Trial
from axlewright.plan.common_practice import common_practice
from axlewright.plan.coolest_first import Taste, coolest_first, kind_groups
from axlewright.plan.outlook import outlook
from axlewright.plan.places import bead_middles
from axlewright.plan.recommend import choice
from axlewright.plan.search.search import Search, look_for_plans
from axlewright.plan.tacking import attachments_in_order
from axlewright.plan.timeline import Step

COMMON, OURS = "common practice", "ours, recommended"
"""Names of the two plans that matter most."""

MINUTE = 60.0

EVERY = (0.0, 5.0, 15.0, 30.0)
"""Pauses after every few beads, as common practice makes them [min]."""

SHARES = (0.5, 1.0, 2.0, 4.0, np.inf)
"""Spot temperatures waited for, as shares of common practice's hottest."""

FAR = ((0.0, 0.0, False), (50.0, 15.0, True), (0.0, 150.0, False))
"""Tastes: kelvin a metre from the last bead is worth, from the nearest laid, and whether the side must change."""

SEARCH = Search(plans=1000, seconds=900.0)
"""How thoroughly ours are looked for: ended by the number of plans, so that a run can be repeated."""

FRONT = 6
"""Plans taken from our trade-off besides the recommended one."""


@dataclass(frozen=True)
class Plan:
    """A plan by name.

    Args:
        name: what it is.
        family: plans that differ in their waits only; empty for others.
        steps: its beads.
    """

    name: str
    family: str
    steps: tuple[Step, ...]


def plans(bench: OnTheBench, common: Trial) -> tuple[list[Plan], OnTheBench]:
    """All plans of the study on one job, ours last, and the bench with the tacks that ours asks for."""
    usual = common_practice(bench.model.assembly, bench.job.bench)
    found = [Plan(COMMON, "common order", usual)]
    found += _waiting(bench, "common order", usual)
    found += _waiting(bench, "seam after seam", _forward(_seam_after_seam(bench)))
    found += _waiting(bench, "side by side", _forward(_side_by_side(bench)))[::2]
    found += _coolest(bench, common)
    found += _by_chance(bench)
    ours, stronger = _ours(bench, common)
    found += ours
    # Where two rules come to the same plan it counts once; common practice stands for itself.
    apart = [plan for n, plan in enumerate(found) if all(plan.steps != other.steps for other in found[:n])]
    return apart, stronger


def _waiting(bench: OnTheBench, name: str, steps: tuple[Step, ...]) -> list[Plan]:
    """One order with pauses after every few beads, and with a pause before every bead."""
    few = bench.job.bench.beads_between_cool_downs
    made = [
        Plan(f"{name}, {wait:.0f} min after every {few}", name, _with_waits(steps, few, MINUTE * wait))
        for wait in EVERY
    ]
    return [*made, Plan(f"{name}, 15 min before every bead", name, _with_waits(steps, 1, 15 * MINUTE))]


def _with_waits(steps: tuple[Step, ...], few: int, wait: float) -> tuple[Step, ...]:
    return tuple(
        replace(step, wait=wait if number and number % few == 0 else 0.0) for number, step in enumerate(steps)
    )


def _forward(order: list[int]) -> tuple[Step, ...]:
    """Beads from start to end; how the housing lies for them is not looked at, which only costs time."""
    return tuple(Step(bead, False, 0.0) for bead in order)


def _seam_after_seam(bench: OnTheBench) -> list[int]:
    """Each seam from end to end, then the next, attachment after attachment."""
    assembly = bench.model.assembly
    names = attachments_in_order(assembly, bench.job.bench.order)
    rank = {name: place for place, name in enumerate(names)}
    beads = range(len(assembly.beads))
    return sorted(beads, key=lambda bead: (rank[assembly.seams[assembly.beads[bead].seam].attachment], bead))


def _side_by_side(bench: OnTheBench) -> list[int]:
    """All seams of an attachment together, from the left end to the right."""
    assembly, middles = bench.model.assembly, bead_middles(bench.model.assembly)
    place = {bead: n for n, bead in enumerate(_seam_after_seam(bench))}
    names = [assembly.seams[bead.seam].attachment for bead in assembly.beads]
    first = {name: min(place[b] for b, own in enumerate(names) if own == name) for name in set(names)}
    beads = range(len(assembly.beads))
    return sorted(beads, key=lambda bead: (first[names[bead]], round(-middles[bead, 0], 3), bead))


def _coolest(bench: OnTheBench, common: Trial) -> Iterator[Plan]:
    """The coolest spot first, by several tastes and limits; waits as the limit needs them."""
    view = outlook(bench.model, bench.heated, bench.job.bench)
    nowhere = np.full(len(bench.model.modes.places), np.inf)
    for far, near, side in FAR:
        for share in SHARES:
            taste = Taste(share * common.hottest, far, near, side, nowhere)
            limit = "no limit" if np.isinf(share) else f"limit {share:g}x"
            name = f"coolest first, {far:g} and {near:g} K/m{', other side' if side else ''}"
            yield Plan(f"{name}, {limit}", "", coolest_first(view, bench.job.bench, bench.tacks, taste).steps)


def _by_chance(bench: OnTheBench) -> Iterator[Plan]:
    """Orders and directions by chance within each kind of attachment; every other one with common practice's pauses."""
    few = bench.job.bench.beads_between_cool_downs
    for seed in range(8):
        chance = np.random.default_rng(seed)
        groups = kind_groups(bench.model, bench.job.bench.order)
        order = [int(bead) for group in groups if group for bead in chance.permutation(group)]
        wait = 15 * MINUTE if seed % 2 else 0.0
        steps = tuple(Step(bead, bool(chance.random() < 0.5), 0.0) for bead in order)
        yield Plan(
            f"by chance {seed}, {wait / MINUTE:.0f} min after every {few}", "", _with_waits(steps, few, wait)
        )


def _ours(bench: OnTheBench, common: Trial) -> tuple[list[Plan], OnTheBench]:
    """Plans of our trade-off, the recommended one last, and the bench they are for: it may have stronger tacks."""
    tries = look_for_plans(bench, common, SEARCH)
    found = choice(tries)
    leading = found.plan(found.leading)
    others = [plan for plan in found.plans if plan is not leading]
    picked = (
        [others[n] for n in np.unique(np.linspace(0, len(others) - 1, FRONT).astype(int))] if others else []
    )
    made = [Plan(f"ours, from the trade-off {n}", "", plan.steps) for n, plan in enumerate(picked, start=1)]
    return [*made, Plan(OURS, "", leading.steps)], tries.bench
