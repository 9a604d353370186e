"""Open a visit file and assess it."""

import sys
from collections.abc import Callable
from typing import Literal

from fifthwire.assessment.assess import assess
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import Assessment, Reason
from fifthwire.model.nearest import nearest
from fifthwire.model.record import record
from fifthwire.model.visit import Visit
from fifthwire.visitfile import read_visit
from fifthwire.workflow.files import checked_size, file_error, read_file

STANDARD_INPUT = "-"
Syntax = Literal["toml", "json"]


@record
class OpenVisit:
    """A visit as read, and the file it came from."""

    name: str
    """As the person named it; `-` is standard input."""
    syntax: Syntax
    content: bytes
    visit: Visit
    warnings: tuple[Reason, ...]


@record
class AssessedVisit:
    """A visit and what the program makes of it."""

    opened: OpenVisit
    priors: Priors
    assessment: Assessment

    @property
    def visit(self) -> Visit:
        """The visit that was assessed."""
        return self.opened.visit


def syntax_of(name: str, content: bytes) -> Syntax:
    """TOML or JSON: by the file's suffix, else by its first character, which in JSON is a brace.

    >>> syntax_of("a.visit.json", b""), syntax_of("-", b' { "format"'), syntax_of("-", b"format = ")
    ('json', 'json', 'toml')
    """
    suffix = name.lower().rpartition(".")[2]
    if suffix == "json" or suffix == "toml":
        return "json" if suffix == "json" else "toml"
    start = content.removeprefix(b"\xef\xbb\xbf").lstrip()[:1]
    return "json" if start in (b"{", b"[") else "toml"


def read_standard_input() -> bytes:
    """The bytes of standard input, no more than a file may have."""
    from fifthwire.workflow.files import LARGEST_FILE_BYTES

    return sys.stdin.buffer.read(LARGEST_FILE_BYTES + 1)


def open_visit(name: str, *, standard_input: Callable[[], bytes] = read_standard_input) -> OpenVisit:
    """Read a visit file.

    Parameters
    ----------
    name : str
        Path of a `*.visit.toml` or `*.visit.json`; `-` for standard input.
    standard_input : callable
        Gives the bytes of standard input.

    Raises
    ------
    VisitFileError
        If it cannot be read, with every problem and its place.
    """
    is_file = name != STANDARD_INPUT
    shown = name if is_file else "standard input"
    content = read_file(name) if is_file else checked_size(standard_input(), shown)
    syntax = syntax_of(name, content)
    read = read_visit(content, name=shown, syntax=syntax)
    return OpenVisit(name=shown, syntax=syntax, content=content, visit=read.visit, warnings=read.warnings)


def assess_visit_file(opened: OpenVisit, *, priors: Priors, only: str | None = None) -> AssessedVisit:
    """A verdict for every valve of a visit file.

    Parameters
    ----------
    opened : OpenVisit
        The visit as read.
    priors : Priors
        The laws to judge by.
    only : str or None
        Label of the one valve to judge; None for all.

    Raises
    ------
    VisitFileError
        If the visit has no valve of that label.
    """
    if only is not None:
        require_valve(opened, only)
    assessment = assess(opened.visit, priors, only=only, warnings=opened.warnings)
    return AssessedVisit(opened=opened, priors=priors, assessment=assessment)


def require_valve(opened: OpenVisit, label: str) -> None:
    """Stop unless the visit lists a valve of that label.

    Raises
    ------
    VisitFileError
        With the nearest label there is.
    """
    labels = [valve.id for valve in opened.visit.valves if not valve.is_void]
    if label in labels:
        return
    raise file_error(opened.name, f"has no valve {label!r}", _nearest(label, labels))


def _nearest(label: str, labels: list[str]) -> str:
    near = nearest(label, labels)
    if near is not None:
        return f"Did you mean {near}?"
    if not labels:
        return "It lists no valves."
    return "Its valves are " + ", ".join(labels[:12]) + (", ..." if len(labels) > 12 else "") + "."
