"""What is believed before a look: causes by kind of head and age, and what the windings add."""

from datetime import date

import pytest
from tests.judged_visits import priors

from fifthwire.diagnosis.faults.before import (
    Age,
    age_of,
    mechanical_shares,
    prior_by_state,
    share,
    winding_classes,
)
from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.model.assessment import CauseProbability, WindingFinding


def finding(**causes: float) -> WindingFinding:
    rows = tuple(CauseProbability(cause=name.replace("_", "-"), probability=p) for name, p in causes.items())
    return WindingFinding(verdict="undecided", causes=rows)


def test_the_share_follows_the_column_of_the_age() -> None:
    assert [share(priors(), "bolt-on_jammed", years) for years in (3.0, 5.0, 8.0, 40.0)] == [0.01, 0.01, 0.03, 0.08]


def test_an_age_that_is_not_known_takes_the_mean_of_the_columns() -> None:
    assert share(priors(), "bolt-on_jammed", None) == pytest.approx(0.04)


def test_a_head_without_a_date_is_as_old_as_the_system() -> None:
    assert age_of(date(2026, 5, 12), None, 2014) == Age(head_years=12.0, body_years=12.0)


def test_a_new_head_on_an_old_body_is_young_and_the_body_is_not() -> None:
    assert age_of(date(2026, 5, 12), date(2014, 5, 12), 2014, has_new_head=True) == Age(head_years=0.0, body_years=12.0)


def test_a_coil_cannot_jam_or_crack_and_a_motor_cannot_be_unseated() -> None:
    coil = mechanical_shares(priors(), head="clip-on", kind="eev", age=Age())
    motor = mechanical_shares(priors(), head="bolt-on", kind="eev", age=Age())
    solenoid = mechanical_shares(priors(), head=None, kind="solenoid", age=Age())

    assert "head-unseated" in coil and not {"head-jammed", "head-cracked"} & set(coil)
    assert "head-unseated" not in motor and {"head-jammed", "head-cracked"} <= set(motor)
    assert not {"head-jammed", "head-cracked", "head-unseated"} & set(solenoid)


def test_each_winding_cause_goes_to_its_valve_cause() -> None:
    causes = {"open_winding": 0.1, "shorted_turns": 0.1, "bridged": 0.1, "open_common": 0.1, "bad_contact": 0.2}
    at_head = winding_classes(finding(**causes, wrong_head=0.1, bad_reading=0.2, sound=0.1), at_head_plug=True)

    assert at_head == pytest.approx({"winding": 0.4, "plug-or-harness": 0.2, "wrong-head": 0.1})


def test_an_open_common_is_the_harness_unless_measured_at_the_heads_own_plug() -> None:
    open_common = finding(open_common=1.0)

    assert winding_classes(open_common, at_head_plug=True) == {"winding": 1.0}
    assert winding_classes(open_common, at_head_plug=False) == {"plug-or-harness": 1.0}


def test_the_prior_sums_to_one_in_every_state_of_the_system() -> None:
    shares = mechanical_shares(priors(), head="clip-on", kind="eev", age=Age())

    by_state = prior_by_state({"winding": 0.3, "plug-or-harness": 0.1}, shares)

    assert all(sum(one) == pytest.approx(1.0) for one in by_state.values())


def test_only_a_coil_that_runs_looks_faulty_where_the_whole_system_is_short_of_liquid() -> None:
    shares = mechanical_shares(priors(), head="clip-on", kind="eev", age=Age())
    elsewhere = CAUSES.index("refrigerant-side")

    fed = prior_by_state({}, shares, is_fed=True)
    stopped = prior_by_state({}, shares)

    assert fed["charge-low-deep"][elsewhere] > 10 * fed["fine"][elsewhere]
    assert stopped["charge-low-deep"] == stopped["fine"] == fed["fine"]
