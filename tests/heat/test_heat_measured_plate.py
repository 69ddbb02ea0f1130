"""The measured plate run through the reduced model.

Fabry et al., IIW Doc. XII-2476-2021, weld WID417; what is known, fitted and assumed about it is written out in
tests/published/test_fabry_2021_plate_cooling.py, beside whose closed forms this model is held. The moving arc becomes
fourteen stretches of 22 mm (seven beads of at most 50 mm), heated one after another. The model loses heat to its
ambient, which here is the fixture at 98 degC beyond the first 20 mm from the joint; loss to the air at 20 degC is left
out.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from reference.plates import Halves, beads_of, readings

import axlewright.heat.system as heat_system
from axlewright.heat.reduce import HeatModes, reduce_heat
from axlewright.heat.state import cold, cooled, welded
from axlewright.solid.mesh import Floats
from axlewright.weld.plate_history import Plate, Run, plate_temperature
from axlewright.weld.surface_loss import surface_loss

START, HEAT, SPEED, BEGINS, ENDS, PASSED = 98.0, 969.0e3, 7.5e-3, 0.020, 0.330, 20.67
LENGTH, HALF_WIDTH, THICKNESS, BACKING, T1, T2 = 0.350, 0.200, 8e-3, 0.020, 8.4e-3, 13.4e-3
LAMBDA, SPECIFIC_HEAT, DENSITY = 36.0, 650.0, 7850.0
READING = 8.0


@pytest.fixture(scope="module")
def measured() -> Floats:
    """Time, T1 and T2 as read off the published plot."""
    path = Path(__file__).parents[1] / "published" / "data" / "plate_cooling_measured.csv"
    with path.open(encoding="utf-8") as lines:
        return np.loadtxt(lines, delimiter=",", skiprows=4)


@pytest.fixture
def own_material(monkeypatch: pytest.MonkeyPatch) -> None:
    """Conductivity and heat capacity given with the case, instead of ours at 100 degC."""
    monkeypatch.setattr(heat_system, "conductivity", lambda _: LAMBDA)
    monkeypatch.setattr(heat_system, "heat_capacity", lambda _: SPECIFIC_HEAT)


def temperatures(times: Floats, contact: float) -> Floats:
    """T1 and T2 [degC] at times since the arc started [s], with contact beyond the backing [W/m2K]."""
    across = np.concatenate([np.arange(0.0, 0.028, 0.004), np.linspace(0.028, HALF_WIDTH, 15)])
    halves = Halves(np.linspace(0.0, LENGTH, 36), across, THICKNESS, bare_from=BACKING, faces=1)
    plate = halves.joined(np.array([[BEGINS, 0.0, 0.0], [ENDS, 0.0, 0.0]]), (0.0, 1.0, 0.0), beads=7)
    share = contact / float(surface_loss(START + heat_system.LOSS_AT_RISE, START, 0.0889))
    modes, shapes = reduce_heat(heat_system.heat_system(plate, START, loss_factor=share), beads_of(plate))
    passed = BEGINS + SPEED * PASSED
    rows = readings(plate, np.array([[passed, T1, 0.0], [passed, T2, 0.0]])) @ shapes
    seconds = np.array([stretch.length for stretch in plate.stretches]) / SPEED
    return START + np.array([rows @ state_at(modes, seconds, t) for t in times])


def state_at(modes: HeatModes, seconds: Floats, time: float) -> Floats:
    """The state at a time since the arc started, its stretches heated one after another."""
    burnt = np.clip(time - (np.cumsum(seconds) - seconds), 0.0, seconds)
    state = welded(modes, cold(modes), np.arange(len(seconds)), HEAT * SPEED, burnt)
    return cooled(modes, state, time - burnt.sum())


def closed_form(times: Floats) -> Floats:
    """T1 [degC] without loss."""
    plate = Plate(LENGTH, 2 * HALF_WIDTH, THICKNESS, LAMBDA, SPECIFIC_HEAT * DENSITY)
    run = Run(HEAT * SPEED, SPEED, BEGINS, HALF_WIDTH, (ENDS - BEGINS) / SPEED)
    return plate_temperature(times, BEGINS + SPEED * PASSED, HALF_WIDTH + T1, plate, run, START, START)


@pytest.mark.analytical
@pytest.mark.usefixtures("own_material")
def test_without_loss_the_model_follows_the_closed_form() -> None:
    """Without loss T1 follows the closed form within 2 % from 30 s on, 9 s after the arc has passed, to 395 s."""
    # Source: `plate_temperature`, thin plate with images (Carslaw & Jaeger 1959). Tolerance 2 % of
    # the rise over the start: stretches of 22 mm stand for the moving arc, and T1 is no place the modes were chosen
    # for. Measured: 1.5 % at 30 s, 1.0 % from 45 s on.
    times = np.concatenate([np.arange(30.0, 100.0, 3.0), np.arange(100.0, 396.0, 29.5)])
    model, exact = temperatures(times, 0.0)[:, 0], closed_form(times)
    np.testing.assert_allclose(model - START, exact - START, rtol=0.02)


@pytest.mark.measured
@pytest.mark.usefixtures("own_material")
def test_first_minute_of_the_measured_plate(measured: Floats) -> None:
    """Before the fixture is felt, 45 to 60 s, T1 is within 8 degC and 3 % of its rise of the readings."""
    # Tolerance: 8 degC of reading; 3 % is the closed form's own distance from these readings (1 to 3 %).
    window = (measured[:, 0] >= 45.0) & (measured[:, 0] <= 60.0)
    readings_of_t1 = measured[window, 1]
    model = temperatures(measured[window, 0], 260.0)[:, 0]
    assert window.sum() == 3
    assert np.all(np.abs(model - readings_of_t1) < READING + 0.03 * (readings_of_t1 - START))


@pytest.mark.measured
@pytest.mark.usefixtures("own_material")
def test_peak_of_the_second_thermocouple(measured: Floats) -> None:
    """T2, which nothing was fitted to, peaks at 512 +- 30 degC and at 33.3 +- 1.5 s."""
    # Source: the same plot. Tolerance 30 degC as for the closed form; 1.5 s for half the time the arc takes over a
    # stretch (3.0 s), which is all that stretches know of where it is.
    times = np.arange(25.0, 45.0, 0.25)
    history = temperatures(times, 260.0)[:, 1]
    assert history.max() == pytest.approx(measured[:, 2].max(), abs=30.0)
    assert times[history.argmax()] == pytest.approx(33.3, abs=1.5)


@pytest.mark.measured
@pytest.mark.usefixtures("own_material")
def test_whole_cooling_curve(measured: Floats) -> None:
    """With the highest fitted contact, 530 W/m2K, T1 is within 35 degC of every reading from 45 s on."""
    # Tolerance: 8 degC of reading and 27 degC for what is not published of backing and clamping, together the band of
    # the closed form with 350 W/m2K and air. Without contact the error passes 90 degC.
    late = measured[:, 0] >= 45.0
    model = temperatures(measured[late, 0], 530.0)[:, 0]
    np.testing.assert_allclose(model, measured[late, 1], atol=READING + 27.0)
    tight = temperatures(measured[late, 0], 0.0)[:, 0]
    assert np.abs(tight - measured[late, 1]).max() > 90.0
    assert model[-1] == pytest.approx(127.0, abs=20.0)


@pytest.mark.measured
def test_cooling_curve_with_the_properties_we_plan_with(measured: Floats) -> None:
    """With conductivity and heat capacity at 100 degC, as for a housing, T1 still is within 35 degC from 45 s on."""
    # Contact 350 W/m2K, the middle of the fitted range; same band as above. The plate is at 560 degC at first, far
    # hotter than the skin a bead is started on.
    late = measured[:, 0] >= 45.0
    model = temperatures(measured[late, 0], 350.0)[:, 0]
    np.testing.assert_allclose(model, measured[late, 1], atol=READING + 27.0)
