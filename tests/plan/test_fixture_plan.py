"""The pre-bend a plan chooses for a fixture, and what it says about it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise

import jsonschema
import numpy as np
import pytest
from plan.planned import plan_json
from reference.benches import as_numbered, bench_for
from reference.jobs import plain_tube, strip

from axlewright.job.demo_jobs import demo_text
from axlewright.job.reading import parse_job
from axlewright.job.schema import Job
from axlewright.plan import prebend as prebend_module
from axlewright.plan.bench import OnTheBench, Trial, on_the_bench
from axlewright.plan.common_practice import common_practice
from axlewright.plan.distortion_measure import distortion
from axlewright.plan.fixture import fixture_cautions, fixture_report
from axlewright.plan.fixture_report import FixtureReport
from axlewright.plan.plan_file import plan_schema
from axlewright.plan.prebend import Prebend, best_shims
from axlewright.plan.report import PlanReport
from axlewright.plan.reporting import plan_report
from axlewright.plan.spreads import Inputs

SAMPLES = 10
THREE = (130, 650, 1170)
FOUR = (130, 420, 880, 1170)


def fixture_text(at: tuple[float, ...], plane: str = "vertical", head: str = "", more: str = "") -> str:
    """The fixture of a job file; `more` goes to its second support."""
    supports = [f'[[fixture.support]]\nat = "{place} mm"\nplane = "{plane}"\n' for place in at]
    supports[1] += more + "\n"
    return f"\n[fixture]\n{head}\n" + "".join(supports)


def truss(at: tuple[float, ...] = THREE, plane: str = "vertical", head: str = "", more: str = "") -> Job:
    """The truss demo in a fixture."""
    return parse_job(demo_text("truss-only") + fixture_text(at, plane, head, more), "demo")


@cache
def _tried(text: str) -> tuple[OnTheBench, Trial]:
    job = Job.model_validate_json(text)
    bench = bench_for(job)
    return bench, bench.try_plan(common_practice(bench.model.assembly, job.bench))


def tried(job: Job) -> tuple[OnTheBench, Trial]:
    """A job on the bench, and common practice on it."""
    return _tried(job.model_dump_json())


def prebend_of(job: Job) -> Prebend:
    """The pre-bend of common practice on a job."""
    bench, trial = tried(job)
    found = bench.prebend(trial.walked)
    assert found is not None
    return found


@cache
def _reported(text: str) -> PlanReport:
    job = Job.model_validate_json(text)
    bench, trial = tried(job)
    return plan_report(job, bench, trial, trial, SAMPLES)


def reported(job: Job) -> PlanReport:
    """The report with common practice in place of our plan, which spares the search."""
    return _reported(job.model_dump_json())


def about_fixture(job: Job) -> FixtureReport:
    """What the report says of the fixture."""
    found = reported(job).fixture
    assert found is not None
    return found


FIXTURES = [(THREE, "vertical"), (FOUR, "vertical"), (FOUR, "both"), ((130, 400, 650, 900, 1170), "both")]


@pytest.mark.analytical
@pytest.mark.parametrize(("at", "plane"), FIXTURES)
def test_exact_shims_are_the_best_there_are(at: tuple[float, ...], plane: str) -> None:
    """No small change of the exact shims, and no shims tried at random, leave the housing straighter."""
    # Source: definition of a minimum; the measure is convex in the shims, so a local one is the only one. Tolerance
    # 1e-6: the solver's.
    prebend = prebend_of(truss(at, plane))
    exact = best_shims(prebend, None)
    least = prebend.distortion(exact)
    chance = np.random.default_rng(1)
    for size in (1e-5, 1e-4, 1e-3, 5e-3):
        for change in chance.normal(0.0, size, (60, len(exact))):
            if prebend.feasible(exact + change):
                assert prebend.distortion(exact + change) >= least * (1 - 1e-6)
    assert least < 0.5 * prebend.distortion(np.zeros_like(exact))


@pytest.mark.analytical
@pytest.mark.parametrize(("at", "plane"), FIXTURES)
@pytest.mark.parametrize("step", [0.1e-3, 0.5e-3])
def test_stepped_shims_cannot_be_bettered_by_a_step(at: tuple[float, ...], plane: str, step: float) -> None:
    """Shims are whole steps, the lowest of each plane is nought, and one more or less anywhere is worse."""
    # Source: definition of a minimum on a grid.
    prebend = prebend_of(truss(at, plane))
    shims = best_shims(prebend, step)
    assert shims / step == pytest.approx(np.round(shims / step), abs=1e-9)
    for part in prebend.release.fixture.parts:
        assert shims[part].min() == 0.0
    for n in range(len(shims)):
        for sign in (-step, step):
            other = shims + sign * np.eye(len(shims))[n]
            assert prebend.distortion(other) >= prebend.distortion(shims)
    assert prebend.distortion(shims) >= prebend.distortion(best_shims(prebend, None)) * (1 - 1e-6)


@pytest.mark.analytical
def test_three_supports_find_what_a_scan_finds() -> None:
    """With one free shim, the best of 4,001 heights between -10 and 10 mm is the exact one."""
    # Source: exhaustive search. Tolerance: its step of 5 um.
    prebend = prebend_of(truss())
    heights = np.linspace(-0.01, 0.01, 4001)
    costs = [prebend.distortion(np.array([0.0, height, 0.0])) for height in heights]
    exact = best_shims(prebend, None)
    assert exact[1] - exact[0] == pytest.approx(heights[int(np.argmin(costs))], abs=5e-6)


@pytest.mark.analytical
def test_stress_is_that_of_a_beam_bent_over_its_middle() -> None:
    """A shim h under the middle of three stiff supports L apart strains a tube of radius r to 12 E r h / L^2."""
    # Source: M = P L / 4, P = 48 E I h / L^3, sigma = M r / I; of the deflection shear takes 12 E I / (G A / 2 L^2),
    # 6 %, and the supports of 1000 kN/mm some 2 %. Tolerance 3 %: the mesh's tube, and 1 / (1 + 0.08) taken as 0.92.
    text = fixture_text((50, 500, 950), head='prebend = "given"', more="shim_under = 2").replace(
        'plane = "vertical"', 'plane = "vertical"\nstiffness = 1000'
    )
    bench = bench_for(plain_tube(strip(length=150) + text))
    found = bench.prebend(bench.walk(bench.in_time(as_numbered(bench.model))))
    assert found is not None
    expected = 12 * 210e9 * 0.04445 * 2e-3 / 0.9**2
    assert found.stress(bench.shim_heights) == pytest.approx(0.92 * expected, rel=0.03)
    assert found.stress(bench.shim_heights + 0.01) == pytest.approx(found.stress(bench.shim_heights))


def test_pre_bend_stops_at_its_share_of_yield(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where straightness would ask for more, shims stop at the stress allowed, in steps below it, and it is said."""
    job = truss(FOUR, "both")
    bench, trial = tried(job)
    free = prebend_of(job).stress(best_shims(prebend_of(job), None))
    monkeypatch.setattr(prebend_module, "YIELD_SHARE", 0.5 * free / 355e6)
    prebend = prebend_of(job)
    assert prebend.stress(best_shims(prebend, None)) == pytest.approx(prebend.allowed, rel=1e-3)
    assert prebend.stress(best_shims(prebend, 0.1e-3)) <= prebend.allowed * (1 + 1e-9)
    report = fixture_report(bench.prebent_for(trial.walked), trial)
    assert report is not None
    assert any("More pre-bend would help" in remark for remark in report.remarks)


def test_the_plan_is_about_the_housing_let_go() -> None:
    """The prediction is the released shape, on the shims named; spring-back is its difference from the clamped one."""
    job = truss()
    report, fixture = reported(job), about_fixture(job)
    predicted = report.ours.prediction
    assert fixture.released.bow_vertical == predicted.shape.bow_vertical
    assert np.array_equal(fixture.released.vertical, predicted.axis.vertical)
    assert report.ours.totals.distortion == pytest.approx(fixture.released.distortion)
    shims = np.array([support.shim for support in fixture.supports])
    prebend = prebend_of(job)
    assert prebend.shape(shims).bow_vertical == pytest.approx(fixture.released.bow_vertical)
    assert fixture.spring_back[0] == fixture.released.bow_vertical - fixture.clamped.bow_vertical
    assert fixture.released.distortion < 0.5 * fixture.flat.distortion
    assert predicted.low.bow_vertical < predicted.shape.bow_vertical < predicted.high.bow_vertical


@pytest.mark.analytical
def test_clamping_flat_hardly_helps() -> None:
    """Clamped without a pre-bend and let go, the truss demo bows within 5 % of what it does lying free."""
    # Source: superposition; elastic shrinkage is held back only by what is stiff already, and beads differ only in the
    # shape they are born in. This is why a fixture needs its pre-bend.
    fixture = about_fixture(truss(head='prebend = "none"'))
    assert [support.shim for support in fixture.supports] == [0.0, 0.0, 0.0]
    assert fixture.released.bow_vertical == fixture.flat.bow_vertical
    assert fixture.released.bow_vertical == pytest.approx(fixture.unclamped.bow_vertical, rel=0.05)
    assert abs(fixture.clamped.bow_vertical) < abs(fixture.released.bow_vertical)


@pytest.mark.analytical
def test_clamp_forces_are_in_balance() -> None:
    """What the clamps push up they push down, without a moment, before welding and after."""
    # Source: statics. Tolerance: round-off of kilonewtons.
    fixture = about_fixture(truss(FOUR, "both"))
    for plane in ("vertical", "fore-aft"):
        held = [support for support in fixture.supports if support.plane == plane]
        assert len(held) == 4
        for moment in ("push_before", "push_after"):
            forces = np.array([getattr(support, moment) for support in held])
            at = np.array([support.at_x for support in held])
            assert abs(forces.sum()) < 1e-6 * np.abs(forces).max()
            assert abs(forces @ at) < 1e-6 * np.abs(forces).max()
    assert fixture.largest_push == max(abs(support.push_after) for support in fixture.supports)


@pytest.mark.analytical
def test_bent_there_is_what_a_dial_would_read() -> None:
    """The pre-bend named at each support is the clamped axis over the line through the outer ones."""
    # Source: the axis itself, read at the supports. Tolerance 10 um: linear reading between stations, and at the hole
    # of the centre a section is read off its axis.
    fixture = about_fixture(truss(FOUR))
    held = [support for support in fixture.supports if support.plane == "vertical"]
    order = np.argsort(fixture.along)
    heights = np.interp([one.at_x for one in held], fixture.along[order], fixture.prebent.vertical[order])
    share = np.array([(one.at_x - held[0].at_x) / (held[-1].at_x - held[0].at_x) for one in held])
    bent = heights - (1 - share) * heights[0] - share * heights[-1]
    assert [one.prebend for one in held] == pytest.approx(bent, abs=1e-5)
    assert max(bent) > 3e-4


def test_given_shims_are_used_as_they_are() -> None:
    """Shims of the job file are what the plan is made on, whatever it would have chosen."""
    fixture = about_fixture(truss(head='prebend = "given"', more="shim_under = 2.3"))
    assert [support.shim for support in fixture.supports] == [0.0, 0.0023, 0.0]
    assert fixture.prebent.bow_vertical > 0.0015


def test_inch_jobs_get_sixty_fourths() -> None:
    """Where nothing is said, shims of an inch job come in steps of 1/64 in."""
    text = demo_text("cast-centre") + fixture_text((100, 700, 1290))
    job = parse_job(text, "demo")
    assert job.inch
    assert job.fixture is not None
    assert job.fixture.shim_step == pytest.approx(0.0254 / 64, abs=1e-12)


def test_shims_stay_while_inputs_vary() -> None:
    """A draw with other shrinkage is let go of the same shims, and is what a bench made afresh would say."""
    job = truss()
    bench, trial = tried(job)
    shimmed = bench.prebent_for(trial.walked)
    varied = shimmed.varied(Inputs(tendon=1.3, tack_stiffness=0.7, bead_stiffness=1.2))
    assert np.array_equal(varied.shim_heights, shimmed.shim_heights)
    afresh = OnTheBench(job, bench.model, bench.settings, varied.inputs, shims=shimmed.shims)
    mine, theirs = (one.try_plan(trial.timeline.steps).shape for one in (varied, afresh))
    assert mine.vertical == pytest.approx(theirs.vertical, abs=1e-12)
    assert abs(mine.bow_vertical - trial.shape.bow_vertical) > 1e-5


def test_a_bench_begins_with_shims_for_common_practice() -> None:
    """Until a plan is chosen, the shims left to us suit common practice; choosing again changes nothing else."""
    job = truss()
    bench = on_the_bench(job, tried(job)[0].model)
    trial = bench.try_plan(common_practice(bench.model.assembly, job.bench))
    assert bench.shims == bench.prebent_for(trial.walked).shims
    assert bench.reread(trial).shape.bow_vertical == trial.shape.bow_vertical
    assert max(bench.shims or ()) > 0


def test_cautions_begin_with_the_stored_force() -> None:
    """Force in the clamps and load on the tacks come first; shims that strain the tubes too far are said as well."""
    report = reported(truss())
    assert report.cautions[0].startswith("Stored force")
    assert "slacken all clamps in turn" in report.cautions[0]
    assert report.cautions[1].startswith("Tacks: clamped")
    mild = about_fixture(truss())
    assert len(fixture_cautions(mild, False)) == 2
    harsh = about_fixture(truss(head='prebend = "given"', more="shim_under = 9"))
    assert harsh.tube_stress > harsh.allowed_stress
    assert "bend the tubes to" in fixture_cautions(harsh, False)[-1]
    assert fixture_cautions(None, False) == ()


def test_a_plane_of_two_supports_is_said_to_hold_nothing() -> None:
    """Three supports up and down, two of them fore and aft: only the first plane is held, and that is said."""
    text = fixture_text(THREE)
    text = text.replace('at = "130 mm"\nplane = "vertical"', 'at = "130 mm"\nplane = "both"')
    text = text.replace('at = "1170 mm"\nplane = "vertical"', 'at = "1170 mm"\nplane = "both"')
    fixture = about_fixture(parse_job(demo_text("truss-only") + text, "demo"))
    assert fixture.planes == ("vertical",)
    assert any(
        "Two supports cannot keep the housing from bending forward and back" in r for r in fixture.remarks
    )


def test_without_a_fixture_the_plan_says_nothing_of_one() -> None:
    """A job without [fixture] has no block, no caution and null in plan.json."""
    job = parse_job(demo_text("truss-only"), "demo")
    report = reported(job)
    assert report.fixture is None
    assert not any("clamp" in caution and "Earth" not in caution for caution in report.cautions)
    assert plan_json(report)["fixture"] is None


@pytest.mark.analytical
def test_plan_json_tells_the_fixture_in_millimetres_and_kilonewtons() -> None:
    """Metres become millimetres, newtons kilonewtons; the whole fits the schema."""
    report = reported(truss(FOUR, "both"))
    fixture = report.fixture
    assert fixture is not None
    written = plan_json(report)
    jsonschema.Draft202012Validator(plan_schema()).validate(written)
    entry = written["fixture"]
    assert entry["released"]["bow_vertical_mm"] == pytest.approx(
        1e3 * fixture.released.bow_vertical, abs=5e-4
    )
    assert entry["spring_back_mm"]["vertical"] == pytest.approx(1e3 * fixture.spring_back[0], abs=5e-4)
    assert entry["tube_stress_mpa"] == pytest.approx(1e-6 * fixture.tube_stress, abs=0.05)
    for one, support in zip(entry["supports"], fixture.supports, strict=True):
        assert one["shim_mm"] == pytest.approx(1e3 * support.shim, abs=5e-4)
        assert one["push_after_kn"] == pytest.approx(1e-3 * support.push_after, abs=5e-4)
        assert one["stiffness_kn_per_mm"] == 50.0
    numbers = [one["number"] for one in entry["supports"]]
    assert numbers == [1, 2, 3, 4, 1, 2, 3, 4]
    assert all(a["at_mm"] < b["at_mm"] for a, b in pairwise(entry["supports"][:4]))


@pytest.mark.analytical
def test_distortion_of_a_stage_is_the_measure_of_its_shape() -> None:
    """The measure named for each stage is that of its own shape."""
    # Source: definition (plan.distortion_measure).
    fixture = about_fixture(truss())
    bench, trial = tried(truss())
    shape = replace(bench.shape(trial.walked))
    assert fixture.released.distortion == pytest.approx(distortion(shape, 1.3))
    assert fixture.released.camber_deg == pytest.approx(np.rad2deg(shape.camber))
