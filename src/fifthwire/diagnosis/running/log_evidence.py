"""What a log's screening says of a valve, as a likelihood of each cause of the valve.

A log shows whether a valve follows its command, not why it does not. So what it says of `not-following` is shared by
all
causes that keep a valve from following, and what it says of `passes-when-shut` by those that keep it from shutting.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from math import exp, log
from typing import Final

from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.model.followup import LogEvidence

CAP_A_MONTH: Final = 50.0
"""Odds that one month of log, begun or whole, may move at most.  [1]  The format of the visit file."""
DAYS_A_MONTH: Final = 30.44

SHOWS: Final[Mapping[str, Mapping[str, float]]] = {
    "sound": {"sound": 1.0},
    "winding": {"not-following": 0.9, "sound": 0.1},
    "head-jammed": {"not-following": 0.7, "passes-when-shut": 0.3},
    "head-cracked": {"sound": 1.0},
    "head-unseated": {"passes-when-shut": 0.5, "sound": 0.5},
    "body-stuck-open": {"not-following": 0.6, "passes-when-shut": 0.4},
    "body-stuck-closed": {"not-following": 1.0},
    "leaks-when-shut": {"passes-when-shut": 1.0},
    "plug-or-harness": {"not-following": 0.7, "sound": 0.3},
    "board-output": {"not-following": 0.9, "sound": 0.1},
    "sensor": {"sensor": 1.0},
    "wrong-head": {"sound": 1.0},
    "refrigerant-side": {"refrigerant-side": 1.0},
}
"""Cause of the valve -> what of the log's causes it shows as.  [1]  The pairs: the format; the shares: judgement."""


def log_facts(evidence: Iterable[LogEvidence]) -> tuple[Fact, ...]:
    """Facts of the logs of one valve, each with its likelihood of every cause.

    Parameters
    ----------
    evidence : iterable of LogEvidence
        Of this valve; one log counts once however often it was pasted in.

    Returns
    -------
    tuple of Fact
        What only asks to be watched (hunting) does not weigh.
    """
    once = {(one.sha256, one.from_utc, one.to_utc): one for one in evidence}
    facts: list[Fact] = []
    for one in sorted(once.values(), key=lambda of: (str(of.sha256), str(of.from_utc), str(of.to_utc))):
        given = {cause: value for cause, value in one.log_likelihood.items() if cause != "hunting"}
        if given:
            facts.append(_judged(given, one))
        best = max(given.values(), default=float("-inf"))
        if one.log_likelihood.get("hunting", float("-inf")) > best:
            facts.append(Fact(code="log.hunting", weighs=False))
    return tuple(facts)


def _judged(given: Mapping[str, float], of: LogEvidence) -> Fact:
    top = max(given.values())
    least = top - log(CAP_A_MONTH) * _months(of.from_utc, of.to_utc)
    known = {cause: exp(max(value, least) - top) for cause, value in given.items()}
    # A cause that the log says nothing of is neither for nor against: it weighs as a sound valve does, or as the mean.
    else_ = known.get("sound", sum(known.values()) / len(known))
    line = tuple(sum(share * known.get(shown, else_) for shown, share in SHOWS[cause].items()) for cause in CAUSES)
    leading = max(given, key=lambda cause: (given[cause], cause))
    code = f"log.{leading}"
    return Fact(code=code, values={"days": _days(of.from_utc, of.to_utc)}, line=line)


def _months(start: datetime | None, end: datetime | None) -> float:
    if start is None or end is None:
        return 1.0
    return max((end - start).total_seconds() / 86400.0 / DAYS_A_MONTH, 1.0)


def _days(start: datetime | None, end: datetime | None) -> float | None:
    return None if start is None or end is None else round((end - start).total_seconds() / 86400.0, 1)
