"""The winding verdict against the slow oracle: the stored posteriors of many heads, and a few found anew."""

import pytest
from pytest import approx
from tests.oracle.posterior import posterior
from tests.oracle.stored import shipped_laws, stored

from fifthwire.diagnosis.winding import judge_windings

LAWS = shipped_laws()


def by_cause(head):
    found = {}
    for cause in judge_windings(head.case, LAWS).causes:
        found[cause.cause] = found.get(cause.cause, 0.0) + cause.probability
    return found


@pytest.fixture(scope="module")
def rows():
    return list(stored(LAWS))


@pytest.fixture(scope="module")
def apart(rows):
    """For each stored head: the largest difference of a cause's probability."""
    differences = []
    for row in rows:
        program = by_cause(row.head)
        differences.append(max(abs(row.causes.get(c, 0.0) - program.get(c, 0.0)) for c in {*row.causes, *program}))
    return differences


def test_the_posterior_is_the_oracles_within_a_thousandth_on_99_heads_in_100(apart):
    assert len(apart) >= 200
    assert sum(difference > 1e-3 for difference in apart) <= 0.01 * len(apart)


def test_the_posterior_is_never_far_from_the_oracles(apart):
    assert max(apart) < 0.005


def test_the_most_probable_common_is_the_oracles(rows):
    compared = 0
    for row in rows:
        touched = {wire for r in row.head.case.readings for wire in (r.wire_a, r.wire_b)}
        best = max(row.commons, key=row.commons.get, default=frozenset())
        if best and best <= touched and row.commons[best] > 0.6:
            compared += 1
            assert frozenset(judge_windings(row.head.case, LAWS).common[0].wires) == best
    assert compared > 50


def test_a_fault_that_the_readings_prove_is_never_called_sound(rows):
    proved = [r for r in rows if 1.0 - r.causes.get("sound", 0.0) - r.causes.get("bad-reading", 0.0) >= 0.95]

    assert len(proved) > 10
    assert all(judge_windings(row.head.case, LAWS).verdict != "sound" for row in proved)


@pytest.mark.parametrize("place", [9, 17, 22, 37])
def test_the_stored_posteriors_are_what_the_oracle_finds(rows, place):
    row = rows[place]

    found = posterior(row.head.case, LAWS)

    assert all(found.causes[cause] == approx(p, abs=2e-4) for cause, p in row.causes.items())
