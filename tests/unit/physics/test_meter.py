from math import nan, sqrt

import pytest
from pytest import approx

from fifthwire.model.errors import InputError
from fifthwire.physics.meter import (
    MeterRange,
    check_resistor,
    error_limit_ohm,
    range_of,
    reading_u_ohm,
    resolution_u_ohm,
    standard_u_ohm,
    without_leads_ohm,
)

LOW = MeterRange(to_ohm=60.0, of_reading_frac=0.01, digits=5, resolution_ohm=0.01)
HIGH = MeterRange(of_reading_frac=0.009, digits=2, resolution_ohm=0.1)


def test_a_reading_belongs_to_the_lowest_range_that_holds_it():
    assert range_of(60.0, [LOW, HIGH]) is LOW
    assert range_of(60.1, [LOW, HIGH]) is HIGH


def test_a_reading_beyond_all_ranges_belongs_to_the_last():
    assert range_of(1000.0, [LOW]) is LOW


def test_a_meter_without_a_range_is_refused():
    with pytest.raises(InputError, match="without a range"):
        range_of(50.0, [])


def test_the_limit_grows_with_the_size_of_a_reading_of_either_sign():
    assert error_limit_ohm(-10.0, 0.01, 2, 0.1) == error_limit_ohm(10.0, 0.01, 2, 0.1) == approx(0.3)


@pytest.mark.parametrize("part", [(-0.1, 2, 0.1), (0.1, -2, 0.1), (0.1, 2, -0.1)])
def test_a_negative_accuracy_is_refused(part):
    with pytest.raises(InputError, match="accuracy is negative"):
        error_limit_ohm(10.0, *part)


def test_a_limit_is_root_three_standard_uncertainties():
    assert standard_u_ohm(sqrt(3.0)) == approx(1.0)
    assert resolution_u_ohm(sqrt(12.0)) == approx(1.0)


def test_the_leads_add_as_squares():
    meter_alone = reading_u_ohm(50.0, [LOW])

    assert meter_alone == approx(0.55 / sqrt(3.0))
    assert reading_u_ohm(50.0, [LOW], leads_within_ohm=0.3) == approx(sqrt(meter_alone**2 + 0.03))


def test_a_reading_takes_the_uncertainty_of_its_own_range():
    assert reading_u_ohm(100.0, [LOW, HIGH]) == approx((0.9 + 0.2) / sqrt(3.0))


def test_the_leads_are_taken_off():
    assert without_leads_ohm(62.3, 0.2) == approx(62.1)


def test_a_meter_that_shows_a_known_resistor_at_its_limit_agrees():
    check = check_resistor(100.0, 101.1, [MeterRange(of_reading_frac=0.0, digits=11, resolution_ohm=0.1)])

    assert check.error_ohm == approx(1.1)
    assert check.limit_ohm == approx(1.1)
    assert check.agrees


def test_a_meter_beyond_its_limit_on_either_side_disagrees():
    assert not check_resistor(100.0, 101.2, [HIGH]).agrees
    assert not check_resistor(100.0, 98.8, [HIGH]).agrees
    assert check_resistor(100.0, 98.95, [HIGH]).agrees


def test_leads_and_the_resistors_own_tolerance_count_in_the_check():
    assert not check_resistor(100.0, 101.5, [HIGH]).agrees
    assert check_resistor(100.0, 101.5, [HIGH], leads_ohm=0.5).agrees
    assert check_resistor(100.0, 101.5, [HIGH], known_within_ohm=0.5).agrees
    assert check_resistor(100.0, 101.5, [HIGH], leads_within_ohm=0.5).agrees
    wide = check_resistor(100.0, 101.5, [HIGH], leads_within_ohm=0.5, known_within_ohm=0.25)
    assert wide.limit_ohm == approx(0.009 * 101.5 + 0.2 + 0.75)


def test_what_is_no_number_never_agrees():
    assert not check_resistor(100.0, nan, [HIGH]).agrees


@pytest.mark.parametrize("known_ohm", [0.0, -100.0])
def test_a_check_resistor_of_nothing_is_refused(known_ohm):
    with pytest.raises(InputError, match="check resistor of"):
        check_resistor(known_ohm, 100.0, [HIGH])


def test_a_small_check_resistor_is_a_check_resistor():
    assert check_resistor(0.5, 0.6, [HIGH]).agrees
