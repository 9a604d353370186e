"""The symbols of the circuit, after ISO 14617 as the trade's flow diagrams use it, in the strokes of the pen.

From memory of the standard: two triangles tip to tip are a valve, M in a circle its motor, S in a square its solenoid;
a circle with narrowing lines is a compressor; four triangles are a four-way valve; a zigzag is a coil.
"""

from collections.abc import Sequence
from typing import Final

from fifthwire.assessment.drawing import box, dot, line, polyline
from fifthwire.assessment.drawing_marks import SIZE, mark_strokes
from fifthwire.assessment.marks import MARKS

HALF_VALVE: Final = 9.0
"""From the middle of a valve to where its pipe begins.  [px]"""
FOUR_WAY: Final = 11.0
"""From the middle of a four-way valve to its ports.  [px]"""
COMPRESSOR: Final = 13.0
"""Radius.  [px]"""
HOP: Final = 4.0
"""Radius of the arc by which a pipe crosses another.  [px]"""
_ACTUATOR_X: Final = -16.0
_MARK_X: Final = 8.0
LETTER: Final = 7.5
"""Radius of the letter at a main's end.  [px]"""


def definitions(prefix: str, marks: Sequence[str]) -> str:
    """The symbols that a drawing uses many times, each once.

    Parameters
    ----------
    prefix : str
        Of their ids, unlike those of any other drawing on the page.
    marks : sequence of str
        Keys of the marks that are used.
    """
    shapes = {
        "eev": _valve() + dot(_ACTUATOR_X, 0, 6, "d-ring") + _actuator_letter("M"),
        "solenoid": _valve() + box(_ACTUATOR_X - 5.5, -5.5, 11, 11, "d-ring") + _actuator_letter("S"),
        **{
            f"mark-{mark.key}": f'<g transform="translate({_MARK_X:g} {-SIZE / 2:g})">{_on_paper(mark.key)}</g>'
            for mark in MARKS
            if mark.key in marks
        },
    }
    return "<defs>" + "".join(f'<g id="{prefix}{name}">{of}</g>' for name, of in shapes.items()) + "</defs>"


def _on_paper(key: str) -> str:
    return box(0.5, 0.5, SIZE - 1, SIZE - 1, "d-paper") + mark_strokes(key)


def _valve() -> str:
    triangles = f"M-6.5 {-HALF_VALVE:g}L6.5 {-HALF_VALVE:g}L-6.5 {HALF_VALVE:g}L6.5 {HALF_VALVE:g}Z"
    return f'<path class="d-ring" d="{triangles}"/>' + line(_ACTUATOR_X + 6, 0, -1, 0)


def _actuator_letter(letter: str) -> str:
    return f'<text class="d-act" x="{_ACTUATOR_X:g}" y="3" text-anchor="middle">{letter}</text>'


def use(prefix: str, name: str, x: float, y: float) -> str:
    """A symbol of `definitions`, its middle at x, y."""
    return f'<use href="#{prefix}{name}" x="{x:g}" y="{y:.0f}"/>'


def coil_across(x1: float, x2: float, y: float) -> str:
    """A coil between two pipes, as a zigzag."""
    n, high = 8, 6.0
    step = (x2 - x1 - 8) / n
    peaks = [(x1 + 4 + step * (k + 0.5), y + (high if k % 2 else -high)) for k in range(n)]
    return polyline([(x1, y), (x1 + 4, y), *peaks, (x2 - 4, y), (x2, y)], "d-ink")


def coil_down(x: float, y1: float, y2: float) -> str:
    """A coil in a falling pipe."""
    n, wide = 6, 9.0
    step = (y2 - y1 - 4) / n
    peaks = [(x + (wide if k % 2 else -wide), y1 + 2 + step * (k + 0.5)) for k in range(n)]
    return polyline([(x, y1), (x, y1 + 2), *peaks, (x, y2 - 2), (x, y2)], "d-ink")


def exchanger(left: float, right: float, y: float) -> str:
    """A subcooler on a pipe: liquid through its upper half, vapour through its lower."""
    frame = box(left, y - 10, right - left, 26, "d-ring")
    step = (right - left) / 6
    bends = [(left + step * k, y + (0 if k in (0, 6) else (-5 if k % 2 else 5))) for k in range(7)]
    return frame + polyline(bends) + line(left, y + 8, right, y + 8, "d-thin")


def compressor(x: float, y: float) -> str:
    """A compressor that draws from above and delivers below."""
    top, bottom = y - COMPRESSOR + 1.5, y + COMPRESSOR - 2
    return (
        dot(x, y, COMPRESSOR, "d-ring")
        + line(x - 6.5, top + 1, x - 3.5, bottom + 0.5)
        + line(x + 6.5, top + 1, x + 3.5, bottom + 0.5)
    )


def four_way(x: float, y: float) -> str:
    """A four-way valve."""
    a, b = FOUR_WAY, 6.0
    return (
        f'<path class="d-ring" d="M{x:g} {y:g}L{x - b:g} {y - a:g}L{x + b:g} {y - a:g}Z'
        f"M{x:g} {y:g}L{x - b:g} {y + a:g}L{x + b:g} {y + a:g}Z"
        f"M{x:g} {y:g}L{x - a:g} {y - b:g}L{x - a:g} {y + b:g}Z"
        f'M{x:g} {y:g}L{x + a:g} {y - b:g}L{x + a:g} {y + b:g}Z"/>'
    )


def vessel(x: float, y: float) -> str:
    """A receiver on a pipe."""
    return box(x - 17, y - 8, 34, 16, "d-ring", 8)


def arrow(x: float, y: float, towards: str) -> str:
    """Which way it flows: "right", "left", "up" or "down"."""
    turn = {"right": "4 0 -4 -4 -4 4", "left": "-4 0 4 -4 4 4", "up": "0 -4 -4 4 4 4", "down": "0 4 -4 -4 4 -4"}
    points = turn[towards].split()
    ends = [f"{x + float(dx):.1f} {y + float(dy):.1f}" for dx, dy in zip(points[::2], points[1::2], strict=True)]
    return f'<path class="d-full" d="M{"L".join(ends)}Z"/>'


def falling_pipe(x: float, y1: float, y2: float, crossed: Sequence[float], ink: str = "d-ink") -> str:
    """A pipe that falls, with an arc over each pipe that it crosses.

    Parameters
    ----------
    x, y1, y2 : float
        Where it runs; y1 is above y2.
    crossed : sequence of float
        Heights of the pipes that it has nothing to do with.
    ink : str
        Its class.
    """
    path = f"M{x:g} {y1:g}"
    for y in sorted(crossed):
        path += f"V{y - HOP:g}a{HOP:g} {HOP:g} 0 0 1 0 {2 * HOP:g}"
    return f'<path class="{ink}" d="{path}V{y2:g}"/>'
