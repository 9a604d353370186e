"""The tables of what runs are whole: every look adds up, every fact has its sentence and its source."""

import pytest

from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS, behaves
from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.diagnosis.faults.running_table import STATES, SUCTION_ROWS, SYSTEM_ROWS, VALVE_ROWS, RunningRow
from fifthwire.model.reasons import REASONS

EVERY = [*VALVE_ROWS.values(), *SYSTEM_ROWS.values(), *SUCTION_ROWS.values()]


@pytest.mark.parametrize("question", dict.fromkeys(row.question for row in EVERY))
def test_the_outcomes_of_a_look_add_up_to_one_in_every_column(question: str) -> None:
    rows = [row for row in EVERY if row.question == question]

    for i in range(len(rows[0].likelihood)):
        assert sum(row.likelihood[i] for row in rows) == pytest.approx(1.0, abs=1e-9)


@pytest.mark.parametrize("row", EVERY, ids=lambda row: row.code)
def test_every_line_has_probabilities_a_mark_and_a_source(row: RunningRow) -> None:
    assert all(0.0 < one < 1.0 for one in row.likelihood)
    assert row.mark in "!."
    known = ("computed", "judgement", "physics", "the rest", "as above", "Rossi-Braun", "Results in Engineering")
    assert row.source.startswith(known)


def test_every_fact_of_a_valve_has_its_sentence() -> None:
    assert not VALVE_ROWS.keys() - REASONS.keys()


@pytest.mark.parametrize("in_heating", [False, True])
@pytest.mark.parametrize("state", STATES)
def test_every_cause_behaves_in_some_way_in_every_state(state: str, in_heating: bool) -> None:
    for cause in CAUSES:
        shares = behaves(cause, state, in_heating=in_heating)
        assert sum(share for _, share in shares) == pytest.approx(1.0)
        assert all(0 <= at < len(BEHAVIOURS) for at, _ in shares)


def test_a_sound_valve_is_short_where_the_system_is_and_follows_where_it_is_not() -> None:
    follows, short = BEHAVIOURS.index("follows"), BEHAVIOURS.index("short")

    assert behaves("sound", "fine") == ((follows, 1.0),)
    assert behaves("sound", "charge-low") == ((short, 1.0),)
    assert behaves("sound", "charge-low", in_heating=True) == ((BEHAVIOURS.index("unfilled"), 1.0),)
