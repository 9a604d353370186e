"""What is believed of a valve before anything else is looked at: its causes, and the state of the system.

The windings come first: what the readings say of them is the share of `winding`, `plug-or-harness` (a poor contact)
and `wrong-head`; the shares of `priors.toml` [mechanical] are of valves whose windings are sound.
"""

from collections.abc import Mapping
from datetime import date
from typing import Final

from fifthwire.diagnosis.faults.behaviours import DEEP
from fifthwire.diagnosis.faults.likelihoods import CAUSES
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import WindingFinding
from fifthwire.model.record import record

SYSTEM_PRIOR: Final = {
    "fine": 0.735,
    "overfed": 0.11,
    "overfed-deep": 0.04,
    "charge-low": 0.03,
    "charge-low-deep": 0.015,
    "charge-high": 0.03,
    "outdoor-airflow": 0.02,
    "line-restriction": 0.008,
    "line-restriction-deep": 0.005,
    "compressor": 0.007,
}
"""State of the system before any running evidence; deep: the valves stand wide open and no longer hold;
overfed: nothing wrong but a valve that floods it.  [1]  Judgement."""

TOLD_AS: Final = {
    "overfed": "fine",
    "overfed-deep": "fine",
    "charge-low-deep": "charge-low",
    "line-restriction-deep": "line-restriction",
}
"""State as it is reckoned -> as it is told, where they differ."""

STARVED_HERE: Final = 0.05
"""Share of otherwise sound valves whose own coil or branch is starved, restricted or short of air.  [1]  Judgement."""
STARVED_DEEP: Final = 0.85
"""Share of otherwise sound valves that look faulty where the whole system is short of liquid.  [1]  Judgement."""

INSULATION_SHARE: Final = 0.0005
"""Share of heads with sound ohms whose insulation has failed: ohms do not show it.  [1]  Judgement."""

WINDING_TO_VALVE: Final = {
    "open-winding": "winding",
    "open-common": "winding",
    "shorted-turns": "winding",
    "bridged": "winding",
    "bad-contact": "plug-or-harness",
    "wrong-head": "wrong-head",
}
"""Cause of the windings -> cause of the valve; `sound`, `bad-reading` and the rest say nothing against the valve.
An open common is the harness's where it was not measured at the head's own plug."""

AGES: Final = (("to_5_years", 5.0), ("to_10_years", 10.0), ("older", float("inf")))
"""Columns of `priors.toml` [mechanical] and the age up to which each holds.  [years]"""


@record
class Age:
    """Age of a part on the day of the visit; None where it is not known."""

    head_years: float | None = None
    body_years: float | None = None


def age_of(
    visit_date: date,
    head_installed: date | None,
    system_installed: int | None,
    *,
    has_new_head: bool = False,
    has_new_body: bool = False,
) -> Age:
    """Ages of head and body; a head without a date is as old as the system.

    Parameters
    ----------
    visit_date : date
        The day of the visit.
    head_installed : date or None
        When this head was fitted.
    system_installed : int or None
        Year.
    has_new_head, has_new_body : bool
        Replaced on this visit.
    """
    by_system = None if system_installed is None else max(0.0, float(visit_date.year - system_installed))
    by_head = by_system
    if head_installed is not None:
        by_head = max(0.0, (visit_date - head_installed).days / 365.25)
    return Age(head_years=0.0 if has_new_head else by_head, body_years=0.0 if has_new_body else by_system)


def share(priors: Priors, name: str, years: float | None) -> float:
    """A mechanical share at an age; where the age is not known, the mean of the columns (judgement)."""
    by_age = priors.mechanical[name]
    if isinstance(by_age, int | float):
        return float(by_age)
    if years is None:
        return sum(by_age[column] for column, _ in AGES) / len(AGES)
    return by_age[next(column for column, up_to in AGES if years <= up_to)]


def mechanical_shares(priors: Priors, *, head: str | None, kind: str, age: Age) -> dict[str, float]:
    """Shares of the causes that exist for this kind of head, among valves with sound windings.

    Parameters
    ----------
    priors : Priors
        With the table [mechanical].
    head : str or None
        clip-on or bolt-on.
    kind : str
        eev or solenoid: a solenoid's coil neither jams nor drives a rotor.
    age : Age
        Of head and body.

    Returns
    -------
    dict
        Cause -> share, without `sound`; a stuck body is as often open as shut (judgement).
    """
    stuck = share(priors, "body_stuck", age.body_years)
    shares = {
        "body-stuck-open": stuck / 2.0,
        "body-stuck-closed": stuck / 2.0,
        "leaks-when-shut": share(priors, "leaks_when_shut", age.body_years),
        "plug-or-harness": share(priors, "plug_or_harness", None),
        "board-output": share(priors, "board_output", None),
        "sensor": share(priors, "sensor", None),
    }
    if kind == "solenoid":
        return shares
    if head == "bolt-on":
        shares["head-jammed"] = share(priors, "bolt-on_jammed", age.head_years)
        shares["head-cracked"] = share(priors, "bolt-on_cracked", age.head_years)
    else:
        shares["head-unseated"] = share(priors, "clip-on_unseated_or_rusted", age.head_years)
    return shares


def winding_classes(finding: WindingFinding, *, at_head_plug: bool) -> dict[str, float]:
    """What is believed of the windings: valve cause -> probability, the rest sound or a doubtful reading."""
    classes: dict[str, float] = {}
    for one in finding.causes:
        at_valve = WINDING_TO_VALVE.get(one.cause)
        if one.cause == "open-common" and not at_head_plug:
            at_valve = "plug-or-harness"
        if at_valve is not None:
            classes[at_valve] = classes.get(at_valve, 0.0) + one.probability
    return classes


def prior_by_state(
    classes: Mapping[str, float], shares: Mapping[str, float], *, is_fed: bool = False
) -> dict[str, tuple[float, ...]]:
    """State of the system -> probability of each cause of a valve before its facts.

    Parameters
    ----------
    classes : mapping
        What the windings say: valve cause -> probability. [1]
    shares : mapping
        Mechanical causes among valves with sound windings. [1]
    is_fed : bool
        Whether a coil that runs was read: only such a valve looks faulty where the whole system is short of liquid.

    Returns
    -------
    dict
        In the order of `CAUSES`, each summing to 1; a system short of liquid makes most sound valves look faulty.
    """
    sound_windings = max(0.0, 1.0 - sum(classes.values()))
    fine = dict.fromkeys(CAUSES, 0.0)
    for cause, one in shares.items():
        fine[cause] += sound_windings * one
    fine["winding"] += sound_windings * INSULATION_SHARE
    fine["sound"] = max(0.0, sound_windings * (1.0 - INSULATION_SHARE - sum(shares.values())))
    for cause, one in classes.items():
        fine[cause] += one
    return {state: tuple(_with_starved(fine, is_short=is_fed and state in DEEP).values()) for state in SYSTEM_PRIOR}


def _with_starved(causes: Mapping[str, float], *, is_short: bool) -> dict[str, float]:
    """Sound valves shared out between sound and those that only look faulty."""
    share_of = STARVED_DEEP if is_short else STARVED_HERE
    sound = causes["sound"]
    return {**causes, "sound": sound * (1.0 - share_of), "refrigerant-side": sound * share_of}


def system_as_told(by_state: Mapping[str, float]) -> dict[str, float]:
    """Probabilities of the states as they are told: deep or not is not told.  [1]"""
    told: dict[str, float] = {}
    for state, probability in by_state.items():
        name = TOLD_AS.get(state, state)
        told[name] = told.get(name, 0.0) + probability
    return told
