"""`fifthwire meters`: meters by their serial numbers."""

from argparse import Namespace
from typing import Final

from fifthwire.cli.things import Verb, answer, do_verb, or_before, show_page, table
from fifthwire.model.kept.manuals import MeterKept
from fifthwire.model.kept.people import Person
from fifthwire.workflow import meters
from fifthwire.workflow.register_place import Register

THINGS: Final[dict[str, tuple[str, ...]]] = {
    "list": (),
    "show": ("SERIAL",),
    "add": ("SERIAL", "TABLE"),
    "change": ("SERIAL", "TABLE"),
}


def run(arguments: Namespace) -> int:
    """Do what the verb says."""
    return do_verb(arguments, _VERBS, THINGS, creates=arguments.verb == "add")


def _list(register: Register, who: Person, arguments: Namespace) -> None:
    empty = """No meter is kept. Write: fifthwire meters add SERIAL '{"accuracy": "0.9 % + 2 digits"}'"""
    heads = ("serial", "name", "calibrated", "entered by")
    show_page(meters.list_meters(register, who, page=arguments.page), arguments, heads, _cells, empty)


def _cells(one: MeterKept) -> tuple[object, ...]:
    return (one.serial, one.name, one.meter.calibrated, one.by)


def _show(register: Register, who: Person, arguments: Namespace) -> None:
    one = meters.meter_of_serial(register, who, arguments.things[0])
    answer(one, arguments, f"{one.id}  {one.serial} {one.name or ''}, version {one.version}")


def _add(register: Register, who: Person, arguments: Namespace) -> None:
    serial, written = arguments.things
    kept = meters.add_meter(register, who, serial=serial, meter=table(written), name=arguments.name)
    answer(kept, arguments, kept.id)


def _change(register: Register, who: Person, arguments: Namespace) -> None:
    serial, written = arguments.things
    before = meters.meter_of_serial(register, who, serial)
    kept = meters.change_meter(
        register,
        who,
        before.id,
        version=or_before(arguments.seen, before.version),
        serial=serial,
        meter=table(written),
        name=or_before(arguments.name, before.name),
    )
    answer(kept, arguments, f"{kept.serial}, version {kept.version}")


_VERBS: Final[dict[str, Verb]] = {"list": _list, "show": _show, "add": _add, "change": _change}
