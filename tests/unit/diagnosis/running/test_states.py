"""The states of a compressor, against arithmetic by hand and figures from outside."""

import pytest
from pytest import approx

from fifthwire.diagnosis.running.states import CompressorSeen, compressor_seen, dry_band_k, quality_of
from fifthwire.model.running import CompressorReadings, OutdoorReadings
from fifthwire.physics.compression import discharge_superheat_k
from fifthwire.physics.refrigerants import refrigerant

R410A = refrigerant("R410A")
STANDARD_AIR_KPA, PSI_KPA = 101.325, 6.894757


def seen(name: str = "R410A", *, cooling: bool = True, **readings: float) -> CompressorSeen:
    outdoor = OutdoorReadings(**readings)
    return compressor_seen(refrigerant(name), "OU1/C1", outdoor, outdoor, has_outdoor_condenser=cooling).seen


def test_gauges_and_thermometers_give_superheats_and_subcooling():
    # R410A dew and bubble pressures at 10 and 40 °C: CoolProp 8.0.0 (Lemmon 2003), kPa as printed there.
    one = seen(
        suction_kpa_abs=1084.82,
        discharge_kpa_abs=2418.61,
        suction_temperature_c=16.5,
        discharge_temperature_c=66.0,
        liquid_temperature_c=33.0,
    )

    assert one.evaporating_c == approx(10.0, abs=0.005)
    assert one.condensing_c == approx(40.0, abs=0.005)
    assert one.suction_superheat_k == approx(6.5, abs=0.01)
    assert one.discharge_superheat_k == approx(26.0, abs=0.01)
    # bubble at 2418.61 kPa lies under 40 °C, where 2425.64 kPa is the bubble pressure: some 57 kPa a kelvin there
    assert one.subcooling_k == approx(40.0 - (2425.64 - 2418.61) / 57.0 - 33.0, abs=0.02)


def test_superheat_is_counted_from_dew_and_subcooling_from_bubble():
    # R407C at 460.72 kPa: dew 0.00, bubble -6.27 °C (CoolProp 8.0.0): the wrong line makes 6.27 K of false superheat.
    assert seen("R407C", suction_kpa_abs=460.72, suction_temperature_c=5.0).suction_superheat_k == approx(5.0, abs=0.02)
    at_discharge = seen("R407C", discharge_kpa_abs=1748.86, liquid_temperature_c=35.0)  # bubble 40 °C
    assert at_discharge.subcooling_k == approx(5.0, abs=0.02)


def test_superheat_is_the_same_arithmetic_in_fahrenheit():
    # A trade chart: 118.36 psig is R410A's dew pressure at 40 °F; a suction of 52 °F then has 12 °F of superheat.
    one = seen(suction_kpa_abs=118.36 * PSI_KPA + STANDARD_AIR_KPA, suction_temperature_c=(52.0 - 32.0) / 1.8)

    assert one.suction_superheat_k is not None
    assert one.suction_superheat_k * 1.8 == approx(12.0, abs=0.05)


@pytest.mark.parametrize(
    ("name", "boils_c", "condenses_c", "superheat_k", "expected_k"),
    [  # computed with CoolProp 8.0.0, isentropic efficiency 0.70, adiabatic
        ("R410A", 5.0, 45.0, 5.0, 31.8),
        ("R410A", -10.0, 45.0, 10.0, 51.2),
        ("R32", 5.0, 45.0, 5.0, 50.0),
        ("R22", 5.0, 45.0, 5.0, 35.68),
    ],
)
def test_a_healthy_discharge_is_dry_by_its_energy_balance(name, boils_c, condenses_c, superheat_k, expected_k):
    of = refrigerant(name)
    suction, discharge = of.dew_kpa_abs(boils_c), of.dew_kpa_abs(condenses_c)

    assert discharge_superheat_k(of, suction, discharge, superheat_k=superheat_k) == approx(expected_k, abs=0.1)
    one = seen(
        name, suction_kpa_abs=suction, discharge_kpa_abs=discharge, discharge_temperature_c=condenses_c + expected_k
    )
    assert one.suction_quality == 1.0


@pytest.mark.parametrize(
    ("name", "by_condensing_c"),
    [  # computed with a steady circuit whose compressor has an efficiency of about 0.78, evaporating at 7 °C
        ("R410A", {35.0: 16.5, 42.0: 20.0, 50.0: 24.0, 58.0: 28.1}),
        ("R32", {35.0: 27.4, 42.0: 33.5, 50.0: 40.4, 58.0: 47.6}),
    ],
)
def test_dry_suction_with_nothing_to_spare_gives_what_the_steady_circuit_gives(name, by_condensing_c):
    of = refrigerant(name)
    for condenses_c, expected_k in by_condensing_c.items():
        suction, discharge = of.dew_kpa_abs(7.0), of.dew_kpa_abs(condenses_c)
        low, middle, high = dry_band_k(of, suction, discharge)

        assert discharge_superheat_k(of, suction, discharge, efficiency=0.78) == approx(expected_k, abs=0.6)
        assert low is not None and middle is not None and high is not None
        assert low < expected_k < middle < high


def test_fourteen_kelvin_is_wet_with_r32_at_fifty_degrees():
    # Computed (steady circuit): R32 condensing at 50 °C, 14 K of discharge superheat is a quality of 0.90.
    of = refrigerant("R32")
    quality, u = quality_of(of, of.dew_kpa_abs(7.0), of.dew_kpa_abs(50.0), 14.0)

    assert quality == approx(0.90, abs=2.0 * u)
    assert quality < 0.93


@pytest.mark.parametrize("name", ["R410A", "R32", "R22", "R407C", "R134a", "R454B"])
@pytest.mark.parametrize("quality", [0.90, 0.94, 0.98])
def test_the_energy_balance_gives_the_quality_back(name, quality):
    of = refrigerant(name)
    suction, discharge = of.dew_kpa_abs(7.0), of.dew_kpa_abs(45.0)
    over = discharge_superheat_k(of, suction, discharge, quality=quality)
    found, u = quality_of(of, suction, discharge, over)

    if over > 0.0:
        assert found == approx(quality, abs=1e-4)
    else:
        assert found >= quality
    assert 0.005 < u < 0.03


def test_the_doubt_of_the_quality_is_that_of_the_readings():
    # Computed by Monte Carlo elsewhere: 1.5 K on the discharge, 0.5 K on both saturations, 0.03 on the efficiency gives
    # 0.009 to 0.013 with R410A. Here the efficiency is uniform from 0.60 to 0.80, 0.058, so the doubt is larger.
    of = R410A
    _, u = quality_of(of, of.dew_kpa_abs(7.0), of.dew_kpa_abs(42.0), 15.0)

    assert 0.013 <= u < 0.022


def test_suction_over_discharge_is_a_warning_and_gives_no_figures():
    outdoor = OutdoorReadings(suction_kpa_abs=2400.0, discharge_kpa_abs=1000.0, discharge_temperature_c=70.0)
    measured = compressor_seen(R410A, "OU1/C1", outdoor, outdoor, has_outdoor_condenser=True)

    assert [one.code for one in measured.warnings] == ["running.suction-over-discharge"]
    assert (measured.seen.evaporating_c, measured.seen.discharge_superheat_k) == (None, None)


def test_a_pressure_out_of_range_takes_away_only_what_hangs_on_it():
    outdoor = OutdoorReadings(suction_kpa_abs=1000.0, discharge_kpa_abs=9000.0, suction_temperature_c=12.0)
    measured = compressor_seen(R410A, "OU1/C1", outdoor, outdoor, has_outdoor_condenser=True)

    assert "running.out-of-range" in [one.code for one in measured.warnings]
    assert measured.seen.suction_superheat_k is not None
    assert measured.seen.condensing_c is None


def test_the_liquid_line_tells_no_subcooling_in_heating():
    one = seen(cooling=False, discharge_kpa_abs=2418.61, liquid_temperature_c=33.0)

    assert one.subcooling_k is None


def test_a_compressor_that_turns_at_no_speed_stands_still():
    own = CompressorReadings(speed_hz=0.0)
    outdoor = OutdoorReadings(suction_kpa_abs=1000.0, discharge_kpa_abs=2400.0, compressors={"C1": own})

    assert compressor_seen(R410A, "OU1/C1", outdoor, own, has_outdoor_condenser=True).seen.stands_still


def test_a_steep_compression_ends_the_band_where_vapour_is_no_longer_known():
    of = refrigerant("R32")
    low, middle, high = dry_band_k(of, of.dew_kpa_abs(-35.0), of.dew_kpa_abs(60.0))

    assert low is None or low > 90.0
    assert (middle, high) == (None, None)
