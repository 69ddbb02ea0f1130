"""A housing measured before and after becomes a result: predicted as it was really welded, with honest errors."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from learn_simulated import readings_of
from plan.planned import small_job
from reference import benches
from reference.benches import bench_for
from reference.jobs import demo

from axlewright.errors import LogError, ShopFileError
from axlewright.heat.varied import HeatFactors
from axlewright.plan.bench import OnTheBench
from axlewright.plan.common_practice import common_practice
from axlewright.plan.replan.events import ArcStarted, ArcStopped, Event, TemperatureRead
from axlewright.plan.replan.replay import names_for
from axlewright.plan.spreads import Inputs
from axlewright.plan.timeline import Step, Timeline
from axlewright.shop.evidence import Evidence
from axlewright.shop.factors import PRIOR_SPREAD
from axlewright.shop.posterior import learn
from axlewright.solid.mesh import Floats
from axlewright.straightness.axis import PARAMETERS, AxisFit, projected, span_of
from axlewright.straightness.fit.measured_change import FLANGE, measured_change
from axlewright.straightness.fit.priors import shape_prior
from axlewright.straightness.learn.from_job import figure_rows, job_evidence, log_evidence
from axlewright.straightness.learn.from_log import FIGURES as WARM
from axlewright.straightness.learn.from_log import heat_and_loss
from axlewright.straightness.learn.welded import Welded

JOB = demo("truss-only")
SPAN = span_of(JOB)
TRUE = Inputs(tendon=1.4, across=0.8, heat=1.05, flow=HeatFactors(loss=1.3))


@cache
def steps() -> tuple[Step, ...]:
    """Common practice on the 36-bead demo."""
    return common_practice(bench_for(JOB).model.assembly, JOB.bench)


def became(inputs: Inputs) -> Floats:
    """Parameters of the shape that the plan leaves with other inputs, shape (11,)."""
    shape = bench_for(JOB).varied(inputs).try_plan(steps()).shape
    angles = np.array([*shape.camber, *shape.toe, shape.twist])
    return projected(SPAN, shape.stations, shape.vertical, shape.fore_aft, angles)


def fits(values: Floats, seed: int | None, before: Floats | None = None) -> tuple[AxisFit, AxisFit]:
    """The shape measured before welding and after it; without a seed the readings have no error."""
    bare = np.zeros(len(PARAMETERS)) if before is None else before
    chance = None if seed is None else np.random.default_rng(seed)
    return readings_of(SPAN, bare, chance), readings_of(SPAN, bare + values, chance)


def learned_from(inputs: Inputs, seed: int | None = None) -> Evidence:
    """The result of a housing that was welded with these inputs."""
    before, after = fits(became(inputs), seed)
    return job_evidence(JOB, before, after, steps(), cache=benches.CACHE[0], name="4711", date="2025-03-01")


@pytest.mark.analytical
def test_without_reading_errors_the_truth_shows_what_was_measured() -> None:
    """What the result shows at the true factors is the measured change, but for what no flange was read for."""
    # Tubes: heat and loss are straight to 1 % of the figure. Angles: flanges were not read, so what the family of axes
    # misses there, some 0.015 degrees, is taken as `FLANGE` allows.
    result = learned_from(TRUE)
    assert (result.name, result.date, result.kind) == ("4711", "2025-03-01", "housing")
    shown = result.shown(np.log([1.4, 0.8, 1.05, 1.3]))
    for one, at_truth in zip(result.observations, shown, strict=True):
        allowed = FLANGE if one.unit == "rad" else 0.02 * abs(at_truth)
        assert one.measured == pytest.approx(at_truth, abs=allowed)
    assert {"left tube up", "right tube up", "camber left"} <= {one.figure for one in result.observations}


@pytest.mark.analytical
def test_slopes_are_those_of_the_walk() -> None:
    """Figures with every factor changed at once are as the result lays them out, within 1 % of the largest."""
    result = learned_from(Inputs())
    rows = figure_rows(SPAN)
    done = Welded(bench_for(JOB), steps(), (), SPAN)
    walked = done.figures(rows, TRUE)[: len(rows)]
    names = [one.figure for one in result.observations]
    assert names[:2] == ["camber left", "camber right"] and "left tube up" in names
    shown = result.shown(np.log([1.4, 0.8, 1.05, 1.3]))
    for name, at in (("camber left", 0), ("camber right", 1), ("left tube up", 5), ("right tube up", 6)):
        assert shown[names.index(name)] == pytest.approx(walked[at], rel=0.01)


@pytest.mark.analytical
def test_one_housing_draws_the_shop_toward_its_truth() -> None:
    """Measured without error on a housing with 40 % more pull, the factor comes out above 1.15, and surer."""
    found = learn([learned_from(Inputs(tendon=1.4))]).factors
    assert 1.15 < found.middle["tendon"] < 1.4
    assert found.spread[0] < 0.8 * PRIOR_SPREAD[0]


def test_a_figure_that_readings_do_not_tell_is_left_out() -> None:
    """With readings up and down alone, nothing fore and aft is taken; with none that tell, it is refused."""
    before, after = fits(became(TRUE), None)
    blind = np.diag(shape_prior() ** 2)
    up = [number for number, name in enumerate(PARAMETERS) if "up" in name]
    only_up = blind.copy()
    only_up[np.ix_(up, up)] = before.covariance[np.ix_(up, up)]
    one_plane = [replace(fit, covariance=only_up) for fit in (before, after)]
    result = job_evidence(JOB, *one_plane, steps(), cache=benches.CACHE[0])
    names = {one.figure for one in result.observations}
    assert "camber left" in names and not any("toe" in name or "forward" in name for name in names)
    nothing = [AxisFit(SPAN, np.zeros(11), blind)] * 2
    with pytest.raises(ShopFileError, match="too vague"):
        job_evidence(JOB, *nothing, steps(), cache=benches.CACHE[0])


@pytest.mark.analytical
def test_a_flange_out_of_square_falls_out_of_the_change() -> None:
    """A flange 0.3 degrees out of square before and after changes nothing, and blurs the change of camber little."""
    crooked = np.zeros(len(PARAMETERS))
    crooked[[3, 4, 8, 9]] = np.deg2rad(0.3)
    plain, other = (
        measured_change(*fits(became(TRUE), None, before), np.zeros(11)) for before in (None, crooked)
    )
    np.testing.assert_allclose(other.values, plain.values, atol=np.deg2rad(0.005))
    camber = SPAN.angles()[:1]
    spread = plain.read(camber)[1][0]
    added = np.hypot(*(fit.read(camber)[1][0] for fit in fits(became(TRUE), None)))
    assert FLANGE < spread < 0.5 * added


@pytest.mark.analytical
def test_the_errors_of_the_change_are_as_large_as_they_are_said_to_be() -> None:
    """Over 200 pairs of readings the change's misfit, in its own standard deviations, has unit variance."""
    # Changes are drawn as is taken for granted of them. Chi-square of 9 figures x 200: 3 standard errors are 10 %.
    chance, rows, total = np.random.default_rng(3), figure_rows(SPAN), 0.0
    spread = shape_prior() / 10.0
    spread[[3, 4, 8, 9]] = FLANGE
    for _ in range(200):
        bare, change = shape_prior() * chance.standard_normal(11) / 10.0, spread * chance.standard_normal(11)
        bare[[3, 4, 8, 9]] *= 10.0
        before, after = readings_of(SPAN, bare, chance), readings_of(SPAN, bare + change, chance)
        found = measured_change(before, after, np.zeros(11))
        off = rows @ (found.values - change)
        total += off @ np.linalg.solve(rows @ found.covariance @ rows.T, off)
    assert total / (9 * 200) == pytest.approx(1.0, abs=0.12)


def log_lines(count: int | None = None, warmer: float | None = None) -> list[str]:
    """A bead log of the plan as it was meant; with the spot read before each arc, so much warmer than planned."""
    bench = bench_for(JOB)
    tags = names_for(bench, steps()).tags
    line = bench.try_plan(steps()).timeline
    lines = ["time,event,bead,value"]
    for step, start, arc, spot in list(zip(line.steps, line.starts, line.arcs, line.spots, strict=True))[
        :count
    ]:
        if warmer is not None:
            shown = JOB.ambient.temperature + (1.0 + warmer) * spot
            lines.append(f"{(start - 0.5) / 60:.4f},temperature,{tags[step.bead]},{shown:.2f}")
        lines += [f"{start / 60:.4f},start,{tags[step.bead]},", f"{(start + arc) / 60:.4f},stop,,"]
    return lines


def test_a_log_that_follows_the_plan_predicts_the_plan(tmp_path: Path) -> None:
    """Every bead logged as planned, the result is the one without a log."""
    log = tmp_path / "log.csv"
    log.write_text("\n".join(log_lines()) + "\n", encoding="utf-8")
    before, after = fits(became(TRUE), None)
    told, plain = (job_evidence(JOB, before, after, steps(), path, benches.CACHE[0]) for path in (log, None))
    np.testing.assert_allclose(told.predicted, plain.predicted, rtol=0.01, atol=2e-6)
    np.testing.assert_allclose(told.rows[:, :3], plain.rows[:, :3], rtol=0.02, atol=5e-6)


def test_a_thermometer_in_the_log_adds_two_figures(tmp_path: Path) -> None:
    """Spots a tenth warmer than planned add arc heat and cooling to the result, and alone are a result of a log."""
    log = tmp_path / "log.csv"
    log.write_text("\n".join(log_lines(warmer=0.1)) + "\n", encoding="utf-8")
    before, after = fits(became(Inputs()), None)
    whole = job_evidence(JOB, before, after, steps(), log, benches.CACHE[0])
    assert [one.figure for one in whole.observations[-2:]] == list(WARM)
    assert whole.correlation is not None and len(whole.correlation) == len(whole.observations)
    assert whole.correlation[-1][0] == 0.0 and whole.correlation[-1][-2] != 0.0
    alone = log_evidence(JOB, steps(), log, benches.CACHE[0], name="log 1")
    assert alone.kind == "log" and alone.observations == whole.observations[-2:]
    known = learn([alone]).factors
    assert known.logs == 1 and 1.03 < known.middle["heat"] < 1.12


def test_a_log_that_ends_too_early_is_refused(tmp_path: Path) -> None:
    """Beads the log does not tell of are named; so is a plan of another job."""
    log = tmp_path / "log.csv"
    log.write_text("\n".join(log_lines(10)) + "\n", encoding="utf-8")
    with pytest.raises(ShopFileError, match="every bead"):
        job_evidence(JOB, *fits(became(TRUE), None), steps(), log, benches.CACHE[0])
    log.write_text("\n".join(log_lines()) + "\n", encoding="utf-8")
    with pytest.raises(ShopFileError, match="without a temperature"):
        log_evidence(JOB, steps(), log, benches.CACHE[0])
    other = tmp_path / "plan.json"
    other.write_text("{}", encoding="utf-8")
    with pytest.raises(LogError, match=r"plan\.json"):
        job_evidence(JOB, *fits(became(TRUE), None), other, None, benches.CACHE[0])


@cache
def small() -> Welded:
    """The small job welded as numbered, with a pause between beads."""
    bench = bench_for(small_job())
    plan = tuple(Step(bead, False, 10.0) for bead in range(len(bench.model.assembly.beads)))
    return Welded(bench, plan, (), span_of(small_job()))


@pytest.mark.analytical
def test_thermometer_readings_tell_heat_and_loss() -> None:
    """Readings made with 10 % more heat and 30 % more loss give both back, within three of their errors."""
    bench = bench_for(JOB)
    true = bench.varied(Inputs(heat=1.1, flow=HeatFactors(loss=1.3)))
    events = _followed(bench, true, true.in_time(steps()), np.random.default_rng(2))
    told, alike = heat_and_loss(Welded(bench, steps(), events, SPAN))
    assert [one.figure for one in told] == list(WARM)
    heat, loss = told
    assert heat.measured == pytest.approx(np.log(1.1), abs=3 * np.hypot(heat.error, heat.scatter))
    assert loss.measured == pytest.approx(np.log(1.3), abs=3 * np.hypot(loss.error, loss.scatter))
    assert heat.error < 0.06 and loss.error < 0.2 and abs(alike[0, 1]) < 1.0
    # The shape is predicted with all factors one, whatever the thermometer says: that is told on its own.
    unread = tuple(event for event in events if not isinstance(event, TemperatureRead))
    shapes = [
        Welded(bench, steps(), log, SPAN).figures(figure_rows(SPAN), Inputs()) for log in (events, unread)
    ]
    np.testing.assert_array_equal(*shapes)


@pytest.mark.analytical
def test_what_the_filter_started_from_is_taken_out_again() -> None:
    """Readings that tell loss poorly leave its error far wider than what the filter ends with, not as it began."""
    bench, plan = small().bench, small().steps
    true = bench.varied(Inputs())
    line = true.in_time(plan)
    events = _followed(bench, true, line, np.random.default_rng(0))
    first = next(n for n, event in enumerate(events) if isinstance(event, TemperatureRead))
    once = tuple(e for n, e in enumerate(events) if n == first or not isinstance(e, TemperatureRead))
    heat, loss = heat_and_loss(replace(small(), events=once))[0]
    assert loss.error > 1.0 and heat.error < loss.error


def _followed(
    bench: OnTheBench, true: OnTheBench, line: Timeline, chance: np.random.Generator
) -> tuple[Event, ...]:
    """A log as it was welded, with the spot that was just welded read right before the next arc."""
    events: list[Event] = []
    ends = line.starts + line.arcs
    for number, step in enumerate(line.steps):
        if number:
            spot = int(bench.model.pieces[line.steps[number - 1].bead][0])
            rise = float(true.model.modes.spot[spot] @ line.laying.states[:, number])
            shown = bench.job.ambient.temperature + rise + 0.5 * chance.standard_normal()
            at = float(line.starts[number])
            events.append(TemperatureRead(time=at, temperature=float(shown), stretch=spot, error=1.0))
        events.append(ArcStarted(time=float(line.starts[number]), bead=step.bead))
        events.append(ArcStopped(time=float(ends[number]), bead=step.bead))
    return tuple(events)
