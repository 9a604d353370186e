"""Write down what a person fills in on a visit's page: a reading, a part of a valve, how the system runs."""

from collections.abc import Mapping
from typing import Any, Final

from fifthwire.model.errors import Conflict, InputError
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.visits import EntryKept
from fifthwire.model.valve import Measurement
from fifthwire.register.store import Register
from fifthwire.visitfile.entry_paths import READING, quoted
from fifthwire.workflow.visit_fill import SINGLE_PARTS, measurement_id_of, running_path, standing, valve_in
from fifthwire.workflow.visits_kept import add_entry, visit_of

_MOST_TRIES: Final = 5
"""How often a table that others write to meanwhile is merged again before that is said.  [1]  Our choice."""


def take_reading(
    register: Register, who: Person, visit_id: str, label: str, pins: tuple[str, str], shown: float | str, *, when: str
) -> EntryKept:
    """Write one reading down.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id, label : str
        The visit, and the valve's label in it.
    pins : tuple of str
        That were touched.
    shown : float or str
        Ohms, "open", or ohms with their unit.
    when : str
        State that is measured; its table is made where it is not there yet.

    Raises
    ------
    InputError
        If one pin is named twice, or what the meter showed cannot be read.
    """
    if pins[0] == pins[1]:
        raise InputError(f"Pin {pins[0]} is named twice. Nothing was kept.", "Choose two different pins.")
    whole = visit_of(register, who, visit_id)
    valve, key = valve_in(whole, label)
    measurement_id = measurement_id_of(valve, when)
    path = f"valves/{key}/readings"
    if measurement_id is not None:
        if not measurement_id:
            body = {"when": when, "measured_at": Measurement().measured_at}
            measurement_id = add_entry(register, who, visit_id, f"valves/{key}/measurements", body).id
        path = f"valves/{key}/measurements/{quoted(measurement_id)}/readings"
    return add_entry(register, who, visit_id, path, {READING: [*pins, shown]})


def say_of_valve(
    register: Register,
    who: Person,
    visit_id: str,
    label: str,
    part: str,
    said: Mapping[str, Any],
    *,
    version: int | None = None,
) -> EntryKept:
    """Write down a part of a valve's page.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id, label : str
        The visit, and the valve's label in it.
    part : str
        before | look | move | board
    said : mapping
        The keys of the table as in a visit file; None takes a key out.
    version : int, optional
        Of the visit that the person saw.

    Raises
    ------
    InputError
        If the part is none, or what it says cannot be.
    Conflict
        If somebody has said something else there since.
    """
    whole = visit_of(register, who, visit_id)
    _, key = valve_in(whole, label)
    path = f"valves/{key}"
    if part in SINGLE_PARTS:
        path += f"/{SINGLE_PARTS[part]}"
    elif part != "before":
        raise InputError(f"{part[:40]} is no part of a valve's page.", "One of before, look, move, board.")
    return add_entry(register, who, visit_id, path, merged(standing(whole, path), said), expected_version=version)


def say_of_system(
    register: Register, who: Person, visit_id: str, table: str, said: Mapping[str, Any], *, version: int | None = None
) -> EntryKept:
    """Write down what holds for the whole system: its state, or the snapshot of its running.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id : str
        The visit.
    table : str
        system | snapshot
    said : mapping
        The keys of the table as in a visit file; None takes a key out, tables are merged.
    version : int, optional
        Of the visit that the person saw; left out: merged with what stands there now.
    """
    if table not in ("system", "snapshot"):
        raise InputError(f"{table[:40]} is no table of the system.", "One of system, snapshot.")
    for _ in range(_MOST_TRIES):
        whole = visit_of(register, who, visit_id)
        body = merged(standing(whole, table), said)
        seen = whole.kept.version if version is None else version
        try:
            return add_entry(register, who, visit_id, table, body, expected_version=seen)
        except Conflict:
            if version is not None:
                raise
    raise Conflict("Others keep writing to this visit. Yours was not kept.", "Try again in a moment.")


def say_how_it_runs(register: Register, who: Person, visit_id: str, label: str, said: Mapping[str, Any]) -> EntryKept:
    """Write down how a valve runs, into the visit's snapshot.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        The actor.
    visit_id, label : str
        The visit, and the valve's label in it.
    said : mapping
        Keys of its unit's or of its own table in the snapshot.
    """
    whole = visit_of(register, who, visit_id)
    valve, _ = valve_in(whole, label)
    kind, name = running_path(valve)
    own = {**said, "valve": label} if kind == "units" else dict(said)
    return say_of_system(register, who, visit_id, "snapshot", {kind: {name: own}})


def merged(held: Mapping[str, Any], said: Mapping[str, Any]) -> dict[str, Any]:
    """A table with other keys written over it, tables inside it likewise; None takes a key out.

    Examples
    --------
    >>> merged({"a": 1, "t": {"x": 1, "y": 2}}, {"a": None, "t": {"y": 3}})
    {'t': {'x': 1, 'y': 3}}
    """
    made = dict(held)
    for key, value in said.items():
        if isinstance(value, Mapping):
            inside = made.get(key, {})
            made[key] = merged(inside if isinstance(inside, Mapping) else {}, value)
        elif value is None:
            made.pop(key, None)
        else:
            made[key] = value
    return made
