"""On which line each key and element of a TOML document stands: the parser of the standard library does not say.

The document has been parsed before, so it is known to be right; this second reading only follows its structure. It is
made only where there is a problem to report.
"""

import tomllib
from bisect import bisect_right
from typing import Final

from fifthwire.visitfile.places import Steps

_BLANK: Final = " \t"
_BARE_ENDS: Final = frozenset(" \t\n=.]\"'")
_VALUE_ENDS: Final = frozenset(",]}\n#")


def toml_lines(text: str) -> dict[Steps, int]:
    """The line of every table, key and array element.

    Parameters
    ----------
    text : str
        A document that `tomllib` accepts.

    Returns
    -------
    dict
        Steps from the root to the line, 1 for the first. A table is where its header stands, or the first key that
        makes it; an element where it begins.

    Examples
    --------
    >>> toml_lines('a.b = 1\\nc = [\\n  2,\\n]\\n[[d]]\\n')
    {('a',): 1, ('a', 'b'): 1, ('c',): 2, ('c', 0): 3, ('d',): 5, ('d', 0): 5}
    """
    reading = _Reading(text)
    reading.document()
    return reading.lines


def deep_key_line(text: str, deepest: int) -> int | None:
    """The line of the first key with more parts than `deepest`; the document may be anything."""
    reading = _Reading(text, deepest)
    try:
        reading.document()
    except (IndexError, ValueError, RecursionError):
        return reading.deep_line  # not TOML beyond this point: the parser says what is wrong there
    return reading.deep_line


class _TooDeepError(ValueError):
    """A key has too many parts."""


class _Reading:
    """One pass over a document."""

    __slots__ = ("_arrays", "_at", "_deepest", "_starts", "_text", "deep_line", "lines")

    def __init__(self, text: str, deepest: int | None = None) -> None:
        self._text = text.replace("\r\n", "\n") + "\n"
        self._at = 0
        self._deepest = deepest
        self._starts = [0, *(at + 1 for at, sign in enumerate(self._text) if sign == "\n")]
        self._arrays: dict[Steps, int] = {}
        self.lines: dict[Steps, int] = {}
        self.deep_line: int | None = None

    def document(self) -> None:
        base: Steps = ()
        while self._next_statement():
            if self._text[self._at] == "[":
                base = self._header()
            else:
                self._pair(base)

    def _line(self, at: int) -> int:
        return bisect_right(self._starts, at)

    def _next_statement(self) -> bool:
        self._skip(" \t\n")
        return self._at < len(self._text)

    def _skip(self, blanks: str) -> None:
        """Past blanks and comments."""
        text, at, end = self._text, self._at, len(self._text)
        while at < end:
            if text[at] in blanks:
                at += 1
            elif text[at] == "#":
                at = text.index("\n", at)
            else:
                break
        self._at = at

    def _header(self) -> Steps:
        start = self._at
        is_array = self._text.startswith("[[", start)
        self._at += 2 if is_array else 1
        key = self._key()
        self._at = self._text.index("]", self._at) + (2 if is_array else 1)
        return self._open_table(key, is_array, self._line(start))

    def _open_table(self, key: Steps, is_array: bool, line: int) -> Steps:
        path: Steps = ()
        for depth, part in enumerate(key):
            path = (*path, part)
            is_last = depth == len(key) - 1
            self.lines.setdefault(path, line)
            if is_last and is_array:
                self._arrays[path] = self._arrays.get(path, 0) + 1
            if path in self._arrays:
                path = (*path, self._arrays[path] - 1)
            if is_last:
                self.lines[path] = line
        return path

    def _key(self) -> Steps:
        parts: list[str] = []
        start = self._at
        while True:
            self._skip_blanks()
            parts.append(self._key_part())
            self._skip_blanks()
            if self._deepest is not None and len(parts) > self._deepest:
                self.deep_line = self._line(start)
                raise _TooDeepError
            if self._text[self._at] != ".":
                return tuple(parts)
            self._at += 1

    def _skip_blanks(self) -> None:
        while self._text[self._at] in _BLANK:
            self._at += 1

    def _key_part(self) -> str:
        start = self._at
        quote = self._text[start]
        if quote in "\"'":
            self._string()
            written = self._text[start : self._at]
            return str(tomllib.loads(f"k={written}")["k"]) if "\\" in written else written[1:-1]
        while self._text[self._at] not in _BARE_ENDS:
            self._at += 1
        return self._text[start : self._at]

    def _pair(self, base: Steps) -> None:
        line = self._line(self._at)
        path = base
        for part in self._key():
            path = (*path, part)
            self.lines.setdefault(path, line)
        self._at = self._text.index("=", self._at) + 1
        self._skip_blanks()
        self._value(path)

    def _value(self, path: Steps) -> None:
        sign = self._text[self._at]
        if sign in "\"'":
            self._string()
        elif sign == "[":
            self._elements(path)
        elif sign == "{":
            self._inline_table(path)
        else:
            start = self._at
            while self._text[self._at] not in _VALUE_ENDS:
                self._at += 1
            if self._at == start:
                raise ValueError("no value")  # never in TOML; read on, it would be looked for without end

    def _elements(self, path: Steps) -> None:
        self._at += 1
        index = 0
        while True:
            self._skip(" \t\n,")
            if self._text[self._at] == "]":
                break
            self.lines[(*path, index)] = self._line(self._at)
            self._value((*path, index))
            index += 1
        self._at += 1

    def _inline_table(self, path: Steps) -> None:
        self._at += 1
        while True:
            self._skip(" \t\n,")
            if self._text[self._at] == "}":
                break
            self._pair(path)
        self._at += 1

    def _string(self) -> None:
        quote = self._text[self._at]
        if self._text.startswith(quote * 3, self._at):
            self._long_string(quote)
            return
        end = self._closing(quote, self._at + 1)
        self._at = end + 1

    def _long_string(self, quote: str) -> None:
        end = self._closing(quote * 3, self._at + 3) + 3
        while end < len(self._text) and self._text[end] == quote:  # the string itself may end with two quotes
            end += 1
        self._at = end

    def _closing(self, quotes: str, start: int) -> int:
        """Where the string ends, past every escape; literal strings (single quotes) have none."""
        text = self._text
        end = text.index(quotes, start)
        if quotes[0] == "'":
            return end
        while (escape := text.find("\\", start, end)) >= 0:
            start = escape + 2
            if start > end:
                end = text.index(quotes, start)
        return end
