"""Sensors that cannot be right are named, and nothing is claimed that the mode cannot tell."""

from fifthwire.diagnosis.running.sensor_orders import (
    CoilAround,
    at_standstill,
    at_standstill_outdoors,
    impossible_in_cooling,
    impossible_in_heating,
    impossible_outdoors,
)
from fifthwire.model.reasons import REASONS, say
from fifthwire.model.running import OutdoorReadings, UnitReadings

COOLS = CoilAround(boils_c=7.0, inlets_c=8.0)
GOOD = {"liquid_pipe_c": 8.0, "gas_pipe_c": 13.0, "return_air_c": 25.0, "supply_air_c": 14.0}
HEATS = CoilAround(hottest_c=80.0)
WARM = {"gas_pipe_c": 65.0, "liquid_pipe_c": 38.0, "return_air_c": 21.0, "supply_air_c": 40.0}


def cooling(around: CoilAround = COOLS, **changed: float | None) -> dict[str, str]:
    return told(impossible_in_cooling("IU1", UnitReadings(**{**GOOD, **changed}), around))


def heating(**changed: float | None) -> dict[str, str]:
    return told(impossible_in_heating("IU1", UnitReadings(**{**WARM, **changed}), HEATS))


def told(found) -> dict[str, str]:
    assert all(say(REASONS, one.why, one.values) for one in found)
    return {one.id.partition("/")[2]: one.verdict for one in found}


def test_a_good_coil_has_nothing_wrong():
    assert cooling() == {}
    assert heating() == {}


def test_pipes_and_air_colder_than_what_boils_cannot_be():
    assert cooling(liquid_pipe_c=2.0) == {"liquid_pipe": "off"}
    assert cooling(gas_pipe_c=1.0) == {"gas_pipe": "off"}
    assert cooling(supply_air_c=2.0) == {"supply_air": "off"}
    assert cooling(liquid_pipe_c=5.0) == {}


def test_an_outlet_colder_than_its_inlet_blames_the_one_that_is_out_of_place():
    assert cooling(gas_pipe_c=4.5, liquid_pipe_c=8.0) == {"gas_pipe": "off"}
    assert cooling(gas_pipe_c=12.0, liquid_pipe_c=17.0) == {"liquid_pipe": "off"}
    nowhere = cooling(CoilAround(), gas_pipe_c=4.5, liquid_pipe_c=8.0)
    assert nowhere == {"gas_pipe": "undecided", "liquid_pipe": "undecided"}


def test_a_little_noise_is_no_fault():
    assert cooling(gas_pipe_c=7.0, liquid_pipe_c=8.5) == {}


def test_supply_air_warmer_than_the_room_while_it_cools_cannot_be():
    assert cooling(supply_air_c=29.0) == {"supply_air": "off"}


def test_without_flow_warm_air_and_pipes_prove_nothing():
    starved = {"liquid_pipe_c": 24.0, "gas_pipe_c": 29.0, "supply_air_c": 25.0}
    assert cooling(**starved) == {}
    assert cooling(**{**starved, "supply_air_c": None}) == {}


def test_a_gas_pipe_warmer_than_the_room_while_it_cools_cannot_be():
    assert cooling(gas_pipe_c=31.0) == {"gas_pipe": "off"}


def test_a_hot_gas_pipe_in_mixed_mode_is_no_sensor_fault():
    assert cooling(CoilAround(boils_c=7.0, inlets_c=8.0, is_mixed=True), gas_pipe_c=60.0) == {}


def test_a_return_air_colder_than_everything_it_becomes_is_the_one():
    assert cooling(return_air_c=9.0) == {"return_air": "off"}


def test_in_heating_the_pipes_are_warmer_than_the_room():
    assert heating(liquid_pipe_c=15.0) == {"liquid_pipe": "off"}
    assert heating(gas_pipe_c=15.0) == {"gas_pipe": "off", "supply_air": "off"}
    assert heating(liquid_pipe_c=15.0, supply_air_c=21.5) == {"liquid_pipe": "undecided"}


def test_in_heating_nothing_is_hotter_than_the_discharge():
    assert heating(gas_pipe_c=90.0) == {"gas_pipe": "off"}
    assert heating(supply_air_c=70.0) == {"supply_air": "off"}
    assert heating(supply_air_c=15.0) == {"supply_air": "off"}


def test_in_heating_an_outlet_hotter_than_its_inlet_leaves_both_open():
    assert heating(gas_pipe_c=45.0, liquid_pipe_c=52.0) == {"gas_pipe": "undecided", "liquid_pipe": "undecided"}


def test_at_rest_a_sensor_is_held_against_the_others():
    good = told(at_standstill("IU1", UnitReadings(liquid_pipe_c=25.1, gas_pipe_c=24.8, return_air_c=25.0)))
    one = told(at_standstill("IU1", UnitReadings(liquid_pipe_c=25.1, gas_pipe_c=29.5, return_air_c=25.0)))
    air = told(at_standstill("IU1", UnitReadings(liquid_pipe_c=25.1, gas_pipe_c=24.8, return_air_c=30.0)))

    assert set(good.values()) == {"good"}
    assert one == {"liquid_pipe": "good", "gas_pipe": "off", "return_air": "good"}
    assert air == {"liquid_pipe": "good", "gas_pipe": "good", "return_air": "off"}


def test_at_rest_two_are_held_against_the_air():
    assert told(at_standstill("IU1", UnitReadings(gas_pipe_c=29.5, return_air_c=25.0))) == {"gas_pipe": "off"}
    assert at_standstill("IU1", UnitReadings(gas_pipe_c=29.5, liquid_pipe_c=25.0)) == []
    assert at_standstill("IU1", UnitReadings(gas_pipe_c=29.5)) == []


def test_a_unit_just_stopped_is_not_yet_at_the_temperature_of_the_air():
    readings = UnitReadings(liquid_pipe_c=12.0, gas_pipe_c=14.0, return_air_c=25.0, off_minutes=10.0)

    assert at_standstill("IU1", readings) == []


def test_outdoors_a_suction_line_colder_than_what_boils_blames_the_sensor_only_where_the_gauge_is_proved():
    proved = impossible_outdoors("OU1", 1.0, 7.0, [("OU1/C1", 30.0)], 45.0, is_gauge_proved=True)
    alone = impossible_outdoors("OU1", 1.0, 7.0, [("OU1/C1", 70.0)], 45.0, is_gauge_proved=False)

    assert {one.id: one.verdict for one in proved} == {
        "OU1/suction_temperature": "off",
        "OU1/C1/discharge_temperature": "undecided",
    }
    assert {one.id: one.verdict for one in alone} == {"OU1/suction_temperature": "undecided"}


def test_outdoors_at_rest_only_a_sensor_far_from_the_air_is_named():
    near = OutdoorReadings(suction_temperature_c=22.0, liquid_temperature_c=18.5, discharge_temperature_c=35.0)
    far = OutdoorReadings(suction_temperature_c=11.0, liquid_temperature_c=19.0)
    air = OutdoorReadings(suction_temperature_c=19.5, liquid_temperature_c=19.0)

    assert at_standstill_outdoors("OU1", near, 20.0) == []
    assert {one.id: one.verdict for one in at_standstill_outdoors("OU1", far, 20.0)} == {
        "OU1/suction_temperature": "off"
    }
    assert [one.id for one in at_standstill_outdoors("OU1", air, 33.0)] == ["ambient"]
    assert at_standstill_outdoors("OU1", far, None) == []


def test_a_suction_line_hotter_than_every_discharge_is_a_sensors():
    hot = impossible_outdoors("OU1", 85.0, 7.0, [("OU1/C1", 74.0)], 45.0, is_gauge_proved=True)
    either = impossible_outdoors("OU1", 40.0, 7.0, [("OU1/C1", 30.0)], 45.0, is_gauge_proved=True)
    one_unknown = impossible_outdoors(
        "OU1", 85.0, 7.0, [("OU1/C1", 74.0), ("OU1/C2", None)], 45.0, is_gauge_proved=True
    )

    assert {one.id: one.verdict for one in hot} == {"OU1/suction_temperature": "off"}
    assert {one.verdict for one in either} == {"undecided"}
    assert one_unknown == []
