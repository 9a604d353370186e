"""What holds for every refrigerant at every pressure and temperature of its range."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pytest import approx

from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.errors import FifthwireError
from fifthwire.physics.refrigerants import refrigerant

parts = st.floats(0.0, 1.0)
names = st.sampled_from(REFRIGERANTS)


def at(name: str, part: float) -> float:
    """A temperature that far up the range."""
    of = refrigerant(name)
    return of.low_c + part * (of.high_c - of.low_c)


@given(names, parts)
def test_there_and_back_is_where_one_was(name, part):
    of, c = refrigerant(name), at(name, part)

    assert of.dew_c(of.dew_kpa_abs(c)) == approx(c, abs=1e-3)
    assert of.bubble_c(of.bubble_kpa_abs(c)) == approx(c, abs=1e-3)


@given(names, parts)
def test_bubble_lies_nowhere_under_dew(name, part):
    of, c = refrigerant(name), at(name, part)

    assert of.bubble_kpa_abs(c) >= of.dew_kpa_abs(c) * (1.0 - 1e-6)


@given(names, parts, parts)
def test_warmer_is_higher(name, part, other):
    of = refrigerant(name)
    low, high = sorted((at(name, part), at(name, other)))
    if high - low < 1e-3:
        return

    assert of.dew_kpa_abs(low) < of.dew_kpa_abs(high)
    assert of.bubble_kpa_abs(low) < of.bubble_kpa_abs(high)
    assert of.liquid_enthalpy_kj_kg(low) < of.liquid_enthalpy_kj_kg(high)
    assert of.liquid_entropy_kj_kg_k(low) < of.liquid_entropy_kj_kg_k(high)


@given(names, parts, st.floats(0.0, 99.0), st.floats(0.01, 1.0))
def test_more_superheat_is_more_enthalpy_more_entropy_and_less_density(name, part, superheat, more):
    of = refrigerant(name)
    kpa = of.dew_kpa_abs(at(name, part))

    assert of.vapour_enthalpy_kj_kg(kpa, superheat + more) > of.vapour_enthalpy_kj_kg(kpa, superheat)
    assert of.vapour_entropy_kj_kg_k(kpa, superheat + more) > of.vapour_entropy_kj_kg_k(kpa, superheat)
    assert of.vapour_density_kg_m3(kpa, superheat + more) < of.vapour_density_kg_m3(kpa, superheat)


@given(names, parts, st.floats(0.0, 99.9))
def test_the_superheat_of_an_enthalpy_and_the_enthalpy_of_an_entropy_lead_back(name, part, superheat):
    of = refrigerant(name)
    kpa = of.dew_kpa_abs(at(name, part))
    enthalpy, entropy = of.vapour_enthalpy_kj_kg(kpa, superheat), of.vapour_entropy_kj_kg_k(kpa, superheat)

    assert of.superheat_k(kpa, enthalpy) == approx(superheat, abs=1e-6)
    assert of.isentropic_enthalpy_kj_kg(entropy, kpa) == approx(enthalpy, abs=1e-6)


@given(names, st.floats(0.1, 0.9), parts)
def test_wet_vapour_lies_between_liquid_and_vapour_and_leads_back(name, part, quality):
    of = refrigerant(name)
    kpa = of.dew_kpa_abs(at(name, part))
    liquid, vapour = of.liquid_enthalpy_kj_kg(of.bubble_c(kpa)), of.vapour_enthalpy_kj_kg(kpa)

    wet = of.wet_enthalpy_kj_kg(kpa, quality)

    assert liquid - 1e-9 <= wet <= vapour + 1e-9
    assert of.isentropic_enthalpy_kj_kg(of.wet_entropy_kj_kg_k(kpa, quality), kpa) == approx(wet, abs=1e-6)
    assert of.superheat_k(kpa, wet) <= 1e-6


@given(names, st.floats(0.05, 0.9), st.floats(0.0, 50.0))
def test_entropy_enthalpy_and_volume_hang_together(name, part, superheat):
    """dh = T ds along an isobar: the three fits are one fluid.  [closed form]"""
    of = refrigerant(name)
    kpa, step = of.dew_kpa_abs(at(name, part)), 0.5
    kelvin = of.dew_c(kpa) + superheat + step / 2.0 + 273.15

    rise = of.vapour_enthalpy_kj_kg(kpa, superheat + step) - of.vapour_enthalpy_kj_kg(kpa, superheat)
    turned = of.vapour_entropy_kj_kg_k(kpa, superheat + step) - of.vapour_entropy_kj_kg_k(kpa, superheat)

    assert rise == approx(kelvin * turned, rel=0.03, abs=0.02)


@given(names, st.floats(allow_nan=True, allow_infinity=True), st.floats(allow_nan=True, allow_infinity=True))
def test_any_number_gives_a_number_or_is_refused_by_name(name, first, second):
    of = refrigerant(name)
    for asked in (
        lambda: of.dew_c(first),
        lambda: of.bubble_kpa_abs(first),
        lambda: of.liquid_enthalpy_kj_kg(first),
        lambda: of.vapour_density_kg_m3(first, second),
        lambda: of.superheat_k(first, second),
        lambda: of.isentropic_enthalpy_kj_kg(first, second),
    ):
        try:
            found = asked()
        except FifthwireError as error:
            assert error.message.startswith(name)
            continue
        assert math.isfinite(found) or math.isnan(first) or math.isnan(second)


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_the_reference_state_is_that_of_the_international_institute_of_refrigeration(name):
    """200 kJ/kg and 1 kJ/(kg K) for saturated liquid at 0 °C, by definition."""
    of = refrigerant(name)

    assert of.liquid_enthalpy_kj_kg(0.0) == approx(200.0, abs=0.01)
    assert of.liquid_entropy_kj_kg_k(0.0) == approx(1.0, abs=1e-4)
