"""Arrays say what single values say, to a millionth of a millionth of the range."""

import math
from random import Random

import numpy as np
import pytest

from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.errors import InputError, NoSolution, RangeError
from fifthwire.physics.refrigerants import refrigerant
from fifthwire.properties import refrigerant_arrays
from fifthwire.properties.polynomials import WORTH_A_THREAD

EQUAL = 1e-12
COUNT = 40


def states(name: str, seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Temperatures, pressures that have a dew and a bubble line, and superheats."""
    of, rng = refrigerant(name), Random(seed)
    c = [rng.uniform(of.low_c, of.high_c) for _ in range(COUNT)]
    kpa = [rng.uniform(of.bubble_kpa_abs(of.low_c), of.dew_kpa_abs(of.high_c)) for _ in range(COUNT)]
    above = [rng.choice([0.0, 100.0, rng.uniform(0.0, 100.0), rng.uniform(0.0, 5.0)]) for _ in range(COUNT)]
    return np.array(c), np.array(kpa), np.array(above)


def worst(found: np.ndarray, single: list[float]) -> float:
    """The largest distance, as a part of the larger of the value and 1."""
    expected = np.array(single)
    return float(np.max(np.abs(found - expected) / np.maximum(np.abs(expected), 1.0)))


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_saturation_and_liquid_are_those_of_single_values(name):
    of, arrays = refrigerant(name), refrigerant_arrays(name)
    c, kpa, _ = states(name, seed=1)

    for line in ("dew_c", "bubble_c"):
        assert worst(getattr(arrays, line)(kpa), [getattr(of, line)(one) for one in kpa]) < EQUAL, line
    for line in ("dew_kpa_abs", "bubble_kpa_abs", "liquid_enthalpy_kj_kg", "liquid_entropy_kj_kg_k"):
        assert worst(getattr(arrays, line)(c), [getattr(of, line)(one) for one in c]) < EQUAL, line


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_vapour_and_wet_vapour_are_those_of_single_values(name):
    of, arrays = refrigerant(name), refrigerant_arrays(name)
    _, kpa, above = states(name, seed=2)
    quality = above / 100.0

    for of_vapour in ("vapour_enthalpy_kj_kg", "vapour_entropy_kj_kg_k", "vapour_density_kg_m3"):
        single = [getattr(of, of_vapour)(*one) for one in zip(kpa, above, strict=True)]
        assert worst(getattr(arrays, of_vapour)(kpa, above), single) < EQUAL, of_vapour
    for of_wet in ("wet_enthalpy_kj_kg", "wet_entropy_kj_kg_k"):
        single = [getattr(of, of_wet)(*one) for one in zip(kpa, quality, strict=True)]
        assert worst(getattr(arrays, of_wet)(kpa, quality), single) < EQUAL, of_wet


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_what_is_searched_for_is_found_at_the_same_place(name):
    of, arrays = refrigerant(name), refrigerant_arrays(name)
    _, kpa, above = states(name, seed=3)
    enthalpy = arrays.vapour_enthalpy_kj_kg(kpa, above * 0.99) - np.where(above < 1.0, 5.0, 0.0)
    entropy = arrays.vapour_entropy_kj_kg_k(kpa, above * 0.99) - np.where(above < 1.0, 0.05, 0.0)

    superheat = [of.superheat_k(*one) for one in zip(kpa, enthalpy, strict=True)]
    ideal = [of.isentropic_enthalpy_kj_kg(*one) for one in zip(entropy, kpa, strict=True)]

    assert np.max(np.abs(arrays.superheat_k(kpa, enthalpy) - superheat)) < EQUAL * 100.0  # of the range of 100 K
    assert worst(arrays.isentropic_enthalpy_kj_kg(entropy, kpa), ideal) < EQUAL
    assert superheat.count(0.0) > 5
    assert superheat.count(0.0) < COUNT - 5


def test_what_a_single_value_is_refused_for_is_nan_in_an_array():
    of, arrays = refrigerant("R744"), refrigerant_arrays("R744")
    top = of.dew_kpa_abs(29.0)
    kpa = np.array([2000.0, top * 1.001, 100.0, 0.0, -5.0, math.nan, math.inf, top])

    found = arrays.dew_c(kpa)

    assert np.isnan(found).tolist() == [False, True, True, True, True, True, True, False]
    for one in kpa[1:5]:
        with pytest.raises(RangeError, match="R744"):
            of.dew_c(float(one))
    assert np.isnan(arrays.dew_kpa_abs([29.0, 29.1])).tolist() == [False, True]
    assert np.isnan(arrays.vapour_enthalpy_kj_kg(2000.0, [0.0, -1.0, 100.0, 100.1, math.nan])).tolist() == [
        False, True, False, True, True,
    ]  # fmt: skip


def test_superheat_beyond_what_is_fitted_is_nan_in_an_array():
    of, arrays = refrigerant("R32"), refrigerant_arrays("R32")
    hot = of.vapour_enthalpy_kj_kg(1000.0, 100.0) + 1.0

    assert np.isnan(arrays.superheat_k(1000.0, [hot, hot - 2.0])).tolist() == [True, False]
    with pytest.raises(NoSolution, match="R32"):
        of.superheat_k(1000.0, hot)


def test_arrays_keep_their_shape_and_are_broadcast():
    arrays = refrigerant_arrays("r410a")

    assert arrays.dew_c(900.0).shape == ()
    assert arrays.dew_c([]).shape == (0,)
    assert arrays.dew_c(np.full((3, 4), 900.0)).shape == (3, 4)
    assert arrays.vapour_enthalpy_kj_kg(np.full((3, 1), 900.0), [1.0, 2.0]).shape == (3, 2)
    assert arrays.superheat_k(np.full((2, 1), 900.0), [430.0, 440.0, 450.0]).shape == (2, 3)
    assert np.array_equal(arrays.dew_c([900, 1000]), arrays.dew_c([900.0, 1000.0]))


def test_neither_length_nor_layout_nor_threads_change_a_value():
    of, arrays = refrigerant("R454B"), refrigerant_arrays("R454B")
    long = np.random.default_rng(4).uniform(400.0, 3000.0, WORTH_A_THREAD + 7)
    long[123_456] = math.nan

    found = arrays.dew_c(long)

    assert np.allclose(found[::-1], arrays.dew_c(long[::-1]), rtol=0.0, atol=1e-12, equal_nan=True)
    assert np.flatnonzero(np.isnan(found)).tolist() == [123_456]
    some = np.random.default_rng(5).integers(0, 123_456, 200)
    assert worst(found[some], [of.dew_c(float(one)) for one in long[some]]) < EQUAL


def test_an_unknown_refrigerant_is_refused_by_name():
    with pytest.raises(InputError, match="R411A"):
        refrigerant_arrays("R411A")
