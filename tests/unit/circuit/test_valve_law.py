import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.fluid import fluid
from fifthwire.circuit.valve_law import curve, full_flow, inlet_volume, opening_for, passed

CURVES = ["concave", "linear", ((0.0, 0.0), (0.5, 0.7), (1.0, 1.0))]
OPENINGS = np.linspace(0.0, 1.0, 101)


@pytest.mark.parametrize("of", CURVES)
def test_a_curve_rises_from_nothing_to_everything_and_comes_back(of):
    law = curve(of)
    flow = law.flow(OPENINGS)

    assert (flow[0], flow[-1]) == approx((0.0, 1.0), abs=1e-12)
    assert np.all(np.diff(flow) >= 0.0)
    opens = flow > 1e-9
    assert law.opening(flow[opens]) == approx(OPENINGS[opens], abs=1e-9)


def test_the_concave_curve_passes_nothing_below_a_twentieth_and_more_than_its_share_above():
    flow = curve("concave").flow(OPENINGS)

    assert np.all(flow[OPENINGS < 0.045] == 0.0)
    assert np.all(flow[(OPENINGS > 0.15) & (OPENINGS < 1.0)] > OPENINGS[(OPENINGS > 0.15) & (OPENINGS < 1.0)])


@pytest.mark.parametrize("of", CURVES)
def test_a_leak_is_added_below_the_curve_and_taken_off_again(of):
    law = curve(of)
    share = passed(law, 0.4, 0.1)

    assert passed(law, 0.0, 0.1) == approx(0.1)
    assert passed(law, 1.0, 0.1) == approx(1.0)
    assert opening_for(law, share, 0.1) == approx(0.4)
    assert opening_for(law, 0.05, 0.1) == 0.0


def test_flow_goes_with_the_root_of_the_drop_well_above_its_rounding_and_is_none_without_a_drop():
    volume = np.array(1e-3)

    flows = [float(full_flow(volume, np.array(drop))) for drop in (0.0, 500.0, 2000.0)]

    assert flows[0] == 0.0
    assert flows[2] / flows[1] == approx(2.0, rel=1e-3)


def test_flash_gas_at_the_inlet_widens_what_comes_in_without_a_jump():
    of = fluid("R410A")
    at = of.saturated(np.array(45.0))
    enthalpy = at.liquid_enthalpy + np.linspace(-20.0, 20.0, 401)

    volume = inlet_volume(of, at, enthalpy)

    assert np.all(np.diff(volume) > 0.0)
    assert np.abs(np.diff(volume)).max() < 2.5e-5
    assert volume[0] == approx(float(of.liquid_volume(enthalpy[:1])[0]), rel=1e-3)
