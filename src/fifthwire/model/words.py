"""What people see for the keys: labels on screens, in reports and on the command line, in one table."""

from typing import Final

WORDS: Final[dict[str, str]] = {
    # heads
    "clip-on": "coil",
    "bolt-on": "motor",
    # verdicts and causes
    "sound": "good",
    "faulty": "faulty",
    "undecided": "not proven",
    "not-measured": "not checked",
    "open-winding": "open winding",
    "open-common": "open common",
    "shorted-turns": "shorted turns",
    "bad-contact": "poor contact in plug or pin",
    "bridged": "short between windings",
    "wrong-head": "another head, or the wrong manual page",
    "bad-reading": "doubtful reading",
    "winding": "winding",
    "head-jammed": "head jammed",
    "head-cracked": "head cracked",
    "head-unseated": "head not seated",
    "body-stuck-open": "body stuck open",
    "body-stuck-closed": "body stuck closed",
    "leaks-when-shut": "leaks through when shut",
    "plug-or-harness": "plug or harness",
    "board-output": "board output",
    "sensor": "sensor",
    "refrigerant-side": "refrigerant side: charge, airflow, restriction",
    "other": "something else",
    # actions
    "keep": "leave as it is",
    "clean": "clean, then test again",
    "reseat": "seat it again, then test",
    "replace-head": "replace the head",
    "replace-body": "replace the body",
    "repair-plug-or-harness": "repair the plug or harness",
    "check-board": "check the board's output",
    "check-sensor": "check the sensor",
    "check-refrigerant-side": "check the refrigerant side: charge, airflow, restriction",
    "watch": "watch",
    "check-more": "check more before deciding",
    # urgency and meanwhile
    "now": "now",
    "planned": "planned",
    "none": "none",
    "unit-off": "keep the unit off",
    "valve-held-shut": "hold the valve shut",
    "branch-isolated": "isolate the branch",
    "limit-load": "limit the load",
    "system-off": "keep the system off",
    # roles
    "main": "main valve",
    "subcooler-bypass": "subcooling valve (its vapour returns to suction)",
    "injection": "injection valve",
    "hot-gas-bypass": "hot-gas bypass valve",
    "receiver": "receiver valve",
    "indoor": "indoor unit's valve",
    "branch-liquid": "heat-recovery branch unit: its liquid valve",
    "branch-hot-gas": "heat-recovery branch unit: its hot-gas valve",
    "branch-suction": "heat-recovery branch unit: its suction valve",
    "branch-subcooler": "heat-recovery branch unit: its subcooling valve",
    # steps and tools
    "service_state": "all valves open for service",
    "hand_magnet": "manual opening magnet",
}

SURE_AT: Final = 0.95
"""From here on a cause is called sure.  [1]  Judgement: docs/decisions/0004-three-thresholds.md."""
PROBABLE_AT: Final = 0.70
"""From here on a cause is called probable.  [1]  Judgement: docs/decisions/0004-three-thresholds.md."""


def word(key: str) -> str:
    """What a person reads for a key; a key without an entry reads as itself, with spaces for dashes."""
    return WORDS.get(key, key.replace("-", " ").replace("_", " "))


def how_sure(probability: float) -> str:
    """Sure, probable or not proven.

    >>> how_sure(0.96), how_sure(0.8), how_sure(0.5)
    ('sure', 'probable', 'not proven')
    """
    if probability >= SURE_AT:
        return "sure"
    return "probable" if probability >= PROBABLE_AT else "not proven"


def head_word(head: str | None) -> str:
    """Coil for a clip-on head, motor for a bolt-on one, head where it is neither or not known."""
    return WORDS.get(head or "", "head")
