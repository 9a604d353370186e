"""Where something stands in a file: the steps from its root, written as the file's syntax writes them."""

from typing import Final

Steps = tuple[str | int, ...]
"""Keys of tables and positions in arrays (from 0), from the root of the file."""

_BARE: Final = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-")


def place(steps: Steps, syntax: str) -> str:
    """The steps as a person finds them: a dotted key with positions for TOML, a pointer (RFC 6901) for JSON.

    Examples
    --------
    >>> place(("valves", 3, "readings", 2, 0), "toml")
    'valves[3].readings[2][0]'
    >>> place(("specs", "outdoor clip", "winding"), "toml")
    'specs."outdoor clip".winding'
    >>> place(("valves", 3, "a/b"), "json")
    '/valves/3/a~1b'
    """
    return _pointer(steps) if syntax == "json" else _dotted(steps)


def _dotted(steps: Steps) -> str:
    parts = [f"[{step}]" if isinstance(step, int) else f".{_key(step)}" for step in steps]
    return "".join(parts).removeprefix(".")


def _key(key: str) -> str:
    return bare_or_quoted(shortened(key))


def bare_or_quoted(key: str) -> str:
    """A key as TOML writes it."""
    if key and _BARE.issuperset(key):
        return key
    return '"' + key.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _pointer(steps: Steps) -> str:
    return "".join(f"/{shortened(str(step)).replace('~', '~0').replace('/', '~1')}" for step in steps)


def shortened(text: str, longest: int = 60) -> str:
    """A text on one line and short enough for a message, without characters that a terminal obeys."""
    cut = text if len(text) <= longest else text[: longest - 3] + "..."
    return cut if cut.isprintable() else "".join(sign if sign.isprintable() else "?" for sign in cut)
