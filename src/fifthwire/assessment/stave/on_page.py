"""The circuit on a page: the same drawing set to three widths, of which the style sheet shows the one that fits."""

from collections.abc import Callable
from html import escape
from typing import Final

from fifthwire.assessment.printable import printable
from fifthwire.assessment.stave.plan import Circuit, Plan, circuit_plan
from fifthwire.assessment.stave.sheet import (
    WIDTHS,
    circuit_element,
    described,
    set_circuit,
    set_to_width,
    symbols_of,
    title_of,
)
from fifthwire.assessment.stave.valves import Pen
from fifthwire.model.kept.places import ValvePlace

SHOWN_FROM_PX: Final = (0, 560, 900)
"""Width of the place from which each of WIDTHS is shown.  [px]  Our choice."""


def circuit_on_page(of: Circuit, link: Callable[[ValvePlace], str]) -> str:
    """A circuit that fits wherever it stands and is never dragged.

    Parameters
    ----------
    of : Circuit
        The system.
    link : callable
        From a valve to the address of its page.

    Returns
    -------
    str
        HTML; `circuit_widths` holds the rules that choose among its drawings.
    """
    pen = Pen(prefix="c-", link=link)
    plan = circuit_plan(of, pen)
    phone, paper, desk = WIDTHS
    drawings = [
        circuit_element(set_to_width(plan, of, phone), name=f"c{phone}"),
        _line_by_line(plan, of, paper),
        circuit_element(set_to_width(plan, of, desk), name=f"c{desk}"),
    ]
    symbols = f'<svg class="symbols" width="0" height="0" aria-hidden="true">{symbols_of(of, pen)}</svg>'
    return f'<div class="circuits">{symbols}{"".join(drawings)}</div>'


def _line_by_line(plan: Plan, of: Circuit, width: float) -> str:
    """Each line a drawing of its own, so that a sheet of paper ends between two of them."""
    circuit = set_circuit(plan, of, width)
    name, n = f"c{width:.0f}", len(circuit.lines)
    svgs = "".join(
        f'<svg class="line" role="group" aria-label="{escape(printable(title_of(of)))}, line {k} of {n}" '
        f'viewBox="0 0 {circuit.width:g} {one.height:g}"><g transform="translate(0 {-one.rise:g})">{one.svg}</g></svg>'
        for k, one in enumerate(circuit.lines, start=1)
    )
    said = f'<p class="unseen" id="{name}-d">{escape(printable(described(of)))}</p>'
    opening = f'<div class="circuit {name}" role="group" aria-describedby="{name}-d"'
    return f'{opening} aria-label="{escape(printable(title_of(of)))}">{said}{svgs}</div>'


def circuit_widths() -> str:
    """Rules that show one drawing of three, by the width of the place they stand in."""
    rules = (
        ".circuits{container-type:inline-size;position:relative}.circuits .symbols{position:absolute}"
        ".circuits .circuit{display:none;width:100%;height:auto;overflow:visible}"
        ".circuits .line{display:block;width:100%;height:auto;overflow:visible;break-inside:avoid}"
        f".circuits .c{WIDTHS[0]}{{display:block}}"
    )
    for before, width, from_px in zip(WIDTHS, WIDTHS[1:], SHOWN_FROM_PX[1:], strict=False):
        rules += (
            f"@container (min-width:{from_px}px){{.circuits .c{before}{{display:none}}"
            f".circuits .c{width}{{display:block}}}}"
        )
    phone, paper, desk = WIDTHS
    return rules + (
        f"@media print{{.circuits .c{phone},.circuits .c{desk}{{display:none}}.circuits .c{paper}{{display:block}}}}"
    )
