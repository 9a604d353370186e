"""Values as TOML text, quantities with their unit so that a person reads them at a glance."""

from datetime import UTC, date, datetime
from typing import Any

from fifthwire.model.fields import FieldNote, Kind
from fifthwire.visitfile.places import bare_or_quoted
from fifthwire.visitfile.writing import as_written

_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}
_WITHOUT_UNIT = ("pulses", "min", "mm")
"""Units that a person leaves out."""


def toml_value(note: FieldNote, value: Any) -> str:
    """The value of a field, right of the equals sign."""
    if note.kind is Kind.QUANTITY and note.unit not in _WITHOUT_UNIT:
        return f'"{number(value)} {note.unit}"'
    if note.kind in (Kind.QUANTITY, Kind.NUMBER):
        return number(value)
    if note.special == "curve-table":
        return literal([[f"{number(celsius)} degC", f"{number(ohm)} ohm"] for celsius, ohm in value])
    if note.special == "ohm-pair":
        return literal([f"{number(ohm)} ohm" for ohm in value])
    written = as_written(note, value) if note.kind is Kind.SPECIAL else value
    if note.special in ("tolerance", "insulation") and not isinstance(written, str):
        return f'"{number(written)} {"ohm" if note.special == "tolerance" else "Mohm"}"'
    return literal(value if note.special == "day-or-never" else written)


def number(value: float) -> str:
    """A number with as few digits as read back equal.

    >>> number(62.0), number(0.1), number(1e-7)
    ('62', '0.1', '1e-07')
    """
    short = f"{value:.12g}"
    return short if float(short) == value else repr(value)


def literal(value: Any) -> str:
    """Any value of a file as TOML.

    >>> literal(["5", 1.0, True])
    '["5", 1, true]'
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + "".join(_ESCAPES.get(sign) or _shown(sign) for sign in value) + '"'
    if isinstance(value, int | float):
        return number(value) if isinstance(value, float) else str(value)
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z") if value.tzinfo is UTC else value.isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{bare_or_quoted(key)} = {literal(held)}" for key, held in value.items()) + " }"
    return "[" + ", ".join(literal(held) for held in value) + "]"


def _shown(sign: str) -> str:
    return f"\\u{ord(sign):04X}" if sign < " " or sign == "\x7f" else sign
