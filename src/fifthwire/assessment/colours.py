"""The only colours there are: paper, ink and one colour that means "here", in three schemes.

Text stands on paper or on a soft band with a contrast of at least 7:1, marks with at least 4.5:1. No verdict is told
by colour alone. Judgement, checked by test against the contrast formula of WCAG 2.2.
"""

from typing import Final

TOKENS: Final = ("paper", "ink", "quiet", "line", "accent", "bad", "soft")
"""Ground, text, quieter text, lines and rings, the one colour (links, focus, pins to touch), filled squares, bands."""

SCHEMES: Final[dict[str, dict[str, str]]] = {
    "light": {
        "paper": "#fcfbf7",
        "ink": "#1b1d1f",
        "quiet": "#45484c",
        "line": "#63666a",
        "accent": "#0a4a94",
        "bad": "#8f1d14",
        "soft": "#e3e8ee",
    },
    "dark": {
        "paper": "#15181b",
        "ink": "#ecebe6",
        "quiet": "#c2c5c8",
        "line": "#a0a4a8",
        "accent": "#9ccaff",
        "bad": "#ffb3a8",
        "soft": "#2a323b",
    },
    # for bright sun: black on white, nothing grey
    "sun": {
        "paper": "#ffffff",
        "ink": "#000000",
        "quiet": "#000000",
        "line": "#000000",
        "accent": "#00298f",
        "bad": "#000000",
        "soft": "#dcdcdc",
    },
}

PRINT: Final[dict[str, str]] = {**SCHEMES["light"], "paper": "#ffffff"}
"""On real paper, the paper is white."""
