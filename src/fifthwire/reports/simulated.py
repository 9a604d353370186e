"""A page about a simulated plant in print: a tagged PDF (PDF/UA-1) or pictures of its pages; no clock in either."""

import json
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from typing import Any, Final

import typst

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.colours import PRINT
from fifthwire.assessment.drawing import MONO, SERIF, ink_rules
from fifthwire.circuit.content import SimulatedPage
from fifthwire.circuit.page import LIMITS_LABEL

PPI: Final = 160.0
"""Of a picture of a page: legible on a screen that shows it whole.  [1/inch]  Our choice."""


def simulated_pdf(content: SimulatedPage, *, units: str = "si") -> bytes:
    """A page as a PDF to print.

    Parameters
    ----------
    content : SimulatedPage
        What it says.
    units : str
        "us" takes letter paper.
    """
    made = _compiler(content, units).compile(format="pdf", pdf_standards=["ua-1"])
    if not isinstance(made, bytes):
        raise TypeError(f"typst gave {type(made).__name__} in place of a PDF")
    return made


def simulated_png(content: SimulatedPage, *, units: str = "si") -> bytes:
    """A page as a PNG: one sheet with all of it, as long as it needs.

    Parameters
    ----------
    content : SimulatedPage
        What it says.
    units : str
        "us" takes letter paper.
    """
    made = _compiler(content, units, is_picture=True).compile(format="png", ppi=PPI)
    if not isinstance(made, bytes):
        raise TypeError(f"typst gave {type(made).__name__} in place of one picture")
    return made


def _compiler(content: SimulatedPage, units: str, *, is_picture: bool = False) -> typst.Compiler:
    data: dict[str, Any] = {
        "title": content.title,
        "facts": [asdict(one) for one in content.facts],
        "limits": content.limits,
        "limits_label": LIMITS_LABEL,
        "limits_first": content.is_wide,
        "footer": content.footer,
        "is_wide": content.is_wide,
        "is_picture": is_picture,
        "groups": _groups(content),
        "tokens": PRINT,
        "serif": SERIF,
        "mono": MONO,
        "paper": "us-letter" if units == "us" else "a4",
    }
    return typst.Compiler(
        _template(),
        font_paths=typst.Fonts(include_system_fonts=False, include_embedded_fonts=True),
        sys_inputs={"page": json.dumps(data, ensure_ascii=False, sort_keys=True)},
    )


def _groups(content: SimulatedPage) -> list[dict[str, Any]]:
    """Blocks in order, pictures that follow each other together, each with its own style."""
    rules = ink_rules(PRINT.__getitem__, sans=f"'{SERIF}'", mono=f"'{MONO}'")
    groups: list[dict[str, Any]] = []
    for block in content.blocks:
        if not isinstance(block, Picture):
            groups.append(asdict(block))
            continue
        if not groups or groups[-1]["kind"] != "pictures":
            groups.append({"kind": "pictures", "pictures": []})
        groups[-1]["pictures"].append(asdict(block) | {"svg": _svg(block, rules)})
    return groups


def _svg(picture: Picture, rules: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {picture.width} {picture.height}"'
        f' width="{picture.width}" height="{picture.height}"><style>{rules}</style>{picture.svg}</svg>'
    )


@cache
def _template() -> bytes:
    return (files("fifthwire.reports") / "simulated.typ").read_bytes()
