"""Meters, known by their serial numbers."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fifthwire.model.errors import InputError, NotFound
from fifthwire.model.kept.manuals import MeterKept
from fifthwire.model.kept.page import Page
from fifthwire.model.kept.people import Person
from fifthwire.model.visit import Meter
from fifthwire.register import audit, manuals
from fifthwire.register.ids import new_id
from fifthwire.register.store import Keep, Register
from fifthwire.visitfile.parts import meter_from_table
from fifthwire.workflow import place_fields as field
from fifthwire.workflow.permission import require


def list_meters(register: Register, who: Person, *, page: int = 1) -> Page[MeterKept]:
    """Meters by serial number."""
    require(who, "read")
    with register.reading() as keep:
        return manuals.list_meters(keep, page=page)


def meter(register: Register, who: Person, meter_id: str) -> MeterKept:
    """A meter.

    Raises
    ------
    NotFound
        If there is none of that id.
    """
    require(who, "read")
    with register.reading() as keep:
        return manuals.meter(keep, meter_id)


def meter_of_serial(register: Register, who: Person, serial: str) -> MeterKept:
    """The meter of a serial number.

    Raises
    ------
    NotFound
        If there is none.
    """
    require(who, "read")
    with register.reading() as keep:
        found = manuals.meter_of_serial(keep, serial)
    if found is None:
        raise NotFound(f"No meter has the serial number {serial}.", "Look for it in the list.")
    return found


def add_meter(
    register: Register, who: Person, *, serial: str, meter: Meter | Mapping[str, Any], name: str | None = None
) -> MeterKept:
    """Keep a new meter.

    Parameters
    ----------
    register : Register
        Where it is kept.
    who : Person
        A lead or owner.
    serial : str
        Its serial number; each meter has its own.
    meter : Meter or mapping
        What its data sheet says; a mapping has the keys of a visit file's meter, with units as people write them.
    name : str, optional
        As visits name it.

    Raises
    ------
    VisitFileError
        If the meter cannot be, with every problem and its key.
    InputError
        If the serial number is taken.
    """
    require(who, "change")
    with register.adding() as keep:
        made = _meter(keep, who, new_id(keep.now_utc), 1, serial, meter, name)
        audit.write_down(keep, who, "meter-changed", made.serial)
        return manuals.add_meter(keep, made)


def change_meter(
    register: Register,
    who: Person,
    meter_id: str,
    *,
    version: int,
    serial: str,
    meter: Meter | Mapping[str, Any],
    name: str | None = None,
) -> MeterKept:
    """Change a meter that was read in this version.

    Raises
    ------
    NotFound
        If there is none of that id.
    Conflict
        If somebody has changed it since; the error holds both.
    VisitFileError
        If the meter cannot be.
    InputError
        If another meter has the serial number.
    """
    require(who, "change")
    with register.adding() as keep:
        changed = manuals.change_meter(keep, _meter(keep, who, meter_id, version, serial, meter, name))
        audit.write_down(keep, who, "meter-changed", changed.serial)
        return changed


def _meter(
    keep: Keep,
    who: Person,
    id_: str,
    version: int,
    serial: str,
    meter: Meter | Mapping[str, Any],
    name: str | None,
) -> MeterKept:
    called = field.name(serial, "a meter (its serial number)")
    of = meter if isinstance(meter, Meter) else meter_from_table({**meter, "serial": called})
    if of.check_resistor_ohm is not None:
        raise InputError("What it made of a known resistor belongs to one visit.", "Write it down there.")
    return MeterKept(
        id=id_,
        serial=called,
        name=field.name(name, "a meter") if name and name.strip() else None,
        meter=replace(of, serial=called),
        by=who.name,
        at_utc=keep.now_utc,
        version=version,
    )
