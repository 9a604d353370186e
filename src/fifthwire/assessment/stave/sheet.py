"""The circuit of a system, whole: lines of pieces between their mains, in ink, with a title and a description."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from html import escape
from typing import Final

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.colours import PRINT
from fifthwire.assessment.drawing import box, dot, ink_rules, lettering, line
from fifthwire.assessment.figures import counted
from fifthwire.assessment.marks import MARKS
from fifthwire.assessment.page_style import MONO, SANS
from fifthwire.assessment.stave.lines import (
    MARGIN,
    STUB,
    Extent,
    Placed,
    crossings,
    extents,
    least_width,
    letter_of,
    set_in_lines,
)
from fifthwire.assessment.stave.pieces import RAIL_TOP, Heights, Rail, branch_rails
from fifthwire.assessment.stave.plan import Circuit, Plan, circuit_plan
from fifthwire.assessment.stave.symbols import LETTER, arrow, definitions, falling_pipe
from fifthwire.assessment.stave.valves import Pen, mark_key
from fifthwire.model.kept.places import ValvePlace
from fifthwire.model.record import record

WIDTHS: Final = (356, 690, 1040)
"""Of a phone, of a tablet and of paper, of a desk.  [px]  Our choice."""
LINE_GAP: Final = 20.0
_FILE_SANS, _FILE_MONO = SANS.replace('"', "'"), MONO.replace('"', "'")
_RAIL_LETTER: Final = 6.4
"""Width of a letter of a main's name, at most.  [px]"""
_AWAY: Final = {"cooling": ("liquid",), "heating": ("gas", "hot"), "mixed": ("hot",)}
_BACK: Final = {"cooling": ("gas", "suction"), "heating": ("liquid",), "mixed": ("suction",)}
"""What flows from the outdoor units and what to them, by mode."""


def circuit_picture(
    of: Circuit, *, width: float = WIDTHS[-1], link: Callable[[ValvePlace], str] | None = None
) -> Picture:
    """A system drawn as its circuit.

    Parameters
    ----------
    of : Circuit
        The system with its units and valves, and how it runs.
    width : float
        That the lines are set to; a unit that needs more makes the drawing wider. [px]
    link : callable or None
        From a valve to the address of its page; None on paper.

    Returns
    -------
    Picture
        Every valve of the system stands in it once.
    """
    pen = Pen(prefix=f"c{width:.0f}-", link=link)
    picture = set_to_width(circuit_plan(of, pen), of, width)
    return replace(picture, svg=symbols_of(of, pen) + picture.svg)


def symbols_of(of: Circuit, pen: Pen) -> str:
    """The symbols that drawings of a circuit with this pen use."""
    return definitions(pen.prefix, sorted({mark_key(row) for row in of.valves}))


@record
class SetLine:
    """One line of a circuit."""

    svg: str
    rise: float
    """By how much it is moved up: where only a branch unit's own pipes run, the mains need no room. [px]"""
    height: float
    """Down to the next line. [px]"""


@record
class SetCircuit:
    """The pieces of a circuit on lines of one width, without the symbols that they use."""

    width: float
    lines: tuple[SetLine, ...]


def set_circuit(plan: Plan, of: Circuit, width: float) -> SetCircuit:
    """Set a circuit to a width.

    Parameters
    ----------
    plan : Plan
        The pieces.
    of : Circuit
        The system.
    width : float
        That the lines are set to; a unit that needs more makes the drawing wider. [px]
    """
    width = max(width, least_width(plan.pieces, has_outdoor=plan.has_outdoor))
    lines = set_in_lines(plan.pieces, width, has_outdoor=plan.has_outdoor)
    rails = _rails(plan)
    runs = extents(lines, list(rails.values()), width, has_outdoor=plan.has_outdoor)
    made = []
    for at, placed in enumerate(lines):
        rise = min((rails[key].y for key in runs[at]), default=RAIL_TOP) - RAIL_TOP
        drawn = _line(placed, rails, runs[at], plan.at, of.mode, at, width)
        bottom = max((one.piece.bottom for one in placed), default=60.0)
        made.append(SetLine(svg=drawn, rise=rise, height=bottom - rise + LINE_GAP))
    return SetCircuit(width=width, lines=tuple(made))


def set_to_width(plan: Plan, of: Circuit, width: float) -> Picture:
    """The same as one picture."""
    circuit, strokes, y = set_circuit(plan, of, width), [], 0.0
    for one in circuit.lines:
        strokes.append(f'<g transform="translate(0 {y - one.rise:g})">{one.svg}</g>')
        y += one.height
    return Picture(
        svg="".join(strokes),
        width=round(circuit.width),
        height=round(y - LINE_GAP + 8),
        caption="Circuit",
        title=title_of(of),
        description=described(of),
    )


def title_of(of: Circuit) -> str:
    """What the drawing is called."""
    return f"{of.system.name}: its circuit"


def _rails(plan: Plan) -> dict[str, Rail]:
    rails = {rail.key: rail for rail in plan.at.rails}
    for piece in plan.pieces:
        for drop in piece.drops:
            if drop.rail not in rails:
                rails |= {rail.key: rail for rail in branch_rails(drop.rail.rpartition("/")[0], plan.at)}
    return rails


def _line(
    placed: Sequence[Placed],
    rails: dict[str, Rail],
    runs: dict[str, Extent],
    at: Heights,
    mode: str | None,
    number: int,
    width: float,
) -> str:
    """One line: mains first, so that what hangs on them is drawn over them."""
    strokes = [_enclosures(placed)]
    for key, run in runs.items():
        strokes.append(line(run.start, rails[key].y, run.end, rails[key].y, rails[key].ink))
        strokes.append(_rail_arrows(rails[key], run, placed, mode))
    for one in placed:
        strokes += [_pipes(one, rails, runs, mode, at)]
    for one in placed:
        strokes.append(f'<g transform="translate({one.x:g} 0)">{one.piece.svg}</g>')
    strokes += [_ends(rails[key], run, number, width) for key, run in runs.items()]
    return "".join(strokes)


def _pipes(one: Placed, rails: dict[str, Rail], runs: dict[str, Extent], mode: str | None, at: Heights) -> str:
    strokes = ""
    for drop in one.piece.drops:
        rail, x = rails[drop.rail], round(one.x + drop.x, 1)
        passed = crossings(drop, x, rails, runs)
        strokes += falling_pipe(x, rail.y, drop.to_y, passed, rail.ink)
        if runs[drop.rail].holds(x):
            strokes += dot(x, rail.y, 2.6)
        flow = _flow(rail, mode)
        if flow:
            down = (flow == "away") != drop.is_source
            lowest = max([y for y in (rail.y, *passed) if y <= at.end], default=rail.y)
            strokes += arrow(x, lowest + 11, "down" if down else "up")
    return strokes


def _flow(rail: Rail, mode: str | None) -> str:
    """Whether it flows from the outdoor units ("away"), to them ("back"), or one cannot say."""
    if rail.service in _AWAY.get(mode or "", ()):
        return "away"
    return "back" if rail.service in _BACK.get(mode or "", ()) else ""


def _rail_arrows(rail: Rail, run: Extent, placed: Sequence[Placed], mode: str | None) -> str:
    """Between pieces, at every third of them."""
    flow = _flow(rail, mode)
    if not flow:
        return ""
    strokes = ""
    for one in placed[1::3]:
        x = one.x + 1
        if run.start + 60 < x < run.end - 8:
            strokes += arrow(x, rail.y, "right" if flow == "away" else "left")
    return strokes


def _ends(rail: Rail, run: Extent, number: int, width: float) -> str:
    """What flows in a rail, at its beginning on a line, and the letters that lead from line to line."""
    length = run.end - run.start
    is_stub = "/" in rail.key and length <= STUB and not run.goes_on  # nothing hangs behind the branch unit
    has_room = not is_stub and (length > _RAIL_LETTER * len(rail.name) or not run.goes_on)  # else the next line says it
    strokes = lettering(run.start + 5, rail.y - 4, rail.name, "d-rail") if has_room else ""
    if run.comes_on:
        strokes += _letter(MARGIN - 6 - LETTER, rail.y, letter_of(number - 1))
    if run.goes_on:
        strokes += _letter(width - MARGIN + 6 + LETTER, rail.y, letter_of(number))
    return strokes


def _letter(x: float, y: float, letter: str) -> str:
    return dot(x, y, LETTER, "d-ring") + lettering(x, y + 3.5, letter, "d-end", "middle")


def _enclosures(placed: Sequence[Placed]) -> str:
    """The boundary of a branch unit around all of its pieces on this line."""
    strokes, at = "", 0
    while at < len(placed):
        own = placed[at].piece.enclosure
        last = at
        while last + 1 < len(placed) and own is not None:
            following = placed[last + 1].piece.enclosure
            if following is None or following.name != own.name:
                break
            last += 1
        if own is not None:
            left, right = placed[at].x + 1, placed[last].x + placed[last].piece.width - 1
            strokes += box(left, own.top, right - left, own.bottom - own.top, "d-branch", 4)
            indent = 29 if placed[at].piece.can_stretch else 3
            strokes += lettering(left + indent, own.bottom + 15, own.name, "d-name")
        at = last + 1
    return strokes


def described(of: Circuit) -> str:
    """What the drawing shows, in a sentence or two."""
    kinds = [unit.kind for unit in of.units]
    there = [
        counted(kinds.count(kind), f"{kind} unit") for kind in ("outdoor", "branch", "indoor") if kinds.count(kind)
    ]
    keys = [mark_key(row) for row in of.valves]
    states = [f"{keys.count(mark.key)} {mark.word}" for mark in MARKS if mark.key in keys]
    said = f"{', '.join(there)}; {counted(len(keys), 'valve')}"
    said += f": {', '.join(states)}." if states else "."
    return said + (f" The arrows show {of.mode}." if of.mode in _AWAY else "")


def stave_rules(colour: Callable[[str], str], *, sans: str = SANS, scope: str = "") -> str:
    """The rules that the circuit has beyond those of all drawings.

    Parameters
    ----------
    colour : callable
        From a token of `colours` to a CSS colour.
    sans : str
        Font family.
    scope : str
        Selector that the rules are kept under.
    """
    letters = f"font-family:{sans};"
    halo = f"paint-order:stroke;stroke:{colour('paper')};stroke-width:3px;stroke-linejoin:round"
    rules = (
        (".d-name", f"fill:{colour('ink')};{letters}font-size:12px;font-weight:650"),
        (".d-label", f"fill:{colour('ink')};{letters}font-size:11px;font-weight:600"),
        (".d-word", f"fill:{colour('quiet')};{letters}font-size:11px"),
        (".d-rail", f"fill:{colour('quiet')};{letters}font-size:11px;{halo}"),
        (".d-end", f"fill:{colour('ink')};{letters}font-size:9.5px;font-weight:650"),
        (".d-act", f"fill:{colour('ink')};{letters}font-size:8.5px;font-weight:650"),
        (".d-unit", f"fill:none;stroke:{colour('line')};stroke-width:1"),
        (".d-branch", f"fill:none;stroke:{colour('ink')};stroke-width:1.2;stroke-dasharray:7 3 2 3"),
        (".d-hit", "fill:transparent;stroke:none"),
        ("a:hover .d-hit", f"stroke:{colour('accent')};stroke-width:1.5"),
        ("a:focus-visible .d-hit", f"stroke:{colour('accent')};stroke-width:3"),
    )
    return "".join(f"{scope}{' ' if scope and name[0] != '.' else ''}{name}{{{rule}}}" for name, rule in rules)


def document_style() -> str:
    """The rules that a drawing carries where it stands alone: ink on white paper."""

    def colour(token: str) -> str:
        return PRINT[token]

    return ink_rules(colour, sans=_FILE_SANS, mono=_FILE_MONO) + stave_rules(colour, sans=_FILE_SANS)


def circuit_document(picture: Picture) -> str:
    """A drawing as an SVG file of its own, to print or to keep.

    Parameters
    ----------
    picture : Picture
        The circuit, without links.
    """
    return circuit_element(picture, style=document_style())


def circuit_element(picture: Picture, *, name: str = "circuit", style: str = "") -> str:
    """The `svg` element of a drawing: named, described, its valves reached by the tab key in order.

    Parameters
    ----------
    picture : Picture
        The circuit.
    name : str
        Its class, and of the ids of its title and description: unlike any other on the page.
    style : str
        Rules that it carries itself; empty on a page that has them.
    """
    ground = f'<style>{style}</style><rect class="d-paper" width="100%" height="100%"/>' if style else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="circuit {name}" role="group" viewBox="0 0 {picture.width} '
        f'{picture.height}" width="{picture.width}" height="{picture.height}" aria-labelledby="{name}-t" '
        f'aria-describedby="{name}-d"><title id="{name}-t">{escape(picture.title)}</title>'
        f'<desc id="{name}-d">{escape(picture.description)}</desc>{ground}{picture.svg}</svg>'
    )
