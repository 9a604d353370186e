"""Discharge superheat, dry and wet, and the way back to the suction's quality."""

import pytest
from pytest import approx

from fifthwire.physics.compression import discharge_superheat_k, suction_quality
from fifthwire.physics.refrigerants import refrigerant


@pytest.mark.parametrize(
    "fluid, condensing_c, expected_k",
    [
        ("R410A", 35, 16.5),
        ("R410A", 42, 20.0),
        ("R410A", 50, 24.0),
        ("R410A", 58, 28.1),
        ("R32", 35, 27.4),
        ("R32", 50, 40.4),
    ],
)
def test_dry_suction_gives_the_discharge_superheat_of_a_steady_circuit(fluid, condensing_c, expected_k):
    """Computed: a steady circuit evaporating at 7 °C, its isentropic efficiency about 0.78."""
    of = refrigerant(fluid)

    found = discharge_superheat_k(of, of.dew_kpa_abs(7.0), of.dew_kpa_abs(condensing_c), efficiency=0.78)

    assert found == approx(expected_k, abs=0.4)


@pytest.mark.parametrize("fluid, per_percent_k", [("R410A", 2.0), ("R32", 2.9)])
def test_a_per_cent_of_liquid_takes_two_to_three_kelvin(fluid, per_percent_k):
    """Computed: the same steady circuit."""
    of = refrigerant(fluid)
    suction, high = of.dew_kpa_abs(7.0), of.dew_kpa_abs(45.0)

    dry = discharge_superheat_k(of, suction, high)
    wet = discharge_superheat_k(of, suction, high, quality=0.98)

    assert (dry - wet) / 2.0 == approx(per_percent_k, rel=0.1)


def test_discharge_superheat_falls_all_the_way_as_suction_gets_wetter():
    of = refrigerant("R410A")
    suction, high = of.dew_kpa_abs(5.0), of.dew_kpa_abs(45.0)

    found = [discharge_superheat_k(of, suction, high, quality=1.0 - 0.01 * step) for step in range(25)]

    assert found == sorted(found, reverse=True)
    assert found[-1] == 0.0


@pytest.mark.parametrize("quality", [0.99, 0.95, 0.91])
def test_the_quality_comes_back_from_the_discharge(quality):
    of = refrigerant("R32")
    suction, high = of.dew_kpa_abs(7.0), of.dew_kpa_abs(50.0)

    superheat = discharge_superheat_k(of, suction, high, quality=quality)

    assert suction_quality(of, suction, high, superheat) == approx(quality, abs=1e-6)
    assert suction_quality(of, suction, high, superheat + 60.0) == 1.0


def test_r32_at_50_degrees_with_14_kelvin_is_wet_though_a_fixed_limit_would_pass_it():
    """Computed: the steady circuit puts that at a quality of about 0.90."""
    of = refrigerant("R32")

    found = suction_quality(of, of.dew_kpa_abs(7.0), of.dew_kpa_abs(50.0), 14.0, efficiency=0.78)

    assert found == approx(0.905, abs=0.01)
