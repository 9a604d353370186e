"""Temperature sensors against tables from outside."""

import tomllib
from pathlib import Path

import pytest
from pytest import approx

from fifthwire.model.errors import InputError, RangeError
from fifthwire.physics import thermistor

NUMBERS = tomllib.loads(Path(__file__).with_name("thermistors.toml").read_text(encoding="utf-8"))
TABLE = [tuple(row) for row in NUMBERS["table"]["rows"]]


@pytest.mark.parametrize("name", ["steinhart", "other_curve"])
def test_steinhart_and_hart_give_the_temperatures_of_the_table(name):
    numbers = NUMBERS[name]
    for ohm, c in numbers["rows"]:
        assert thermistor.steinhart_c(tuple(numbers["coefficients"]), ohm) == approx(c, abs=numbers["tolerance_k"])
        back = thermistor.steinhart_ohm(tuple(numbers["coefficients"]), c)
        assert back == approx(ohm, rel=2e-3)


@pytest.mark.parametrize("beta_k, c, ohm", NUMBERS["beta"]["rows"])
def test_the_beta_law_gives_the_resistances_computed_apart(beta_k, c, ohm):
    r25 = NUMBERS["beta"]["r25_ohm"]

    assert thermistor.beta_ohm(r25, beta_k, c) == approx(ohm, abs=NUMBERS["beta"]["tolerance_ohm"])
    assert thermistor.beta_c(r25, beta_k, ohm) == approx(c, abs=0.01)


@pytest.mark.parametrize("c, ohm", NUMBERS["table"]["rows"])
def test_a_table_is_met_at_its_own_points_both_ways(c, ohm):
    assert thermistor.table_c(TABLE, ohm) == approx(c, abs=NUMBERS["table"]["tolerance_k"])
    assert thermistor.table_ohm(TABLE, c) == approx(ohm, rel=1e-9)


def test_a_point_left_out_of_a_table_is_nearly_met():
    without = [row for row in TABLE if row[0] != 10]

    assert thermistor.table_c(without, 20000.3) == approx(10.0, abs=0.2)


@pytest.mark.parametrize("c, high_k", NUMBERS["beta_against_table"]["rows"])
def test_the_plain_beta_law_reads_high_where_superheat_is_decided(c, high_k):
    ohm = thermistor.table_ohm(TABLE, c)

    error = thermistor.beta_c(10000.0, 3950.0, ohm) - c

    assert error == approx(high_k, abs=NUMBERS["beta_against_table"]["tolerance_k"])


@pytest.mark.parametrize("first, second, beta_k", NUMBERS["beta_between"]["rows"])
def test_beta_differs_with_the_two_points_it_is_stated_for(first, second, beta_k):
    ohm_at = dict(TABLE)

    found = thermistor.beta_between_k((first, ohm_at[first]), (second, ohm_at[second]))

    assert found == approx(beta_k, abs=NUMBERS["beta_between"]["tolerance_k"])


def test_three_points_give_the_curve_through_them():
    numbers = NUMBERS["three_points"]

    found = thermistor.steinhart_of([tuple(point) for point in numbers["points"]])

    assert found == approx(numbers["coefficients"], rel=1e-4)
    for ohm, c in numbers["rows"]:
        assert thermistor.steinhart_c(found, ohm) == approx(c, abs=numbers["tolerance_k"])


def test_beyond_a_table_nothing_is_told():
    with pytest.raises(RangeError, match="beyond the table"):
        thermistor.table_c(TABLE, 1e6)
    with pytest.raises(RangeError, match="beyond the table"):
        thermistor.table_ohm(TABLE, 150.0)
    with pytest.raises(InputError, match="no resistance"):
        thermistor.table_c(TABLE, 0.0)
    with pytest.raises(InputError, match="three different points"):
        thermistor.steinhart_of([(0.0, 100.0), (20.0, 100.0), (50.0, 30.0)])
