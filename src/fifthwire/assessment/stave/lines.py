"""Setting the pieces line by line: what fits on each, where every rail begins and ends, and which pipes cross."""

from collections.abc import Sequence
from typing import Final

from fifthwire.assessment.stave.pieces import Drop, Piece, Rail
from fifthwire.model.record import record

MARGIN: Final = 22.0
"""At either end of a line, where the letters stand.  [px]"""
_EDGE: Final = 2.0
_WIDEST_GAP: Final = 22.0
STUB: Final = 16.0
"""Length of a rail that nothing else hangs on.  [px]"""


@record
class Placed:
    """A piece on its line."""

    piece: Piece
    x: float


@record
class Extent:
    """From where to where a rail runs on one line, and whether it goes on beyond either end. [px]"""

    start: float
    end: float
    comes_on: bool
    goes_on: bool

    def holds(self, x: float) -> bool:
        """Whether the rail runs on to both sides of x."""
        return self.start + 0.5 < x < self.end - 0.5

    def meets(self, x: float) -> bool:
        """Whether the rail passes x or ends there."""
        return self.start - 0.5 < x < self.end + 0.5


def least_width(pieces: Sequence[Piece], *, has_outdoor: bool) -> float:
    """What the widest piece needs; before the first outdoor unit no letter stands. [px]"""
    widths = [piece.width + 2 * MARGIN for piece in pieces]
    if has_outdoor and widths:
        widths[0] -= MARGIN - _EDGE
    return max(widths, default=0.0)


def set_in_lines(pieces: Sequence[Piece], width: float, *, has_outdoor: bool) -> list[list[Placed]]:
    """The pieces on lines, each filled before the next is begun and spread to its end.

    Parameters
    ----------
    pieces : sequence of Piece
        In order.
    width : float
        Of the drawing. [px]
    has_outdoor : bool
        Whether the first line begins with an outdoor unit, before which no main runs.
    """
    lines: list[list[Piece]] = [[]]
    left = _EDGE if has_outdoor else MARGIN
    used = left
    for piece in pieces:
        if lines[-1] and used + piece.width > width - MARGIN:
            lines.append([])
            used = MARGIN
        lines[-1].append(piece)
        used += piece.width
    return [
        _spread(line, left if at == 0 else MARGIN, width - MARGIN, is_last=at == len(lines) - 1)
        for at, line in enumerate(lines)
    ]


def _spread(line: Sequence[Piece], left: float, right: float, *, is_last: bool) -> list[Placed]:
    n_stretching = sum(piece.can_stretch for piece in line)
    room = right - left - sum(piece.width for piece in line)
    gap = min(max(room / n_stretching, 0.0), _WIDEST_GAP) if n_stretching else 0.0
    gap = min(gap, 8.0) if is_last else gap
    placed, x = [], left
    for piece in line:
        own = gap if piece.can_stretch else 0.0
        placed.append(Placed(piece=piece, x=round(x + own / 2, 1)))
        x += piece.width + own
    return placed


def extents(
    lines: Sequence[Sequence[Placed]], rails: Sequence[Rail], width: float, *, has_outdoor: bool
) -> list[dict[str, Extent]]:
    """For each line the rails that run on it.

    Parameters
    ----------
    lines : sequence
        The pieces, placed.
    rails : sequence of Rail
        All rails.
    width : float
        Of the drawing. [px]
    has_outdoor : bool
        Without an outdoor unit the mains come from the left end of the first line.
    """
    found: list[dict[str, Extent]] = [{} for _ in lines]
    for rail in rails:
        taps = [(at, x) for at, line in enumerate(lines) for x in _taps(line, rail.key)]
        if not taps:
            continue
        (first, start), (last, end) = taps[0], taps[-1]
        if not has_outdoor and "/" not in rail.key:
            first, start = 0, 2.0
        if (first, start) == (last, end):
            end = min(start + STUB, width - 2.0)
        for at in range(first, last + 1):
            found[at][rail.key] = Extent(
                start=start if at == first else MARGIN - 6,
                end=end if at == last else width - MARGIN + 6,
                comes_on=at > first,
                goes_on=at < last,
            )
    return found


def _taps(line: Sequence[Placed], rail: str) -> list[float]:
    return sorted(round(placed.x + drop.x, 1) for placed in line for drop in placed.piece.drops if drop.rail == rail)


def crossings(drop: Drop, x: float, rails: dict[str, Rail], runs: dict[str, Extent]) -> list[float]:
    """Heights of the rails that a pipe passes on its way down without being joined to them.

    Parameters
    ----------
    drop : Drop
        The pipe.
    x : float
        Where it stands on its line. [px]
    rails : dict
        All rails by key.
    runs : dict
        Those of this line.
    """
    top = rails[drop.rail].y
    passed = [
        rails[key].y
        for key, run in runs.items()
        if key != drop.rail and top < rails[key].y < drop.to_y and run.meets(x)
    ]
    return [*passed, *drop.also_crossed]


def letter_of(at: int) -> str:
    """The letter at the end of a line, and at the beginning of the next.

    Examples
    --------
    >>> letter_of(0), letter_of(25), letter_of(26)
    ('A', 'Z', 'AA')
    """
    return chr(65 + at) if at < 26 else letter_of(at // 26 - 1) + letter_of(at % 26)
