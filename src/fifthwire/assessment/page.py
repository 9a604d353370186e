"""The report as one HTML page that needs nothing else: no script, no font, no picture from elsewhere."""

from typing import Final

from fifthwire.assessment.blocks import Report, Section
from fifthwire.assessment.content import report_content
from fifthwire.assessment.page_parts import block_html, grouped_facts, shown
from fifthwire.assessment.page_style import style_sheet
from fifthwire.model.assessment import Assessment
from fifthwire.model.visit import Visit

_SCHEMES: Final = (("auto", "As set"), ("light", "Light"), ("dark", "Dark"), ("sun", "Bright sun"))

POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
"""Whatever a label says, the page loads nothing and runs nothing."""


def report_page(visit: Visit, assessment: Assessment, *, units: str = "si") -> str:
    """The report of a visit as one HTML page, readable on a phone, on a desk and on paper.

    Parameters
    ----------
    visit : Visit
        As it was written.
    assessment : Assessment
        What was made of it.
    units : str
        "si", or "us" for °F; ohms stay.

    Returns
    -------
    str
        The page, whole; the same input gives the same page.
    """
    return lay_out(report_content(visit, assessment, units=units))


def lay_out(report: Report) -> str:
    """A report's content as a page.

    Parameters
    ----------
    report : Report
        As built by `report_content`.

    Returns
    -------
    str
        The page, whole.
    """
    return (
        f'<!doctype html>\n<html lang="{report.language}"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f'<title>{shown(report.title)}</title><meta name="generator" content="Fifthwire {shown(report.program)}">'
        f"<style>{style_sheet()}</style></head>\n<body>"
        '<a class="skip" href="#valves">To the valves</a>'
        f"{_header(report)}\n<main>{''.join(_section(one) for one in report.sections)}</main>"
        f"\n<footer>{_footer(report)}</footer></body></html>\n"
    )


def _header(report: Report) -> str:
    return (
        f"<header><h1><bdi>{shown(report.site)}</bdi>, <bdi>{shown(report.system)}</bdi></h1>"
        f'<p class="under">Expansion valves, <time datetime="{report.date_iso}">{shown(report.date)}</time></p>'
        f"{grouped_facts(report.short, 'short')}"
        f"{grouped_facts(report.header, 'facts')}"
        f"{scheme_choices()}</header>"
    )


def scheme_choices() -> str:
    """The choice of a screen: as set, light, dark, bright sun."""
    choices = "".join(_choice(key, name) for key, name in _SCHEMES)
    return f'<fieldset class="scheme"><legend>Screen</legend>{choices}</fieldset>'


def _choice(key: str, name: str) -> str:
    checked = " checked" if key == "auto" else ""
    return f'<label><input type="radio" name="scheme" id="scheme-{key}"{checked}>{name}</label>'


def _section(section: Section) -> str:
    blocks = "".join(block_html(block) for block in section.blocks)
    return (
        f'\n<section aria-labelledby="{section.anchor}"><h2 id="{section.anchor}">{shown(section.heading)}</h2>'
        f"{blocks}</section>"
    )


def _footer(report: Report) -> str:
    return (
        f"<p>Fifthwire {shown(report.program)}, {shown(report.date)}. The program advises; the technician decides.</p>"
    )
