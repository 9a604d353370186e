"""The one style sheet of the pages: the tokens of `assessment.colours`, the ink of the drawings, the layout."""

from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import Final

import fifthwire.web
from fifthwire.assessment.colours import PRINT, SCHEMES
from fifthwire.assessment.drawing import ink_rules
from fifthwire.assessment.page_style import MONO, SANS
from fifthwire.assessment.stave.on_page import circuit_widths
from fifthwire.assessment.stave.sheet import stave_rules

SHEETS: Final = ("office.css", "lists.css", "forms.css", "circuit.css", "history.css", "fill.css", "paper.css")
"""The parts of the layout in `web/static`, in the order in which they are read."""
SUN_SCALE: Final = 1.2
"""Type in bright sun, times the usual.  [1]  Our choice."""


@cache
def style_sheet() -> str:
    """All CSS of the pages."""
    static = files(fifthwire.web) / "static"
    layout = "\n".join((static / name).read_text("utf-8") for name in SHEETS)
    return f"{_schemes()}\n{_ink()}\n{layout}\n{_print()}"


def _ink() -> str:
    """Of all drawings, and of the circuit."""
    return ink_rules(_variable, sans=SANS, mono=MONO) + stave_rules(_variable) + circuit_widths()


@cache
def style_version() -> str:
    """Changes when the style sheet does."""
    return sha256(style_sheet().encode("utf-8")).hexdigest()[:12]


def _variable(token: str) -> str:
    return f"var(--{token})"


def _tokens(scheme: dict[str, str]) -> str:
    return "".join(f"--{token}:{colour};" for token, colour in scheme.items())


def _schemes() -> str:
    """As the screen is set, unless the person chose."""
    light = f"color-scheme:light;--size:1;{_tokens(SCHEMES['light'])}"
    dark = f"color-scheme:dark;--size:1;{_tokens(SCHEMES['dark'])}"
    sun = f"color-scheme:light;--size:{SUN_SCALE};{_tokens(SCHEMES['sun'])}"
    return (
        f":root{{{light}--sans:{SANS};--mono:{MONO}}}"
        f"@media (prefers-color-scheme:dark){{:root{{{dark}}}}}"
        f"@media (prefers-contrast:more){{:root{{{sun}}}}}"
        f':root[data-scheme="light"]{{{light}}}:root[data-scheme="dark"]{{{dark}}}:root[data-scheme="sun"]{{{sun}}}'
    )


def _print() -> str:
    return f"@media print{{:root:root:root{{color-scheme:light;--size:1;{_tokens(PRINT)}}}}}"
