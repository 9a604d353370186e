"""What a report is made of: sections of a few kinds of block, all plain data, so that every form of it says the same.

The page in HTML and the print in PDF both lay out these records and nothing else; a new page of the report is a new
section, not a new layout.
"""

from typing import Literal, TypeAlias

from fifthwire.model.record import record


@record
class Labelled:
    """A label and what it says."""

    label: str
    text: str
    is_struck: bool = False


@record
class Paragraph:
    """Running text."""

    text: str
    tone: Literal["plain", "lead", "quiet", "struck"] = "plain"
    kind: Literal["paragraph"] = "paragraph"


@record
class Facts:
    """Labels with their values, a line each."""

    facts: tuple[Labelled, ...]
    kind: Literal["facts"] = "facts"


@record
class Items:
    """A list under a word of its own; steps are numbered, a caution is boxed."""

    label: str
    texts: tuple[str, ...]
    tone: Literal["plain", "steps", "caution"] = "plain"
    kind: Literal["items"] = "items"


@record
class Column:
    """A column of a table."""

    label: str
    is_figure: bool = False
    """Numbers: one width a digit, already padded to stand on their decimal point."""
    share: float = 1.0
    """Of the width, beside the others'."""


@record
class Row:
    """A row: a cell a column; the mark, where there is one, stands before the first."""

    cells: tuple[str, ...]
    mark: str = ""
    anchor: str = ""
    """Of the sheet that its first cell leads to."""
    doubt: str = ""
    """What makes the first cell doubtful."""
    is_struck: bool = False


@record
class Table:
    """A table; on a narrow screen each row becomes a small block, its labels beside its values."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    does_stack: bool = True
    """Whether its rows become blocks on a narrow screen; a table of a few short columns stays one."""
    is_compact: bool = False
    """On a narrow screen the cells of a row run on in one line: for many rows of a few short words."""
    kind: Literal["table"] = "table"


@record
class Legend:
    """The marks that this report uses, with their words."""

    marks: tuple[Labelled, ...]
    """`label` is the mark's key."""
    kind: Literal["legend"] = "legend"


@record
class Picture:
    """A drawing in classes of ink; the layout gives them their colours."""

    svg: str
    """What stands inside the `svg` element."""
    width: int
    height: int
    caption: str
    """What is printed over it."""
    title: str
    """The same with the valve's name, for who cannot see where it stands."""
    description: str
    kind: Literal["picture"] = "picture"


@record
class Signature:
    """A line to sign on."""

    statement: str
    fields: tuple[Labelled, ...]
    kind: Literal["signature"] = "signature"


@record
class Sheet:
    """One valve: its mark and name as a heading, words on one side, drawings on the other."""

    anchor: str
    heading: str
    mark: str
    mark_word: str
    place: str
    """What it is and where it sits."""
    words: tuple[Paragraph | Items | Facts, ...]
    pictures: tuple[Picture | Table | Paragraph | Facts, ...]
    kind: Literal["sheet"] = "sheet"


Block: TypeAlias = Paragraph | Facts | Items | Table | Legend | Picture | Signature | Sheet


@record
class Section:
    """A heading with what stands under it."""

    anchor: str
    heading: str
    blocks: tuple[Block, ...]


@record
class Report:
    """A report, whole."""

    title: str
    language: str
    site: str
    system: str
    date: str
    """As people read it."""
    date_iso: str
    technician: str
    program: str
    paper: Literal["a4", "us-letter"]
    header: tuple[Labelled, ...]
    short: tuple[Labelled, ...]
    """The three plain lines."""
    sections: tuple[Section, ...]
