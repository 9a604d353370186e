import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.coil import AirSide, boiling_against_liquid, condensing, evaporating, zones_of
from fifthwire.circuit.fluid import fluid

OF = fluid("R410A")


def a_coil(air_c: float = 27.0, humidity: float = 0.0105):
    air_c = np.array(air_c)
    enthalpy = 1.006 * air_c + humidity * (2501.0 + 1.86 * air_c)
    sizes = {"flow_kg_s": 0.2, "outer_kw_k": 0.41, "inner_kw_k": 0.82, "vapour_inner_kw_k": 0.12}
    arrays = {name: np.array(value) for name, value in sizes.items()}
    return zones_of(AirSide(air_c, enthalpy, liquid_inner_kw_k=np.array(0.3), rounding_kw=np.array(0.03), **arrays))


def boiling(inlet: float = 255.0, dew_c: float = 7.0, **air):
    return evaporating(a_coil(**air), OF.saturated(np.array(dew_c)), np.array(inlet))


@pytest.mark.parametrize("superheat", [0.5, 5.0, 12.0])
def test_the_flow_for_a_superheat_leaves_with_that_superheat(superheat):
    coil = boiling()

    found, _ = coil.leaving(coil.flow_for(superheat))

    assert found == approx(superheat, abs=1e-10)


def test_more_flow_leaves_less_superheated_then_wetter_and_never_takes_up_less_heat():
    coil = boiling()
    flows = np.linspace(1e-4, 0.06, 400)

    superheat, enthalpy = coil.leaving(flows)

    heat = flows * (enthalpy - 255.0)
    assert np.all(np.diff(superheat) <= 1e-12)
    assert np.all(np.diff(heat) > -1e-9)
    assert heat[-1] == approx(float(coil.whole_kw), rel=1e-9)
    assert np.abs(np.diff(enthalpy)).max() < 3.0  # no jump where the last liquid boils


def test_next_to_no_flow_leaves_at_the_airs_temperature():
    superheat, _ = boiling().leaving(np.array(1e-9))

    assert superheat == approx(20.0, abs=0.01)


def test_wet_air_gives_more_heat_than_dry_air_and_dry_air_what_a_dry_coil_takes():
    wet, dry = boiling(humidity=0.012), boiling(humidity=0.001)

    assert wet.whole_kw > 1.2 * dry.whole_kw
    assert dry.whole_kw == approx(float(a_coil().boiling_kw_k) * 20.0, rel=0.01)


def test_a_condensing_coils_shares_add_to_one_and_its_heat_is_the_airs():
    at = OF.saturated(np.array(45.0))
    coil = condensing(a_coil(air_c=30.0), at, np.array(470.0), OF.superheat_k(at, np.array(470.0)))
    flow = coil.flow_for(6.0)

    subcooling, enthalpy = coil.leaving(flow)

    assert subcooling == approx(6.0, abs=1e-10)
    assert 0.0 < coil.flooded_share(flow) < 1.0
    assert enthalpy == approx(float(at.liquid_enthalpy))
    assert coil.flooded_share(1.5 * flow) < 0.0
    wet_enthalpy = coil.leaving(2.0 * flow)[1]
    assert at.liquid_enthalpy < wet_enthalpy < 470.0


def test_a_condensing_coil_is_without_a_jump_where_liquid_begins():
    at = OF.saturated(np.array(45.0))
    coil = condensing(a_coil(air_c=30.0), at, np.array(470.0), OF.superheat_k(at, np.array(470.0)))
    edge = 1.0 / (coil.vapour_per_flow + coil.wet_per_flow)

    below, above = coil.leaving(edge * (1.0 - 1e-9)), coil.leaving(edge * (1.0 + 1e-9))

    assert below[0] == approx(float(above[0]), abs=1e-6)
    assert below[1] == approx(float(above[1]), abs=1e-6)


def test_a_subcooler_boils_against_its_liquid():
    at = OF.saturated(np.array(7.0))
    cold = boiling_against_liquid(at, np.array(255.0), np.array(40.0), np.array(1.0), np.array(0.35))

    superheat, enthalpy = cold.leaving(cold.flow_for(5.0))

    assert superheat == approx(5.0, abs=1e-10)
    assert cold.flow_for(5.0) * (enthalpy - 255.0) < 1.0 * (40.0 - 7.0)
