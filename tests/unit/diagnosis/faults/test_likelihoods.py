"""The table of likelihoods is whole: every look adds up, every fact has its sentence and its source."""

import pytest

from fifthwire.diagnosis.faults.before import SYSTEM_PRIOR, system_as_told
from fifthwire.diagnosis.faults.checks import CATALOGUE, CURED_BY
from fifthwire.diagnosis.faults.likelihoods import CAUSES, OUTCOMES, ROWS, TABLE, likelihood_of
from fifthwire.diagnosis.faults.running_table import STATES
from fifthwire.model.choices import SYSTEM_CAUSES, VALVE_CAUSES
from fifthwire.model.reasons import CHECKS, REASONS, RISKS

NEVER_WRITTEN = {"plug-swap.no-fault", "readings.some-read", "held.not"} | {
    row.code
    for question in ("windings", "strainer-drop", "sensor-compare", "charge-and-air")
    for row in OUTCOMES[question]
}
"""Outcomes that a visit file cannot hold: they are there so that the look adds up."""


def test_the_columns_are_the_causes_of_an_assessment() -> None:
    assert CAUSES == VALVE_CAUSES
    assert set(system_as_told(SYSTEM_PRIOR)) == set(SYSTEM_CAUSES)
    assert tuple(SYSTEM_PRIOR) == STATES
    assert set(CURED_BY) == set(CAUSES)


@pytest.mark.parametrize("question", OUTCOMES)
def test_the_outcomes_of_a_look_add_up_to_one_under_every_cause(question: str) -> None:
    for i in range(len(CAUSES)):
        column = [row.likelihood[i] for row in OUTCOMES[question]]
        there = [one for one in column if one is not None]
        assert len(there) in (0, len(column))
        assert not there or sum(there) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("row", ROWS.values(), ids=list(ROWS))
def test_every_line_has_probabilities_a_mark_and_a_source(row) -> None:  # type: ignore[no-untyped-def]
    assert all(one is None or 0.0 < one < 1.0 for one in row.likelihood)
    assert row.mark in "+!."
    assert "judgement" in row.source or row.source.startswith(("rule", "the rest", "computed", "physics"))
    assert row.code in REASONS or row.code in NEVER_WRITTEN


def test_no_line_of_the_table_stands_twice() -> None:
    codes = [line.split()[0] for line in TABLE.strip().splitlines() if not line.startswith("#")]
    assert len(codes) == len(set(codes)) == len(ROWS)


def test_no_look_at_a_valve_at_rest_bears_on_the_state_of_the_system() -> None:
    """Only what runs does, and looks at the refrigerant side itself."""
    sound, elsewhere = CAUSES.index("sound"), CAUSES.index("refrigerant-side")
    runs = ("step-test", "held", "strainer-drop", "charge-and-air")
    at_rest = [row for row in ROWS.values() if row.question not in runs]
    assert all(row.likelihood[sound] == row.likelihood[elsewhere] for row in at_rest)


def test_a_code_without_a_line_weighs_nothing() -> None:
    assert likelihood_of("stem.outside-service-state") is None


def test_every_check_has_its_look_its_sentence_and_its_tools() -> None:
    for check in CATALOGUE:
        assert check.question in OUTCOMES
        assert check.code in CHECKS
        assert check.tools
        assert not check.risk or check.risk in RISKS
        assert check.minutes > 0
