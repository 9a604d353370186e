"""Text that people typed, made safe to lay out: nothing that is no character, nothing that turns the line around."""

from typing import Final

_TURNS_THE_LINE: Final = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c"
_NO_CHARACTERS: Final = dict.fromkeys((*range(32), *range(127, 160), 65534, 65535), "�")
_TABLE: Final = {
    **_NO_CHARACTERS,
    **dict.fromkeys(range(55296, 57344), "�"),
    **{ord(sign): None for sign in _TURNS_THE_LINE},
    ord("\t"): " ",
    ord("\n"): " ",
    ord("\r"): " ",
    0x2028: " ",
    0x2029: " ",
}


def printable(text: str) -> str:
    """Text without control characters; those that only turn the direction of a line are left out.

    A label may be of any script: it keeps its own direction, but may not change that of the words after it.

    Parameters
    ----------
    text : str
        As somebody typed it.

    Returns
    -------
    str
        On one line; what is no character shows as U+FFFD.

    Examples
    --------
    >>> printable("OU1\\u202eniam"), printable("a\\x00b\\nc")
    ('OU1niam', 'a\ufffdb c')
    """
    return text.translate(_TABLE)
