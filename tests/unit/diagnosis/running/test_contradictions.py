"""Readings that cannot be are left out by name; pressures that do not go with the temperatures are told."""

import pytest

from fifthwire.diagnosis.running.contradictions import contradictions, has_come_to_rest
from fifthwire.diagnosis.running.possible import possible_readings
from fifthwire.model.reasons import WARNINGS, say
from fifthwire.model.running import CompressorReadings, OutdoorReadings, Snapshot, UnitReadings
from fifthwire.physics.refrigerants import refrigerant

R410A, R22 = refrigerant("R410A"), refrigerant("R22")
UNITS = {f"IU{n}": UnitReadings(liquid_pipe_c=8.0 + 0.2 * n, gas_pipe_c=13.0, return_air_c=25.0) for n in range(1, 5)}
SNAPSHOT = Snapshot(ambient_c=34.0, units=UNITS)


def outdoor(of=R410A, liquid_c: float = 35.0) -> OutdoorReadings:
    return OutdoorReadings(
        suction_kpa_abs=of.dew_kpa_abs(7.0), discharge_kpa_abs=of.dew_kpa_abs(45.0), liquid_temperature_c=liquid_c
    )


def told(of, unit: OutdoorReadings, snapshot: Snapshot = SNAPSHOT, mode: str | None = "cooling") -> list[str]:
    found = contradictions(of, unit, snapshot, mode, "OU1")
    assert all(say(WARNINGS, one.code, one.values) for one in found)
    return [one.values["what"] for one in found]


def test_readings_that_go_together_are_let_pass():
    assert told(R410A, outdoor()) == []
    assert told(R22, outdoor(R22)) == []


def test_another_refrigerant_than_written_is_told():
    assert "the coils' inlets" in told(R22, outdoor(R410A))
    assert told(R410A, outdoor(R22)) == ["the liquid line", "the outdoor air"]


def test_liquid_warmer_than_it_condenses_is_told():
    assert told(R410A, outdoor(liquid_c=51.0)) == ["the liquid line"]


def test_condensing_under_the_outdoor_air_is_told():
    assert told(R410A, outdoor(), Snapshot(ambient_c=50.0)) == ["the outdoor air"]


def test_in_heating_it_boils_under_the_outdoor_air_and_condenses_over_the_rooms():
    cold = Snapshot(ambient_c=-5.0, units={"IU1": UnitReadings(return_air_c=21.0)})
    hot = Snapshot(ambient_c=7.0, units={"IU1": UnitReadings(return_air_c=50.0)})

    assert told(R410A, outdoor(), cold, "heating") == ["the outdoor air"]
    assert told(R410A, outdoor(), hot, "heating") == ["the coldest room"]


@pytest.mark.parametrize(
    ("state", "mode"), [("defrost", "heating"), ("start", "cooling"), (None, "mixed"), (None, None)]
)
def test_nothing_is_claimed_of_moments_and_modes_that_do_not_tell(state, mode):
    assert told(R410A, outdoor(R22), Snapshot(ambient_c=34.0, units=UNITS, state=state), mode) == []


def test_at_rest_the_pressure_is_that_of_the_air():
    at_rest = Snapshot(ambient_c=20.0, units={"IU1": UnitReadings(return_air_c=22.0)})
    even = OutdoorReadings(suction_kpa_abs=R410A.dew_kpa_abs(21.0), discharge_kpa_abs=R410A.dew_kpa_abs(21.0))

    assert told(R410A, even, at_rest, "off") == []
    assert told(R22, even, at_rest, "off") == ["the air around a system at rest"]


def test_a_system_just_stopped_is_not_yet_at_rest():
    at_rest = Snapshot(ambient_c=20.0, units={"IU1": UnitReadings(return_air_c=22.0)})

    assert told(R410A, outdoor(), at_rest, "off") == []


def test_a_temperature_that_nothing_has_is_left_out_by_name():
    units = {"IU1": UnitReadings(return_air_c=250.0, gas_pipe_c=13.0), "IU2": UnitReadings(return_air_c=25.0)}
    own = CompressorReadings(discharge_temperature_c=780.0, speed_hz=50.0)
    snapshot = Snapshot(ambient_c=298.0, units=units, outdoor={"OU1": OutdoorReadings(compressors={"C1": own})})
    found = possible_readings(snapshot)

    assert (found.snapshot.ambient_c, found.snapshot.units["IU1"].return_air_c) == (None, None)
    assert found.snapshot.units["IU1"].gas_pipe_c == 13.0
    assert found.snapshot.units["IU2"] is units["IU2"]
    assert found.snapshot.outdoor["OU1"].compressors["C1"].discharge_temperature_c is None
    said = sorted(say(WARNINGS, one.code, one.values) for one in found.warnings)
    assert said == [
        "IU1: return air 250 °C cannot be; not used.",
        "OU1/C1: discharge temperature 780 °C cannot be; not used.",
        "snapshot: ambient 298 °C cannot be; not used.",
    ]


def test_a_snapshot_in_which_all_can_be_stays_as_it_is():
    assert possible_readings(SNAPSHOT).snapshot is SNAPSHOT
    assert possible_readings(SNAPSHOT).warnings == ()


def test_a_compressor_at_rest_tells_nothing_by_its_temperatures():
    own = CompressorReadings(discharge_temperature_c=30.0, shell_temperature_c=28.0, speed_hz=0.0)
    found = possible_readings(Snapshot(outdoor={"OU1": OutdoorReadings(compressors={"C2": own})}))

    left = found.snapshot.outdoor["OU1"].compressors["C2"]
    assert (left.discharge_temperature_c, left.shell_temperature_c, left.speed_hz) == (None, None, 0.0)
    assert found.warnings == ()


def test_a_compressor_that_turns_is_not_at_rest_though_the_pressures_are_even():
    even = OutdoorReadings(suction_kpa_abs=1447.0, discharge_kpa_abs=1447.0)
    turning = OutdoorReadings(suction_kpa_abs=1447.0, compressors={"C1": CompressorReadings(speed_hz=62.0)})

    assert has_come_to_rest(even)
    assert not has_come_to_rest(turning)
