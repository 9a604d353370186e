"""What a coil holds is kept by each way of measuring it, and ranked among the units that run the same way."""

from pytest import approx

from fifthwire.diagnosis.running.units import Around, ranked, unit_seen
from fifthwire.model.running import UnitReadings

COOLS = Around(dew_c=7.0, bubble_c=44.0)


def test_two_temperatures_lead_and_the_pressure_is_kept_beside_them():
    one = unit_seen("IU1", UnitReadings(gas_pipe_c=13.0, liquid_pipe_c=8.1), "cooling", COOLS)

    assert (one.method, one.held_k, one.by_pressure_k) == ("two-temperatures", approx(4.9), approx(6.0))
    # A measured day: 0.37 to 0.45 K by two temperatures, 5 K by pressure from minute to minute.
    assert one.u_k == 0.5
    assert one.u_by_pressure_k == 1.5


def test_without_a_liquid_pipe_the_pressure_leads():
    one = unit_seen("IU1", UnitReadings(gas_pipe_c=13.0, target_superheat_k=5.0), "cooling", COOLS)

    assert (one.method, one.held_k, one.u_k, one.target_k) == ("pressure", approx(6.0), 1.5, 5.0)


def test_a_blend_makes_two_temperatures_doubtful_and_its_model_the_pressure():
    around = Around(dew_c=7.0, glide_k=6.0, model_u_k=0.5)
    one = unit_seen("IU1", UnitReadings(gas_pipe_c=13.0, liquid_pipe_c=3.0), "cooling", around)

    assert one.u_k == approx(4.53, abs=0.01)  # (0.5^2 + (0.75 * 6)^2) ^ 0.5
    assert one.u_by_pressure_k == approx(1.58, abs=0.01)


def test_in_heating_a_unit_holds_subcooling():
    readings = UnitReadings(gas_pipe_c=65.0, liquid_pipe_c=38.0, target_subcooling_k=6.0, target_superheat_k=5.0)
    one = unit_seen("IU1", readings, "heating", COOLS)

    assert (one.held_k, one.method, one.target_k) == (approx(6.0), "pressure", 6.0)


def test_a_unit_that_is_off_holds_nothing():
    assert unit_seen("IU1", UnitReadings(gas_pipe_c=25.0, liquid_pipe_c=25.0), "off", COOLS).held_k is None
    assert unit_seen("IU1", UnitReadings(gas_pipe_c=25.0, liquid_pipe_c=25.0), "", COOLS).held_k is None


def test_units_are_ranked_among_those_that_run_the_same_way():
    held = {"IU1": 5.0, "IU2": 0.2, "IU3": 6.0, "IU4": 5.0, "IU5": 16.0}
    units = [
        unit_seen(name, UnitReadings(gas_pipe_c=8.0 + k, liquid_pipe_c=8.0), "cooling", COOLS)
        for name, k in held.items()
    ]
    units.append(unit_seen("IU6", UnitReadings(liquid_pipe_c=30.0), "heating", COOLS))
    by_id = {one.id: one for one in ranked(units)}

    assert {name: by_id[name].rank for name in held} == {"IU1": 2, "IU2": 1, "IU3": 4, "IU4": 2, "IU5": 5}
    assert [by_id[name].n_ranked for name in held] == [5] * 5
    assert by_id["IU6"].rank is None
    assert (by_id["IU5"].others_low_k, by_id["IU5"].others_high_k) == (approx(3.8), approx(5.25))


def test_a_band_of_two_others_is_no_band():
    units = [
        unit_seen(name, UnitReadings(gas_pipe_c=13.0, liquid_pipe_c=8.0), "cooling", COOLS) for name in ("A", "B", "C")
    ]

    assert ranked(units)[0].others_low_k is None
    assert ranked(units[:1])[0].rank is None
