"""What the eye saw, and the insulation to the metal of the head."""

from typing import Final

from fifthwire.diagnosis.movement.fact import Fact, Found, State
from fifthwire.model.assessment import Reason
from fifthwire.model.valve import Inspection, Valve

SUSPECT_UNDER_MOHM: Final = 1.0
"""Insulation under this is suspect: moisture.  [Mohm]  Judgement."""
FAULT_UNDER_MOHM: Final = 0.1
"""Insulation under this after drying is a fault.  [Mohm]  Judgement."""


def inspection_facts(valve: Valve, inspection: Inspection, state: State) -> Found:
    """Facts of `[valves.inspection]`; what belongs to the other kind of head is a warning.

    Parameters
    ----------
    valve : Valve
        Rust, seat and pits are a coil's; cracks are a motor's.
    inspection : Inspection
        As written.
    state : State
        What has been cleaned, seated, repaired or replaced since is told and does not weigh.
    """
    is_motor = valve.head == "bolt-on" and valve.kind != "solenoid"
    facts, warnings = [], []
    if inspection.rust is not None:
        is_old = state.has_new_head or (inspection.rust != "none" and state.is_cleaned)
        facts.append(Fact(code=f"rust.{inspection.rust}", weighs=not is_old))
    if inspection.pitted is not None:
        facts.append(Fact(code="pitted.yes" if inspection.pitted else "pitted.no", weighs=not state.has_new_body))
    if inspection.cracks is not None and is_motor:
        facts.append(Fact(code="cracks.yes" if inspection.cracks else "cracks.no", weighs=not state.has_new_head))
    elif inspection.cracks:
        warnings.append(Reason(code="other-kind.cracks", values={"valve": valve.id}))
    if inspection.seated is not None and is_motor:
        warnings.append(Reason(code="other-kind.seated", values={"valve": valve.id}))
    elif inspection.seated is not None:
        is_old = not inspection.seated and (state.is_reseated or state.has_new_head)
        facts.append(Fact(code="seated.yes" if inspection.seated else "seated.no", weighs=not is_old))
    if inspection.connector is not None:
        is_old = inspection.connector != "dry" and (state.is_plug_repaired or state.is_cleaned or state.has_new_head)
        facts.append(Fact(code=f"connector.{inspection.connector}", weighs=not is_old))
    return Found(facts=tuple(facts), warnings=tuple(warnings))


def insulation_facts(valve: Valve, state: State) -> Found:
    """What the insulation says, and with which test voltage.

    Parameters
    ----------
    valve : Valve
        With `insulation`; ">" marks the end of the scale.
    state : State
        A head that was cleaned on this visit is taken as dried.
    """
    if valve.insulation is None:
        return Found()
    mohm = valve.insulation.mohm
    by_meter = valve.insulation_test == "meter"
    test = "the meter" if by_meter else valve.insulation_test or "a voltage that is not written"
    values = {"mohm": mohm, "test": test}
    if valve.insulation.is_at_least and mohm < SUSPECT_UNDER_MOHM:
        fact = Fact(code="insulation.at-least", values={"mohm": mohm})
    elif mohm < FAULT_UNDER_MOHM and (state.is_cleaned or state.was_tested_after_cleaning):
        fact = Fact(code="insulation.fault", values=values, weighs=not state.has_new_head)
    elif mohm < SUSPECT_UNDER_MOHM:
        fact = Fact(code="insulation.suspect", values=values, weighs=not state.has_new_head)
    elif by_meter or valve.insulation_test is None:
        fact = Fact(code="insulation.meter-only" if by_meter else "insulation.untold", values={"mohm": mohm})
    else:
        fact = Fact(code="insulation.good", values=values, weighs=not state.has_new_head)
    return Found(facts=(fact,))
