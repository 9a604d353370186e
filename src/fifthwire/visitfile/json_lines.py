"""On which line each key and element of a JSON document stands; made only where there is a problem to report."""

from json.decoder import scanstring  # type: ignore[attr-defined]  # public in CPython and PyPy, not in the stubs
from typing import Final

from fifthwire.visitfile.places import Steps

_BLANK: Final = " \t\n\r,:"


def json_lines(text: str) -> dict[Steps, int]:
    """The line of every key and element of a document that `json` accepts, by the steps from its root.

    Examples
    --------
    >>> json_lines('{"a": 1,\\n "b": [2,\\n 3]}')
    {(): 1, ('a',): 1, ('b',): 2, ('b', 0): 2, ('b', 1): 3}
    """
    lines: dict[Steps, int] = {(): 1}
    open_steps: list[Steps] = []
    positions: list[int] = []
    steps: Steps = ()
    at, line, is_key = 0, 1, False
    while at < len(text):
        sign = text[at]
        if sign in _BLANK:
            line += sign == "\n"
            is_key = is_key or (sign == "," and bool(positions) and positions[-1] < 0)
            at += 1
        elif sign in "]}":
            open_steps.pop()
            positions.pop()
            is_key = False
            at += 1
        else:
            if is_key:
                key, at = scanstring(text, at + 1, True)
                steps = (*open_steps[-1], key)
                lines[steps] = line
                is_key = False
                continue
            if positions and positions[-1] >= 0:
                steps = (*open_steps[-1], positions[-1])
                positions[-1] += 1
                lines[steps] = line
            if sign == '"':
                at = scanstring(text, at + 1, True)[1]
            elif sign in "[{":
                open_steps.append(steps)
                positions.append(0 if sign == "[" else -1)
                is_key = sign == "{"
                at += 1
            else:
                while at < len(text) and text[at] not in " \t\n\r,:]}":
                    at += 1
    return lines
