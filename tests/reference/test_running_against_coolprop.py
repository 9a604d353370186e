"""Superheats, subcooling, dry discharge superheat and suction quality of a visit, against CoolProp for its readings."""

from random import Random

import pytest
from CoolProp.CoolProp import PropsSI
from pytest import approx
from tests.judged_visits import assessed_json

FLUIDS = {
    "R410A": "R410A",
    "R32": "R32",
    "R22": "R22",
    "R407C": "R407C",
    "R134a": "R134a",
    "R404A": "R404A",
    "R290": "R290",
}
MIXTURES = {"R454B": "R454B.mix"}
KELVIN = 273.15
WITHIN_K = 0.05


def saturated_c(fluid: str, kpa_abs: float, quality: int) -> float:
    return PropsSI("T", "P", kpa_abs * 1e3, "Q", quality, fluid) - KELVIN


def made(name: str, seed: int) -> tuple[str, dict[str, float]]:
    """A visit's text with random readings, and those readings."""
    draw = Random(seed)
    fluid = {**FLUIDS, **MIXTURES}[name]
    boils, condenses = draw.uniform(-12.0, 12.0), draw.uniform(32.0, 55.0)
    readings = {
        "suction": PropsSI("P", "T", boils + KELVIN, "Q", 1, fluid) / 1e3,
        "discharge": PropsSI("P", "T", condenses + KELVIN, "Q", 1, fluid) / 1e3,
        "suction_c": boils + draw.uniform(0.0, 15.0),
        "discharge_c": condenses + draw.uniform(5.0, 60.0),
        "liquid_c": condenses - draw.uniform(6.0, 18.0),
        "gas_c": boils + draw.uniform(0.0, 12.0),
        "inlet_c": boils + draw.uniform(0.0, 2.0),
    }
    text = f"""
format = "fifthwire/visit/1"
[visit]
date = 2026-05-12
site = "Invented House"
system = "S-1"
[system]
refrigerant = "{name}"
mode = "cooling"
[snapshot.outdoor.OU1]
suction_pressure = {readings["suction"]!r}
discharge_pressure = {readings["discharge"]!r}
suction_temperature = {readings["suction_c"]!r}
liquid_temperature = {readings["liquid_c"]!r}
[snapshot.outdoor.OU1.compressors.C1]
discharge_temperature = {readings["discharge_c"]!r}
[snapshot.units.IU1]
gas_pipe = {readings["gas_c"]!r}
[snapshot.units.IU2]
gas_pipe = {readings["gas_c"]!r}
liquid_pipe = {readings["inlet_c"]!r}
"""
    return text, readings


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("name", [*FLUIDS, *MIXTURES])
def test_superheats_and_subcooling_are_those_of_coolprop(name, seed):
    text, read = made(name, seed)
    fluid = {**FLUIDS, **MIXTURES}[name]
    out = assessed_json(text)
    compressor, units = out["compressors"][0], {one["id"]: one for one in out["units"]}
    dew = saturated_c(fluid, read["suction"], 1)

    assert compressor["id"] == "OU1/C1"
    assert compressor["suction_superheat_k"] == approx(read["suction_c"] - dew, abs=WITHIN_K)
    assert compressor["discharge_superheat_k"] == approx(
        read["discharge_c"] - saturated_c(fluid, read["discharge"], 1), abs=WITHIN_K
    )
    assert compressor["subcooling_k"] == approx(
        saturated_c(fluid, read["discharge"], 0) - read["liquid_c"], abs=WITHIN_K
    )
    assert units["IU1"]["superheat_k"] == approx(read["gas_c"] - dew, abs=WITHIN_K)
    assert units["IU2"]["superheat_k"] == approx(read["gas_c"] - read["inlet_c"], abs=WITHIN_K)
    assert units["IU1"]["u_k"] > units["IU2"]["u_k"] or name == "R407C"


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("name", FLUIDS)
def test_dry_discharge_superheat_and_quality_are_those_of_an_energy_balance_by_coolprop(name, seed):
    text, read = made(name, seed)
    one = assessed_json(text)["compressors"][0]
    fluid, suction, discharge = FLUIDS[name], read["suction"] * 1e3, read["discharge"] * 1e3

    def outlet_c(quality: float) -> float:
        inlet = PropsSI("H", "P", suction, "Q", quality, fluid)
        ideal = PropsSI("H", "P", discharge, "S", PropsSI("S", "P", suction, "Q", quality, fluid), fluid)
        return PropsSI("T", "P", discharge, "H", inlet + (ideal - inlet) / 0.70, fluid) - KELVIN

    condenses = saturated_c(fluid, read["discharge"], 1)
    assert one["dry_discharge_superheat_k"] == approx(outlet_c(1.0) - condenses, abs=WITHIN_K)
    if one["suction_quality"] < 1.0:
        assert outlet_c(one["suction_quality"]) == approx(read["discharge_c"], abs=0.1)
    else:
        assert outlet_c(1.0) <= read["discharge_c"] + WITHIN_K


@pytest.mark.parametrize("name", ["R410A", "R407C", "R454B"])
def test_subcooling_of_a_unit_that_heats_is_counted_from_the_bubble_line(name):
    fluid = {**FLUIDS, **MIXTURES}[name]
    kpa = PropsSI("P", "T", 45.0 + KELVIN, "Q", 0, fluid) / 1e3
    text = f"""
format = "fifthwire/visit/1"
[visit]
date = 2026-01-12
site = "Invented House"
system = "S-1"
[system]
refrigerant = "{name}"
mode = "heating"
[snapshot.outdoor.OU1]
discharge_pressure = {kpa!r}
[snapshot.units.IU1]
gas_pipe = 70.0
liquid_pipe = 37.5
"""
    row = assessed_json(text)["units"][0]

    assert (row["superheat_k"], row["subcooling_k"]) == (None, approx(7.5, abs=WITHIN_K))
