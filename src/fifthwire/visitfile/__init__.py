"""Visit files: text into records with every problem and its place, records into JSON, and the shape of both."""

from typing import TYPE_CHECKING, Any

from fifthwire.visitfile.reading import ReadVisit, read_visit

if TYPE_CHECKING:
    from fifthwire.visitfile.blank import template
    from fifthwire.visitfile.json_schema import schema
    from fifthwire.visitfile.writing import visit_to_json

__all__ = ["ReadVisit", "read_visit", "schema", "template", "visit_to_json"]

_SELDOM = {
    "schema": "fifthwire.visitfile.json_schema",
    "template": "fifthwire.visitfile.blank",
    "visit_to_json": "fifthwire.visitfile.writing",
}
"""What few commands need, loaded when it is asked for."""


def __getattr__(name: str) -> Any:
    if name not in _SELDOM:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module = __import__(_SELDOM[name], fromlist=[name])
    return getattr(module, name)
