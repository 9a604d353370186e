"""Dew, bubble and glide at a pressure or a temperature."""

import pytest
from pytest import approx

from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.errors import RangeError
from fifthwire.physics.refrigerants import refrigerant
from fifthwire.physics.saturation import (
    has_glide,
    saturation_at_pressure,
    saturation_at_temperature,
    saturation_table,
)


def test_which_refrigerants_glide():
    """R32, R22, R134a, R290 and R744 are pure; the others are blends. From memory: R513A is nearly an azeotrope."""
    found = {name for name in REFRIGERANTS if has_glide(refrigerant(name))}

    assert found | {"R513A"} == {"R410A", "R407C", "R404A", "R454B", "R452B", "R454C", "R513A"}


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_a_glide_is_never_negative_and_dew_never_above_bubble(name):
    of = refrigerant(name)
    for row in saturation_table(of, (of.low_c + at * (of.high_c - of.low_c) / 50.0 for at in range(51))):
        assert row.bubble_kpa_abs >= row.dew_kpa_abs
        assert row.glide_k is None or row.glide_k >= 0.0
    middle = saturation_at_pressure(of, of.dew_kpa_abs(10.0))
    assert middle.glide_k == approx(saturation_at_temperature(of, 10.0).glide_k, abs=2e-3)


def test_near_the_ends_one_line_is_told_and_beyond_them_none():
    of = refrigerant("R454C")
    cold, hot = (of.dew_kpa_abs(-50.0) + of.bubble_kpa_abs(-50.0)) / 2.0, of.bubble_kpa_abs(65.0) * 0.999

    assert saturation_at_pressure(of, cold).bubble_c is None
    assert saturation_at_pressure(of, cold).dew_c == approx(-46.0, abs=4.0)
    assert saturation_at_pressure(of, hot).dew_c is None
    assert saturation_at_pressure(of, hot).bubble_c == approx(65.0, abs=0.1)
    assert saturation_at_temperature(of, -49.0).glide_k is None
    with pytest.raises(RangeError, match="R454C"):
        saturation_at_pressure(of, of.bubble_kpa_abs(65.0) * 1.001)
