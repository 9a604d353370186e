"""Cause, action and urgency of a valve in the words of the trade, the same in a table, on a sheet and in a sentence."""

from collections.abc import Mapping

from fifthwire.assessment.figures import in_units
from fifthwire.assessment.marks import BAD, mark_of
from fifthwire.model import reasons
from fifthwire.model.assessment import CauseProbability, Reason, ValveAssessment
from fifthwire.model.valve import Valve
from fifthwire.model.words import SURE_AT, head_word, how_sure, word

FROM_WINDINGS = ("open-winding", "open-common", "shorted-turns", "bridged")
"""Causes of a winding that make the valve's cause `winding`."""


def cause_words(valve: ValveAssessment, record: Valve | None = None) -> str:
    """The leading cause and how sure it is: "open winding, wire 3: sure".

    Parameters
    ----------
    valve : ValveAssessment
        As assessed.
    record : Valve or None
        As written in the visit: says coil or motor in place of head.

    Returns
    -------
    str
        Empty where nothing speaks against the valve.
    """
    leading = leading_fault(valve)
    if leading is None:
        return ""
    sure = "sure" if mark_of(valve) is BAD else how_sure(leading.probability)
    return f"{of_head(fault_words(valve), record)}: {sure}"


def fault_words(valve: ValveAssessment) -> str:
    """The leading fault with the wires it names; where one part cures several, all of them; empty without a fault."""
    leading = leading_fault(valve)
    if leading is None:
        return ""
    if leading.probability < SURE_AT and mark_of(valve) is BAD:
        return " or ".join(
            with_wires(_finer(one, valve)) if valve.winding.verdict == "faulty" else word(one.cause)
            for one in _sure_together(valve)
        )
    return with_wires(_finer(leading, valve))


def _sure_together(valve: ValveAssessment) -> list[CauseProbability]:
    """The fewest causes, most probable first, that are sure together."""
    named: list[CauseProbability] = []
    for one in valve.causes:
        named.append(one)
        if sum(of.probability for of in named) >= SURE_AT:
            break
    return named


def leading_fault(valve: ValveAssessment) -> CauseProbability | None:
    """The most probable cause, unless that is that nothing is wrong."""
    leading = valve.causes[0] if valve.causes else None
    return None if leading is None or leading.cause in ("sound", "other") else leading


def _finer(leading: CauseProbability, valve: ValveAssessment) -> CauseProbability:
    """What the windings themselves say, where the valve's cause is its winding."""
    if leading.cause != "winding":
        return leading
    return next((one for one in valve.winding.causes if one.cause in FROM_WINDINGS), leading)


def with_wires(cause: CauseProbability) -> str:
    """A cause with the wires that it names: "open winding, wire 3"."""
    if not cause.wires:
        return word(cause.cause)
    return f"{word(cause.cause)}, {'wire' if len(cause.wires) == 1 else 'wires'} {' and '.join(cause.wires)}"


def of_head(words: str, record: Valve | None) -> str:
    """Words about a head that say which kind it is: coil or motor.

    Examples
    --------
    >>> of_head("replace the head", None)
    'replace the head'
    """
    if record is None or record.head is None:
        return words
    kind = head_word(record.head)
    return words.replace("the head", f"the {kind}") if "the head" in words else words.replace("head ", f"{kind} ")


def action_words(valve: ValveAssessment, record: Valve | None = None) -> str:
    """What to do."""
    return of_head(word(valve.action), record)


def urgency_words(valve: ValveAssessment) -> str:
    """How soon; empty where nothing presses."""
    return "" if valve.urgency == "none" else word(valve.urgency)


def meanwhile_words(valve: ValveAssessment) -> str:
    """What to do until then; empty where nothing."""
    return "" if valve.meanwhile == "none" else word(valve.meanwhile)


def place_words(record: Valve) -> str:
    """What a valve is and how it is reached: "OU1, main valve, coil, by ladder"."""
    number = "" if record.number is None else f" {record.number}"
    head = "solenoid" if record.kind == "solenoid" else head_word(record.head)
    reached = {"ladder": ", by ladder", "ceiling": ", above the ceiling", "roof": ", on the roof"}
    return f"{record.unit}, {word(record.role)}{number}, {head}{reached.get(record.access or '', '')}"


def sentence(reason: Reason, units: str = "si") -> str:
    """The sentence of a reason, whichever table it stands in, its temperatures in the units asked for."""
    return in_units(of_code(reason.code, reason.values), units)


def of_code(code: str, values: Mapping[str, object] | None = None) -> str:
    """The sentence of a code, whichever table of `model.reasons` it stands in.

    Raises
    ------
    KeyError
        If no table has the code.
    """
    for table in (reasons.REASONS, reasons.WARNINGS, reasons.CAUTIONS, reasons.CHECKS, reasons.RISKS):
        if code in table:
            return reasons.say(table, code, values)
    raise KeyError(code)
