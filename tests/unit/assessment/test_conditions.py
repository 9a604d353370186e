"""Specs, meters and head temperatures: what is taken where the file is silent, and that it is said."""

from datetime import date

import pytest
from tests.judged_visits import GOOD_FIVE, assessed, assessed_json, visit_text

from fifthwire.assessment.conditions import arrangement_of, head_temperature, meter_law, spec_law
from fifthwire.assessment.conformity import conformity_of
from fifthwire.assessment.meters import a_year_after, is_doubtful, meter_warnings
from fifthwire.model.assessment import ValveAssessment, WindingEstimate, WindingFinding
from fifthwire.model.valve import Measurement, Valve
from fifthwire.model.visit import Accuracy, Meter, MeterRange, Spec, Tolerance

HANDHELD = Meter(accuracy=Accuracy(0.009, 2.0), resolution_ohm=0.1)
VISIT = date(2026, 5, 12)


def codes(text: str) -> list[str]:
    return [one.code for one in assessed(text).warnings]


def test_a_spec_without_a_tolerance_takes_ten_percent_and_20_c() -> None:
    law = spec_law(Spec(winding="unipolar-5", resistance_ohm=62.0))

    assert law is not None and (law.tolerance_frac, law.at_c) == (0.10, 20.0)


def test_a_tolerance_in_ohms_becomes_a_share() -> None:
    law = spec_law(Spec(winding="unipolar-5", resistance_ohm=62.0, tolerance=Tolerance(ohm=3.1), at_c=25.0))

    assert law is not None and (law.tolerance_frac, law.at_c) == (pytest.approx(0.05), 25.0)


def test_a_spec_without_a_resistance_compares_the_windings_with_one_another() -> None:
    assert spec_law(Spec(winding="unipolar-5")) is None
    assert arrangement_of(Valve(id="V", unit="U", role="main"), Spec(winding="unipolar-5")) == "unipolar-5"


def test_the_tolerance_taken_is_said() -> None:
    text = visit_text(f"readings = {GOOD_FIVE}").replace('tolerance = "10 %"\nat', "at", 1)

    assert "spec.tolerance-missing" in codes(text)


@pytest.mark.parametrize(
    ("source", "sd_k"), [("air-after-1h", 1.0), ("clamp", 1.0), ("infrared", 2.5), ("by-hand", 7.5), (None, 2.5)]
)
def test_how_a_temperature_was_taken_says_how_far_it_may_be_off(source: str | None, sd_k: float) -> None:
    valve = Valve(id="V", unit="U", role="main", head_temperature_c=31.0, head_temperature_from=source)

    assert head_temperature(valve, Measurement()).sd_k == sd_k


def test_half_of_what_is_stated_is_the_standard_deviation() -> None:
    valve = Valve(id="V", unit="U", role="main", head_temperature_c=31.0, head_temperature_within_k=3.0)

    assert head_temperature(valve, Measurement()).sd_k == 1.5


def test_a_temperature_left_out_is_anything_from_minus_15_to_75() -> None:
    law = head_temperature(Valve(id="V", unit="U", role="main"), Measurement())

    assert (law.centre_c, law.low_c, law.high_c) == (None, -15.0, 75.0)


def test_a_measurement_may_have_a_temperature_of_its_own() -> None:
    valve = Valve(id="V", unit="U", role="main", head_temperature_c=31.0)

    assert head_temperature(valve, Measurement(head_temperature_c=55.0)).centre_c == 55.0


def test_the_ranges_of_a_meter_stand_by_their_ends() -> None:
    ranges = (
        MeterRange(resolution_ohm=1.0),
        MeterRange(to_ohm=600.0, accuracy=Accuracy(0.005, 3.0), resolution_ohm=0.1),
    )
    law = meter_law(Meter(accuracy=Accuracy(0.02, 5.0), ranges=ranges, leads_ohm=0.2))

    assert [one.to_ohm for one in law.ranges] == [600.0, float("inf")]
    assert [one.of_reading_frac for one in law.ranges] == [0.005, 0.02]
    assert law.leads_ohm == 0.2


def test_the_only_meter_of_the_file_is_taken_with_a_warning() -> None:
    text = visit_text(f"readings = {GOOD_FIVE}").replace('meter = "handheld"\n', "")

    assert codes(text) == ["meter.only-one"]


def test_where_no_meter_is_known_a_stated_one_is_taken() -> None:
    text = visit_text(f"readings = {GOOD_FIVE}").replace('meter = "handheld"\n', "")
    text = text.replace("[meters.handheld]", "[meters.a]\n[meters.handheld]")

    assert codes(text) == ["meter.default"]


@pytest.mark.parametrize(("shown", "doubtful"), [(100.3, False), (101.1, False), (101.3, True), (98.0, True)])
def test_a_check_resistor_read_beyond_the_limits_makes_a_meter_doubtful(shown: float, doubtful: bool) -> None:
    """±(0.9 % of 101 + 2 x 0.1 + 0.05 for the leads) is about 1.16 ohm."""
    meter = Meter(accuracy=Accuracy(0.009, 2.0), resolution_ohm=0.1, check_resistor_ohm=(100.0, shown))

    assert is_doubtful(meter) is doubtful


def test_leads_are_taken_off_the_check_resistor_too() -> None:
    meter = Meter(accuracy=Accuracy(0.0, 1.0), resolution_ohm=0.1, leads_ohm=0.5, check_resistor_ohm=(100.0, 100.5))

    assert not is_doubtful(meter)


def test_a_doubtful_meter_leaves_the_probabilities_and_takes_the_verdict() -> None:
    good = assessed_json(visit_text(f"readings = {GOOD_FIVE}"))["valves"][0]
    doubtful = assessed_json(
        visit_text(f"readings = {GOOD_FIVE}", meter='check_resistor = ["100.0 ohm", "108.0 ohm"]')
    )["valves"][0]

    assert (good["winding"]["verdict"], doubtful["winding"]["verdict"]) == ("sound", "undecided")
    assert doubtful["winding"]["causes"] == good["winding"]["causes"]
    assert doubtful["causes"] == good["causes"]


@pytest.mark.parametrize(
    ("day", "said"), [("2025-05-12", False), ("2025-05-11", True), ("2026-01-10", False), ("2026-05-13", True)]
)
def test_a_calibration_over_a_year_old_is_said(day: str, said: bool) -> None:
    meter = Meter(accuracy=Accuracy(0.009, 2.0), resolution_ohm=0.1, calibrated=date.fromisoformat(day))

    assert bool(meter_warnings("a", meter, VISIT)) is said


def test_a_year_after_a_leap_day_is_the_last_of_february() -> None:
    assert a_year_after(date(2024, 2, 29)) == date(2025, 2, 28)


def estimate(ohm_at_spec: float | None, u_ohm: float | None = 0.5) -> WindingEstimate:
    return WindingEstimate(wires=("5", "1"), ohm=ohm_at_spec, u_ohm=u_ohm, ohm_at_spec=ohm_at_spec, u_ohm_at_spec=u_ohm)


def test_each_winding_passes_fails_or_is_not_proven_with_its_guard_band() -> None:
    """Limits 55.8 and 68.2; a guard band of 1.645 x 0.5 on both sides."""
    windings = (estimate(62.0), estimate(67.9), estimate(69.1), estimate(None, None))
    valve = ValveAssessment(
        id="V1", winding=WindingFinding(verdict="sound", windings=windings), causes=(), action="keep", urgency="none"
    )
    spec = Spec(winding="unipolar-5", resistance_ohm=62.0, tolerance=Tolerance(frac=0.1))

    found = conformity_of(valve, spec)

    assert [one.zone for one in found] == ["pass", "not-proven", "fail"]
    assert found[0].guard_ohm == pytest.approx(0.8225)
    assert (found[0].low_ohm, found[0].high_ohm) == (pytest.approx(55.8), pytest.approx(68.2))
    assert conformity_of(valve, None) == ()
