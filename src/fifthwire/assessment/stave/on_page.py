"""The circuit on a page: the same drawing set to three widths, of which the style sheet shows the one that fits."""

from collections.abc import Callable
from typing import Final

from fifthwire.assessment.stave.plan import Circuit
from fifthwire.assessment.stave.sheet import WIDTHS, circuit_element, circuit_picture
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
    drawings = [circuit_element(circuit_picture(of, width=width, link=link), name=f"c{width}") for width in WIDTHS]
    return f'<div class="circuits">{"".join(drawings)}</div>'


def circuit_widths() -> str:
    """Rules that show one drawing of three, by the width of the place they stand in."""
    rules = (
        ".circuits{container-type:inline-size}.circuits svg{display:none;width:100%;height:auto;overflow:visible}"
        f".circuits .c{WIDTHS[0]}{{display:block}}"
    )
    for before, width, from_px in zip(WIDTHS, WIDTHS[1:], SHOWN_FROM_PX[1:], strict=False):
        rules += (
            f"@container (min-width:{from_px}px){{.circuits .c{before}{{display:none}}"
            f".circuits .c{width}{{display:block}}}}"
        )
    return rules
