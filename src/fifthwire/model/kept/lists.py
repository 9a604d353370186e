"""A building's list of valves as it is read from a table: every row, and every problem by row and column."""

from datetime import date

from fifthwire.model.record import record


@record
class ListProblem:
    """One thing wrong in a table, and where."""

    row: int
    """As the table counts it: the line of headings is 1."""
    column: str
    """Its heading; empty where the row as a whole is meant."""
    message: str
    hint: str = ""


@record
class ListRow:
    """A valve as a row of the table names it."""

    row: int
    system: str
    unit: str
    unit_kind: str
    role: str
    number: int | None = None
    label: str
    kind: str = "eev"
    head: str | None = None
    access: str | None = None
    spec: str | None = None
    """Name of what its head should measure, in the manuals."""
    room: str | None = None
    branch_unit: str | None = None
    capacity_kw: float | None = None
    part_label: str | None = None
    head_installed: date | None = None
    refrigerant: str | None = None
    is_known: bool = False
    """Whether the register has this valve already."""


@record
class ListPreview:
    """What a table would bring in. Nothing is written while there is a problem."""

    name: str
    """Of the file."""
    rows: tuple[ListRow, ...] = ()
    problems: tuple[ListProblem, ...] = ()
    n_new: int = 0
    n_known: int = 0
    n_new_systems: int = 0
    n_new_units: int = 0


@record
class ImportedList:
    """What a table brought in."""

    site_id: str
    n_new: int = 0
    n_changed: int = 0
    n_same: int = 0
    n_new_systems: int = 0
    n_new_units: int = 0
