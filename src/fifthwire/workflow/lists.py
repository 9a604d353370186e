"""A building's list of valves into the register: looked at first, then kept whole or not at all."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from fifthwire.model.errors import InputError
from fifthwire.model.kept.lists import ImportedList, ListPreview, ListProblem, ListRow
from fifthwire.model.kept.people import Person
from fifthwire.model.kept.places import Site, SystemPlace
from fifthwire.register import audit, manuals, places
from fifthwire.register.store import Keep, Register
from fifthwire.workflow.exporting import export_register
from fifthwire.workflow.list_import import Known, Progress, bring_in, known_of, place_of
from fifthwire.workflow.list_rows import COLUMNS, read_rows
from fifthwire.workflow.list_tables import read_table, write_table
from fifthwire.workflow.permission import require
from fifthwire.workflow.sites import allowed_system

__all__ = ["export_register", "import_valve_list", "preview_valve_list", "valve_list_template"]

EXAMPLES: Final = (
    {"system": "QH-1", "unit": "OU1", "role": "main", "number": "1", "label": "OU1-main1", "head": "bolt-on",
     "access": "roof", "refrigerant": "R410A"},
    {"system": "QH-1", "unit": "OU1", "role": "hot-gas-bypass", "label": "OU1-hotgas", "kind": "solenoid"},
    {"system": "QH-1", "unit": "IU07", "role": "indoor", "head": "clip-on", "access": "ceiling",
     "head_installed": "2014-06-01", "room": "Reading room", "capacity": "3.6 kW"},
)  # fmt: skip
"""Rows of the template, to be written over."""


def valve_list_template(suffix: str) -> bytes:
    """A list to fill in: every column, and three rows to write over.

    Parameters
    ----------
    suffix : str
        `.csv` or `.xlsx`.

    Raises
    ------
    InputError
        If it is neither.
    """
    return write_table(
        suffix, list(COLUMNS), [[row.get(key, "") for key in COLUMNS] for row in EXAMPLES], sheet="valves"
    )


def preview_valve_list(
    register: Register,
    who: Person,
    content: bytes,
    name: str,
    *,
    system_id: str | None = None,
    site_id: str | None = None,
) -> ListPreview:
    """What a list would bring in, and every problem in it by row and column; nothing is written.

    Parameters
    ----------
    register : Register
        Where it would go.
    who : Person
        A lead or owner of the site.
    content : bytes
        CSV or XLSX.
    name : str
        Of the file.
    system_id : str, optional
        The one system that the list is of.
    site_id : str, optional
        The site, where the list names the system of each valve. One of the two is given.

    Raises
    ------
    InputError
        If it is no table at all.
    NotFound
        If the system or site is not one of the person's.
    """
    table = read_table(content, name)
    with register.reading() as keep:
        site, system = _target(keep, who, system_id, site_id)
        read = read_rows(table, site=site.name, system=system.name if system else None)
        known = known_of(keep, site)
        problems = (*read.problems, *_problems(keep, read.rows, known)) if read.rows else read.problems
    new_units = {(row.system, row.unit) for row in read.rows} - set(known.units)
    rows = tuple(replace(row, is_known=place_of(row) in known.valves) for row in read.rows)
    n_known = sum(row.is_known for row in rows)
    return ListPreview(
        name=name,
        rows=rows,
        problems=problems,
        n_new=len(rows) - n_known,
        n_known=n_known,
        n_new_systems=len({row.system for row in rows} - set(known.systems)),
        n_new_units=len(new_units),
    )


def import_valve_list(
    register: Register,
    who: Person,
    content: bytes,
    name: str,
    *,
    system_id: str | None = None,
    site_id: str | None = None,
    progress: Progress | None = None,
) -> ImportedList:
    """Bring a list in: new systems, units and valves are kept, and what it says of known ones is written over them.

    What the list leaves out stays as it is. The same list twice changes nothing.

    Parameters
    ----------
    register, who, content, name, system_id, site_id
        As for `preview_valve_list`.
    progress : callable, optional
        Told how many rows of how many are done.

    Raises
    ------
    InputError
        If there is any problem in it; nothing is written then.
    NotFound
        If the system or site is not one of the person's.
    """
    table = read_table(content, name)
    with register.adding() as keep:
        site, system = _target(keep, who, system_id, site_id)
        read = read_rows(table, site=site.name, system=system.name if system else None)
        known = known_of(keep, site)
        _refuse(name, (*read.problems, *_problems(keep, read.rows, known)))
        done = bring_in(keep, site, known, read.rows, progress)
        audit.write_down(keep, who, "list-imported", site.name, f"{name}: {done.n_new} new, {done.n_changed} changed")
    return done


def _target(keep: Keep, who: Person, system_id: str | None, site_id: str | None) -> tuple[Site, SystemPlace | None]:
    if (system_id is None) == (site_id is None):
        raise InputError("A list is of one site or of one system.", "Name the one or the other.")
    if system_id is not None:
        system = allowed_system(keep, who, system_id, "change")
        return places.site(keep, system.site_id), system
    require(who, "change", site_id=site_id)
    return places.site(keep, str(site_id)), None


def _refuse(name: str, problems: Sequence[ListProblem]) -> None:
    if problems:
        first = problems[0]
        where = f"row {first.row}" + (f", {first.column}" if first.column else "")
        more = f" There are {len(problems)} problems." if len(problems) > 1 else ""
        raise InputError(f"{name}, {where}: {first.message}{more} Nothing of it was kept.", first.hint)


def _problems(keep: Keep, rows: Sequence[ListRow], known: Known) -> tuple[ListProblem, ...]:
    """What does not fit to what the register has."""
    specs = manuals.specs_named(keep)
    by_label = {(key[0], valve.label): valve for key, valve in known.valves.items()}
    listed = {place_of(row) for row in rows}
    found = []
    for row in rows:
        if row.spec is not None and row.spec not in specs:
            hint = "Enter it under Manuals first, or leave the cell empty."
            found.append(
                ListProblem(row=row.row, column="spec", message=f"{row.spec} is not in the manuals.", hint=hint)
            )
        other = by_label.get((row.system, row.label))
        if other is not None and (row.system, other.unit, other.role, other.number) not in (place_of(row), *listed):
            what = f"{row.label} is the label of the {other.role} valve of {other.unit}."
            found.append(ListProblem(row=row.row, column="label", message=what, hint="Give this one another."))
        unit = known.units.get((row.system, row.unit))
        if unit is not None and unit.kind != row.unit_kind:
            what = f"{row.unit} is kept as an {unit.kind} unit."
            found.append(
                ListProblem(row=row.row, column="unit_kind", message=what, hint="Look which of both is right.")
            )
    return tuple(found)
