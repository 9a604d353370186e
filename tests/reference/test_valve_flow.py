"""Valves and short tubes against numbers from outside (V1 to V4, V6 to V8).

V5, a gas between reducers, belongs to no valve of a refrigerant circuit here, and is left out.
"""

import tomllib
from math import pi
from pathlib import Path

import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.fluid import fluid
from fifthwire.circuit.valve_law import curve, full_flow, inlet_volume
from fifthwire.physics import valve_flow
from fifthwire.properties import refrigerant_arrays

NUMBERS = tomllib.loads(Path(__file__).with_name("valve_flow.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("row", ["v1", "v2"])
def test_the_worked_examples_of_the_standard(row):
    v = NUMBERS["v1"] | NUMBERS[row]
    choked = valve_flow.choked_drop_kpa(
        v["inlet_kpa_abs"], v["vapour_kpa_abs"], v["critical_kpa_abs"], recovery=v["recovery"]
    )

    kv = valve_flow.flow_coefficient_kv(
        v["flow_m3_h"], v["density_kg_m3"], v["inlet_kpa_abs"] - v["outlet_kpa_abs"], choked
    )

    factor = valve_flow.critical_pressure_ratio_factor(v["vapour_kpa_abs"], v["critical_kpa_abs"])
    assert factor == approx(v["factor"], abs=5e-6)
    assert choked == approx(v["choked_kpa"], abs=0.005)
    assert kv == approx(v["kv"], abs=v["tolerance"])


def test_the_pressure_at_which_a_liquid_chokes():
    v = NUMBERS["v3"]

    choked = valve_flow.choked_drop_kpa(
        v["inlet_kpa_abs"], v["vapour_kpa_abs"], v["critical_kpa_abs"], recovery=v["recovery"]
    )

    assert v["inlet_kpa_abs"] - choked == approx(v["outlet_kpa_abs"], abs=v["tolerance"])


def test_the_cavitation_index():
    assert valve_flow.cavitation_index(*NUMBERS["v4"]["kpa_abs"]) == approx(NUMBERS["v4"]["index"], rel=1e-12)


def flux(name: str, outlet_share: float = 0.0, bubble_c: float | None = None) -> float:
    """Through the short tube of V6, with the program's own properties of the refrigerant."""
    v = NUMBERS["v6"]
    of, row = refrigerant_arrays(name), v[name]
    bubble = v["bubble_c"] if bubble_c is None else bubble_c
    inlet_c = bubble - v["subcooling_k"]
    liquid = float(np.exp(of.liquid_log_density(inlet_c)))
    saturated = float(of.bubble_kpa_abs(inlet_c))
    return valve_flow.short_tube_flux_kg_s_m2(
        above_saturation=(float(of.bubble_kpa_abs(bubble)) - saturated) / row["critical_kpa_abs"],
        density_ratio=float(of.vapour_density_kg_m3(of.dew_kpa_abs(inlet_c))) / liquid,
        subcooling_ratio=v["subcooling_k"] / (row["critical_c"] + 273.15),
        length_over_bore=v["length_m"] / v["bore_m"],
        liquid_kg_m3=liquid,
        critical_kpa_abs=row["critical_kpa_abs"],
    )


@pytest.mark.parametrize("name", ["R410A", "R22"])
def test_the_flow_through_a_short_tube(name):
    v = NUMBERS["v6"]

    found = flux(name)

    assert found == approx(v[name]["flux_kg_s_m2"], rel=v["tolerance_frac"])
    assert found * pi / 4.0 * v["bore_m"] ** 2 * 1e3 == approx(v[name]["flow_g_s"], rel=v["tolerance_frac"])


@pytest.mark.parametrize("row", NUMBERS["v8"]["points"])
def test_the_flow_coefficient_of_an_expansion_valve_in_both_forms(row):
    opening, polynomial, power = row
    ratio = NUMBERS["v8"]["subcooling_over_critical_c"]

    assert valve_flow.li_flow_coefficient(opening, ratio) == approx(polynomial, abs=NUMBERS["v8"]["tolerance"])
    assert valve_flow.li_flow_coefficient_power(opening, ratio) == approx(power, abs=NUMBERS["v8"]["tolerance"])


def test_the_concave_curve_of_a_plant_is_the_published_one_scaled_to_one():
    ratio = NUMBERS["v8"]["subcooling_over_critical_c"]
    published = [valve_flow.li_flow_coefficient(z, ratio) for z in (0.25, 0.5, 1.0)]

    assert curve("concave").flow([0.25, 0.5, 1.0]) == approx(np.array(published) / published[-1], abs=1e-6)


def test_a_valve_passes_more_of_a_denser_refrigerant_under_the_same_temperatures_as_a_short_tube_does():
    v = NUMBERS["v6"]

    def law(name: str) -> float:
        of = fluid(name)
        high, low = of.saturated(np.array(v["bubble_c"])), of.saturated(np.array(5.0))
        liquid = of.liquid(high.bubble_c - v["subcooling_k"], high.kpa)
        return float(full_flow(inlet_volume(of, high, liquid), high.kpa - low.kpa))

    assert law("R410A") > law("R22")
    assert flux("R410A") > flux("R22")
    # both laws have C sqrt(2 rho dp) in them: the ratio of the two refrigerants agrees within the spread of sources
    assert law("R410A") / law("R22") == approx(flux("R410A") / flux("R22"), rel=0.15)


def test_flash_at_the_inlet_takes_flow_away_the_more_the_wetter_it_is_not():
    """V7: a two-phase factor lies between 0 and 1 and falls with the inlet's quality."""
    of = fluid("R410A")
    at = of.saturated(np.array(45.0))
    quality = np.linspace(0.0, 0.5, 26)
    enthalpy = at.liquid_enthalpy + quality * (at.vapour_enthalpy - at.liquid_enthalpy)

    factor = np.sqrt(at.liquid_volume / inlet_volume(of, at, enthalpy))

    assert np.all((factor > 0.0) & (factor <= 1.0))
    assert np.all(np.diff(factor) < 0.0)


def test_flow_goes_with_the_root_of_pressure_until_it_chokes_and_no_further():
    kv, density = 2.0, 1000.0
    flows = [valve_flow.liquid_flow_m3_h(kv, density, drop, 200.0) for drop in (50.0, 200.0, 300.0)]

    assert flows[1] == approx(2.0 * flows[0])
    assert flows[2] == flows[1]
