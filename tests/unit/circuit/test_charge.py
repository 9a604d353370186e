import numpy as np
import pytest
from pytest import approx
from scipy.integrate import quad

from fifthwire.circuit import sizes
from fifthwire.circuit.charge import accumulator_kg, mean_density, suction_liquid
from fifthwire.circuit.fluid import fluid

AT = fluid("R410A").saturated(np.array(7.0))


@pytest.mark.parametrize(("first", "last"), [(0.0, 1.0), (0.25, 1.0), (0.9, 0.1), (0.2, 0.5)])
def test_the_mean_density_is_that_of_zivis_void_fraction_along_the_coil(first, last):
    ratio = float(AT.liquid_volume / AT.vapour_volume)

    def density(x: float) -> float:
        slip = ratio ** (-1.0 / 3.0)
        void = 1.0 / (1.0 + (1.0 - x) / x * slip * ratio) if x > 0.0 else 0.0
        return void / float(AT.vapour_volume) + (1.0 - void) / float(AT.liquid_volume)

    whole = quad(density, min(first, last), max(first, last))[0] / abs(last - first)

    assert mean_density(AT, np.array(first), np.array(last)) == approx(whole, rel=1e-6)


def test_an_accumulator_is_empty_while_its_bleed_hole_passes_what_comes_and_never_more_than_full():
    kw = np.array(30.0)
    dry = sizes.BLEED_G_S_KW * 1e-3 * 30.0
    comes = dry * np.array([0.0, 0.9, 1.0, 1.2, 1.5, sizes.BLEED_FULL, 5.0])

    kept = accumulator_kg(kw, AT, comes)

    full = sizes.ACCUMULATOR_L_KW * 1e-3 * 30.0 / float(AT.liquid_volume)
    assert kept[:3] == approx([0.0, 0.0, 0.0], abs=1e-12)
    assert np.all(np.diff(kept[2:6]) > 0.0)
    assert kept[-2:] == approx([full, full])


def test_liquid_in_the_suction_is_what_is_not_vapour():
    enthalpy = AT.liquid_enthalpy + np.array([0.9, 1.0, 1.2]) * (AT.vapour_enthalpy - AT.liquid_enthalpy)

    assert suction_liquid(AT, enthalpy, np.array(0.2)) == approx([0.02, 0.0, 0.0], abs=1e-12)
