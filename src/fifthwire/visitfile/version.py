"""The first line of a file: which format it is, and whether this program can read it."""

from typing import Any, Final

from fifthwire.model.errors import VisitFileError
from fifthwire.model.visit import VISIT_FORMAT, VISIT_MINOR
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.problems import the_one_problem
from fifthwire.visitfile.values import shown

MAJOR: Final = 1
_FORMATS: Final = {
    "fifthwire/visit": "a visit",
    "fifthwire/assessment": "what the program made of a visit",
    "fifthwire/log-map": "the map of a log",
    "fifthwire/screening": "what the program made of a log",
    "fifthwire/plant": "a plant to be simulated",
    "fifthwire/state": "the state of a simulated plant",
}


def read_version(
    tree: dict[str, Any], context: Context, *, wanted: str = VISIT_FORMAT, newest_minor: int = VISIT_MINOR
) -> None:
    """Set the version of the file in the context.

    Parameters
    ----------
    tree : dict
        The file.
    context : Context
        Of this reading.
    wanted : str
        The format that is asked for.
    newest_minor : int
        The newest minor version of it that this program knows.

    Raises
    ------
    VisitFileError
        If it is another format or a later major version: nothing in it can be trusted to mean what it says.
    """
    hint = f'write format = "{wanted}/{MAJOR}"'
    if "format" not in tree:
        context.problems.add(("format",), "format is missing", f"{hint} as the first line")
        return
    written = tree["format"]
    name, major, minor = _parts(written)
    if name is None or major is None:
        context.problems.add(("format",), f"{shown(written)} is no format", hint)
        return
    if name != wanted:
        what = wanted.rpartition("/")[2]
        raise _refused(context, f"{shown(written)} is {_FORMATS.get(name, 'another format')}, no {what}", hint)
    if major != MAJOR:
        raise _refused(
            context,
            f"{shown(written)} is version {major}; this program reads version {MAJOR}",
            "a newer version of this program reads it" if major > MAJOR else hint,
        )
    context.minor = minor
    if minor > newest_minor:
        context.keeps_unknown = True
        context.problems.warn(("format",), "visit.later-version", version=f"{major}.{minor}")


def _parts(written: Any) -> tuple[str | None, int | None, int]:
    """Name, major and minor of `name/MAJOR.MINOR`."""
    if not isinstance(written, str):
        return None, None, 0
    name, _, version = written.rpartition("/")
    major, point, minor = version.partition(".")
    if not _is_count(major) or (point and not _is_count(minor)):
        return (written if written in _FORMATS else None), None, 0
    return name, int(major), int(minor or 0)


def _is_count(digits: str) -> bool:
    return digits.isascii() and digits.isdigit() and len(digits) < 6


def _refused(context: Context, message: str, hint: str) -> VisitFileError:
    problems = context.problems
    at = "/format" if problems.syntax == "json" else "format"
    return the_one_problem(problems.name, message, hint, at=at)
