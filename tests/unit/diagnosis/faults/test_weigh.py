"""How far a fact moved the odds: signs, order and what weighs nothing."""

from math import log

import pytest

from fifthwire.diagnosis.faults.before import SYSTEM_PRIOR
from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.diagnosis.faults.network import ValveNode, combine
from fifthwire.diagnosis.faults.weigh import likelihoods_of, log_odds_of, weighed
from fifthwire.diagnosis.movement.fact import Fact

PRIOR = {
    state: tuple({"sound": 0.9, "head-jammed": 0.06, "board-output": 0.04}.get(c, 0.0) for c in CAUSES)
    for state in SYSTEM_PRIOR
}


def weigh(*facts: Fact, leading: str = "head-jammed") -> dict[str, float]:
    node = ValveNode(PRIOR, likelihoods_of(facts))
    message = combine(SYSTEM_PRIOR, [node]).messages[0]
    return {one.code: one.log_odds for one in weighed(facts, node, message, leading, PRIOR)}


def test_a_single_fact_weighs_the_factor_between_the_odds() -> None:
    """Stem out: 0.93 under jammed; 0.0001 and 0.50 under the rest, which are 0.90 and 0.04 of the prior."""
    rest = (0.9 * 0.0001 + 0.04 * 0.50) / 0.94

    assert weigh(Fact(code="stem.out"))["stem.out"] == pytest.approx(log(0.93 / rest), abs=1e-9)


def test_two_facts_together_weigh_what_they_moved() -> None:
    facts = (Fact(code="stem.out"), Fact(code="board.all-swing"))
    node = ValveNode(PRIOR, likelihoods_of(facts))
    end = log_odds_of("head-jammed", combine(SYSTEM_PRIOR, [node]).causes[0])

    assert sum(weigh(*facts).values()) == pytest.approx(end - log(0.06 / 0.94), abs=1e-9)


def test_a_fact_that_must_not_weigh_and_a_code_without_a_line_weigh_nothing() -> None:
    moved = weigh(Fact(code="stem.out", weighs=False), Fact(code="board.at-rest"))

    assert moved == {"stem.out": 0.0, "board.at-rest": 0.0}


def test_the_heaviest_fact_comes_first() -> None:
    assert next(iter(weigh(Fact(code="connector.dry"), Fact(code="stem.out")))) == "stem.out"
