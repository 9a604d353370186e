"""The pen: the few SVG strokes that every drawing is made of, in classes of ink rather than in colours.

The same drawing is used on a page, where the classes follow the scheme of the screen, and in print, where they are
fixed. `ink_rules` is the one table from class to colour.
"""

from collections.abc import Callable, Sequence
from html import escape
from typing import Final

from fifthwire.assessment.printable import printable

SERIF: Final = "Libertinus Serif"
"""Set by the printer of the PDF, which brings its own fonts."""
MONO: Final = "DejaVu Sans Mono"


def ink_rules(colour: Callable[[str], str], *, sans: str, mono: str, scope: str = "") -> str:
    """The style sheet of the drawings.

    Parameters
    ----------
    colour : callable
        From a token of `colours` to a CSS colour.
    sans, mono : str
        Font families.
    scope : str
        Selector that the rules are kept under; empty in a drawing of its own.

    Returns
    -------
    str
        CSS, one rule a class.
    """
    rules = (
        (".d-ink", f"stroke:{colour('ink')};fill:none;stroke-width:1.4"),
        (".d-cycle", f"stroke:{colour('ink')};fill:none;stroke-width:2.2"),
        (".d-thin", f"stroke:{colour('line')};fill:none;stroke-width:.8"),
        (".d-broken", f"stroke:{colour('ink')};fill:none;stroke-width:1.6;stroke-dasharray:4 3"),
        (".d-dash", f"stroke:{colour('ink')};fill:none;stroke-width:1.4;stroke-dasharray:2.4 2"),
        (".d-here", f"stroke:{colour('accent')};fill:none;stroke-width:3"),
        (".d-paper", f"fill:{colour('paper')};stroke:none"),
        (".d-ring", f"fill:{colour('paper')};stroke:{colour('ink')};stroke-width:1.6"),
        (".d-soft", f"fill:{colour('soft')};stroke:{colour('line')};stroke-width:.8"),
        (".d-full", f"fill:{colour('ink')};stroke:none"),
        (".d-bad", f"fill:{colour('bad')};stroke:none"),
        (".d-accent", f"fill:{colour('accent')};stroke:none"),
        (".d-text", f"fill:{colour('ink')};font-family:{sans};font-size:12px"),
        (".d-quiet", f"fill:{colour('quiet')};font-family:{sans};font-size:12px"),
        (".d-small", f"fill:{colour('ink')};font-family:{sans};font-size:10px"),
        (".d-tiny", f"fill:{colour('ink')};font-family:{sans};font-size:8px"),
        (".d-number", f"fill:{colour('ink')};font-family:{mono};font-size:12px"),
        (".d-on-accent", f"fill:{colour('paper')};font-family:{mono};font-size:12px"),
    )
    return "".join(f"{scope}{name}{{{rule}}}" for name, rule in rules)


def line(x1: float, y1: float, x2: float, y2: float, ink: str = "d-ink") -> str:
    """A straight stroke."""
    return f'<path class="{ink}" d="M{x1:.1f} {y1:.1f}L{x2:.1f} {y2:.1f}"/>'


def polyline(points: Sequence[tuple[float, float]], ink: str = "d-ink") -> str:
    """Straight strokes through points."""
    return f'<path class="{ink}" d="M{"L".join(f"{x:.1f} {y:.1f}" for x, y in points)}"/>'


def box(x: float, y: float, width: float, height: float, ink: str, radius: float = 0.0) -> str:
    """A rectangle."""
    round_by = f' rx="{radius:.1f}"' if radius else ""
    return f'<rect class="{ink}" x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}"{round_by}/>'


def dot(x: float, y: float, radius: float, ink: str = "d-full") -> str:
    """A circle."""
    return f'<circle class="{ink}" cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}"/>'


def lettering(x: float, y: float, text: str, ink: str = "d-text", anchor: str = "start") -> str:
    """Text, its baseline at y."""
    return f'<text class="{ink}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(printable(text))}</text>'


def shortened(text: str, most: int) -> str:
    """Text that fits a drawing; the whole of it stands in the table beside.

    Examples
    --------
    >>> shortened("IU07", 6), shortened("white with a stripe", 6)
    ('IU07', 'white…')
    """
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"
