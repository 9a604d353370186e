"""The JSON Schema of a visit and of a plant, made from the notes of their fields: what another program may check.

A schema says the shape of a file. What it cannot say (names that must be in the file, units of the right kind, valves
that are told apart) the reader checks.
"""

from typing import Any, Final

from fifthwire.model.choices import LOG_CAUSES, VALVE_CURVES
from fifthwire.model.fields import FieldNote, Kind, describe
from fifthwire.model.plant import PLANT_FORMAT, PLANT_MINOR, Plant
from fifthwire.model.units import LONGEST_NUMBER
from fifthwire.model.visit import VISIT_FORMAT, VISIT_MINOR, Visit
from fifthwire.visitfile.version import MAJOR

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_NUMBER: Final = r"[-+−]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?"
_DAY: Final = {"type": "string", "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "format": "date"}
_ABOVE_0: Final = {"type": "number", "exclusiveMinimum": 0}
_FROM_0: Final = {"type": "number", "minimum": 0}
_OPEN: Final = {"type": "string", "pattern": r"^\s*[oO][pP][eE][nN]\s*$"}
_WIRE: Final = {"anyOf": [{"type": "string", "pattern": r"\S"}, {"type": "integer"}]}
_PERCENT: Final = {"type": "string", "pattern": rf"^\s*{_NUMBER}\s*%\s*$"}


def schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a visit in JSON, for the version that this program writes.

    Returns
    -------
    dict
        The schema; every table is a definition of its own, and keys that it does not name are not allowed.
    """
    return _of_file(Visit, VISIT_FORMAT, VISIT_MINOR, "A visit")


def plant_schema() -> dict[str, Any]:
    """The same of a plant."""
    return _of_file(Plant, PLANT_FORMAT, PLANT_MINOR, "A plant")


def _of_file(record: type, name: str, minor: int, title: str) -> dict[str, Any]:
    definitions: dict[str, Any] = {}
    root = _table(record, definitions)
    version = f"{name}/{MAJOR}"
    later = r"(\.[0-9]+)?" if minor else r"(\.0+)?"
    root["properties"] = {"format": {"type": "string", "pattern": f"^{version}{later}$"}, **root["properties"]}
    root["required"] = ["format", *root["required"]]
    return {
        "$schema": DIALECT,
        "$id": f"{version}.schema.json",
        "title": title,
        **root,
        "$defs": dict(sorted(definitions.items())),
    }


def _table(record: type, definitions: dict[str, Any]) -> dict[str, Any]:
    notes = describe(record)
    table: dict[str, Any] = {
        "type": "object",
        "description": (record.__doc__ or "").strip().partition("\n")[0],
        "properties": {note.key: _field(note, definitions) for note in notes},
        "additionalProperties": False,
    }
    required = [note.key for note in notes if note.required]
    if required:
        table["required"] = required
    if record.__name__ == "Valve":
        solenoid = {"properties": {"kind": {"const": "solenoid"}}, "required": ["kind"]}
        table |= {"if": solenoid, "else": {"required": ["head"]}}
    return table


def _field(note: FieldNote, definitions: dict[str, Any]) -> dict[str, Any]:
    described = {"description": note.help + (f" [{note.unit}]" if note.unit else "")}
    if note.record is None:
        return described | _value(note)
    name = note.record.__name__
    if name not in definitions:
        definitions[name] = {}  # reserved, so that a record may stand inside itself
        definitions[name] = _table(note.record, definitions)
    reference = {"$ref": f"#/$defs/{name}"}
    if note.kind is Kind.LIST:
        rows = {"type": "array", "items": reference}
        return described | ({"anyOf": [rows, reference]} if note.or_one else rows)
    if note.kind is Kind.TABLE:
        return described | {"type": "object", "additionalProperties": reference}
    return described | reference


def _value(note: FieldNote) -> dict[str, Any]:
    if note.kind is Kind.SPECIAL:
        return _BY_GRAMMAR[note.special]
    if note.kind is Kind.CHOICE:
        return {"enum": list(note.choices)}
    if note.kind in (Kind.QUANTITY, Kind.NUMBER):
        return _either(_limited(note))
    if note.kind is Kind.INTEGER:
        return {**_limited(note), "type": "integer"}
    return {
        Kind.TEXT: {"type": "string", **({"pattern": r"\S"} if note.required else {})},
        Kind.FLAG: {"type": "boolean"},
        Kind.DAY: _DAY,
        Kind.MOMENT: {"type": "string", "format": "date-time"},
    }[note.kind]


def _limited(note: FieldNote) -> dict[str, Any]:
    """A bare number within what is possible; a string with a unit has other limits, which the reader knows."""
    limits = {"minimum": note.low, "exclusiveMinimum": note.above, "maximum": note.high}
    return {"type": "number", **{name: value for name, value in limits.items() if value is not None}}


def _either(number: dict[str, Any]) -> dict[str, Any]:
    """A bare number, or a string with a unit."""
    with_unit = {"type": "string", "pattern": rf"^\s*{_NUMBER}\s*\S", "maxLength": 3 * LONGEST_NUMBER}
    return {"anyOf": [number, with_unit]}


def _row(*items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "prefixItems": list(items), "minItems": len(items), "maxItems": len(items)}


_OPENING: Final = {"anyOf": [_FROM_0, {"type": "string", "pattern": rf"^\s*{_NUMBER}\s*(%|pulses?|steps)\s*$"}]}
_OHM: Final = _either(_ABOVE_0)
_OHM_OR_OPEN: Final = {"anyOf": [_OPEN, *_either(_FROM_0)["anyOf"]]}
_BY_GRAMMAR: Final[dict[str, dict[str, Any]]] = {
    "tolerance": {"anyOf": [_PERCENT, *_OHM["anyOf"]]},
    "accuracy": {"type": "string", "pattern": "[0-9][^%]*%"},
    "ohm-pair": _row(_OHM, _OHM),
    "readings": {"type": "array", "items": _row(_WIRE, _WIRE, _OHM_OR_OPEN)},
    "insulation": {"anyOf": [_FROM_0, {"type": "string", "pattern": rf"^\s*[>≥]?=?\s*{_NUMBER}\s*\S"}]},
    "insulation-test": {"anyOf": [{"type": "string", "pattern": rf"^\s*({_NUMBER}\s*k?V|[mM]eter)\s*$"}, _ABOVE_0]},
    "wires": {"anyOf": [_WIRE, {"type": "array", "items": _WIRE, "maxItems": 2, "uniqueItems": True}]},
    "day-or-never": {"anyOf": [_DAY, {"type": "string", "pattern": "^[nN]ever$"}]},
    "pulses": {"anyOf": [{"type": "boolean"}, {"type": "object", "additionalProperties": {"type": "boolean"}}]},
    "opening": _OPENING,
    "opening-pair": _row(_OPENING, _OPENING),
    "kelvin-pair": _row(*[_either({"type": "number"})] * 2),
    "curve-table": {"type": "array", "minItems": 2, "items": _row(_either({"type": "number"}), _OHM)},
    "three-numbers": _row(*[{"type": "number"}] * 3),
    "ohm-or-open": _OHM_OR_OPEN,
    "sha256": {"type": "string", "pattern": "^[0-9a-fA-F]{64}$"},
    "speed-range": _row(_either(_ABOVE_0), _either(_ABOVE_0)),
    "valve-curve": {
        "anyOf": [
            {"enum": list(VALVE_CURVES)},
            {"type": "array", "minItems": 2, "items": _row(_either(_FROM_0), _either(_FROM_0))},
        ]
    },
    "log-likelihood": {
        "type": "object",
        "properties": {cause: {"type": "number"} for cause in LOG_CAUSES},
        "additionalProperties": False,
        "minProperties": 1,
    },
}
