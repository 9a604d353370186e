"""How wide the screen is."""

import os
import sys
from typing import Final, TextIO

USUAL: Final = 80


def told_columns() -> int | None:
    """The width that the environment tells; None where it tells none."""
    told = os.environ.get("COLUMNS", "")
    return int(told) if told.isdecimal() and int(told) > 0 else None


def screen_columns(stream: TextIO | None = None) -> int:
    """The width of a screen: as the environment tells, else as the screen does, else the usual one."""
    try:
        return told_columns() or os.get_terminal_size((stream or sys.stdout).fileno()).columns or USUAL
    except (OSError, ValueError, AttributeError):
        return USUAL
