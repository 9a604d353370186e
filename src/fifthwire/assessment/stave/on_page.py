"""The circuit on a page: the same drawing set to three widths, of which the style sheet shows the one that fits."""

from collections.abc import Callable
from typing import Final

from fifthwire.assessment.stave.plan import Circuit, circuit_plan
from fifthwire.assessment.stave.sheet import WIDTHS, circuit_element, set_to_width, symbols_of
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
    drawings = [circuit_element(set_to_width(plan, of, width), name=f"c{width}") for width in WIDTHS]
    symbols = f'<svg class="symbols" width="0" height="0" aria-hidden="true">{symbols_of(of, pen)}</svg>'
    return f'<div class="circuits">{symbols}{"".join(drawings)}</div>'


def circuit_widths() -> str:
    """Rules that show one drawing of three, by the width of the place they stand in."""
    rules = (
        ".circuits{container-type:inline-size;position:relative}.circuits .symbols{position:absolute}"
        ".circuits .circuit{display:none;width:100%;height:auto;overflow:visible}"
        f".circuits .c{WIDTHS[0]}{{display:block}}"
    )
    for before, width, from_px in zip(WIDTHS, WIDTHS[1:], SHOWN_FROM_PX[1:], strict=False):
        rules += (
            f"@container (min-width:{from_px}px){{.circuits .c{before}{{display:none}}"
            f".circuits .c{width}{{display:block}}}}"
        )
    return rules
