"""What commands on a register share: opening it, who acts, records as JSON, tables of short rows."""

import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from typing import Any

from fifthwire.cli.terminal import terminal
from fifthwire.model.fields import FileRecord
from fifthwire.model.kept.people import Person, alone
from fifthwire.workflow.register_place import Register, open_place


@contextmanager
def opened(given: str | None, *, create: bool = False) -> Iterator[Register]:
    """The register that an option or the environment names, closed at the end."""
    with open_place(given, create=create) as register:
        yield register


def oneself() -> Person:
    """The person at the command line: whoever can read and write the register's file owns it."""
    from getpass import getuser

    try:
        return alone(getuser())
    except (OSError, KeyError):  # a user without a name
        return alone("")


def as_plain(value: Any) -> Any:
    """A record, and everything in it, as JSON holds it: keys are the names of the fields.

    Examples
    --------
    >>> from fifthwire.model.kept.people import alone
    >>> as_plain((alone("rt"), date(2026, 5, 12)))[1]
    '2026-05-12'
    """
    if isinstance(value, FileRecord):
        from fifthwire.visitfile.writing import table_of

        return table_of(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {of.name: as_plain(getattr(value, of.name)) for of in fields(value)}
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): as_plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [as_plain(inner) for inner in value]
    return value


def show_rows(heads: Sequence[str], rows: Iterable[Sequence[object]], *, empty: str) -> None:
    """Print a table of short rows, its columns as wide as what stands in them; a sentence where there is none.

    Parameters
    ----------
    heads : sequence of str
        Of the columns.
    rows : iterable
        Their cells; None is left empty.
    empty : str
        What to do first, where there are no rows.
    """
    screen = terminal()
    cells = [["" if cell is None else screen.printable(str(cell)) for cell in row] for row in rows]
    if not cells:
        tell(empty)
        return
    widths = [max(len(row[at]) for row in [list(heads), *cells]) for at in range(len(heads))]
    for row in [list(heads), *cells]:
        screen.show("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())


def tell(line: str) -> None:
    """Say something that is no answer: on standard error."""
    terminal(sys.stderr).show(line)
