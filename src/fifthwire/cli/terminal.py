"""What the screen can show: its width, whether it prints more than ASCII, whether bold helps."""

import os
import re
import sys
from typing import Final, TextIO

from fifthwire.cli.columns import screen_columns, told_columns
from fifthwire.model.record import record

PLAIN: Final = str.maketrans(
    {
        "Ω": "ohm", "±": "+/-", "°": "deg", "×": "x", "–": "-", "—": "-", "−": "-", "…": "...", "µ": "u", "Δ": "d",
        "≥": ">=", "≤": "<=", "≈": "~", "·": "|", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2007": " ",
        "’": "'", "“": '"', "”": '"',
        "•": "-", "→": "->", "½": "1/2", "²": "2",
    }
)  # fmt: skip
"""What stands in for a character that the screen cannot print."""

NARROWEST: Final = 40
CONTROL: Final = re.compile(r"\x1b(?!\[[01]m)|[\x00-\x1a\x1c-\x1f\x7f-\x9f]")
"""Characters in a file's text that would move the cursor or change the screen; our own bold is let through."""
PROBE: Final = "○◧■⊖◌⦸●└─┘Ω±°"
"""Every character outside ASCII that the program draws with."""


@record
class Terminal:
    """A stream that people read."""

    stream: TextIO
    width: int | None
    """Columns; None where the output is no screen and lines may be as long as they are."""
    is_plain: bool
    """Only ASCII can be printed."""
    is_bold: bool

    def show(self, line: str = "") -> None:
        """Print one line, in what the stream can print."""
        self.stream.write(self.printable(line) + "\n")

    def printable(self, line: str) -> str:
        """The line in characters that the stream can print, and that print."""
        if not line.isprintable():
            line = CONTROL.sub("?", line)
        if not self.is_plain:
            return line
        encoding = self.stream.encoding or "ascii"
        return line.translate(PLAIN).encode(encoding, "backslashreplace").decode(encoding)

    def bold(self, text: str) -> str:
        """The text in bold, where the stream is a screen and bold is wanted."""
        return f"\x1b[1m{text}\x1b[0m" if self.is_bold else text

    def wrapped(self, text: str, *, indent: str = "") -> list[str]:
        """The text in lines that fit the screen; one line where the output is no screen."""
        if self.width is None:
            return [indent + text]
        from textwrap import wrap

        room = max(self.width, NARROWEST)
        return wrap(text, room, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False) or [indent]


def terminal(stream: TextIO | None = None) -> Terminal:
    """What a stream can show; standard output unless another is given."""
    stream = stream or sys.stdout
    is_screen = stream.isatty()
    return Terminal(
        stream=stream,
        width=screen_columns(stream) if is_screen else told_columns(),
        is_plain=not _can_print(stream),
        is_bold=is_screen and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb",
    )


def _can_print(stream: TextIO) -> bool:
    if stream.encoding is None:
        return True  # held in memory as text
    try:
        PROBE.encode(stream.encoding)
    except (UnicodeEncodeError, LookupError):
        return False
    return True
