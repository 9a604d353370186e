"""States of the simulated circuit against other programs: CoolProp with SciPy, CoolProp at every point, TESPy."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from pytest import approx
from tests.circuit_cases import a_plant, random_cases
from tests.direct_circuit import DirectCircuit

from fifthwire.circuit.scenario import plain_cases, together
from fifthwire.circuit.sizing import circuit_of
from fifthwire.circuit.solve import solve

KELVIN = 273.15
PSEUDO_PURE_WITH_GLIDE = ("R407C", "R404A")


@pytest.mark.parametrize("refrigerant", ["R410A", "R32"])
def test_the_whole_state_is_that_of_coolprop_and_scipy(refrigerant):
    system = circuit_of(a_plant(8, refrigerant=refrigerant))
    sound = plain_cases(system.plant)
    bypass = system.valve("subcooler-bypass")
    cases = together([
        sound,
        sound.with_stuck(3, 1.0),
        sound.with_stuck(3, 0.2).with_(ambient_c=41.0),
        sound.with_stuck(bypass, 1.0).with_(on=np.arange(8) < 4),
        sound.with_(fixed_speed_frac=0.7, ambient_c=28.0, on=np.arange(8) < 5),
        sound.with_(outdoor_airflow_frac=0.6, airflow_frac=0.7),
    ])  # fmt: skip
    states = solve(system, cases)

    for row in range(len(cases)):
        direct = DirectCircuit(system, cases.rows(slice(row, row + 1))).solved(states.unknowns[row] + 0.3)

        assert states.evaporating_c[row] == approx(direct.evaporating_c, abs=3e-3), row
        assert states.condensing_c[row] == approx(direct.condensing_c, abs=3e-3), row
        for name in ("speed_frac", "power_kw", "capacity_kw"):
            assert getattr(states, name)[row] == approx(getattr(direct, name), rel=3e-4), (row, name)
        assert states.discharge_c[row, 0] == approx(direct.discharge_c, abs=0.02), row
        assert states.subcooling_k[row, 0] == approx(direct.subcooling_k, abs=0.06), row
        assert states.flow_g_s[row] == approx(direct.flow_g_s, rel=5e-4, abs=1e-6), row
        assert states.superheat_k[row] == approx(direct.superheat_k, abs=0.02), row


@pytest.mark.parametrize("refrigerant", ["R410A", "R32", "R22", "R407C", "R134a", "R404A", "R290"])
def test_every_point_of_a_state_is_coolprops(refrigerant):
    system = circuit_of(a_plant(8, refrigerant=refrigerant))
    cases = random_cases(system, 12, 3)
    states = solve(system, cases)
    h0 = PropsSI("H", "T", KELVIN, "Q", 0, refrigerant) / 1e3 - 200.0

    assert states.converged.sum() >= 10
    for row in np.flatnonzero(states.converged):
        if refrigerant in PSEUDO_PURE_WITH_GLIDE and states.suction_quality[row, 0] < 1.0:
            continue  # CoolProp finds no entropy between the two lines of these
        low, high = 1e3 * states.suction_kpa_abs[row], 1e3 * states.discharge_kpa_abs[row]
        dew_c = PropsSI("T", "P", low, "Q", 1, refrigerant) - KELVIN
        assert states.evaporating_c[row] == approx(dew_c, abs=1e-3)
        suction = 1e3 * (states.suction_enthalpy_kj_kg[row, 0] + h0)
        suction_c = PropsSI("T", "H", suction, "P", low, refrigerant) - KELVIN
        if states.suction_quality[row, 0] == 1.0:
            assert states.suction_superheat_k[row, 0] == approx(suction_c - dew_c, abs=0.01)
        else:
            assert states.suction_quality[row, 0] == approx(PropsSI("Q", "H", suction, "P", low, refrigerant), abs=1e-4)
        ideal = PropsSI("H", "S", PropsSI("S", "H", suction, "P", low, refrigerant), "P", high, refrigerant)
        discharge = suction + (ideal - suction) / 0.70
        assert states.discharge_enthalpy_kj_kg[row, 0] + h0 == approx(discharge / 1e3, abs=0.02)
        if states.discharge_superheat_k[row, 0] > 0.1:
            assert states.discharge_c[row, 0] == approx(
                PropsSI("T", "H", discharge, "P", high, refrigerant) - KELVIN, abs=0.02
            )
        for unit in np.flatnonzero((states.superheat_k[row] > 0.1) & (states.flow_g_s[row] > 0.5)):
            outlet = PropsSI("H", "T", dew_c + states.superheat_k[row, unit] + KELVIN, "P", low, refrigerant)
            assert states.outlet_enthalpy_kj_kg[row, unit] + h0 == approx(outlet / 1e3, abs=0.03)
        if states.subcooling_k[row, 0] > 0.5 and states.subcooling_k[row, 0] < 15.0:
            bubble_c = PropsSI("T", "P", high, "Q", 0, refrigerant) - KELVIN
            liquid = PropsSI("H", "T", bubble_c - states.subcooling_k[row, 0] + KELVIN, "P", high, refrigerant)
            assert states.liquid_enthalpy_kj_kg[row] + h0 == approx(liquid / 1e3, abs=0.15)


@pytest.mark.parametrize("refrigerant", ["R410A", "R32"])
def test_a_single_evaporators_cycle_is_tespys_at_the_same_states(refrigerant):
    from tespy.components import Compressor, CycleCloser, SimpleHeatExchanger, Valve
    from tespy.connections import Connection
    from tespy.networks import Network

    system = circuit_of(a_plant(1, refrigerant=refrigerant))
    none = system.valve("subcooler-bypass")
    states = solve(system, plain_cases(system.plant).with_stuck(none, 0.0))
    net = Network(iterinfo=False)
    net.units.set_defaults(
        temperature="degC",
        pressure="bar",
        pressure_difference="bar",
        enthalpy="kJ/kg",
        mass_flow="kg/s",
        heat="W",
        power="W",
    )
    evaporator, condenser = SimpleHeatExchanger("evaporator"), SimpleHeatExchanger("condenser")
    compressor, valve, closer = Compressor("compressor"), Valve("valve"), CycleCloser("closer")
    ways = [
        (closer, valve),
        (valve, evaporator),
        (evaporator, compressor),
        (compressor, condenser),
        (condenser, closer),
    ]
    pipes = [Connection(one, "out1", two, "in1") for one, two in ways]
    net.add_conns(*pipes)
    evaporator.set_attr(pr=1.0)
    condenser.set_attr(pr=1.0)
    compressor.set_attr(eta_s=0.70)
    pipes[2].set_attr(
        fluid={refrigerant: 1.0},
        m=states.flow_g_s[0, 0] / 1e3,
        p=states.suction_kpa_abs[0] / 100.0,
        T=states.evaporating_c[0] + states.superheat_k[0, 0],
    )
    bubble_c = PropsSI("T", "P", 1e3 * states.discharge_kpa_abs[0], "Q", 0, refrigerant) - KELVIN
    pipes[4].set_attr(p=states.discharge_kpa_abs[0] / 100.0, T=bubble_c - states.subcooling_k[0, 0])
    net.solve("design")

    assert compressor.P.val == approx(1e3 * states.power_kw[0], rel=1e-4)
    assert evaporator.Q.val == approx(1e3 * states.capacity_kw[0], rel=1e-4)
    assert pipes[3].T.val == approx(states.discharge_c[0, 0], abs=0.01)


@pytest.mark.parametrize("refrigerant", ["R410A", "R32"])
def test_heat_and_work_of_a_heating_system_are_coolprops_at_its_temperatures(refrigerant):
    system = circuit_of(a_plant(10, n_outdoor=2, mode="heating", refrigerant=refrigerant))
    sound = plain_cases(system.plant)
    cases = together([
        sound,
        sound.with_(ambient_c=-5.0, on=np.arange(10) < 6),
        sound.with_stuck(2, 0.3),
        sound.with_stuck(system.valve("OU2/main"), 0.25),
    ])  # fmt: skip
    states = solve(system, cases, "settled")

    def enthalpy(c: float, kpa: float) -> float:
        return PropsSI("H", "T", c + KELVIN, "P", 1e3 * kpa, refrigerant) / 1e3

    assert states.converged.all()
    for row in range(len(cases)):
        high = states.discharge_kpa_abs[row]
        bubble_c = PropsSI("T", "P", 1e3 * high, "Q", 0, refrigerant) - KELVIN
        work, hot = 0.0, 0.0
        for j in range(2):
            dew_c = states.outdoor_evaporating_c[row, j]
            low = PropsSI("P", "T", dew_c + KELVIN, "Q", 1, refrigerant) / 1e3
            suction_c = dew_c + states.suction_superheat_k[row, j]
            entropy = PropsSI("S", "T", suction_c + KELVIN, "P", 1e3 * low, refrigerant)
            inlet = enthalpy(suction_c, low)
            rise = (PropsSI("H", "S", entropy, "P", 1e3 * high, refrigerant) / 1e3 - inlet) / 0.70
            work += states.outdoor_flow_g_s[row, j] / 1e3 * rise
            hot += states.outdoor_flow_g_s[row, j] * (inlet + rise)
        hot /= states.outdoor_flow_g_s[row].sum()
        assert states.power_kw[row] == approx(work, rel=3e-4)
        for unit in np.flatnonzero(states.superheat_k[row] > 0.3):
            heat = states.flow_g_s[row, unit] / 1e3 * (hot - enthalpy(bubble_c - states.superheat_k[row, unit], high))
            assert states.unit_capacity_kw[row, unit] == approx(heat, rel=1.5e-3)
