"""The plug in text: its pins in a row, the two to touch filled and joined by a line."""

from collections.abc import Sequence


def plug_lines(pins: Sequence[str], touch: tuple[str, str] | None, *, is_plain: bool) -> list[str]:
    """A small picture of a plug.

    Parameters
    ----------
    pins : sequence of str
        Names in the order of the plug.
    touch : tuple[str, str] or None
        The two pins to touch.
    is_plain : bool
        Whether it is drawn in ASCII.

    Examples
    --------
    >>> print("\\n".join(plug_lines("12345", ("5", "1"), is_plain=True)))
      1  2  3  4  5
      #  o  o  o  #
      +-----------+
    """
    filled, empty, corners, line = ("#", "o", "++", "-") if is_plain else ("●", "○", "└┘", "─")
    width = max(len(pin) for pin in pins) + 2
    names = "".join(pin.center(width) for pin in pins)
    dots = "".join((filled if touch and pin in touch else empty).center(width) for pin in pins)
    lines = [names, dots]
    if touch:
        start, end = sorted(pins.index(pin) * width + (width - 1) // 2 for pin in touch)
        lines.append(" " * start + corners[0] + line * (end - start - 1) + corners[1])
    return [" " + each.rstrip() for each in lines]
