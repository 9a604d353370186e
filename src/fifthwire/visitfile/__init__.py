"""Visit and plant files: text into records with every problem and its place, visits into JSON, and the shape of all."""

from typing import TYPE_CHECKING, Any

from fifthwire.visitfile.reading import ReadVisit, read_visit

if TYPE_CHECKING:
    from fifthwire.visitfile.blank import template
    from fifthwire.visitfile.blank_plant import plant_template
    from fifthwire.visitfile.json_schema import plant_schema, schema
    from fifthwire.visitfile.plant import read_plant
    from fifthwire.visitfile.writing import visit_to_json

__all__ = [
    "ReadVisit",
    "plant_schema",
    "plant_template",
    "read_plant",
    "read_visit",
    "schema",
    "template",
    "visit_to_json",
]

_SELDOM = {
    "plant_template": "fifthwire.visitfile.blank_plant",
    "plant_schema": "fifthwire.visitfile.json_schema",
    "read_plant": "fifthwire.visitfile.plant",
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
