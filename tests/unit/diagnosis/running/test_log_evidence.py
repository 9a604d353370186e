"""What a log says of a valve: shared by the causes that show alike, and never more than 50 to 1 a month."""

from datetime import UTC, datetime, timedelta

import pytest

from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.diagnosis.running.log_evidence import log_facts
from fifthwire.model.followup import LogEvidence

START = datetime(2026, 4, 1, tzinfo=UTC)


def evidence(days: float = 30.0, sha256: str = "0" * 64, **log_likelihood: float) -> LogEvidence:
    by_cause = {name.replace("_", "-"): value for name, value in log_likelihood.items()}
    return LogEvidence(
        source="log",
        sha256=sha256,
        from_utc=START,
        to_utc=START + timedelta(days=days),
        valve="V1",
        log_likelihood=by_cause,
    )


def ratio(found: LogEvidence, cause: str, against: str = "sound") -> float:
    (fact,) = log_facts([found])
    assert fact.line is not None
    return fact.line[CAUSES.index(cause)] / fact.line[CAUSES.index(against)]


@pytest.mark.parametrize(("days", "most"), [(3.0, 50.0), (30.0, 50.0), (60.88, 2500.0)])
def test_a_month_of_log_moves_the_odds_by_fifty_at_most(days: float, most: float) -> None:
    assert ratio(evidence(days, not_following=0.0, sound=-30.0), "body-stuck-closed") == pytest.approx(most, rel=1e-3)


def test_a_weaker_log_is_taken_as_it_is() -> None:
    """exp(3.2) = 24.5: closed form."""
    assert ratio(evidence(not_following=0.0, sound=-3.2), "body-stuck-closed") == pytest.approx(24.5325, rel=1e-4)


def test_not_following_bears_on_what_keeps_a_valve_from_following() -> None:
    found = evidence(not_following=0.0, sound=-3.0)

    for cause in ("head-jammed", "winding", "board-output", "plug-or-harness", "body-stuck-open", "body-stuck-closed"):
        assert ratio(found, cause) > 3.0
    for cause in ("head-unseated", "head-cracked", "leaks-when-shut", "sensor", "refrigerant-side", "wrong-head"):
        assert ratio(found, cause) == pytest.approx(1.0)


def test_passing_when_shut_bears_on_what_keeps_a_valve_from_shutting() -> None:
    found = evidence(passes_when_shut=0.0, sound=-3.0)

    for cause in ("leaks-when-shut", "body-stuck-open", "head-unseated", "head-jammed"):
        assert ratio(found, cause) > 3.0
    for cause in ("body-stuck-closed", "winding", "board-output", "plug-or-harness"):
        assert ratio(found, cause) == pytest.approx(1.0)


def test_hunting_bears_on_no_cause_and_asks_to_be_watched() -> None:
    (fact,) = log_facts([evidence(hunting=0.0)])

    assert (fact.code, fact.weighs, fact.line) == ("log.hunting", False, None)


def test_one_log_counts_once_and_two_logs_twice() -> None:
    one, other = evidence(sound=-1.0, not_following=0.0), evidence(sha256="1" * 64, sound=-1.0, not_following=0.0)

    assert len(log_facts([one, one])) == 1
    assert len(log_facts([one, other])) == 2
