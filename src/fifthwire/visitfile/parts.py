"""One table of a visit file on its own: a spec or a meter as the manuals keep it, or as a form gives it."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

from fifthwire.model.errors import VisitFileError
from fifthwire.model.visit import VISIT_MINOR, Meter, Spec
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.problems import Problems
from fifthwire.visitfile.reading import read_visit
from fifthwire.visitfile.records import read_record
from fifthwire.visitfile.version import MAJOR

_T = TypeVar("_T")
_NAME = "-"


def part_from_table(record: type[_T], table: Mapping[str, Any]) -> _T:
    """A record from a table that was written by this program or a later one.

    Parameters
    ----------
    record : type
        Such as `model.visit.Spec`.
    table : mapping
        Its keys as in a file; keys that are not known here are kept in it.

    Raises
    ------
    VisitFileError
        If a value cannot be read.

    Examples
    --------
    >>> part_from_table(Spec, {"winding": "unipolar-5", "resistance": 62.0}).resistance_ohm
    62.0
    """
    problems = Problems(record.__name__.lower(), "toml")
    context = Context(problems)
    context.minor, context.keeps_unknown = VISIT_MINOR, True
    made: _T = read_record(record, dict(table), (), context)
    if len(problems):
        raise problems.error(lambda _: None)
    return made


def spec_from_table(table: Mapping[str, Any]) -> Spec:
    """A spec from what a person wrote, with every check that a visit file's spec goes through.

    Raises
    ------
    VisitFileError
        With every problem and the key that it is about.

    Examples
    --------
    >>> spec_from_table({"winding": "unipolar-5", "resistance": "0.062 kohm"}).resistance_ohm
    62.0
    """
    spec: Spec = _checked("specs", table)
    return spec


def meter_from_table(table: Mapping[str, Any]) -> Meter:
    """A meter from what a person wrote, with every check that a visit file's meter goes through.

    Raises
    ------
    VisitFileError
        With every problem and the key that it is about.
    """
    meter: Meter = _checked("meters", table)
    return meter


def _checked(family: str, table: Mapping[str, Any]) -> Any:
    from json import dumps

    tree = {
        "format": f"fifthwire/visit/{MAJOR}",
        "visit": {"date": "2000-01-01", "site": _NAME, "system": _NAME},
        family: {_NAME: dict(table)},
    }
    name = family.removesuffix("s")
    try:
        return getattr(read_visit(dumps(tree, default=str), name=name, syntax="json").visit, family)[_NAME]
    except VisitFileError as err:
        start = f"/{family}/{_NAME}/"
        problems = tuple(
            replace(one, place=one.place.removeprefix(start).removeprefix(start[:-1]), line=None)
            for one in err.problems
        )
        raise VisitFileError(name, problems) from err
