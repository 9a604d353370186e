"""The stem of a bolt-on motor: in the service state it must be fully back; outside it, it proves nothing."""

from typing import Final

from fifthwire.diagnosis.movement.fact import Fact, Found
from fifthwire.diagnosis.movement.service_state import ServiceState
from fifthwire.model.assessment import Reason
from fifthwire.model.valve import Movement, Valve

BACK_WITHIN_MM: Final = 1.2
"""A stem that stands out no further is fully back.  [mm]  Common practice says "within about a millimetre"."""
OUT_FROM_MM: Final = 2.0
"""A stem that stands out this far is not back.  [mm]  Judgement: clear of a ruler held by hand."""


def stem_facts(valve: Valve, movement: Movement, service: ServiceState) -> Found:
    """What the stem says.

    Parameters
    ----------
    valve : Valve
        Only a bolt-on motor has a stem; on any other head it is a warning.
    movement : Movement
        With `stem`, `stem_mm`, or both.
    service : ServiceState
        Where it does not hold, the stem proves nothing.
    """
    if movement.stem is None and movement.stem_mm is None:
        return Found()
    if valve.head != "bolt-on" or valve.kind == "solenoid":
        return Found(warnings=(Reason(code="other-kind.stem", values={"valve": valve.id}),))
    if service.was_too_short:
        return Found(facts=(Fact(code="stem.too-soon", values={"minutes": service.minutes}),))
    if not service.holds:
        return Found(facts=(Fact(code="stem.outside-service-state"),))
    return _judged(valve, movement)


def _judged(valve: Valve, movement: Movement) -> Found:
    by_word = None if movement.stem is None else ("back" if movement.stem == "retracted" else "out")
    by_mm = None if movement.stem_mm is None else _zone(movement.stem_mm)
    if by_word and by_mm in ("back", "out") and by_word != by_mm:
        said = {"stem": movement.stem, "stem_mm": movement.stem_mm}
        warning = Reason(code="stem.two-states", values={"valve": valve.id, **said})
        return Found(facts=(Fact(code="stem.contradiction", values=said),), warnings=(warning,))
    seen = by_mm if by_mm in ("back", "out") else by_word or by_mm
    if seen == "between":
        return Found(facts=(Fact(code="stem.between", values={"stem_mm": movement.stem_mm}),))
    how_far = f" {movement.stem_mm:g} mm" if movement.stem_mm is not None else ""
    return Found(facts=(Fact(code=f"stem.{seen}", values={"how_far": how_far} if seen == "out" else {}),))


def _zone(stem_mm: float) -> str:
    if stem_mm <= BACK_WITHIN_MM:
        return "back"
    return "out" if stem_mm >= OUT_FROM_MM else "between"
