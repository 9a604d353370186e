"""How a winding verdict came about: each reading in turn, and how far it moved the odds."""

from dataclasses import replace
from math import inf, log

from fifthwire.assessment.assess import assess
from fifthwire.model.assessment import WindingFinding
from fifthwire.model.record import record
from fifthwire.model.valve import PairReading, Valve
from fifthwire.workflow.states import judged_state, readings_of, with_readings_of
from fifthwire.workflow.visits import AssessedVisit


@record
class ReadingStep:
    """One reading, and what was believed after it."""

    reading: PairReading
    finding: WindingFinding
    """After this reading and those before it."""
    leading_probability: float
    """Of the cause that leads in the end."""
    log_odds: float | None
    """Natural logarithm of the factor by which this reading moved that cause's odds; None for the first one."""


def readings_in_turn(assessed: AssessedVisit, valve_id: str) -> tuple[ReadingStep, ...]:
    """The readings of the state that was judged, in the order of the file.

    Parameters
    ----------
    assessed : AssessedVisit
        The visit and its assessment.
    valve_id : str
        Label of the valve.

    Returns
    -------
    tuple[ReadingStep, ...]
        Empty where nothing was read, or the readings mean nothing.
    """
    valve = next(valve for valve in assessed.visit.valves if valve.id == valve_id)
    verdict = next(valve for valve in assessed.assessment.valves if valve.id == valve_id)
    if not verdict.winding.causes:
        return ()
    leading = (verdict.winding.causes[0].cause, verdict.winding.causes[0].wires)
    state = judged_state(valve)
    steps: list[ReadingStep] = []
    for count, reading in enumerate(readings_of(valve, state), start=1):
        finding = _finding(assessed, valve, state, count)
        probability = next((of.probability for of in finding.causes if (of.cause, of.wires) == leading), 0.0)
        moved = _log_odds(probability) - _log_odds(steps[-1].leading_probability) if steps else None
        steps.append(ReadingStep(reading=reading, finding=finding, leading_probability=probability, log_odds=moved))
    return tuple(steps)


def _finding(assessed: AssessedVisit, valve: Valve, state: int | None, count: int) -> WindingFinding:
    cut = with_readings_of(valve, state, readings_of(valve, state)[:count])
    visit = replace(assessed.visit, valves=tuple(cut if of.id == valve.id else of for of in assessed.visit.valves))
    return assess(visit, assessed.priors, only=valve.id).valves[0].winding


def _log_odds(probability: float) -> float:
    """Natural logarithm of the odds; a certainty is as far as a float goes from one."""
    if probability >= 1.0:
        return 36.0
    return log(probability / (1.0 - probability)) if probability > 0.0 else -inf
