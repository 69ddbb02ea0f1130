"""The rule-of-thumb plan against the rules it stands for."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from plan.planned import changed, common_for, seams_in_order
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.job.schema import Job
from axlewright.plan.common_practice import common_practice
from axlewright.plan.places import bead_middles
from axlewright.plan.positions import positions

DEMOS = ("truss-only", "rescue-truck", "cast-centre")


def beads_of(job: Job, name: str) -> list[int]:
    """Beads of one attachment in the order of common practice."""
    bench = bench_for(job)
    steps, seams = common_for(job).timeline.steps, seams_in_order(bench, common_for(job))
    return [step.bead for step, seam in zip(steps, seams, strict=True) if seam.attachment == name]


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_beads_are_two_inches_at_most(name: str) -> None:
    """No bead is longer than the job's bead length, and together they fill the seams but for the openings."""
    bench = bench_for(demo(name))
    assembly = bench.model.assembly
    assert max(bead.length for bead in assembly.beads) <= bench.job.welder.bead_length * 1.001
    for number, seam in enumerate(assembly.seams):
        beads = sorted((bead.start, bead.end) for bead in assembly.beads if bead.seam == number)
        openings = sorted(seam.openings)
        cover = sorted(beads + openings)
        assert cover[0][0] == pytest.approx(0.0) and cover[-1][1] == pytest.approx(seam.length)
        for (_, end), (start, _) in pairwise(cover):
            assert start == pytest.approx(end, abs=1e-9)


@pytest.mark.common_practice
def test_drain_openings_are_those_of_the_job_file() -> None:
    """A stretch left open on the truss begins and ends at the distances the shop wrote."""
    job = demo("truss-only")
    for seam in bench_for(job).model.assembly.seams:
        found = sorted(
            tuple(sorted(job.distance_at(float(seam.at(seam.path, np.array(s))[0])) for s in opening))
            for opening in seam.openings
        )
        assert found == [pytest.approx((0.555, 0.615), abs=1e-6), pytest.approx((0.975, 1.035), abs=1e-6)]


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_side_changes_after_every_bead_where_it_can(name: str) -> None:
    """With several seams the next bead is on another one as long as one is left there that can be reached."""
    job = demo(name)
    assembly = bench_for(job).model.assembly
    for attachment in job.attachments:
        if attachment in job.spacers:
            continue
        own = beads_of(job, attachment.name)
        steps = [step for step in common_for(job).timeline.steps if step.bead in own]
        order = [(assembly.beads[step.bead].seam, step.turn) for step in steps]
        for (last, _), (seam, turn), *later in (order[place:] for place in range(len(order) - 1)):
            if any(other != last for other, lies in [(seam, turn), *later] if lies == turn):
                assert seam != last


@pytest.mark.parametrize("name", DEMOS)
def test_the_housing_is_turned_only_for_what_cannot_be_reached(name: str) -> None:
    """Each bead lies where it may be welded, upward where it climbs, and before a turn all in reach is done."""
    job = demo(name)
    assembly, steps = bench_for(job).model.assembly, common_for(job).timeline.steps
    lies = positions(assembly, job.bench.turns, job.bench.overhead)
    for number, step in enumerate(steps):
        column = lies.turns.index(step.turn)
        assert lies.allowed[step.bead, column]
        assert lies.reverse[step.bead, column] in (0, -1 if step.reverse else 1)
        before = steps[number - 1].turn if number else 0.0
        if step.turn != before:
            attachment = assembly.seams[assembly.beads[step.bead].seam].attachment
            left = [
                s.bead
                for s in steps[number:]
                if assembly.seams[assembly.beads[s.bead].seam].attachment == attachment
            ]
            assert not lies.allowed[left, lies.turns.index(before)].any()


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_second_bead_is_farthest_and_third_between(name: str) -> None:
    """On a truss no bead of the other side is farther from the first than the second; the third lies between."""
    job = demo(name)
    middles = bead_middles(bench_for(job).model.assembly)
    assembly = bench_for(job).model.assembly
    order = beads_of(job, job.trusses[0].name)
    first, second, third = order[:3]
    other = [bead for bead in order if assembly.beads[bead].seam != assembly.beads[first].seam]
    away = {bead: np.linalg.norm(middles[bead] - middles[first]) for bead in other}
    assert away[second] == pytest.approx(max(away.values()), abs=1e-3)
    along = (middles[third, 0] - middles[first, 0]) / (middles[second, 0] - middles[first, 0])
    assert 0.3 <= along <= 0.7


@pytest.mark.common_practice
@pytest.mark.parametrize("beads", [5, 4])
def test_a_quarter_of_an_hour_after_every_five_beads(beads: int) -> None:
    """The pause is 15 min after every five beads, or four where the job says so, and none elsewhere."""
    job = changed(demo("rescue-truck"), "bench", beads_between_cool_downs=beads)
    waits = [step.wait for step in common_practice(bench_for(job).model.assembly, job.bench)]
    assert [n for n, wait in enumerate(waits) if wait] == list(range(beads, len(waits), beads))
    assert {wait for wait in waits if wait} == {900.0}


@pytest.mark.common_practice
def test_the_pause_is_the_jobs_own() -> None:
    """A shop that lets its work cool for twenty minutes gets twenty minutes."""
    job = changed(demo("truss-only"), "bench", cool_down=1200.0)
    steps = common_practice(bench_for(job).model.assembly, job.bench)
    assert {step.wait for step in steps} == {0.0, 1200.0}


@pytest.mark.common_practice
def test_a_guard_is_begun_by_the_clock() -> None:
    """The first five beads of a guard lie at 9, 3, 6, 10 and 5 o'clock, or next to a drain opening there."""
    # Tolerance: the hour lies on the bead, or on the drain opening beside it (half an hour of the demo's rim).
    # With its front side up the whole rim is in reach and nothing is put off for a turn.
    job = changed(demo("rescue-truck"), "bench", turns=(90.0, 180.0, 270.0))
    assembly = bench_for(job).model.assembly
    for wanted, number in zip((9.0, 3.0, 6.0, 10.0, 5.0), beads_of(job, "front guard")[:5], strict=True):
        bead = assembly.beads[number]
        seam = assembly.seams[bead.seam]
        assert seam.clock is not None
        # The rim counts on past twelve: hours from the one wanted, between -6 and 6.
        ends = [float(seam.at(seam.clock, np.array(s))) - wanted for s in (bead.start, bead.end)]
        before, after = sorted((end + 6.0) % 12.0 - 6.0 for end in ends)
        assert before <= 0.5 and after >= -0.5, (wanted, before, after)


@pytest.mark.common_practice
def test_a_spacer_is_welded_all_round_in_sequence() -> None:
    """Each bead of a spacer begins where the one before ended, and the last ends where the first began."""
    job = demo("rescue-truck")
    assembly = bench_for(job).model.assembly
    for spacer in job.spacers:
        beads = [assembly.beads[number] for number in beads_of(job, spacer.name)]
        around = assembly.seams[beads[0].seam].length
        for one, following in zip(beads, [*beads[1:], beads[0]], strict=True):
            assert (following.start - one.end) % around == pytest.approx(0.0, abs=1e-9)


@pytest.mark.common_practice
def test_attachments_are_welded_in_the_order_of_the_trade() -> None:
    """Truss first, then guard, spacers, gussets; each is finished before the next is begun."""
    job = demo("rescue-truck")
    seams = seams_in_order(bench_for(job), common_for(job))
    kinds = list(dict.fromkeys(seam.kind for seam in seams))
    assert kinds == ["truss", "guard", "spacer", "gusset"]
    changes = sum(a.attachment != b.attachment for a, b in pairwise(seams))
    assert changes == len(job.attachments) - 1


@pytest.mark.common_practice
def test_the_job_file_may_set_another_order() -> None:
    """Kinds the job names come first in its order, the rest after them in the order of the trade."""
    job = changed(demo("rescue-truck"), "bench", order=("spacer", "truss"))
    seams = seams_in_order(bench_for(job), common_for(job))
    assert list(dict.fromkeys(seam.kind for seam in seams)) == ["spacer", "truss", "guard", "gusset"]
    tacks = bench_for(job).tacks.stretches
    assembly = bench_for(job).model.assembly
    first = assembly.seams[assembly.stretches[tacks[0]].seam]
    assert first.kind == "spacer"
