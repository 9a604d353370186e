"""After a compressor failed: what could have stopped it, and what must be proved before a new one starts.

A new compressor on an unproved valve dies of the same. So every valve able to flood it is named, whatever its windings
read, until its movement and its shut-off are shown.
"""

from collections.abc import Mapping, Sequence
from typing import Final

from fifthwire.assessment.valve_case import Gathered
from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS
from fifthwire.diagnosis.faults.flooding import floods
from fifthwire.model.assessment import CompressorFailure, Reason, Suspect

ABLE_FROM: Final = 0.5
"""A valve that floods its compressor at least so often, standing wide open, is able to.  [1]  Our choice."""
BY_SYSTEM: Final = {
    "charge-low": "failure.no-charge",
    "outdoor-airflow": "failure.too-hot",
    "line-restriction": "failure.restricted",
    "charge-high": "failure.overfilled",
}
"""State of the system -> how it stops a compressor."""
MOVES: Final = frozenset(
    {
        "stem.back",
        "felt.motor.steps",
        "own-head-after-good.moves",
        "own-head.moves",
        "after-cleaning.moves",
        "proof.stem-travel.passed",
        "proof.step-response.passed",
        "step-test.responds",
        "held.at-two-commands",
    }
)
"""Facts that show that a valve, driven by its own head, moves."""
SHUTS: Final = frozenset({"proof.shut-off.passed", "off-pipes.warm", "bypass-shut.dry"})
"""Facts that show that it shuts off."""
BESIDE_VALVES: Final = ("oil", "accumulator", "heater", "supply")
"""What is proved besides; a visit file holds no finding of it."""


def compressor_failure(
    gathered: Sequence[Gathered],
    behaviours: Mapping[str, Mapping[str, float]],
    system: Mapping[str, float],
    floodback: str,
    *,
    is_running_seen: bool,
    mode: str | None,
) -> CompressorFailure:
    """What could have stopped the compressor, most probable first, and what to prove.

    Parameters
    ----------
    gathered : sequence of Gathered
        The valves with their facts.
    behaviours : mapping
        Valve -> behaviour -> probability. [1]
    system : mapping
        State as told -> probability. [1]
    floodback : str
        Of the worst compressor.
    is_running_seen : bool
        Whether a running moment was read and may be used.
    mode : str or None
        How the system runs: in heating the outdoor main valves feed the suction, else the indoor valves do.
    """
    able = [(one, sends) for one in gathered if max(sends := _sends(one.valve.role, mode)) >= ABLE_FROM]
    suspects = [_sent_by(one, sends, behaviours[one.valve.id]) for one, sends in able]
    valves = [one for one, _ in able]
    to_prove = [Reason(code="failure.prove-valves", values={"valves": _labels(valves)})] if valves else []
    not_proved = []
    for what, facts in (("movement", MOVES), ("shut-off", SHUTS)):
        unshown = [one for one in valves if not facts & {fact.code for fact in one.facts if fact.weighs}]
        not_proved += [Reason(code=f"failure.not-{what}", values={"valves": _labels(unshown)})] if unshown else []
    if is_running_seen:
        suspects += [Suspect(reason=Reason(code=code), probability=system[state]) for state, code in BY_SYSTEM.items()]
    suspects.sort(key=lambda one: -round(one.probability, 9))
    beside = [Reason(code=f"failure.prove-{one}") for one in BESIDE_VALVES]
    unknown = [Reason(code="failure.not-running")] if not is_running_seen else []
    unknown += [Reason(code=f"failure.not-{one}") for one in BESIDE_VALVES]
    return CompressorFailure(
        suspects=(_liquid(floodback), *suspects),
        to_prove=(*to_prove, *beside),
        not_proved=(*not_proved, *unknown),
    )


def _labels(gathered: Sequence[Gathered]) -> list[str]:
    return [one.valve.id for one in gathered]


def _sends(role: str, mode: str | None) -> tuple[float, ...]:
    """How often such a valve floods, by behaviour; the worse of cooling and heating where neither is told."""
    modes = [mode == "heating"] if mode in ("cooling", "heating") else [False, True]
    by_mode = [floods(role, n_running=1, in_heating=one) for one in modes]
    return tuple(max(of) for of in zip(*by_mode, strict=True))


def _sent_by(one: Gathered, sends: Sequence[float], behaves: Mapping[str, float]) -> Suspect:
    chance = sum(behaves.get(name, 0.0) * q for name, q in zip(BEHAVIOURS, sends, strict=True))
    reason = Reason(code="failure.flooded-by", values={"valve": one.valve.id})
    return Suspect(reason=reason, probability=chance, valve=one.valve.id)


def _liquid(floodback: str) -> Suspect:
    """Whether liquid was seen to reach a compressor: told first, whatever sent it."""
    chance = {"likely": 1.0, "possible": 0.5}.get(floodback, 0.0)
    if floodback in ("likely", "possible"):
        return Suspect(reason=Reason(code="failure.liquid-seen", values={"floodback": floodback}), probability=chance)
    return Suspect(reason=Reason(code=f"failure.liquid-{floodback}"), probability=chance)
