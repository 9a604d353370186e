"""A compressor's map: its limits, its correction for suction superheat, its speeds."""

import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.ahri540 import (
    AtSpeed,
    CompressorMap,
    MappedCompressor,
    TenTerms,
    checked_map,
    suction_correction,
)
from fifthwire.model.errors import InputError
from fifthwire.properties import refrigerant_arrays

R410A = refrigerant_arrays("R410A")
FLOW = TenTerms((200.0, 6.0, -0.5, 0.05, 0, 0, 0, 0, 0, 0), 1 / 3600.0)
POWER = TenTerms((500.0, -10.0, 50.0, 0, 0, 0, 0, 0, 0, 0))


def a_map(**other) -> CompressorMap:
    speeds = other.pop("speeds", (AtSpeed(speed_frac=1.0, power_watt=POWER, flow_kg_s=FLOW),))
    limits = {"evaporating_c": (-20.0, 15.0), "condensing_c": (20.0, 60.0)}
    return CompressorMap(
        **({"name": "M1", "refrigerant": "R410A", "superheat_k": 10.0} | limits | other), speeds=speeds
    )


def scaled(terms: TenTerms, by: float) -> TenTerms:
    return TenTerms(terms.coefficients, terms.per * by)


THREE = tuple(
    AtSpeed(speed_frac=at, power_watt=scaled(POWER, at**1.2), flow_kg_s=scaled(FLOW, at**0.9)) for at in (0.3, 0.6, 1.0)
)


def suction_m3_kg(evaporating_c, superheat_k):
    return 1.0 / R410A.vapour_density_kg_m3(R410A.dew_kpa_abs(evaporating_c), superheat_k)


def test_at_the_superheat_of_its_rating_a_map_is_not_corrected():
    mapped = MappedCompressor(a_map(), R410A)

    flow = mapped.flow_kg_s(5.0, 45.0, 1.0, suction_m3_kg(5.0, 10.0))

    assert flow == approx(FLOW.at(5.0, 45.0), rel=1e-12)


def test_more_superheat_at_suction_moves_less():
    mapped = MappedCompressor(a_map(), R410A)

    flows = mapped.flow_kg_s(5.0, 45.0, 1.0, suction_m3_kg(5.0, np.array([2.0, 10.0, 20.0])))

    assert np.all(np.diff(flows) < 0.0)
    assert suction_correction(1.0, 2.0) == approx(1.0 - 0.75 / 2.0)


def test_the_efficiency_is_what_the_power_of_the_map_leaves():
    mapped = MappedCompressor(a_map(), R410A)
    low, high = R410A.dew_kpa_abs(5.0), R410A.dew_kpa_abs(45.0)
    inlet = R410A.vapour_enthalpy_kj_kg(low, 10.0)
    ideal = R410A.isentropic_enthalpy_kj_kg(R410A.vapour_entropy_kj_kg_k(low, 10.0), high) - inlet

    frac = mapped.isentropic_frac(5.0, 45.0, 1.0)

    assert frac * POWER.at(5.0, 45.0) == approx(FLOW.at(5.0, 45.0) * ideal * 1e3, rel=1e-12)


def test_a_return_gas_temperature_gives_the_superheat_of_each_point():
    of = a_map(return_gas_c=18.3)

    assert of.rating_superheat_k([-10.0, 18.3, 20.0]) == approx([28.3, 0.0, 0.0])


def test_a_capacity_is_turned_into_the_flow_that_carries_it():
    capacity = TenTerms((40_000.0, 1000.0, -200.0, 0, 0, 0, 0, 0, 0, 0))
    of = a_map(speeds=(AtSpeed(speed_frac=1.0, power_watt=POWER, capacity_watt=capacity),), subcooling_k=5.0)
    gain = R410A.vapour_enthalpy_kj_kg(R410A.dew_kpa_abs(5.0), 10.0) - R410A.liquid_enthalpy_kj_kg(
        R410A.bubble_c(R410A.dew_kpa_abs(45.0)) - 5.0
    )

    flow = MappedCompressor(of, R410A).rated(5.0, 45.0).flow_kg_s

    assert flow[0] * gain * 1e3 == approx(capacity.at(5.0, 45.0), rel=1e-12)


def test_a_speed_for_a_flow_and_the_flow_at_that_speed_are_there_and_back():
    mapped = MappedCompressor(a_map(speeds=THREE), R410A)
    speed = np.array([0.1, 0.3, 0.45, 0.8, 1.0, 1.2])
    suction = suction_m3_kg(5.0, 4.0)

    flow = mapped.flow_kg_s(np.full(6, 5.0), np.full(6, 45.0), speed, suction)

    assert np.all(np.diff(flow) > 0.0)
    assert mapped.speed_frac(np.full(6, 5.0), np.full(6, 45.0), flow, suction) == approx(speed, rel=1e-12)


def test_at_one_of_its_speeds_a_map_gives_that_speeds_own_values():
    mapped = MappedCompressor(a_map(speeds=THREE), R410A)

    flow = mapped.flow_kg_s(5.0, 45.0, 0.6, suction_m3_kg(5.0, 10.0))

    assert flow == approx(FLOW.at(5.0, 45.0) * 0.6**0.9, rel=1e-12)


def test_points_outside_the_limits_are_told():
    assert a_map().is_outside([-21.0, 5.0, 5.0, np.nan], [40.0, 40.0, 61.0, 40.0]).tolist() == [True, False, True, True]


def test_a_map_that_gives_nothing_at_a_corner_is_refused_with_that_corner():
    falling = TenTerms((100.0, 10.0, 0, 0, 0, 0, 0, 0, 0, 0))
    of = a_map(speeds=(AtSpeed(speed_frac=1.0, power_watt=falling, flow_kg_s=FLOW),))

    with pytest.raises(InputError, match=r"M1: its power is -100 W where it evaporates at -20\.0 °C"):
        checked_map(of)


def test_a_hollow_between_the_points_of_a_grid_is_found():
    # least at 3.21 °C and 41.37 °C, and there a hair below zero: no corner and no coarse point shows it
    s, d = 3.21, 41.37
    hollow = TenTerms((s * s + d * d - 1e-6, -2 * s, -2 * d, 1.0, 0.0, 1.0, 0, 0, 0, 0))

    with pytest.raises(InputError, match=r"evaporates at 3\.2 °C and condenses at 41\.4 °C"):
        checked_map(a_map(speeds=(AtSpeed(speed_frac=1.0, power_watt=hollow, flow_kg_s=FLOW),)))


def test_a_map_of_another_refrigerant_is_refused():
    with pytest.raises(InputError, match="M1 is for R32, the plant holds R410A"):
        MappedCompressor(a_map(refrigerant="R32"), R410A)
