"""Wires by name, and what a meter shows between two of them."""

from typing import Any

from fifthwire.model.errors import InputError
from fifthwire.model.units import parse_quantity
from fifthwire.visitfile.context import Context
from fifthwire.visitfile.places import Steps
from fifthwire.visitfile.values import shown

_OFF_SCALE = frozenset(("ol", "o.l", "o.l.", "0l", "inf", "infinity", "∞", "overload", "1."))


def wire(written: Any) -> str:
    """The name of a wire: text, or a pin number."""
    if isinstance(written, int) and not isinstance(written, bool):
        return str(written)
    if not isinstance(written, str) or not written.strip():
        raise InputError(f"{shown(written)} is no wire", 'write its pin number or its name: "5"')
    return written.strip()


def ohm_or_open(written: Any) -> float | None:
    """Ohms, or None for `"open"`."""
    if isinstance(written, str):
        word = written.strip().casefold()
        if word == "open":
            return None
        if word in _OFF_SCALE:
            raise InputError(f"{shown(written)} is no resistance", 'write "open" where the meter shows no connection')
    try:
        ohm = parse_quantity(written, "ohm")
    except InputError as err:
        raise InputError(err.message, f'{err.hint}; or "open"') from err
    if ohm < 0.0:
        raise InputError(f"{shown(written)} is below 0 ohm, which cannot be", "zero the meter, or write its leads")
    return ohm


def read_wires(written: Any, steps: Steps, context: Context) -> tuple[str, ...]:
    """One common wire, or a list of two."""
    if not isinstance(written, list):
        return (wire(written),)
    found = tuple(wire(one) for one in written)
    if len(set(found)) < len(found):
        raise InputError("the same wire stands twice", "name two wires, or leave the key out")
    if len(found) > 2:
        raise InputError(f"{len(found)} common wires: no head has more than two", "name one, or two for six wires")
    return found
