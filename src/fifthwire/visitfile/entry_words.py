"""An addition to a visit in words, for previews, lists of what changed, and notes that strike something out."""

from collections.abc import Mapping
from typing import Any, Final

from fifthwire.model.fields import FieldNote, describe
from fifthwire.model.kept.entry_words import PLACES
from fifthwire.model.words import word
from fifthwire.visitfile.entry_paths import READING, kind_of, quoted, unquoted

LONGEST: Final = 120
"""Characters of what one addition says; its whole body is shown where it is opened.  Our choice."""
SIGNS: Final = {"ohm": "Ω", "degC": "°C"}
"""How a unit is shown; others are shown as they are spelled."""
SAID_ALONE: Final = ("id", "text", "valve", "done", "what", "about", "kind", "result", "when", "role", "head")
"""Keys whose value says enough without them."""


def entry_words(path: str, body: Mapping[str, Any]) -> str:
    """What an addition says, in one line.

    Examples
    --------
    >>> entry_words("valves/OU1-main/readings", {"reading": ["5", "1", 64.9]})
    'OU1-main, reading: 5 to 1, 64.9 Ω'
    >>> entry_words("work", {"valve": "OU1-main", "done": "cleaned"})
    'work: OU1-main, cleaned'
    >>> entry_words("specs/clip", {"winding": "unipolar-5", "resistance": 62.0, "at": 20.0})
    'spec clip: winding unipolar 5, resistance 62 Ω, at 20 °C'
    """
    said = _reading(body) or _table(path, body)
    said = said if len(said) <= LONGEST else said[: LONGEST - 3] + "..."
    where = _place(path)
    return f"{where}: {said}" if said else where


def _place(path: str) -> str:
    steps = [unquoted(step) for step in path.split("/")]
    if steps[0] == "valves":
        return f"{steps[1]}, {PLACES.get(steps[-1], steps[-1])}" if len(steps) > 2 else f"{steps[1]}, valve"
    kind = PLACES.get(steps[0], steps[0])
    return f"{kind} {steps[1]}" if len(steps) > 1 else kind


def _reading(body: Mapping[str, Any]) -> str:
    row = body.get(READING)
    if not isinstance(row, list) or len(row) != 3:
        return ""
    value = "open" if row[2] == "open" else f"{row[2]} Ω" if isinstance(row[2], int | float) else str(row[2])
    return f"{row[0]} to {row[1]}, {value}"


def _table(path: str, body: Mapping[str, Any]) -> str:
    """The keys of a table in the order of the format; what is as it would be without a word is left out."""
    kind = kind_of(path)
    notes = describe(kind.record) if kind is not None and kind.record is not None else ()
    known = {note.key: note for note in notes}
    ordered = [*(key for key in known if key in body), *(key for key in body if key not in known)]
    said = []
    for key in ordered:
        value, note = body[key], known.get(key)
        is_default = note is not None and value == getattr(kind.record, note.name, None) if kind is not None else False
        is_label = key == "id" and path == f"valves/{quoted(str(value))}"
        if not isinstance(value, dict | list) and not is_label and not (is_default and len(body) > 1):
            said.append(_pair(key, value, note))
    return ", ".join(said)


def _pair(key: str, value: Any, note: FieldNote | None) -> str:
    shown = _value(value, note)
    return shown if key in SAID_ALONE else f"{key.replace('_', ' ')} {shown}"


def _value(value: Any, note: FieldNote | None) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        unit = SIGNS.get(note.unit, note.unit) if note is not None else ""
        return f"{value:.6g} {unit}".rstrip()
    return word(value) if note is not None and note.choices else str(value)
