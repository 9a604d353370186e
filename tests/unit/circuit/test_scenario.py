import numpy as np
from pytest import approx
from tests.circuit_cases import a_plant

from fifthwire.circuit.scenario import plain_cases, scenarios_of, together, valve_names
from fifthwire.circuit.sizing import circuit_of
from fifthwire.model.plant import Fault


def test_valves_are_named_by_unit_then_main_then_bypass():
    assert valve_names(a_plant(2, n_outdoor=2)) == (
        "IU01", "IU02", "OU1/main", "OU2/main", "OU1/subcooler-bypass", "OU2/subcooler-bypass",
    )  # fmt: skip


def test_every_kind_of_fault_finds_its_place():
    faults = (
        Fault(valve="IU02", stuck_frac=0.3),
        Fault(valve="OU2/subcooler-bypass", leaks_frac=0.1),
        Fault(charge_frac=0.9),
        Fault(outdoor_airflow_frac=0.6, unit="OU2"),
        Fault(unit="IU01", airflow_frac=0.5),
        Fault(sensor="IU02/liquid_pipe", offset_k=-2.0),
        Fault(sensor="OU1/suction_pressure", offset_k=1.0),
    )
    plant = a_plant(2, n_outdoor=2, faults=faults, seat_leak_frac=0.02)

    cases = scenarios_of(plant)

    assert np.nan_to_num(cases.stuck_frac[0], nan=-1.0).tolist() == [-1.0, 0.3, -1.0, -1.0, -1.0, -1.0]
    assert cases.leak_frac[0].tolist() == [0.02, 0.02, 0.02, 0.02, 0.02, 0.1]
    assert cases.charge_frac.tolist() == [0.9]
    assert cases.outdoor_airflow_frac[0].tolist() == [1.0, 0.6]
    assert cases.airflow_frac[0].tolist() == [0.5, 1.0]
    assert cases.liquid_pipe_offset_k[0].tolist() == [0.0, -2.0]
    assert cases.suction_offset_k[0].tolist() == [1.0, 0.0]


def test_without_an_outdoor_unit_in_its_name_a_fault_means_all_of_them_or_the_only_one():
    cases = scenarios_of(
        a_plant(2, faults=(Fault(outdoor_airflow_frac=0.5), Fault(sensor="bypass_outlet", offset_k=3.0)))
    )

    assert cases.outdoor_airflow_frac[0].tolist() == [0.5]
    assert cases.bypass_outlet_offset_k[0].tolist() == [3.0]


def test_cases_are_repeated_changed_and_put_together_without_touching_the_first():
    sound = plain_cases(a_plant(3))

    cases = together([sound.repeated(2).with_stuck(1, [0.2, 0.4]), sound.with_(ambient_c=40.0)])

    assert len(cases) == 3
    assert cases.stuck_frac[:2, 1].tolist() == [0.2, 0.4]
    assert cases.ambient_c.tolist() == [35.0, 35.0, 40.0]
    assert np.isnan(sound.stuck_frac).all()
    assert len(cases.rows([True, False, True])) == 2


def test_where_a_plant_heats_its_air_is_that_of_heating():
    cases = plain_cases(a_plant(2, mode="heating"))

    assert (cases.ambient_c[0], cases.rooms_c[0, 0]) == (7.0, 20.0)


def test_a_valve_is_found_by_its_short_name_too():
    system = circuit_of(a_plant(2))

    assert system.valve("main") == system.valve("OU1/main")
    assert system.valve("subcooler-bypass") == system.valve("OU1/subcooler-bypass")
    assert system.share == approx([1.0])


def test_of_two_faults_that_say_otherwise_of_one_thing_the_later_one_holds():
    plant = a_plant(2, faults=(Fault(charge_frac=0.8), Fault(charge_frac=0.9)))

    assert scenarios_of(plant).charge_frac.tolist() == [0.9]
