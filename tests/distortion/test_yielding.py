"""The yielding study's walk: elastic where nothing yields; where all yields, no force exceeds its strength."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from reference.benches import as_numbered, bench_for
from reference.jobs import plain_tube, strip
from scipy.optimize import minimize

from axlewright.plan.bench import OnTheBench
from axlewright.plan.distortion_measure import distortion
from axlewright.weld.steel import steel
from axlewright.weld.strength import directional_utilisation
from studies.yielding.compare import compared
from studies.yielding.figures import fracture_deformation, yielding_figures
from studies.yielding.laid_out import Yielding, tack_strength
from studies.yielding.plans import Plan
from studies.yielding.return_mapping import Limits, overload, returned, throat_load
from studies.yielding.settle import settle
from studies.yielding.yielding_walk import Yielded, YieldingWalker

STIFF = np.array([[1e8, 3e8, 3e8, 400.0]])
LIMITS = Limits(np.array([30e3]), np.array([30.0]))
FREE = np.array([False])


def small_job() -> OnTheBench:
    """Six beads in a row on a tube, tacked first."""
    bench: OnTheBench = bench_for(plain_tube(strip(length=300)))
    return bench


def walked(rule: Yielding) -> Yielded:
    """The small job's beads one after another, as `rule` has it."""
    bench = small_job()
    return YieldingWalker(bench, rule).walk(bench.in_time(as_numbered(bench.model)))


@pytest.mark.analytical
@pytest.mark.parametrize(
    ("direction", "root"),
    [((1, 0, 0), 3.0), ((0, 1, 0), 2.0), ((0, 1, -1), 2.0), ((0, 1, 1), 6.0), ((0, -1, 0), 0.0)],
)
def test_throat_load_is_von_mises_on_a_45_degree_throat(direction: tuple[int, int, int], root: float) -> None:
    """A pull along is shear, one away from the fillet's corner is normal stress, one along the throat is shear."""
    # Source: EN 1993-1-8:2005 4.5.3.2 with the components of figure 4.5; contact carries what presses. Round-off.
    assert throat_load(np.array(direction, dtype=float)) == pytest.approx(np.sqrt(root), rel=1e-12)


@pytest.mark.analytical
def test_throat_load_is_the_directional_method_where_the_joint_opens() -> None:
    """Held against its strength, the throat load is the utilisation the package's own formula gives."""
    # Source: weld.strength, same clause, first condition, throat 5 mm, 20 mm long; round-off.
    force, area, grade = np.array([4e3, 9e3, -3e3]), 5e-3 * 0.02, steel("S355")
    normal, across = (force[1] - force[2]) / np.sqrt(2) / area, (force[1] + force[2]) / np.sqrt(2) / area
    expected = directional_utilisation(normal, across, force[0] / area, grade)
    strength = grade.ultimate / (grade.correlation_factor * 1.25) * area
    assert throat_load(force) / strength == pytest.approx(float(expected), rel=1e-12)


@pytest.mark.analytical
@given(
    arrays(float, (1, 4), elements=st.floats(-1, 1)),
    arrays(float, (1, 4), elements=st.floats(-1, 1)),
)
def test_returned_force_is_the_nearest_that_can_be_carried(trial: np.ndarray, other: np.ndarray) -> None:
    """The force is within its limits and no other such force does more work on the slip."""
    # Source: projection onto a convex set (maximum plastic work). Tolerance: round-off of some kN times mm.
    trial, other = trial * [1e5, 1e5, 1e5, 100.0], other * [1e5, 1e5, 1e5, 100.0]
    force, _ = returned(trial, STIFF, LIMITS)
    slip = (trial - force) / STIFF
    carried, _ = returned(other, STIFF, LIMITS)
    assert overload(force, LIMITS)[0] < 1e-9
    assert np.sum((force - carried) * slip) > -1e-9


@pytest.mark.analytical
@pytest.mark.parametrize("direction", [(1, 2, -1), (1, 2, 1), (2, -3, 1), (1, -3, -2)])
def test_tangent_is_the_slope_of_the_returned_force(direction: tuple[int, int, int]) -> None:
    """A small further stretch changes the force as the tangent says, opened or pressed."""
    # Source: difference quotient at 1e-9 m and 1e-9 rad. Tolerance 1e-5 of the stiffness: its second-order error.
    trial = np.array([[*(3e4 * np.array(direction)), 10.0]])
    _, tangent = returned(trial, STIFF, LIMITS)
    for n in range(4):
        step = np.eye(4)[n] * 1e-9
        before, after = (returned(trial + sign * STIFF * step, STIFF, LIMITS)[0] for sign in (-1, 1))
        slope = (after - before)[0] / 2e-9
        assert slope == pytest.approx(tangent[0, :, n], abs=1e-5 * STIFF[0, n])


@pytest.mark.analytical
@pytest.mark.parametrize(("row", "carried", "pull"), [(0, 30e3 / np.sqrt(3), 5e-4), (3, 30.0, 0.2)])
def test_spring_pulled_past_yield_slips_as_theory_says(row: int, carried: float, pull: float) -> None:
    """A spring on an elastic support that is pulled by g slips by g - (1/k + c) times what it carries."""
    # Source: equilibrium of a slider and two springs in a row. Tolerance 1e-9: the solver's.
    flexible = np.diag(1 / STIFF[0] + [2e-9, 2e-9, 2e-9, 1e-3])
    stretch = np.zeros((1, 4))
    stretch[0, row] = pull
    found = settle(np.linalg.inv(np.linalg.cholesky(flexible)), stretch, STIFF, LIMITS, FREE, FREE)
    assert found.force[0, row] == pytest.approx(carried, rel=1e-9)
    assert found.slip[0, row] == pytest.approx(pull - flexible[row, row] * carried, rel=1e-9)


@pytest.mark.analytical
def test_several_springs_settle_at_the_least_complementary_energy() -> None:
    """Three coupled springs of which some yield carry the forces a general optimiser finds."""
    # Source: Haar and von Karman's principle, minimised by SLSQP (scipy), whose own accuracy sets the 1e-4.
    chance = np.random.default_rng(3)
    stiff = np.repeat(STIFF, 3, axis=0)
    limits = Limits(np.array([30e3, 20e3, 40e3]), np.array([30.0, 10.0, 40.0]))
    root = chance.normal(size=(12, 12))
    scale = np.sqrt(1 / stiff.ravel())
    flexible = np.diag(1 / stiff.ravel()) + 0.3 * scale[:, None] * (root @ root.T) * scale
    stretch = chance.normal(size=(3, 4)) * [4e-4, 3e-4, 3e-4, 0.15]
    inverse = np.linalg.inv(np.linalg.cholesky(flexible))
    none = np.zeros(3, dtype=bool)
    found = settle(inverse, stretch, stiff, limits, none, none)
    unit = np.tile([1e4, 1e4, 1e4, 10.0], 3)
    energy = unit[:, None] * flexible * unit
    best = minimize(
        lambda f: 0.5 * f @ energy @ f - f @ (unit * stretch.ravel()),
        np.zeros(12),
        jac=lambda f: energy @ f - unit * stretch.ravel(),
        constraints={"type": "ineq", "fun": lambda f: -overload((unit * f).reshape(3, 4), limits)},
        method="SLSQP",
        options={"ftol": 1e-14, "maxiter": 500},
    )
    assert 0 < np.sum(overload(found.force, limits) > -1e-9) <= 3
    assert found.force.ravel() / unit == pytest.approx(best.x, abs=1e-4 * np.abs(best.x).max())


@pytest.mark.analytical
def test_walk_in_which_nothing_yields_is_the_elastic_walk() -> None:
    """With infinite strength and beads there from the start of their arc, shape and tack forces are the package's."""
    # Source: the elastic walk. 1e-8 of the largest figure, round-off of two ways through the same algebra.
    bench = small_job()
    steps = tuple(replace(step, wait=300.0 * (n % 2)) for n, step in enumerate(as_numbered(bench.model)))
    line = bench.in_time((*steps[::2], *steps[1::2]))
    mine, elastic = YieldingWalker(bench, Yielding(np.inf, soft=None)).walk(line), bench.walk(line)
    axis = 6 * len(bench.model.lengths)
    for part in (slice(0, axis), slice(axis, None)):
        assert np.abs(mine.cold - elastic.cold)[part].max() < 1e-8 * np.abs(elastic.cold[part]).max()
    loads = elastic.tack_forces
    assert np.abs(mine.tack_forces[:, :3] - loads).max() < 1e-8 * np.abs(loads).max()
    assert not mine.tack_slips.any() and not mine.bead_slips.any()


@pytest.mark.analytical
@pytest.mark.parametrize("soft", [None, 0.0, 15.0])
def test_weak_springs_carry_no_more_than_they_can(soft: float | None) -> None:
    """At a tenth of their strength tacks slip, and nowhere and never does a spring carry more than that."""
    # Source: the definition of yielding. 1e-8: the solver's.
    weak = walked(Yielding(0.1, soft))
    assert weak.overload < 1e-8
    load = throat_load(np.moveaxis(weak.tack_forces, 1, 2)).max(axis=1) / tack_strength(small_job())
    assert load.max() < 0.1 * (1 + 1e-8)
    assert weak.tack_slips.max() > 1e-5
    assert weak.tack_demand.max() > 1.0


@pytest.mark.analytical
def test_great_strength_is_like_infinite_strength() -> None:
    """A hundred times the strength leaves the shape of springs that never yield, with beads that set late."""
    # Source: nothing reaches its limit, so the answer is the same; 1e-9, round-off.
    strong, elastic = walked(Yielding(100.0)), walked(Yielding(np.inf))
    assert np.abs(strong.cold - elastic.cold).max() < 1e-9 * np.abs(elastic.cold).max()


@pytest.mark.analytical
def test_a_bead_sets_in_the_shape_it_finds_when_it_sets() -> None:
    """The later a bead sets, the cooler the steel it sets on, so the three moments leave three shapes."""
    # Source: the heat growth of the steel at that moment is locked in; over 0.1 % is far above round-off.
    shapes = [walked(Yielding(np.inf, soft)).shape.bow_vertical for soft in (None, 0.0, 15.0)]
    assert len({round(bow * 1e9) for bow in shapes}) == 3
    assert abs(shapes[1] / shapes[2] - 1) > 1e-3


@pytest.mark.published
def test_fillets_break_at_the_deformation_of_their_direction() -> None:
    """A fillet pulled across breaks at 0.056 of its leg, one pulled along at 0.17."""
    # Source: Lesik and Kennedy 1990, 1.087 (theta + 6)^-0.65, at most 0.17, from memory; 1 %, values of three digits.
    found = fracture_deformation(np.array([0.0, 1.0]), np.array([1.0, 0.0]), 1.0)
    assert found == pytest.approx([0.0559, 0.17], rel=0.01)


@pytest.mark.regression
def test_small_job_with_yielding() -> None:
    """Distortion and tack demand of the small job stay what they are."""
    # Present behaviour; 0.1 %, and 1 % for what a spring that slips without hardening is moved by.
    bench = small_job()
    found = walked(Yielding())
    assert 1e3 * distortion(found.shape, bench.job.housing.length) == pytest.approx(1.1882, rel=1e-3)
    assert found.tack_demand.max() == pytest.approx(8.602, rel=1e-2)


@pytest.mark.analytical
def test_a_ranking_survives_itself_and_not_its_reverse() -> None:
    """Held against themselves figures correlate by 1 and survive; turned upside down, by -1, and do not."""
    # Source: definition of Spearman's coefficient.
    bench = small_job()
    numbers = as_numbered(bench.model)
    names = ("common practice", "a", "b", "c", "ours, recommended")
    base = yielding_figures(bench, "small", "elastic", Yielding(np.inf), Plan("any", "", numbers))
    up = [
        replace(base, plan=name, distortion_mm=1.0 + n, tack_demand=1.0 + n) for n, name in enumerate(names)
    ]
    down = [replace(row, distortion_mm=9.0 - row.distortion_mm) for row in up]
    same, reverse = compared(up, up), compared(up, down)
    assert same.correlation == pytest.approx(1.0) and same.survives
    assert reverse.correlation == pytest.approx(-1.0) and not reverse.survives
