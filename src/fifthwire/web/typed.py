"""What people type into a form with a unit, as the number that the program works with, and back again."""

from fifthwire.assessment.figures import plain
from fifthwire.model.errors import InputError
from fifthwire.model.kept.people import UnitSystem
from fifthwire.model.units import convert, parse_quantity


def typed_quantity(written: str, unit: str, label: str) -> float | None:
    """A quantity as it was typed, None where the field is empty.

    Parameters
    ----------
    written : str
        "40 m", "130 ft", "40".
    unit : str
        The unit of a bare number and of the answer, as `model.units` names it.
    label : str
        Of the field, for the message.

    Raises
    ------
    InputError
        If it is no such quantity.
    """
    if not written:
        return None
    try:
        return parse_quantity(written, unit)
    except InputError as err:
        raise InputError(f"{label}: {err.message}. Nothing was kept.", err.hint) from err


def altitude_shown(altitude_m: float | None, units: UnitSystem) -> str:
    """An altitude as a person would type it; empty where it is not known."""
    if altitude_m is None:
        return ""
    if units == "us":
        return f"{plain(round(convert(altitude_m, 'm', 'ft')))} ft"
    return f"{plain(altitude_m)} m"
