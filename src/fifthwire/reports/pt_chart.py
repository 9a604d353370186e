"""A chart of saturation pressures as a tagged PDF (PDF/UA-1): the same bytes for the same chart, no clock."""

import json
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from typing import Final

import typst

from fifthwire.assessment.colours import PRINT
from fifthwire.assessment.drawing import MONO, SERIF
from fifthwire.assessment.pt_chart import ChartContent, chart_content
from fifthwire.physics.saturation import PressureChart

Rows = tuple[tuple[str, ...], ...]

FIRST_PAGE_ROWS: Final = {"a4": 42, "us-letter": 37}
NEXT_PAGE_ROWS: Final = {"a4": 52, "us-letter": 48}
"""Rows that a column of a page has room for, with words above it on the first.  Measured on the print."""


def chart_pdf(chart: PressureChart) -> bytes:
    """A chart as a PDF to print.

    Parameters
    ----------
    chart : PressureChart
        The table.

    Returns
    -------
    bytes
        PDF/UA-1, on A4 or on letter paper.
    """
    content = chart_content(chart)
    data = asdict(content) | {
        "tokens": PRINT,
        "serif": SERIF,
        "mono": MONO,
        "caution": "Caution",
        "pages": pages_of(content),
    }
    made = typst.Compiler(
        _template(),
        font_paths=typst.Fonts(include_system_fonts=False, include_embedded_fonts=True),
        sys_inputs={"chart": json.dumps(data, ensure_ascii=False, sort_keys=True)},
    ).compile(format="pdf", pdf_standards=["ua-1"])
    if not isinstance(made, bytes):
        raise TypeError(f"typst gave {type(made).__name__} in place of a PDF")
    return made


def pages_of(content: ChartContent) -> list[list[Rows]]:
    """The rows by page and column; the columns of a page are as long as each other, but for one row."""
    left, pages = content.rows, list[list[Rows]]()
    while left:
        room = (NEXT_PAGE_ROWS if pages else FIRST_PAGE_ROWS)[content.paper]
        here, left = left[: 2 * room], left[2 * room :]
        half = (len(here) + 1) // 2
        pages.append([part for part in (here[:half], here[half:]) if part])
    return pages


@cache
def _template() -> bytes:
    return (files("fifthwire.reports") / "pt_chart.typ").read_bytes()
