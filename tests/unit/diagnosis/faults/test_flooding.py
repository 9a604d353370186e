"""Which valve can send liquid to which compressor, and what was read of them as terms."""

from itertools import combinations

import pytest

from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS
from fifthwire.diagnosis.faults.flooding import OutdoorSeen, dry_terms, floods
from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.diagnosis.faults.network import ValveNode, weights_of

WIDE, LEAKS, FOLLOWS = (BEHAVIOURS.index(one) for one in ("wide", "leaks", "follows"))


def test_an_indoor_valve_floods_in_cooling_and_an_outdoor_main_valve_in_heating() -> None:
    assert floods("indoor", n_running=8, in_heating=False)[WIDE] > 0.5
    assert set(floods("indoor", n_running=8, in_heating=True)) == {0.0}
    assert floods("main", n_running=8, in_heating=True)[WIDE] > 0.5
    assert set(floods("main", n_running=8, in_heating=False)) == {0.0}


def test_one_wide_valve_among_many_units_floods_less_often() -> None:
    assert (
        floods("indoor", n_running=40, in_heating=False)[WIDE]
        < 0.3 * floods("indoor", n_running=4, in_heating=False)[WIDE]
    )


def test_a_leak_floods_only_while_its_unit_is_off_and_a_good_valve_never() -> None:
    assert floods("indoor", n_running=8, in_heating=False, is_on=True)[LEAKS] == 0.0
    assert floods("indoor", n_running=8, in_heating=False, is_on=False)[LEAKS] > 0.0
    assert floods("subcooler-bypass", n_running=8, in_heating=False)[FOLLOWS] == 0.0


def test_the_terms_of_an_outdoor_unit_give_back_wet_and_dry() -> None:
    """All causes sure: the sum over the sets is the likelihood of what was read, wet or dry."""
    terms = dry_terms((OutdoorSeen(id="OU1", suction=({"discharge.below": 1.0},)),))
    none, dry = terms["fine", ()], terms["fine", ("OU1",)]

    assert none == pytest.approx(0.88)  # a valve that floods it for certain: only the empty set is left
    assert none + dry == pytest.approx(0.88 * 0.02 + 0.01 * 0.98)  # no valve does: wet by itself now and then


def test_an_overfed_system_is_one_with_liquid_at_a_compressor() -> None:
    terms = dry_terms((OutdoorSeen(id="OU1", suction=({"discharge.above": 1.0},)),))

    assert terms["overfed", ()] + terms["overfed", ("OU1",)] == pytest.approx(0.01 * 0.02)


def test_nothing_read_leaves_one_term_a_state() -> None:
    assert {key: term for key, term in dry_terms((OutdoorSeen(id="OU1"),)).items() if key[0] == "fine"} == {
        ("fine", ()): 1.0
    }


def test_only_the_number_of_outdoor_units_that_stay_dry_counts_to_a_valve_that_feeds_them_alike() -> None:
    """So that 48 valves with four outdoor units do not cost sixteen times as much."""
    outdoor = ("OU1", "OU2", "OU3", "OU4")
    keys = {("fine", dry): 1.0 for n in range(5) for dry in combinations(outdoor, n)}
    prior = {"fine": [1.0 / len(CAUSES)] * len(CAUSES)}
    seen = [[0.5 + 0.01 * i for i in range(len(BEHAVIOURS))]]
    alike = dict.fromkeys(outdoor, floods("indoor", n_running=8, in_heating=False))

    weights = weights_of(ValveNode(prior_by_state=prior, running=seen, floods=alike), keys)
    own = weights_of(ValveNode(prior_by_state=prior, running=seen, floods={"OU2": alike["OU2"]}), keys)

    assert len({id(one) for one in weights.values()}) == 5
    assert weights["fine", ("OU1",)] == weights["fine", ("OU4",)]
    assert sum(weights["fine", ("OU1", "OU2")]) < sum(weights["fine", ("OU1",)])
    assert own["fine", ("OU1", "OU3", "OU4")] == own["fine", ()] != own["fine", ("OU2",)]
