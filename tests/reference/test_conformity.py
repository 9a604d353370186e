"""Meters and conformity against numbers from outside (U1 to U4, U6 to U13)."""

import tomllib
from pathlib import Path

import pytest
from pytest import approx

from fifthwire.physics import conformity, meter

NUMBERS = tomllib.loads(Path(__file__).with_name("conformity.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("row", ["u1", "u2", "u3"])
def test_limit_and_uncertainty_of_a_reading_are_those_of_the_specification(row):
    u = NUMBERS[row]

    limit_ohm = meter.error_limit_ohm(u["shown_ohm"], u["of_reading_frac"], u["digits"], u["resolution_ohm"])

    assert limit_ohm == approx(u["limit_ohm"], abs=u["tolerance"])
    assert meter.standard_u_ohm(limit_ohm) == approx(u["u_ohm"], abs=u["tolerance"])


def test_rounding_alone_is_worth_the_resolution_over_the_root_of_twelve():
    u2 = NUMBERS["u2"]

    assert meter.resolution_u_ohm(u2["resolution_ohm"]) == approx(u2["resolution_u_ohm"], abs=5e-6)


def test_a_limit_stated_at_99_percent_is_2_58_standard_uncertainties():
    u4 = NUMBERS["u4"]

    within = conformity.conformance_probability(0.0, 1.0, low=-u4["limit"], high=u4["limit"])

    assert within == approx(u4["probability"], abs=u4["tolerance"])


def test_the_lot_of_resistors_has_the_risks_of_the_guide():
    u6 = NUMBERS["u6"]
    low, high = u6["tolerance_limits"]

    conforming = conformity.conformance_probability(u6["mean"], u6["sd"], low=low, high=high)
    risk = conformity.global_risk(u6["mean"], u6["sd"], u6["u"], (low, high), tuple(u6["acceptance_limits"]))

    assert conforming == approx(u6["conformance"], abs=u6["tolerance"])
    assert risk.consumer == approx(u6["consumer"], abs=u6["tolerance"])
    assert risk.producer == approx(u6["producer"], abs=u6["tolerance"])


@pytest.mark.parametrize("row", ["u7", "u8"])
def test_a_value_against_one_limit_has_the_probability_of_the_guide(row):
    u = NUMBERS[row]
    limits = {side: u[side] for side in ("low", "high") if side in u}

    assert conformity.conformance_probability(u["value"], u["u"], **limits) == approx(
        u["conformance"], abs=u["tolerance"]
    )


@pytest.mark.parametrize(("probability", "z"), NUMBERS["u9"]["quantiles"])
def test_the_normal_law_is_that_of_the_table(probability, z):
    assert conformity.normal_cdf(z) == approx(probability, abs=NUMBERS["u9"]["tolerance"])


@pytest.mark.parametrize(("value", "expected"), NUMBERS["u10"]["zones"])
def test_a_value_within_the_guard_band_proves_nothing(value, expected):
    u10 = NUMBERS["u10"]

    assert conformity.zone(value, u10["u"], low=u10["low"], high=u10["high"]) == expected
    assert u10["guard_in_u"] == conformity.GUARD_BAND_IN_U


def test_at_the_edge_of_a_guard_band_of_two_u_one_in_forty_four_is_wrong():
    u11 = NUMBERS["u11"]

    conforming = conformity.conformance_probability(10.0 - u11["guard_in_u"], 1.0, high=10.0)

    assert 1.0 - conforming == approx(u11["wrongly_accepted"], abs=u11["tolerance"])


@pytest.mark.parametrize("row", NUMBERS["u12"]["rows"])
def test_the_risk_over_a_whole_process_is_that_of_the_published_tables(row):
    limits = (-row["limit"], row["limit"])

    risk = conformity.global_risk(0.0, 1.0, row["u"], limits, (-row["acceptance"], row["acceptance"]))

    assert risk.consumer == approx(row["accepted"], abs=NUMBERS["u12"]["tolerance"])
    if "rejected" in row:
        assert risk.producer == approx(row["rejected"], abs=NUMBERS["u12"]["tolerance"])


@pytest.mark.parametrize("row", NUMBERS["u13"]["rows"])
def test_the_share_outside_a_specification_is_that_of_the_capability_index(row):
    cpk = min(row["high"] - row["mean"], row["mean"] - row["low"]) / (3.0 * row["sd"])

    within = conformity.conformance_probability(row["mean"], row["sd"], low=row["low"], high=row["high"])

    assert cpk == approx(row["cpk"], abs=NUMBERS["u13"]["tolerance"])
    assert 1.0 - within == approx(row["outside"], abs=NUMBERS["u13"]["tolerance"])
