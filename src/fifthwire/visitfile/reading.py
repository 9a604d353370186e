"""A visit file into a visit, or every problem in it at once."""

from dataclasses import dataclass, replace
from datetime import tzinfo
from typing import Any, Literal

from fifthwire.model.assessment import Reason
from fifthwire.model.errors import InputError
from fifthwire.model.units import air_at_altitude_kpa_abs, parse_quantity
from fifthwire.model.visit import Visit
from fifthwire.visitfile.checks import check_visit
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.contradictions import warn_of_contradictions
from fifthwire.visitfile.parsing import check_tree, decode, parse
from fifthwire.visitfile.places import Steps
from fifthwire.visitfile.problems import Lines, Problems, TooManyProblemsError
from fifthwire.visitfile.records import read_record
from fifthwire.visitfile.values import shown
from fifthwire.visitfile.version import read_version
from fifthwire.visitfile.voids import mark_voids


@dataclass(frozen=True, slots=True)
class ReadVisit:
    """A visit, and what in its file is doubtful without making it unusable."""

    visit: Visit
    warnings: tuple[Reason, ...]


def read_visit(text: str | bytes, *, name: str, syntax: Literal["toml", "json"]) -> ReadVisit:
    """Read a visit.

    Parameters
    ----------
    text : str | bytes
        The file; bytes are read as UTF-8.
    name : str
        The file as the person named it, for messages.
    syntax : str
        "toml" or "json"; both hold the same keys.

    Returns
    -------
    ReadVisit
        The visit with its warnings.

    Raises
    ------
    VisitFileError
        With every problem and its place and line, or with the one syntax error.
    """
    text = decode(text, name)
    tree = parse(text, name, syntax)
    problems = Problems(name, syntax)
    try:
        visit = _read_tree(tree, problems)
    except TooManyProblemsError:
        visit = None
    if visit is None or len(problems):
        raise problems.error(lines_of_text(text, syntax))
    warn_of_contradictions(visit, problems)
    return ReadVisit(visit=visit, warnings=problems.warnings)


def _read_tree(tree: dict[str, Any], problems: Problems) -> Visit:
    """A visit that may be used only if no problem was found."""
    context = Context(problems)
    read_version(tree, context)
    check_tree(tree, problems)
    problems.settle()
    set_air_and_zone(tree, context)
    visit: Visit = read_record(Visit, tree, (), context)
    if visit.format_minor != context.minor:
        visit = replace(visit, format_minor=context.minor)
    visit = mark_voids(visit, problems)
    check_visit(visit, problems)
    return visit


def set_air_and_zone(tree: dict[str, Any], context: Context) -> None:
    """What readings elsewhere in the file depend on; a value that cannot be read is told where it stands."""
    header = tree.get("visit")
    if not isinstance(header, dict):
        return
    try:
        if "barometer" in header:
            context.air_kpa_abs = parse_quantity(header["barometer"], "kPa")
        elif "altitude" in header:
            context.air_kpa_abs = air_at_altitude_kpa_abs(parse_quantity(header["altitude"], "m"))
    except (InputError, ValueError, ArithmeticError, TypeError):
        pass
    if isinstance(header.get("time_zone"), str):
        context.zone = _zone(header["time_zone"], context)


def _zone(name: str, context: Context) -> tzinfo | None:
    from zoneinfo import ZoneInfo, available_timezones  # costly to load, and few files need it

    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        if not available_timezones():
            return None  # no table of zones on this machine: only a time without an offset needs it
        from fifthwire.model.nearest import nearest

        near = nearest(name, available_timezones())
        hint = f'did you mean "{near}"?' if near else 'write Area/City: "Europe/London"'
        context.problems.add(("visit", "time_zone"), f"{shown(name)} is no time zone known here", hint)
        return None


def lines_of_text(text: str, syntax: str) -> Lines:
    """Finds the line of a place, or of what holds it; made only where there is a problem to report."""
    if syntax == "json":
        from fifthwire.visitfile.json_lines import json_lines as lines_of
    else:
        from fifthwire.visitfile.toml_lines import toml_lines as lines_of
    known = lines_of(text)

    def line_of(steps: Steps) -> int | None:
        while steps and steps not in known:
            steps = steps[:-1]
        return known.get(steps) if steps else None

    return line_of
