"""What a new visit takes over: from an earlier visit what stays the same, or from a list the valves there are."""

import csv
from dataclasses import replace
from datetime import date
from re import sub
from typing import Any, Final

from fifthwire.model.errors import Problem, VisitFileError
from fifthwire.model.nearest import nearest
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Meter, System, Visit, VisitHeader
from fifthwire.visitfile import read_visit
from fifthwire.workflow.files import file_error

LIST_COLUMNS: Final = (
    "id", "unit", "number", "role", "kind", "head", "spec", "meter", "last_removed", "head_installed", "access",
    "part_label",
)  # fmt: skip
"""What a list may say of a valve: the keys of a visit file that are known before the visit."""
SPEC_COLUMNS: Final = ("winding", "resistance", "tolerance", "at")
"""What a list may say of the spec that a row names: keys of a spec, on the first row of it or on every one."""
NEEDED_COLUMNS: Final = ("id", "unit", "role")
STAYS: Final = (
    "id", "unit", "number", "role", "kind", "head", "spec", "meter", "last_removed", "head_installed", "access",
    "part_label", "common",
)  # fmt: skip
"""What stays the same from one visit to the next."""


def carried_over(last: Visit, today: date) -> Visit:
    """The visit to come at the same system: what is there and what the manuals say, without a reading.

    A head that was measured or worked on came off that day; one that was replaced was new that day. What the meter
    made of its check resistor belongs to its own day and is left out.

    Parameters
    ----------
    last : Visit
        An earlier visit.
    today : date
        Day of the new one.
    """
    header = VisitHeader(
        date=today,
        time_zone=last.header.time_zone,
        technician=last.header.technician,
        site=last.header.site,
        system=last.header.system,
        altitude_m=last.header.altitude_m,
    )
    return Visit(
        header=header,
        system=System(refrigerant=last.system.refrigerant, installed=last.system.installed),
        specs=last.specs,
        meters={name: _next_meter(meter) for name, meter in last.meters.items()},
        valves=tuple(_next_valve(valve, last) for valve in last.valves if not valve.is_void),
        curves=last.curves,
    )


def _next_meter(meter: Meter) -> Meter:
    return replace(meter, check_resistor_ohm=None, leads_ohm=None)


def _next_valve(valve: Valve, last: Visit) -> Valve:
    kept: dict[str, Any] = {name: getattr(valve, name) for name in STAYS}
    done = {work.done for work in last.work if work.valve == valve.id and not work.is_void}
    if valve.readings or valve.measurements or done:
        kept["last_removed"] = last.header.date
    if "replaced-head" in done:
        kept["head_installed"] = last.header.date
        kept["part_label"] = next((work.part for work in last.work if work.valve == valve.id and work.part), None)
    return Valve(**kept)


def listed_valves(content: bytes, name: str, today: date) -> Visit:
    """A visit with the valves of a list: CSV with a header line, a column a key.

    Parameters
    ----------
    content : bytes
        Of the list.
    name : str
        Of its file.
    today : date
        Day of the visit.

    Raises
    ------
    VisitFileError
        If it is no such list, with every problem and its line.
    """
    rows, columns = _table(content, name)
    problems: list[Problem] = []
    tables = [_valve_table(row, columns, line, problems) for line, row in rows]
    problems += _twice(rows, columns)
    if problems:
        raise VisitFileError(name, tuple(sorted(problems, key=lambda of: of.line or 0)))
    return _checked(tables, [line for line, _ in rows], name, today)


def _table(content: bytes, name: str) -> tuple[list[tuple[int, list[str]]], list[str]]:
    """The rows that hold something with their lines, and the columns; a semicolon parts them as well as a comma."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as err:
        raise file_error(name, "is not UTF-8 text", "Save the list as CSV, UTF-8.") from err
    first = text.partition("\n")[0]
    parting = max(",;\t", key=first.count)
    try:
        reader = csv.reader(text.splitlines(), delimiter=parting, strict=True)
        rows = [
            (reader.line_num, [cell.strip() for cell in row]) for row in reader if any(cell.strip() for cell in row)
        ]
    except csv.Error as err:
        raise file_error(name, f"is no list: {err}", "Save it as CSV, UTF-8.") from err
    if not rows:
        raise file_error(name, "is empty", f"The first line names the columns: {', '.join(LIST_COLUMNS)}.")
    columns = [cell.casefold().replace(" ", "_") for cell in rows[0][1]]
    problems = [_column_problem(column) for column in columns if column not in (*LIST_COLUMNS, *SPEC_COLUMNS)]
    problems += [
        Problem(place="", message=f"column {needed} is missing", hint="Needed are id, unit and role.", line=1)
        for needed in NEEDED_COLUMNS
        if needed not in columns
    ]
    if problems:
        raise VisitFileError(name, tuple(problems))
    return rows[1:], columns


def _column_problem(column: str) -> Problem:
    near = nearest(column, (*LIST_COLUMNS, *SPEC_COLUMNS))
    hint = f"Did you mean {near}?" if near else f"Known are {', '.join(LIST_COLUMNS)}."
    return Problem(place="", message=f"column {column or 'without a name'} is not known", hint=hint, line=1)


def _valve_table(row: list[str], columns: list[str], line: int, problems: list[Problem]) -> dict[str, Any]:
    if len(row) > len(columns) and any(row[len(columns) :]):
        problems.append(
            Problem(place="", message=f"has {len(row)} cells, and there are {len(columns)} columns", line=line)
        )
    table: dict[str, Any] = {column: cell for column, cell in zip(columns, row, strict=False) if cell}
    for column, cell in list(table.items()):
        try:
            table[column] = _typed(column, cell)
        except ValueError:
            hint = "Write a whole number." if column == "number" else "Write it as 2021-04-02."
            problems.append(Problem(place=column, message=f'"{cell}" is not understood', hint=hint, line=line))
    return table


def _typed(column: str, cell: str) -> Any:
    if column == "number":
        return int(cell)
    if column in SPEC_COLUMNS and cell.replace(".", "", 1).isdecimal():
        return float(cell)
    if column == "head_installed" or (column == "last_removed" and cell != "never"):
        return date.fromisoformat(cell)
    return cell


def _twice(rows: list[tuple[int, list[str]]], columns: list[str]) -> list[Problem]:
    at, seen, problems = columns.index("id"), dict[str, int](), list[Problem]()
    for line, row in rows:
        label = row[at] if at < len(row) else ""
        if label and label in seen:
            problems.append(Problem(place="id", message=f'"{label}" stands on line {seen[label]} too', line=line))
        seen.setdefault(label, line)
    return problems


def _checked(tables: list[dict[str, Any]], lines: list[int], name: str, today: date) -> Visit:
    """The visit, read as a visit file is, so that a list is checked by the same rules; places become lines."""
    from json import dumps

    specs, line_of_spec = _specs(tables, lines, name)
    tree = {
        "format": "fifthwire/visit/1",
        "visit": {"date": today.isoformat(), "site": "-", "system": "-"},
        "specs": specs,
        "meters": {table["meter"]: {} for table in tables if "meter" in table},
        "valves": tables,
    }
    try:
        return read_visit(dumps(tree, default=str), name=name, syntax="json").visit
    except VisitFileError as err:
        raise VisitFileError(name, tuple(_at_line(of, lines, line_of_spec) for of in err.problems)) from err


def _specs(
    tables: list[dict[str, Any]], lines: list[int], name: str
) -> tuple[dict[str, dict[str, Any]], dict[str, int]]:
    """The specs that the rows name, taken out of them, and the line of each one's first row."""
    specs: dict[str, dict[str, Any]] = {}
    line_of: dict[str, int] = {}
    for table, line in zip(tables, lines, strict=True):
        says: dict[str, Any] = {column: table.pop(column) for column in SPEC_COLUMNS if column in table}
        if "spec" in table:
            line_of.setdefault(table["spec"], line)
            specs[table["spec"]] = {**says, **specs.get(table["spec"], {})}
    missing = [of for of, spec in specs.items() if "winding" not in spec]
    if missing:
        hint = "Add a column winding: unipolar-5, unipolar-6, bipolar-4 or single-2."
        problems = [
            Problem(place="spec", message=f'"{of}" has no winding in any row', hint=hint, line=line_of[of])
            for of in missing
        ]
        raise VisitFileError(name, tuple(problems))
    return specs, line_of


def _at_line(problem: Problem, lines: list[int], line_of_spec: dict[str, int]) -> Problem:
    parts = problem.place.split("/")
    message = sub(r"/valves/(\d+)", lambda found: f"line {lines[int(found[1])]}", problem.message)
    if len(parts) > 2 and parts[1] == "valves":
        return Problem(place="/".join(parts[3:]), message=message, hint=problem.hint, line=lines[int(parts[2])])
    if len(parts) > 2 and parts[1] == "specs":
        line = line_of_spec.get(parts[2].replace("~1", "/").replace("~0", "~"))
        return Problem(place="/".join(parts[3:]), message=message, hint=problem.hint, line=line)
    return Problem(place=problem.place, message=message, hint=problem.hint)
