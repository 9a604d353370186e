"""What to do next at a valve, as its latest judgement said it: the check that settles most, and the cautions."""

from collections.abc import Mapping
from typing import Any

from fifthwire.model.kept.people import Person
from fifthwire.model.record import record
from fifthwire.register import judgements, place_rows
from fifthwire.register.store import Register
from fifthwire.workflow.valves import allowed_valve


@record
class NextStep:
    """The next thing to do at a valve."""

    what: str
    """In words; empty where nothing is left to check."""
    wires: tuple[str, ...] = ()
    """The two pins to touch, where it is a reading."""
    cautions: tuple[str, ...] = ()
    """In words, in the order of the work."""


def next_step(register: Register, who: Person, valve_id: str) -> NextStep | None:
    """What the latest judgement of a valve asks for next.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        Who asks.
    valve_id : str
        The valve.

    Returns
    -------
    NextStep or None
        None where no visit has judged it, or its label was another then.

    Raises
    ------
    NotFound
        If there is no such valve at the person's sites.
    """
    with register.reading() as keep:
        valve = allowed_valve(keep, who, valve_id, "read")
        now = place_rows.now_of(keep, valve_id)
        kept = judgements.judgements_of(keep, now.visit_id) if now else ()
    said = next((one for one in kept[0].assessment["valves"] if one["id"] == valve.label), None) if kept else None
    return None if said is None else _step(said)


def _step(said: Mapping[str, Any]) -> NextStep:
    check, reading = said["next_check"], said["winding"]["next_reading"]
    is_reading = check is not None and check["check"] == "measure-pair" and reading is not None
    return NextStep(
        what=check["what"] if check else "",
        wires=tuple(reading["wires"]) if is_reading else (),
        cautions=tuple(said["cautions"]),
    )
