"""Refrigerants: saturation both ways, vapour and saturated liquid, as fits to CoolProp that need nothing but Python.

CoolProp 8: Bell, Wronski, Quoilin, Lemort, "Pure and Pseudo-pure Fluid Thermophysical Property Evaluation and the
Open-Source Thermophysical Property Library CoolProp", Ind. Eng. Chem. Res. 53 (2014) 2498-2508. R410A, R407C and R404A
are its pseudo-pure equations; R454B, R452B, R454C and R513A its mixture model.
"""

from fifthwire.model.choices import REFRIGERANTS
from fifthwire.model.errors import InputError
from fifthwire.model.nearest import nearest
from fifthwire.physics.refrigerants.refrigerant import Refrigerant

__all__ = ["Refrigerant", "refrigerant"]


def refrigerant(name: str) -> Refrigerant:
    """A refrigerant by its number.

    Parameters
    ----------
    name : str
        As in "R410A"; case does not matter.

    Returns
    -------
    Refrigerant
        With its coefficients, which are loaded only when asked for.

    Raises
    ------
    InputError
        If it is not one of those known; the hint names the nearest.

    Examples
    --------
    >>> round(refrigerant("R410A").dew_c(1084.82), 2)
    10.0
    """
    known = {one.upper(): one for one in REFRIGERANTS}.get(name.strip().upper())
    if known is None:
        meant = nearest(name, REFRIGERANTS)
        hint = f"Did you mean {meant}?" if meant else "Known are " + ", ".join(REFRIGERANTS) + "."
        raise InputError(f"{name!r} is no refrigerant known here", hint)
    return Refrigerant(__import__(f"{__name__}.fluids.{known.lower()}", fromlist=["FLUID"]).FLUID)
