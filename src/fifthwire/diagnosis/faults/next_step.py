"""What to check next: what the rules ask for first, then the check worth most."""

from fifthwire.diagnosis.faults.action import RUSTY
from fifthwire.diagnosis.faults.case import Case
from fifthwire.diagnosis.faults.checks import best_check
from fifthwire.diagnosis.faults.proof import missing_looks
from fifthwire.model.assessment import NextCheck

MEASURE_MIN = 5.0
"""Unplugging one head and reading its pairs.  [min]  Judgement."""
RIVAL_FROM = 0.02
"""A second cause of the windings at least so probable is worth telling apart.  [1]  Judgement."""
PAIR_MIN = 1.0
"""Reading one more pair while the plug is in the hand.  [min]  Judgement."""


def next_check_of(case: Case, action: str) -> NextCheck | None:
    """The next check for one valve.

    Parameters
    ----------
    case : Case
        The valve.
    action : str
        What is to be done: what is decided needs no more looking.

    Returns
    -------
    NextCheck or None
        None where nothing is worth doing.
    """
    if action == "check-sensor":
        return NextCheck(check="compare-sensors", minutes=15.0, is_system_stopped=True)
    if action == "check-refrigerant-side":
        return _of_refrigerant_side(case)
    if action in ("keep", "watch", "replace-head"):
        return None
    if action == "replace-body":
        return _strainer(case)
    if action == "repair-plug-or-harness":
        return _at_the_plug(case)
    if action == "clean" and not case.weighing & RUSTY:
        return _stopped("dry-plug", 10.0)
    if action == "clean":
        return NextCheck(
            check="test-after-cleaning", minutes=10.0, risk="pits-deeper" if case.head != "bolt-on" else ""
        )
    if action == "reseat":
        return NextCheck(check="seat-and-test", minutes=3.0)
    if action == "check-board":
        return best_check(case, among=("pulses-at-board", "swap-plugs"))
    return _of_windings(case) or _of_the_rest(case, action)


def _of_refrigerant_side(case: Case) -> NextCheck:
    """The whole system where it is at fault, else what is worth more: its own strainer, or its coil and air."""
    own = None if case.is_system_at_fault else best_check(case, among=("strainer-drop", "check-charge-and-air"))
    return own or NextCheck(check="check-charge-and-air", minutes=60.0, risk="circuit-opened")


def _strainer(case: Case) -> NextCheck | None:
    if case.probability("body-stuck-closed") < 0.2 or "pitted.yes" in case.weighing:
        return None
    return NextCheck(check="strainer-first", minutes=10.0)


def _at_the_plug(case: Case) -> NextCheck | None:
    blamed = next((one for one in case.windings.finding.causes if one.cause == "bad-contact"), None)
    is_blamed = case.windings.counts and blamed is not None and blamed.probability >= 0.5 and blamed.wires
    if blamed is not None and is_blamed:
        wire = " and ".join(blamed.wires)
        return NextCheck(check="clean-pin", values={"wire": wire}, minutes=5.0, is_system_stopped=True)
    if case.windings.counts and not case.windings.at_head_plug:
        return _stopped("measure-at-head", MEASURE_MIN)
    return NextCheck(check="measure-after-repair", minutes=MEASURE_MIN, is_system_stopped=True)


def _of_windings(case: Case) -> NextCheck | None:
    """What the windings still ask for; None where they are settled."""
    read = case.windings
    if read.doubtful_meter:
        return _stopped("prove-meter", 10.0, meter=read.doubtful_meter)
    if read.is_plug_on:
        return _stopped("unplug-and-measure", MEASURE_MIN)
    if read.is_of_head_taken_off:
        return _stopped("measure-new-head", MEASURE_MIN)
    if read.is_before_repair:
        return _stopped("measure-after-repair", MEASURE_MIN)
    if read.is_all_open:
        return _stopped("seat-plug-and-probes", 3.0)
    if read.finding.verdict == "not-measured":  # what runs may ask for something else first: all checks are weighed
        return None if case.is_running_seen else _stopped("measure-windings", MEASURE_MIN)
    if case.leading == "wrong-head":
        return NextCheck(check="read-label", minutes=3.0)
    if read.finding.verdict == "undecided":
        return _to_settle(case)
    if read.finding.verdict == "faulty" and not read.at_head_plug:
        return _stopped("measure-at-head", MEASURE_MIN)
    return _to_tell_apart(case) if read.finding.verdict == "faulty" else None


def _to_tell_apart(case: Case) -> NextCheck:
    """A faulty verdict that two causes share: the label for another head, the pin for a contact, else a reading."""
    finding = case.windings.finding
    once = case.windings.pairs_that_touch(finding.causes[0].wires)
    if finding.causes[0].cause == "bridged" and len(once) == 1:  # it may be a slipped probe: the same pair again
        return _stopped("measure-pair", PAIR_MIN, wires=sorted(next(iter(once))))
    by_cause = {one.cause: one for one in reversed(finding.causes) if one.probability >= RIVAL_FROM}
    if finding.next_reading is not None:
        return _to_settle(case)
    low = case.windings.finite_readings_of(finding.causes[0].wires)
    if finding.causes[0].cause == "shorted-turns" and len(low) == 1:  # or a figure written down wrong: read it again
        return _stopped("measure-pair", PAIR_MIN, wires=sorted((low[0].wire_a, low[0].wire_b)))
    if "wrong-head" in by_cause:
        return NextCheck(check="read-label", minutes=3.0)
    if "bad-contact" in by_cause:
        return _stopped("clean-pin", 5.0, wire=" and ".join(by_cause["bad-contact"].wires))
    return _stopped("measure-again", MEASURE_MIN)


def _to_settle(case: Case) -> NextCheck:
    wanted = case.windings.finding.next_reading
    if wanted is None:
        return _stopped("measure-again", MEASURE_MIN)
    step = _stopped("measure-pair", PAIR_MIN, wires=list(wanted.wires))
    return NextCheck(
        check=step.check,
        values=step.values,
        minutes=step.minutes,
        is_system_stopped=True,
        gain_bits=wanted.gain_bits,
    )


def _of_the_rest(case: Case, action: str) -> NextCheck | None:
    if "insulation.suspect" in case.weighing:
        return _stopped("dry-and-test-insulation", 30.0)
    lacking = missing_looks(case)
    if lacking and (proving := best_check(case, among=lacking)) is not None:
        return proving
    if action == "check-more" and case.leading == "sound" and _looks_right(case):
        return best_check(case, among=("step-test",)) or best_check(case, movement_only=True) or best_check(case)
    if action == "check-more" and case.leading == "sound":
        return best_check(case, movement_only=True) or best_check(case)
    return best_check(case)


def _looks_right(case: Case) -> bool:
    """On its target: a valve that stands where it is needed looks the same until its command is changed."""
    return any(code.startswith("coil.on-") for code in case.weighing)


def _stopped(code: str, minutes: float, **values: object) -> NextCheck:
    return NextCheck(check=code, values=values, minutes=minutes, is_system_stopped=True)
