"""Tables as people keep them, CSV and XLSX: read as text, written so that no spreadsheet runs what stands in a cell.

A cell that begins with = + - @, a tab or a line break is written with an apostrophe before it, and read back without;
a formula in a file that comes in is taken as the text that it is.
"""

import csv
import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from typing import Any, Final

from fifthwire.model.errors import InputError
from fifthwire.workflow.uploads import NOTHING_KEPT, checked_upload

RUNS: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What a spreadsheet takes for the start of a formula, the wide forms of the same signs too."""
MOST_ROWS: Final = 100_000
MOST_COLUMNS: Final = 100
LONGEST_CELL: Final = 10_000
"""Our choice, each: a list beyond them was made by mistake."""
SUFFIXES: Final = (".csv", ".xlsx")


def neutral(cell: Any) -> str:
    """A cell that no spreadsheet runs.

    >>> neutral("=1+1"), neutral("IU07"), neutral(None), neutral("'=1+1")
    ("'=1+1", 'IU07', '', "''=1+1")
    """
    text = "" if cell is None else str(cell)
    return f"'{text}" if text.lstrip(" '").startswith(RUNS) and not isinstance(cell, int | float) else text


def as_text(cell: Any) -> str:
    """A cell as the text that stands in it, without the apostrophe that keeps it from being run.

    >>> as_text("'=1+1"), as_text(7.0), as_text(True), as_text("O'Brien")
    ('=1+1', '7', 'yes', "O'Brien")
    """
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    if isinstance(cell, date):
        return cell.isoformat()
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    text = str(cell)
    is_kept = text.startswith("'") and text.lstrip(" '").startswith(RUNS)
    return (text[1:] if is_kept else text).strip()


def read_table(content: bytes, name: str) -> list[list[str]]:
    """The rows of a table as text, from its first; empty rows at the end are left out.

    Parameters
    ----------
    content : bytes
        CSV in UTF-8, parted by comma, semicolon or tab; or XLSX, of which the first sheet is read.
    name : str
        Of the file, for messages.

    Raises
    ------
    InputError
        If it is neither, or larger than any list.
    """
    kind = checked_upload(name, content, "text", "zip")
    rows = list(_xlsx_rows(content, name) if kind == "zip" else _csv_rows(content, name))
    while rows and not any(rows[-1]):
        rows.pop()
    return rows


def _csv_rows(content: bytes, name: str) -> Iterator[list[str]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as err:
        raise InputError(f"{name} is not UTF-8 text. {NOTHING_KEPT}", "Save the list as CSV, UTF-8.") from err
    parting = max(",;\t", key=text.partition("\n")[0].count)
    try:
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=parting, strict=True)
        for count, row in enumerate(reader):
            yield _checked(row, count, name)
    except csv.Error as err:
        raise InputError(f"{name} is no list: {err}. {NOTHING_KEPT}", "Save it as CSV, UTF-8.") from err


def _xlsx_rows(content: bytes, name: str) -> Iterator[list[str]]:
    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=False, keep_links=False)
        try:
            sheet = book.worksheets[0]
            sheet.reset_dimensions()  # what a file says of its size may be wrong, and costs memory where it is large
            for count, row in enumerate(sheet.iter_rows(values_only=True)):
                yield _checked(row, count, name)
        finally:
            book.close()
    except InputError:
        raise
    except (InvalidFileException, zipfile.BadZipFile, KeyError, ValueError, IndexError, TypeError, AttributeError,
            OSError, EOFError, SyntaxError, NotImplementedError) as err:  # fmt: skip
        raise InputError(
            f"{name} is no XLSX table that can be read. {NOTHING_KEPT}", "Save it anew, or as CSV."
        ) from err


def _checked(row: Sequence[Any], count: int, name: str) -> list[str]:
    if count > MOST_ROWS:
        raise InputError(f"{name} has more than {MOST_ROWS:,} rows. {NOTHING_KEPT}", "Import it in parts.")
    cells = [as_text(cell) for cell in row]
    while cells and not cells[-1]:
        cells.pop()
    if len(cells) > MOST_COLUMNS:
        raise InputError(
            f"{name}, row {count + 1}, has {len(cells)} columns. {NOTHING_KEPT}", "Take out what is empty."
        )
    if any(len(cell) > LONGEST_CELL for cell in cells):
        raise InputError(f"{name}, row {count + 1}, has a cell of endless text. {NOTHING_KEPT}", "Shorten it.")
    return cells


def write_table(suffix: str, headings: Sequence[str], rows: Iterable[Sequence[Any]], *, sheet: str = "list") -> bytes:
    """A table as a file.

    Parameters
    ----------
    suffix : str
        `.csv` or `.xlsx`.
    headings : sequence of str
        The first row.
    rows : iterable
        The others; every cell is written as neutral text.
    sheet : str
        Name of an XLSX file's only sheet.

    Raises
    ------
    InputError
        If it is neither suffix.
    """
    if suffix not in SUFFIXES:
        raise InputError(f"{suffix} is no kind of list.", "Choose .csv or .xlsx.")
    if suffix == ".csv":
        written = io.StringIO(newline="")
        writer = csv.writer(written, quoting=csv.QUOTE_ALL)  # whatever sign parts the cells where it is opened
        writer.writerow(headings)
        writer.writerows([neutral(cell) for cell in row] for row in rows)
        return written.getvalue().encode("utf-8-sig")
    return _xlsx(headings, rows, sheet)


def _xlsx(headings: Sequence[str], rows: Iterable[Sequence[Any]], sheet: str) -> bytes:
    from openpyxl import Workbook
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    book = Workbook(write_only=True)
    page = book.create_sheet(sheet)
    page.append(list(headings))
    for row in rows:
        page.append([ILLEGAL_CHARACTERS_RE.sub("?", neutral(cell)) for cell in row])
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()
