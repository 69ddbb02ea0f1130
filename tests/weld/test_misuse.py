"""Formulas refuse what cannot exist, and name the argument at fault."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from math import inf, nan

import pytest

from axlewright.weld import (
    arc,
    bead,
    bow,
    cooling,
    near_zone,
    plate_history,
    shrinkage,
    shrinkage_rules,
    steel,
    strength,
    surface_loss,
)

PLATE = plate_history.Plate(0.3, 0.2, 8e-3, 36.0, 5e6)
RUN = plate_history.Run(5000.0, 6e-3, 0.02, 0.1, 20.0)
S355 = steel.steel("S355")

CASES: list[tuple[str, Callable[[], object]]] = [
    ("process", partial(arc.process_name, 999)),
    ("process", partial(arc.arc_efficiency, 999)),
    ("process 15", partial(arc.arc_efficiency, 15)),
    ("process 114", partial(arc.arc_efficiency, 114)),
    ("volts", partial(arc.heat_input, 0.0, 180.0, 6e-3, 0.8)),
    ("amps", partial(arc.heat_input, 22.0, -1.0, 6e-3, 0.8)),
    ("travel_speed", partial(arc.heat_input, 22.0, 180.0, 0.0, 0.8)),
    ("efficiency", partial(arc.heat_input, 22.0, 180.0, 6e-3, 1.001)),
    ("process", partial(bead.deposition_efficiency, 999)),
    ("wire_diameter", partial(bead.bead_area, 0.0, 0.1, 6e-3)),
    ("wire_feed", partial(bead.bead_area, 1e-3, nan, 6e-3)),
    ("travel_speed", partial(bead.bead_area, 1e-3, 0.1, 0.0)),
    ("deposition_efficiency", partial(bead.bead_area, 1e-3, 0.1, 6e-3, 1.1)),
    ("area", partial(bead.fillet_leg, 0.0)),
    ("leg", partial(bead.fillet_throat, -1e-3)),
    ("leg", partial(bead.energy_from_leg, 0.0, 111)),
    ("process", partial(bead.energy_from_leg, 5e-3, 135)),
    ("heat_input", partial(bead.leg_from_energy, 0.0, 111)),
    ("grade", partial(steel.steel, "S999")),
    ("kind", partial(steel.casting, "pewter")),
    ("temperature", partial(steel.conductivity, nan)),
    ("temperature", partial(steel.heat_capacity, inf)),
    ("temperature", partial(steel.thermal_strain, nan)),
    ("temperature", partial(steel.reduction_factors, nan)),
    ("net_heat_input", partial(shrinkage.tendon_force, -1.0)),
    ("net_heat_input", partial(shrinkage.okerblom_shrinkage_volume, -1.0)),
    ("expansion", partial(shrinkage.okerblom_shrinkage_volume, 1.0, 0.0)),
    ("net_heat_input", partial(shrinkage.transverse_shrinkage, -1.0, 8e-3)),
    ("thickness", partial(shrinkage.transverse_shrinkage, 5e5, -8e-3)),
    ("web_thickness", partial(shrinkage.flange_share, 8e-3, 0.0)),
    ("temperature_drop", partial(shrinkage.angular_shrinkage, -1.0)),
    ("expansion", partial(shrinkage.angular_shrinkage, 1000.0, 0.0)),
    ("thickness", partial(shrinkage_rules.butt_transverse_blodgett, 8e-5, 0.0)),
    ("weld_area", partial(shrinkage_rules.butt_transverse_spraragen, 0.0, 12e-3, 0.0)),
    ("root_gap", partial(shrinkage_rules.butt_transverse_spraragen, 8e-5, 12e-3, -1e-3)),
    ("leg", partial(shrinkage_rules.tee_transverse, 0.0, 10e-3)),
    ("welded_share", partial(shrinkage_rules.tee_transverse, 6e-3, 10e-3, 1.5)),
    ("thickness", partial(shrinkage_rules.lap_transverse, 6e-3, 0.0)),
    ("welded_share", partial(shrinkage_rules.lap_transverse, 6e-3, 10e-3, 0.0)),
    ("flange_width", partial(shrinkage_rules.blodgett_flange_angular, 0.0, 6e-3, 10e-3)),
    ("pitch", partial(shrinkage_rules.intermittent_ratio, 0.05, 0.0)),
    ("ratio", partial(shrinkage_rules.intermittent_ratio, 0.2, 0.1)),
    ("distance", partial(bow.blodgett_bow, 1e-5, -0.04, 1.0, 2e-6)),
    ("second_moment", partial(bow.blodgett_bow, 1e-5, 0.04, 1.0, 0.0)),
    ("youngs", partial(bow.equivalent_tendon_force, 1e-5, 0.0)),
    ("force", partial(bow.tendon_bow, -1.0, 0.04, 1.0, 2e-6)),
    ("length", partial(bow.tendon_bow, 1e5, 0.04, 0.0, 2e-6)),
    ("force", partial(bow.bead_rotation, -1.0, 0.04, 0.05, 2e-6)),
    ("bead_length", partial(bow.bead_rotation, 1e5, 0.04, 0.0, 2e-6)),
    ("force", partial(bow.tendon_shortening, -1.0, 1.0, 2e-3)),
    ("area", partial(bow.tendon_shortening, 1e5, 1.0, 0.0)),
    ("net_heat_input", partial(cooling.t85_thick, 0.0, 20.0)),
    ("preheat", partial(cooling.t85_thick, 5e5, 500.0)),
    ("preheat", partial(cooling.t85_thick, 5e5, -280.0)),
    ("thickness", partial(cooling.t85_thin, 5e5, 0.0, 20.0)),
    ("conductivity", partial(cooling.t85_thin, 5e5, 6e-3, 20.0, 0.0)),
    ("preheat", partial(cooling.transition_thickness, 5e5, nan)),
    ("net_heat_input", partial(cooling.transition_thickness, 0.0, 20.0)),
    ("shape_factor", partial(cooling.t85_three_dimensional, 5e5, 20.0, 1.5)),
    ("net_heat_input", partial(cooling.t85_three_dimensional, 0.0, 20.0)),
    ("thickness", partial(cooling.t85_two_dimensional, 5e5, 0.0, 20.0)),
    ("shape_factor", partial(cooling.t85_two_dimensional, 5e5, 6e-3, 20.0, 0.0)),
    ("net_heat_input", partial(cooling.en1011_transition_thickness, 0.0, 20.0)),
    ("joint", partial(cooling.shape_factors, "dovetail")),
    ("joint", partial(cooling.cooling_time, 5e5, 8e-3, 20.0, "dovetail")),
    ("travel_speed", partial(near_zone.rosenthal_thick, 3000.0, 0.0, -0.01, 0.0)),
    ("thickness", partial(near_zone.rosenthal_thin, 3000.0, 6e-3, 0.0, -0.01, 0.0)),
    ("conductivity", partial(near_zone.rosenthal_thin, 3000.0, 6e-3, 6e-3, -0.01, 0.0, conductivity=0.0)),
    ("distance", partial(near_zone.peak_temperature_thick, 5e5, 0.0)),
    ("distance", partial(near_zone.peak_temperature_thin, 5e5, 6e-3, [1e-3, 0.0])),
    ("time", partial(plate_history.plate_temperature, -1.0, 0.1, 0.1, PLATE, RUN)),
    (
        "width",
        partial(plate_history.plate_temperature, 1.0, 0.1, 0.1, plate_history.Plate(1, 0, 1, 1, 1), RUN),
    ),
    (
        "loss",
        partial(plate_history.plate_temperature, 1.0, 0.1, 0.1, plate_history.Plate(1, 1, 1, 1, 1, -1), RUN),
    ),
    (
        "heat_capacity",
        partial(plate_history.plate_temperature, 1.0, 0.1, 0.1, plate_history.Plate(1, 1, 1, 1, 0), RUN),
    ),
    (
        "arc_time",
        partial(plate_history.plate_temperature, 1.0, 0.1, 0.1, PLATE, plate_history.Run(1, 1, 0, 0.1, 0)),
    ),
    (
        "leaves the plate",
        partial(
            plate_history.plate_temperature, 1.0, 0.1, 0.1, PLATE, plate_history.Run(1, 0.01, 0, 0.1, 30.1)
        ),
    ),
    (
        "leaves the plate",
        partial(plate_history.plate_temperature, 1.0, 0.1, 0.1, PLATE, plate_history.Run(1, 0.01, 0, 0.3, 9)),
    ),
    ("temperature", partial(surface_loss.air, nan)),
    ("diameter", partial(surface_loss.convection_coefficient, 100.0, 20.0, 0.0)),
    ("emissivity", partial(surface_loss.radiation_coefficient, 100.0, 20.0, 1.1)),
    ("diameter", partial(surface_loss.surface_loss, 100.0, 20.0, -0.1)),
    ("emissivity", partial(surface_loss.linearisation_error, [50.0], 100.0, 20.0, 0.1, 0.0)),
    ("ultimate", partial(strength.weld_shear_strength, 0.0, 0.8)),
    ("beta_w", partial(strength.weld_shear_strength, 360e6, 0.0)),
    ("throat", partial(strength.weld_resistance, 0.0, 0.1, S355)),
    ("length", partial(strength.tee_throat_stress, 1e5, 5e-3, 0.0)),
    ("gamma_m2", partial(strength.directional_utilisation, 1e8, 0.0, 0.0, S355, 0.0)),
    ("finite", partial(strength.directional_utilisation, 1e8, nan, 0.0, S355)),
]


@pytest.mark.parametrize(("named", "call"), CASES)
def test_refusal(named: str, call: Callable[[], object]) -> None:
    """A length, speed, heat or name that cannot exist raises ValueError naming the argument."""
    with pytest.raises(ValueError, match=named):
        call()
