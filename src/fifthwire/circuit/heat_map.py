"""A heat map: a field a row and a column, darker where there is more, crossed where there is no answer.

Five shades of one ink with their limits beside them, so that it can be read in black and white; a field may carry a
mark (a dot: liquid reaches the compressor). The figures stand in the table under it.
"""

from collections.abc import Sequence
from math import isfinite
from typing import Final

from fifthwire.assessment.blocks import Picture
from fifthwire.assessment.drawing import dot, lettering, line, shortened
from fifthwire.model.record import record

SHADES: Final = 5
"""Steps of darkness that print keeps apart.  [1]  Our choice."""
_LEFT, _TOP = 96.0, 40.0
_ROW, _NARROW_ROW, _MANY_ROWS = 15.0, 9.2, 12
_END: Final = 74.0
"""Room for words after the rows, also where there are none: maps beside each other have one scale.  [px]"""
_FIELD: Final = 19.0
_LONGEST_NAME: Final = 20
_KEY_HEIGHT: Final = 46.0


@record
class HeatMap:
    """What is drawn: rows by name, columns by name, a value a field."""

    rows: tuple[str, ...]
    columns: tuple[str, ...]
    values: tuple[tuple[float, ...], ...]
    """A row each; NaN where there is no answer."""
    limits: tuple[float, ...]
    """Where one shade ends and the next begins, rising, one fewer than the shades.  The unit is the caption's."""
    unit: str
    decimals: int = 0
    marks: tuple[tuple[bool, ...], ...] = ()
    """Fields that carry a dot; empty where none does."""
    is_dark_low: bool = False
    """Darker where there is less."""
    groups: tuple[tuple[str, int], ...] = ()
    """Words over columns that belong together, and how many each."""
    ends: tuple[str, ...] = ()
    """Words after each row; empty where there are none."""
    end_head: str = ""
    """What stands over them."""


def shade_of(value: float, limits: Sequence[float], *, is_dark_low: bool = False) -> int:
    """The shade of a value, 0 the lightest.

    Examples
    --------
    >>> [shade_of(value, (0.0, 5.0, 10.0, 15.0)) for value in (-1.0, 0.0, 7.0, 99.0)]
    [0, 1, 2, 4]
    >>> shade_of(-1.0, (0.0, 5.0, 10.0, 15.0), is_dark_low=True)
    4
    """
    step = sum(value >= limit for limit in limits)
    return len(limits) - step if is_dark_low else step


def heat_map_picture(of: HeatMap, *, caption: str, title: str) -> Picture:
    """A heat map as a drawing.

    Parameters
    ----------
    of : HeatMap
        Its fields.
    caption, title : str
        What is printed over it, and its name.

    Returns
    -------
    Picture
        A row a name, and the key of the shades under it.
    """
    height = _NARROW_ROW if len(of.rows) > _MANY_ROWS else _ROW
    base = _TOP + height * len(of.rows)
    right = _LEFT + _FIELD * len(of.columns)
    width = right + _END
    strokes = [*_heads(of), *_groups(of, base)]
    size = "d-tiny" if height < _ROW else "d-small"
    for row, name in enumerate(of.rows):
        y = _TOP + height * row
        under = y + height - (height - 7.0) / 2.0
        strokes.append(lettering(_LEFT - 6, under, shortened(name, _LONGEST_NAME), size, "end"))
        strokes += [_field(of, row, at, _LEFT + _FIELD * at, y, height) for at in range(len(of.columns))]
        if of.ends:
            strokes.append(lettering(right + 6, under, of.ends[row], size))
    if of.ends:
        strokes.append(lettering(right + 6, _TOP - 5, of.end_head, "d-small"))
    strokes += _key(of, base + 18.0)
    return Picture(
        svg="".join(strokes),
        width=int(max(width, _LEFT + 330.0)),
        height=int(base + _KEY_HEIGHT),
        caption=caption,
        title=title,
        description=_described(of),
    )


def _heads(of: HeatMap) -> list[str]:
    """Every second name, counted anew in each group, where there are many."""
    every = 1 if len(of.columns) <= 12 else 2
    inside = [at for _, count in of.groups for at in range(count)] or list(range(len(of.columns)))
    return [
        lettering(_LEFT + _FIELD * (at + 0.5), _TOP - 5, name, "d-small", "middle")
        for at, name in enumerate(of.columns)
        if inside[at] % every == 0
    ]


def _groups(of: HeatMap, base: float) -> list[str]:
    strokes, start = list[str](), 0
    for word, count in of.groups:
        x = _LEFT + _FIELD * start
        strokes.append(lettering(x + _FIELD * count / 2.0, _TOP - 20, word, "d-quiet", "middle"))
        strokes += [line(x, _TOP - 30, x, base, "d-ink")] if start else []
        start += count
    return strokes


def _field(of: HeatMap, row: int, column: int, x: float, y: float, height: float) -> str:
    value = of.values[row][column]
    if not isfinite(value):
        return box_of(x, y, height, 0) + line(x + 3, y + 3, x + _FIELD - 4, y + height - 4, "d-thin")
    shade = shade_of(value, of.limits, is_dark_low=of.is_dark_low)
    drawn = box_of(x, y, height, shade)
    if of.marks and of.marks[row][column]:
        drawn += dot(x + (_FIELD - 1) / 2, y + (height - 1) / 2, 3.4, "d-paper")
        drawn += dot(x + (_FIELD - 1) / 2, y + (height - 1) / 2, 2.2, "d-bad")
    return drawn


def box_of(x: float, y: float, height: float, shade: int) -> str:
    """A field of a shade: the ink at a share of its strength on paper, framed so that the lightest is seen too."""
    opacity = shade / (SHADES - 1.0)
    return (
        f'<rect class="d-full" fill-opacity="{opacity:.2f}" x="{x:.1f}" y="{y:.1f}"'
        f' width="{_FIELD - 1:.1f}" height="{height - 1:.1f}"/>'
        f'<rect class="d-thin" x="{x:.1f}" y="{y:.1f}" width="{_FIELD - 1:.1f}" height="{height - 1:.1f}"/>'
    )


def _key(of: HeatMap, y: float) -> list[str]:
    """Lightest first, each with the values it stands for."""
    strokes, x = list[str](), _LEFT
    for shade in range(len(of.limits) + 1):
        strokes.append(box_of(x, y, 12.0, shade))
        strokes.append(lettering(x + _FIELD + 2, y + 9.5, _shade_words(of, shade), "d-small"))
        x += _FIELD + 44.0
    if of.marks:
        strokes.append(dot(_LEFT + 6, y + 20, 2.2, "d-bad"))
        strokes.append(lettering(_LEFT + 14, y + 23.5, "liquid reaches the compressor", "d-small"))
    return strokes


def _shade_words(of: HeatMap, shade: int) -> str:
    step = len(of.limits) - shade if of.is_dark_low else shade
    if step == 0:
        return f"< {of.limits[0]:.{of.decimals}f}"
    return f"≥ {of.limits[step - 1]:.{of.decimals}f}"


def _described(of: HeatMap) -> str:
    flat = [value for row in of.values for value in row if isfinite(value)]
    if not flat:
        return "No field has an answer."
    said = f"{len(of.rows)} rows, {len(of.columns)} columns: from {min(flat):.{of.decimals}f} to"
    said += f" {max(flat):.{of.decimals}f} {of.unit}."
    crossed = sum(len(row) for row in of.values) - len(flat)
    if crossed:
        said += f" {crossed} without an answer."
    if of.marks:
        said += f" Liquid reaches the compressor in {sum(map(sum, of.marks))}."
    return said
