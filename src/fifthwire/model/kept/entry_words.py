"""What the tables of a visit are called where one addition is told in a line."""

from typing import Final

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
