"""A report as a tagged PDF (PDF/UA-1), the same bytes for the same visit: no clock, no network, typst's own fonts."""

import json
import re
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from typing import Any, Final

import typst

from fifthwire.assessment.blocks import Report
from fifthwire.assessment.colours import PRINT
from fifthwire.assessment.content import report_content
from fifthwire.assessment.drawing import MONO, SERIF, ink_rules, shortened
from fifthwire.assessment.drawing_marks import SIZE, mark_strokes
from fifthwire.assessment.marks import MARKS
from fifthwire.assessment.printable import printable
from fifthwire.model.assessment import Assessment
from fifthwire.model.visit import Visit

LONGEST_RUN: Final = 24
"""Characters without a place to break; longer runs (a label of 180 letters) may break anywhere.  Our choice."""
LONGEST_FOOTER: Final = 90
"""Characters of the footer's one line; the title says the whole."""

_NOT_DISPLAYED: Final = re.compile(r"the text `?\"((?:[^\"\\]|\\.)*)\"`? could not be displayed")
_TRIES: Final = 6
"""Each names the characters that no font has; a second is enough in practice."""


def pdf_report(visit: Visit, assessment: Assessment, *, units: str = "si") -> bytes:
    """The report of a visit as a PDF to print and sign.

    Parameters
    ----------
    visit : Visit
        As it was written.
    assessment : Assessment
        What was made of it.
    units : str
        "si" on A4, or "us": °F on letter paper; ohms stay.

    Returns
    -------
    bytes
        PDF/UA-1. Characters that typst's own fonts lack are taken from the machine's fonts; those that no font has
        stand as their code point.
    """
    return print_out(report_content(visit, assessment, units=units))


def print_out(report: Report) -> bytes:
    """A report's content as a PDF.

    Parameters
    ----------
    report : Report
        As built by `report_content`.

    Returns
    -------
    bytes
        PDF/UA-1.

    Raises
    ------
    typst.TypstError
        If typst cannot lay it out for another reason than a missing character.
    """
    try:
        return _compiled(report, {}, is_system=False)
    except typst.TypstError as err:
        missing = _missing_characters(err)
        if not missing:
            raise
    replaced: dict[int, str] = {}
    for _ in range(_TRIES):
        try:
            return _compiled(report, replaced, is_system=True)
        except typst.TypstError as err:
            missing = _missing_characters(err) - {chr(code) for code in replaced}
            if not missing:
                raise
            replaced |= {ord(sign): f"[U+{ord(sign):04X}]" for sign in missing}
    return _compiled(report, replaced, is_system=True)


def _missing_characters(error: typst.TypstError) -> set[str]:
    """The characters that the fonts at hand do not have, as the compiler names them."""
    named = "".join(_NOT_DISPLAYED.findall(f"{error.message}\n{error.diagnostic}"))
    by_code = re.findall(r"\\u\{([0-9a-fA-F]+)\}", named)
    plain = re.sub(r"\\u\{[0-9a-fA-F]+\}|\\.", "", named)
    return set(plain) | {chr(int(code, 16)) for code in by_code}


def page_images(report: Report, *, ppi: float) -> list[bytes]:
    """The pages of the print as PNG images, for documentation.

    Parameters
    ----------
    report : Report
        As built by `report_content`.
    ppi : float
        Pixels an inch.

    Returns
    -------
    list of bytes
        A PNG a page.
    """
    made = _compiler(report, {}, is_system=False).compile(format="png", ppi=ppi)
    return [made] if isinstance(made, bytes) else list(made or ())


def _compiled(report: Report, replaced: dict[int, str], *, is_system: bool) -> bytes:
    made = _compiler(report, replaced, is_system=is_system).compile(format="pdf", pdf_standards=["ua-1"])
    if not isinstance(made, bytes):
        raise TypeError(f"typst gave {type(made).__name__} in place of a PDF")
    return made


def _compiler(report: Report, replaced: dict[int, str], *, is_system: bool) -> "typst.Compiler":
    return typst.Compiler(
        _template(),
        font_paths=_fonts(is_system=is_system),
        sys_inputs={"report": json.dumps(_data(report, replaced), ensure_ascii=False, sort_keys=True)},
    )


@cache
def _template() -> bytes:
    return (files("fifthwire.reports") / "report.typ").read_bytes()


@cache
def _fonts(*, is_system: bool) -> "typst.Fonts":
    return typst.Fonts(include_system_fonts=is_system, include_embedded_fonts=True)


def _data(report: Report, replaced: dict[int, str]) -> dict[str, Any]:
    """The report as plain data, with what only print needs: colours, fonts, marks, the date in numbers."""
    year, month, day = (int(part) for part in report.date_iso.split("-"))
    rules = ink_rules(PRINT.__getitem__, sans=f"'{SERIF}'", mono=f"'{MONO}'")
    data: dict[str, Any] = _laid(asdict(report), rules, replaced)
    data |= {
        "tokens": PRINT,
        "subtitle": f"Expansion valves, {report.date}",
        "serif": SERIF,
        "mono": MONO,
        "year": year,
        "month": month,
        "day": day,
        "footer": _text(shortened(f"{report.site}, {report.system}, {report.date}", LONGEST_FOOTER), replaced),
        "marks": {one.key: _svg(mark_strokes(one.key), SIZE, SIZE, rules) for one in MARKS},
    }
    return data


def _laid(value: Any, rules: str, replaced: dict[int, str]) -> Any:
    """Plain data whose texts can be printed and whose drawings carry their own style."""
    if isinstance(value, dict):
        laid = {key: _laid(one, rules, replaced) for key, one in value.items() if key != "svg"}
        if "svg" in value:
            strokes = value["svg"].translate(replaced)
            laid["svg"] = _svg(strokes, value["width"], value["height"], rules)
        return laid
    if isinstance(value, list | tuple):
        return [_laid(one, rules, replaced) for one in value]
    return _text(value, replaced) if isinstance(value, str) else value


def _text(text: str, replaced: dict[int, str]) -> str:
    """Text on one line that may break wherever a run of it grows too long."""
    runs = re.compile(rf"\S{{{LONGEST_RUN},}}")
    return runs.sub(lambda run: re.sub(r"(.{12})(?=.)", "\\1\u200b", run[0]), printable(text).translate(replaced))


def _svg(strokes: str, width: int, height: int, rules: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}">'
        f"<style>{rules}</style>{strokes}</svg>"
    )
