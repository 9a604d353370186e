import numpy as np
import pytest
from pytest import approx

from fifthwire.circuit.fluid import MOST_SUPERHEAT_K, fluid
from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.errors import InputError

SYSTEMS = [name for name in REFRIGERANTS if name != "R744"]
RNG = np.random.default_rng(1)
LOW_C, HIGH_C = RNG.uniform(-25.0, 20.0, 300), RNG.uniform(25.0, 58.0, 300)


@pytest.mark.parametrize("name", SYSTEMS)
def test_the_splines_are_the_refrigerants_own_functions(name):
    of = fluid(name)
    at, superheat = of.saturated(LOW_C), RNG.uniform(0.0, 45.0, 300)
    enthalpy = of.arrays.vapour_enthalpy_kj_kg(at.kpa, superheat)

    found = of.entering(at, enthalpy)

    assert at.kpa == approx(of.arrays.dew_kpa_abs(LOW_C), rel=1e-7)
    assert at.superheated_enthalpy(superheat) == approx(enthalpy, abs=0.02)
    assert of.superheat_k(at, enthalpy) == approx(superheat, abs=5e-4)
    assert found.entropy == approx(of.arrays.vapour_entropy_kj_kg_k(at.kpa, superheat), abs=1e-6)
    assert found.volume == approx(1.0 / of.arrays.vapour_density_kg_m3(at.kpa, superheat), rel=1e-5)


@pytest.mark.parametrize("name", SYSTEMS)
def test_an_ideal_compression_ends_where_the_refrigerants_own_search_ends(name):
    of = fluid(name)
    at, superheat = of.saturated(np.minimum(HIGH_C, of.high_c)), RNG.uniform(0.0, 90.0, 300)
    entropy = of.arrays.vapour_entropy_kj_kg_k(at.kpa, superheat)

    assert of.at_entropy(at, entropy) == approx(of.arrays.vapour_enthalpy_kj_kg(at.kpa, superheat), abs=2e-3)


def test_wet_states_are_mixtures_of_the_two_lines():
    of = fluid("R410A")
    at, quality = of.saturated(LOW_C), RNG.uniform(0.0, 1.0, 300)
    enthalpy = of.arrays.wet_enthalpy_kj_kg(at.kpa, quality)

    found = of.entering(at, enthalpy)

    assert at.quality(enthalpy) == approx(quality, abs=1e-6)
    assert found.entropy == approx(of.arrays.wet_entropy_kj_kg_k(at.kpa, quality), abs=1e-6)
    assert np.all((found.volume >= at.liquid_volume) & (found.volume <= at.vapour_volume))


def test_liquid_goes_there_and_back():
    of = fluid("R32")
    at, subcooling = of.saturated(HIGH_C), RNG.uniform(0.0, 20.0, 300)

    enthalpy = of.liquid(at.bubble_c - subcooling, at.kpa)

    assert of.liquid_c(enthalpy, at.kpa) == approx(at.bubble_c - subcooling, abs=2e-3)


def test_a_blends_two_lines_lie_apart():
    at = fluid("R407C").saturated(np.array([5.0]))

    assert 4.0 < at.dew_c[0] - at.bubble_c[0] < 7.0


def test_beyond_the_fits_the_gas_goes_on_without_a_step():
    of = fluid("R410A")
    at = of.saturated(np.array([40.0]))
    last = of.arrays.vapour_entropy_kj_kg_k(at.kpa, MOST_SUPERHEAT_K)

    below, above = of.at_entropy(at, last - 1e-4), of.at_entropy(at, last + 1e-4)

    slope_k = (above - below) / 2e-4  # dh = T ds
    assert slope_k == approx(40.0 + MOST_SUPERHEAT_K + 273.15, rel=0.01)


def test_an_unknown_refrigerant_is_refused():
    with pytest.raises(InputError, match="no refrigerant"):
        fluid("R999")
