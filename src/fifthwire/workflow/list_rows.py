"""The rows of a building's list of valves, each checked, with every problem by row and column."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any, Final

from fifthwire.model.choices import ACCESS, HEADS, REFRIGERANTS, ROLES, VALVE_KINDS
from fifthwire.model.errors import InputError
from fifthwire.model.kept.lists import ListProblem, ListRow
from fifthwire.model.kept.places import UNIT_KINDS
from fifthwire.model.nearest import nearest
from fifthwire.model.record import record
from fifthwire.model.units import parse_quantity
from fifthwire.workflow import place_fields as field

COLUMNS: Final[dict[str, str]] = {
    "system": "the system; may be left out where the list is of one system",
    "unit": "needed: the unit that the valve sits in, as IU07",
    "role": f"needed: {' | '.join(ROLES)}",
    "number": "1 or 2, where the unit has two of one role",
    "label": "what people call it; left out: unit and role",
    "kind": f"{' | '.join(VALVE_KINDS)}; left out: {VALVE_KINDS[0]}",
    "head": f"needed unless it is a solenoid: {' | '.join(HEADS)}",
    "access": " | ".join(ACCESS),
    "spec": "what its head should measure: a name in the manuals",
    "part_label": "as printed on the head",
    "head_installed": "when the head was fitted, as 2014-06-01",
    "unit_kind": f"{' | '.join(UNIT_KINDS)}; left out: as the role says",
    "room": "of an indoor unit",
    "branch_unit": "the branch unit that it hangs on",
    "capacity": "of the unit, with its unit of measure: 3.6 kW",
    "refrigerant": "of the system, as R410A",
}
"""What a list may say, a column each, and what for."""
NEEDED: Final = ("unit", "role")
SAME: Final[dict[str, str]] = {"id": "label", "valve": "label", "capacity_kw": "capacity"}
"""Other headings for the same: those of a visit's list, and those of our own export."""
SITE: Final = "site"
"""A column that our own export has: rows of another site are refused."""
NOT_HERE: Final = ("meter", "last_removed", "winding", "resistance", "tolerance", "at")
"""Columns of a visit's list that belong to a visit or to the manuals: passed over, so that one list serves both."""
MOST_PROBLEMS: Final = 200
"""Named of one list; nobody reads further.  Our choice."""


@record
class ReadList:
    """A list as read."""

    rows: tuple[ListRow, ...] = ()
    problems: tuple[ListProblem, ...] = ()


class Problems:
    """Gathers what is wrong, by row and column."""

    def __init__(self) -> None:
        self.found: list[ListProblem] = []

    def add(self, row: int, column: str, message: str, hint: str = "") -> None:
        """One thing wrong."""
        self.found.append(ListProblem(row=row, column=column, message=message, hint=hint))

    def is_full(self) -> bool:
        """Whether reading on would tell nobody more."""
        return len(self.found) >= MOST_PROBLEMS


def read_rows(table: Sequence[Sequence[str]], *, site: str, system: str | None = None) -> ReadList:
    """The rows of a list.

    Parameters
    ----------
    table : sequence
        Rows of cells, the headings first.
    site : str
        Name of the site that it goes to.
    system : str, optional
        Name of the one system that the list is of.

    Returns
    -------
    ReadList
        Rows that could be read, and every problem.
    """
    problems = Problems()
    if not table:
        problems.add(1, "", "The list is empty.", f"Its first row names the columns: {', '.join(COLUMNS)}.")
        return ReadList(problems=tuple(problems.found))
    columns = _columns(table[0], problems, needs_system=system is None)
    if problems.found:
        return ReadList(problems=tuple(problems.found))
    rows = []
    for count, cells in enumerate(table[1:], start=2):
        if any(cells) and not problems.is_full():
            row = _row(count, _cells(cells, columns, count, problems), (site, system), problems)
            rows += [row] if row is not None else []
    _told_apart(rows, problems)
    return ReadList(rows=tuple(rows), problems=tuple(sorted(problems.found, key=lambda one: one.row)[:MOST_PROBLEMS]))


def _columns(headings: Sequence[str], problems: Problems, *, needs_system: bool) -> list[str]:
    """The key of each column; empty for one that is passed over."""
    keys = []
    for heading in headings:
        bare = heading.casefold().strip().replace(" ", "_").replace("-", "_")
        key = SAME.get(bare, bare)
        if key not in (*COLUMNS, SITE, *NOT_HERE):
            near = nearest(key, COLUMNS)
            hint = f"Did you mean {near}?" if near else f"Known are {', '.join(COLUMNS)}."
            problems.add(1, heading, f"The column {heading or 'without a name'} is not known.", hint)
        if key and key in keys and key not in NOT_HERE:
            problems.add(1, heading, f"The column {key} stands there twice.", "Keep one of them.")
        keys.append(key if key in (*COLUMNS, SITE) else "")
    for needed in (*NEEDED, *(("system",) if needs_system else ())):
        if needed not in keys:
            problems.add(1, needed, f"The column {needed} is missing.", f"It says: {COLUMNS[needed]}.")
    return keys


def _cells(cells: Sequence[str], columns: Sequence[str], count: int, problems: Problems) -> dict[str, str]:
    if len(cells) > len(columns):
        problems.add(count, "", f"The row has {len(cells)} cells, and there are {len(columns)} columns.")
    return {key: cell for key, cell in zip(columns, cells, strict=False) if key and cell}


def _row(count: int, cells: Mapping[str, str], at: tuple[str, str | None], problems: Problems) -> ListRow | None:
    """One valve, or its problems."""
    before = len(problems.found)
    read = _Reader(count, cells, problems)
    site, system = at
    if cells.get(SITE, site) != site:
        problems.add(count, SITE, f"The list goes to {site}, and this row says {cells[SITE]}.", "Take the row out.")
    role = read.one_of("role", ROLES, needed=True)
    kind = read.one_of("kind", VALVE_KINDS) or VALVE_KINDS[0]
    head = read.one_of("head", HEADS, needed=kind != "solenoid")
    unit = read.name("unit", needed=True)
    number = read.number()
    given: dict[str, Any] = {
        "system": read.of_system(system),
        "unit_kind": read.one_of("unit_kind", UNIT_KINDS) or kind_of_unit(role or ""),
        "label": read.name("label") or default_label(unit or "", role or "", number),
        "access": read.one_of("access", ACCESS),
        "spec": read.name("spec"),
        "room": read.name("room"),
        "branch_unit": read.name("branch_unit"),
        "capacity_kw": read.capacity_kw(),
        "part_label": read.name("part_label"),
        "head_installed": read.day("head_installed"),
        "refrigerant": read.one_of("refrigerant", REFRIGERANTS),
    }
    if len(problems.found) > before or role is None or unit is None:
        return None
    return ListRow(row=count, unit=unit, role=role, number=number, kind=kind, head=head, **given)


def default_label(unit: str, role: str, number: int | None) -> str:
    """What a valve is called where nobody says otherwise.

    >>> default_label("OU1", "main", 2)
    'OU1-main2'
    """
    return f"{unit}-{role}{number or ''}"


def kind_of_unit(role: str) -> str:
    """The kind of unit that a valve of a role sits in.

    >>> kind_of_unit("indoor"), kind_of_unit("branch-liquid"), kind_of_unit("injection")
    ('indoor', 'branch', 'outdoor')
    """
    return "branch" if role.startswith("branch-") else "indoor" if role == "indoor" else "outdoor"


class _Reader:
    """Reads the cells of one row; what cannot be read is a problem and nothing."""

    def __init__(self, row: int, cells: Mapping[str, str], problems: Problems) -> None:
        self._row, self._cells, self._problems = row, cells, problems

    def _problem(self, column: str, err: InputError) -> None:
        self._problems.add(self._row, column, err.message, err.hint)

    def _missing(self, column: str) -> None:
        self._problems.add(self._row, column, f"{column} is missing.", f"It says: {COLUMNS[column]}.")

    def one_of(self, column: str, words: Sequence[str], *, needed: bool = False) -> str | None:
        """One of a few words, whatever its case."""
        written = self._cells.get(column)
        if written is None:
            if needed:
                self._missing(column)
            return None
        same = {word.casefold(): word for word in words}
        try:
            return field.one_of(same.get(written.casefold(), written), words, f"a {column} that is known here")
        except InputError as err:
            self._problem(column, err)
            return None

    def name(self, column: str, *, needed: bool = False) -> str | None:
        """A name."""
        written = self._cells.get(column)
        if written is None:
            if needed:
                self._missing(column)
            return None
        try:
            return field.name(written, column)
        except InputError as err:
            self._problem(column, err)
            return None

    def of_system(self, system: str | None) -> str:
        """The system's name, which is that of the list where the list is of one."""
        written = self.name("system", needed=system is None)
        if system is not None and written not in (None, system):
            what = f"The list is of {system}, and this row says {written}."
            self._problems.add(self._row, "system", what, "Import it for the whole site, or take the row out.")
        return system or written or ""

    def number(self) -> int | None:
        """Which of two of one role."""
        written = self._cells.get("number")
        if written is None:
            return None
        if not written.isdecimal() or not 1 <= int(written) <= 99:
            self._problems.add(self._row, "number", f"{written} is no number of a valve.", "Write 1, 2 or nothing.")
            return None
        return int(written)

    def capacity_kw(self) -> float | None:
        """The unit's capacity. [kW]"""
        written = self._cells.get("capacity")
        if written is None:
            return None
        try:
            value = parse_quantity(float(written) if _is_number(written) else written, "kW")
            return field.within(value, 0.0, field.LARGEST_KW, "A capacity", "kW")
        except InputError as err:
            self._problem("capacity", err)
            return None

    def day(self, column: str) -> date | None:
        """A date."""
        written = self._cells.get(column)
        try:
            return None if written is None else date.fromisoformat(written)
        except ValueError:
            self._problems.add(self._row, column, f"{written} is no date.", "Write it as 2014-06-01.")
            return None


def _is_number(written: str) -> bool:
    try:
        float(written)
    except ValueError:
        return False
    return True


def _told_apart(rows: Sequence[ListRow], problems: Problems) -> None:
    """Two rows for one valve, or one label for two."""
    places: dict[tuple[Any, ...], int] = {}
    labels: dict[tuple[str, str], int] = {}
    kinds: dict[tuple[str, str], ListRow] = {}
    for row in rows:
        other = places.setdefault((row.system, row.unit, row.role, row.number), row.row)
        if other != row.row:
            hint = "Number them 1 and 2, or take one row out."
            problems.add(row.row, "role", f"{row.unit} has a {row.role} on row {other} too.", hint)
        other = labels.setdefault((row.system, row.label), row.row)
        if other != row.row:
            problems.add(row.row, "label", f"{row.label} stands on row {other} too.", "Give each valve its own label.")
        first = kinds.setdefault((row.system, row.unit), row)
        if first.unit_kind != row.unit_kind:
            what = f"{row.unit} is an {first.unit_kind} unit on row {first.row}, and here an {row.unit_kind} one."
            problems.add(row.row, "unit_kind", what, "Give the two units names of their own.")
    _agreed(rows, problems)


def _agreed(rows: Sequence[ListRow], problems: Problems) -> None:
    """Two rows that say different things of one system or one unit, and units that hang on what is none."""
    first: dict[tuple[str, ...], tuple[Any, int]] = {}
    kinds = {(row.system, row.unit): row for row in reversed(rows)}
    for row in rows:
        for column, about, said in _said_of_places(row):
            before, at = first.setdefault((column, *about), (said, row.row))
            if before != said:
                what = f"{about[-1]} has another {column} on row {at}."
                problems.add(row.row, column, what, "Look which of both is right.")
        behind = kinds.get((row.system, row.branch_unit or ""))
        if behind is not None and behind.unit_kind != "branch":
            what = f"{behind.unit} is an {behind.unit_kind} unit on row {behind.row}, and no branch unit."
            problems.add(row.row, "branch_unit", what, "Look which of both is right.")


def _said_of_places(row: ListRow) -> Iterator[tuple[str, tuple[str, ...], Any]]:
    """Column, system and unit that it is about, and what the row says; what it leaves empty it does not say."""
    if row.refrigerant is not None:
        yield "refrigerant", (row.system,), row.refrigerant
    for column, said in (("room", row.room), ("branch_unit", row.branch_unit), ("capacity", row.capacity_kw)):
        if said is not None:
            yield column, (row.system, row.unit), said
