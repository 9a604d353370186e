"""An addition to a visit in words, for previews, lists of what changed, and notes that strike something out."""

from collections.abc import Mapping
from typing import Any, Final

from fifthwire.model.words import word

LONGEST: Final = 120
"""Characters of what one addition says; its whole body is shown where it is opened.  Our choice."""
PLACES: Final[dict[str, str]] = {
    "visit": "visit",
    "system": "system",
    "specs": "spec",
    "meters": "meter",
    "curves": "sensor curve",
    "snapshot": "snapshot",
    "snapshots": "snapshot",
    "work": "work",
    "notes": "note",
    "photographs": "photograph",
    "proofs": "proof",
    "confirmations": "make-safe step",
    "sensors": "sensor",
    "step_tests": "step test",
    "evidence": "finding of a log",
    "readings": "reading",
    "measurements": "measurement",
    "inspection": "look",
    "movement": "movement",
    "board": "board",
    "file": "file",
}
"""What the last word of a path is called."""


def entry_words(path: str, body: Mapping[str, Any]) -> str:
    """What an addition says, in one line.

    Examples
    --------
    >>> entry_words("valves/OU1-main/readings", {"reading": ["5", "1", 64.9]})
    'OU1-main, reading: 5 to 1, 64.9 Ω'
    >>> entry_words("work", {"valve": "OU1-main", "done": "cleaned"})
    'work: OU1-main, cleaned'
    """
    said = _said(body)
    where = _place(path)
    return f"{where}: {said}" if said else where


def _place(path: str) -> str:
    steps = [step.replace("%2F", "/").replace("%25", "%") for step in path.split("/")]
    if steps[0] == "valves":
        last = PLACES.get(steps[-1], "") if len(steps) > 2 else ""
        return f"{steps[1]}, {last}" if last else f"{steps[1]}, valve"
    kind = PLACES.get(steps[0], steps[0])
    return f"{kind} {steps[1]}" if len(steps) > 1 else kind


def _said(body: Mapping[str, Any]) -> str:
    row = body.get("reading")
    if isinstance(row, list) and len(row) == 3:
        value = "open" if row[2] == "open" else f"{row[2]} Ω" if isinstance(row[2], int | float) else str(row[2])
        return f"{row[0]} to {row[1]}, {value}"
    said = ", ".join(_pair(key, value) for key, value in body.items() if not isinstance(value, dict | list))
    return said if len(said) <= LONGEST else said[: LONGEST - 3] + "..."


def _pair(key: str, value: Any) -> str:
    if key in ("valve", "id", "text", "done", "what", "about", "kind", "result", "when"):
        return word(str(value)) if key in ("done", "what", "kind", "result", "when") else str(value)
    shown = {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else value
    return f"{key.replace('_', ' ')} {shown}"
