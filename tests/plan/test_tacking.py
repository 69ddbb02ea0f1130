"""Tacks against the rules of the trade."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from plan.planned import changed
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.housing.assembly import Assembly
from axlewright.housing.seam import Seam
from axlewright.plan.bench import OnTheBench

DEMOS = ("truss-only", "rescue-truck", "cast-centre")


def tacks_by_attachment(bench: OnTheBench) -> dict[str, np.ndarray]:
    """Places of the tacks of each attachment in the order they are set, shape (T, 3) [m]."""
    assembly = bench.model.assembly
    places: dict[str, list[np.ndarray]] = {}
    for number in bench.tacks.stretches:
        stretch = assembly.stretches[number]
        seam = assembly.seams[stretch.seam]
        places.setdefault(seam.attachment, []).append(seam.at(seam.path, np.array(stretch.middle)))
    return {name: np.array(points) for name, points in places.items()}


def tack_places(bench: OnTheBench, seam_number: int) -> list[float]:
    """Arc lengths of the tacks on one seam, in order along it [m]."""
    stretches = [bench.model.assembly.stretches[n] for n in bench.tacks.stretches]
    return sorted(stretch.middle for stretch in stretches if stretch.seam == seam_number)


def untacked(seam: Seam, places: list[float]) -> float:
    """Longest welded way along a seam from one tack to the next, drain openings not counted [m]."""
    ends = [*places, places[0] + seam.length] if seam.closed else places
    gaps = []
    for a, b in pairwise(ends):
        spans = [(u + turn, v + turn) for u, v in seam.openings for turn in (0.0, seam.length)]
        gaps.append((b - a) - sum(max(0.0, min(b, v) - max(a, u)) for u, v in spans))
    return max(gaps, default=0.0)


def runs(seam: Seam) -> list[tuple[float, float]]:
    """Welded stretches between drain openings, corners not counted as ends [m]."""
    joined: list[tuple[float, float]] = []
    for a, b in seam.welded():
        if joined and abs(joined[-1][1] - a) < 1e-9:
            joined[-1] = (joined[-1][0], b)
        else:
            joined.append((a, b))
    return joined


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_three_tacks_hold_the_truss(name: str) -> None:
    """The first two tacks of a truss sit at its two ends, on different sides, the third in the middle."""
    # Tolerance: within a tack spacing (50 mm) of the end; the middle is the middle two fifths, as openings and a
    # bridged centre leave no seam just there.
    job = demo(name)
    truss = job.trusses[0]
    first, second, third = tacks_by_attachment(bench_for(job))[truss.name][:3]
    left, right = job.x_at(truss.start), job.x_at(truss.end)
    ends = sorted([first[0], second[0]])
    assert ends == [pytest.approx(right, abs=0.05), pytest.approx(left, abs=0.05)]
    assert first[1] * second[1] < 0
    assert 0.3 <= (third[0] - right) / (left - right) <= 0.7


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_the_second_tack_is_far_and_the_third_between(name: str) -> None:
    """On every attachment the third tack is nearer to each of the first two than they are to each other."""
    for places in tacks_by_attachment(bench_for(demo(name))).values():
        first, second, third = places[:3]
        apart = np.linalg.norm(first - second)
        assert apart > np.linalg.norm(third - first) and apart > np.linalg.norm(third - second)


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_a_tack_every_two_inches_or_less(name: str) -> None:
    """Nowhere on a seam do two neighbouring tacks have more than a tack spacing of weld between them."""
    bench = bench_for(demo(name))
    spacing = bench.job.welder.tack_spacing
    for number, seam in enumerate(bench.model.assembly.seams):
        longest = untacked(seam, tack_places(bench, number))
        assert longest <= spacing + 1e-6, f"{seam.attachment}, {seam.name}: {1e3 * longest:.1f} mm"


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_every_run_of_weld_is_tacked_near_its_ends(name: str) -> None:
    """From the end of a seam or the edge of a drain opening it is at most a tack spacing to the nearest tack."""
    bench = bench_for(demo(name))
    for number, seam in enumerate(bench.model.assembly.seams):
        places = np.array(tack_places(bench, number))
        for end in {end for run in runs(seam) for end in run}:
            assert np.abs(places - end).min() <= bench.job.welder.tack_spacing + 1e-6


@pytest.mark.common_practice
def test_a_spacer_has_two_tacks_or_more() -> None:
    """Each perch spacer is held by at least two tacks before a bead is laid."""
    job = demo("rescue-truck")
    places = tacks_by_attachment(bench_for(job))
    assert min(len(places[spacer.name]) for spacer in job.spacers) >= 2


def test_closer_tacks_are_set_where_the_job_asks() -> None:
    """Half the tack spacing sets about twice the tacks, on the same model."""
    # A fifth either way: a tack sits on a stretch, of which a seam has a whole number.
    wide = demo("truss-only")
    close = changed(wide, "welder", tack_spacing=wide.welder.tack_spacing / 2)
    few, many = (len(bench_for(job).tacks.stretches) for job in (wide, close))
    assert 1.6 * few <= many <= 2.4 * few


@pytest.mark.common_practice
@pytest.mark.parametrize("name", DEMOS)
def test_no_tack_sits_in_a_drain_opening(name: str) -> None:
    """Drain openings are left open by tacks as well; a tack in the middle of its stretch fits inside the run."""
    bench = bench_for(demo(name))
    assembly: Assembly = bench.model.assembly
    for number in bench.tacks.stretches:
        stretch = assembly.stretches[number]
        half = min(bench.job.welder.tack_length, stretch.length) / 2
        for a, b in assembly.seams[stretch.seam].openings:
            assert not a < stretch.middle + half - 1e-9 < b and not a < stretch.middle - half + 1e-9 < b


def test_tacks_follow_one_another_in_time() -> None:
    """Each tack starts when the one before has been struck and the bench time per tack has passed."""
    bench = bench_for(demo("truss-only"))
    welder = bench.job.welder
    step = welder.tack_length / welder.travel_speed + bench.job.bench.tack_seconds
    count = len(bench.tacks.stretches)
    assert bench.tacks.starts == pytest.approx(step * np.arange(count))
    assert bench.tacks.end == pytest.approx(step * count)
