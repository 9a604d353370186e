"""Resistance of a copper winding against its temperature, and what that says of the winding.

A good head at 62 °C reads 16.5 % over its 20 °C value. Readings are compared with a spec only at one temperature.
"""

from typing import Final

from fifthwire.model.errors import InputError, RangeError
from fifthwire.model.estimate import Estimate
from fifthwire.physics.propagation import combined_u, effective_dof

COPPER_INTERCEPT_K: Final = 234.5
"""How far below 0 °C the straight line of copper's resistance meets zero.  [K]  IACS, alpha(20 °C) = 0.00393/K of the
International Annealed Copper Standard (IEC 60028:1925), 1 / 0.00393 - 20 = 234.5; from memory."""

COPPER_INTERCEPT_60034_K: Final = 235.0
"""The same, rounded as rotating-machine standards print it.  [K]  IEC 60034-1, 8.6.2; from memory."""

COPPER_ALPHA_20C_PER_K: Final = 0.00393
"""Temperature coefficient of annealed copper at 20 °C, and at no other base.  [1/K]  IEC 60028:1925; from memory."""

COPPER_RESISTIVITY_20C_OHM_MM2_M: Final = 0.017241
"""Resistivity of annealed copper at 20 °C.  [Ω·mm²/m]  IEC 60028:1925; from memory."""


def resistance_factor(from_c: float, to_c: float, intercept_k: float = COPPER_INTERCEPT_K) -> float:
    r"""How many times larger a winding's resistance is at one temperature than at another.

    .. math:: R_2 / R_1 = (k + t_2) / (k + t_1)

    Parameters
    ----------
    from_c : float
        Temperature of the copper that the resistance is known for. [°C]
    to_c : float
        Temperature it is wanted for. [°C]
    intercept_k : float
        `k`, 234.5 for copper. [K]

    Returns
    -------
    float
        The factor; NaN where a temperature is NaN. [1]

    Raises
    ------
    RangeError
        If a temperature lies at or below `-k`, where the line has no meaning.

    Examples
    --------
    >>> round(resistance_factor(20.0, 62.0), 3)
    1.165
    """
    if from_c <= -intercept_k or to_c <= -intercept_k:
        raise RangeError(f"{min(from_c, to_c)} °C is below the line of copper", "Temperatures are in °C.")
    return (intercept_k + to_c) / (intercept_k + from_c)


def at_temperature(
    winding_ohm: float, winding_c: float, to_c: float = 20.0, intercept_k: float = COPPER_INTERCEPT_K
) -> float:
    """Resistance a winding would show at another temperature.

    A winding read warm measures high; only readings brought to one temperature can be compared with each other,
    with the plate value or with last year's.

    Parameters
    ----------
    winding_ohm : float
        Resistance as measured, lead resistance already taken off. [Ω]
    winding_c : float
        Temperature of the copper when measured, not of the room. [°C]
    to_c : float
        Temperature the resistance is wanted for. [°C]
    intercept_k : float
        234.5 for copper. [K]

    Returns
    -------
    float
        Resistance at `to_c`; NaN where a reading is NaN. [Ω]

    Raises
    ------
    InputError
        If the resistance is negative.
    RangeError
        If a temperature lies at or below `-intercept_k`.

    References
    ----------
    .. [1] IEC 60028:1925, "International standard of resistance for copper".

    Examples
    --------
    A 46 Ω winding read at 35 °C:

    >>> round(at_temperature(46.0, 35.0), 2)
    43.44
    """
    _not_negative(winding_ohm)
    return winding_ohm * resistance_factor(winding_c, to_c, intercept_k)


def alpha_per_k(base_c: float, intercept_k: float = COPPER_INTERCEPT_K) -> float:
    """Temperature coefficient that belongs to a base temperature.

    The coefficient printed for 20 °C is wrong at any other base: with 25 °C as the base it overstates by 2 %.

    Parameters
    ----------
    base_c : float
        The temperature that the resistance is known for. [°C]
    intercept_k : float
        234.5 for copper. [K]

    Returns
    -------
    float
        Coefficient at that base. [1/K]

    Examples
    --------
    >>> round(alpha_per_k(20.0), 5), round(alpha_per_k(25.0), 7)
    (0.00393, 0.0038536)
    """
    if base_c <= -intercept_k:
        raise RangeError(f"{base_c} °C is below the line of copper", "Temperatures are in °C.")
    return 1.0 / (intercept_k + base_c)


def at_temperature_by_alpha(
    winding_ohm: float, winding_c: float, to_c: float = 20.0, alpha_20c_per_k: float = COPPER_ALPHA_20C_PER_K
) -> float:
    r"""The same as `at_temperature`, in the form with a coefficient, for whatever base the reading has.

    Data sheets give `alpha` at 20 °C; used with a 25 °C base it is 0.37 % wrong at 85 °C. So both
    temperatures are carried through 20 °C here.

    .. math:: R_2 = R_1 (1 + \alpha (t_2 - 20)) / (1 + \alpha (t_1 - 20))

    Parameters
    ----------
    winding_ohm : float
        Resistance as measured. [Ω]
    winding_c : float
        Temperature of the copper when measured. [°C]
    to_c : float
        Temperature the resistance is wanted for. [°C]
    alpha_20c_per_k : float
        Coefficient at 20 °C. [1/K]

    Returns
    -------
    float
        Resistance at `to_c`. [Ω]

    Examples
    --------
    >>> round(at_temperature_by_alpha(10.0, 20.0, 80.0), 3)
    12.358
    """
    _not_negative(winding_ohm)
    return winding_ohm * resistance_factor(winding_c, to_c, 1.0 / alpha_20c_per_k - 20.0)


def winding_c_by_resistance(
    cold_ohm: float, cold_c: float, hot_ohm: float, intercept_k: float = COPPER_INTERCEPT_K
) -> float:
    """Temperature of a winding from its own resistance, known once at a known temperature.

    Parameters
    ----------
    cold_ohm : float
        Resistance at `cold_c`. [Ω]
    cold_c : float
        Temperature of the copper then. [°C]
    hot_ohm : float
        Resistance now. [Ω]
    intercept_k : float
        234.5 for copper. [K]

    Returns
    -------
    float
        Temperature of the copper now. [°C]

    Raises
    ------
    InputError
        If a resistance is negative or the first is zero.

    Examples
    --------
    >>> round(winding_c_by_resistance(80.0, 20.0, 100.0), 3)
    83.625
    """
    _not_negative(hot_ohm)
    if cold_ohm <= 0.0:
        raise InputError(f"{cold_ohm} ohm is no resistance of a winding", "Take the cold reading again.")
    if cold_c <= -intercept_k:
        raise RangeError(f"{cold_c} °C is below the line of copper", "Temperatures are in °C.")
    return hot_ohm / cold_ohm * (intercept_k + cold_c) - intercept_k


def rise_by_resistance_k(
    cold_ohm: float, cold_c: float, hot_ohm: float, ambient_c: float, intercept_k: float = COPPER_INTERCEPT_K
) -> float:
    """Rise of a winding over the air around it, by the resistance method.

    Parameters
    ----------
    cold_ohm : float
        Resistance at `cold_c`. [Ω]
    cold_c : float
        Temperature of the copper then. [°C]
    hot_ohm : float
        Resistance at the end of the run. [Ω]
    ambient_c : float
        Air around it at the end of the run. [°C]
    intercept_k : float
        234.5 for copper. [K]

    Returns
    -------
    float
        Rise over `ambient_c`. [K]

    References
    ----------
    .. [1] IEC 60034-1, 8.6.2, resistance method (there with 235 for copper); from memory.

    Examples
    --------
    >>> round(rise_by_resistance_k(80.0, 20.0, 100.0, 20.0), 3)
    63.625
    """
    return winding_c_by_resistance(cold_ohm, cold_c, hot_ohm, intercept_k) - ambient_c


def estimate_at_temperature(
    winding: Estimate, head: Estimate, to_c: float = 20.0, intercept_k: float = COPPER_INTERCEPT_K
) -> Estimate:
    r"""Resistance at another temperature with its standard uncertainty.

    At 20 °C one kelvin of doubt about the copper's temperature is 0.39 % of resistance: more than a good
    handheld meter adds.

    .. math:: u^2 = (f u_R)^2 + (R f u_t / (k + t))^2, \quad f = (k + t_{to}) / (k + t)

    Parameters
    ----------
    winding : Estimate
        Resistance as measured, leads taken off. [Ω]
    head : Estimate
        Temperature of the copper. [°C]
    to_c : float
        Temperature the resistance is wanted for, taken as exact. [°C]
    intercept_k : float
        234.5 for copper. [K]

    Returns
    -------
    Estimate
        Resistance at `to_c`; first order, inputs independent, degrees of freedom by Welch and Satterthwaite. [Ω]

    References
    ----------
    .. [1] JCGM 100:2008, 5.1.2 and G.4.1.

    Examples
    --------
    >>> at_20c = estimate_at_temperature(Estimate(46.0, 0.2), Estimate(35.0, 1.5))
    >>> round(at_20c.value, 2), round(at_20c.u, 3)
    (43.44, 0.307)
    """
    _not_negative(winding.value)
    factor = resistance_factor(head.value, to_c, intercept_k)
    value = winding.value * factor
    per_k = -value / (intercept_k + head.value)
    u = combined_u([factor, per_k], [winding.u, head.u])
    return Estimate(value, u, effective_dof([factor * winding.u, per_k * head.u], [winding.dof, head.dof]))


def _not_negative(winding_ohm: float) -> None:
    if winding_ohm < 0.0:
        raise InputError(f"{winding_ohm} ohm is negative", "Look at the sign, or at what was taken off for leads.")
