"""Student's law for whole degrees of freedom, in the closed form of a finite sum."""

from math import atan, cos, isnan, pi, sin, sqrt


def two_sided_p(t: float, dof: int) -> float:
    r"""How often chance alone gives a value at least as far from zero.

    .. math:: p = 1 - A(t \mid \nu), \quad \theta = \arctan(t / \sqrt{\nu})

    Parameters
    ----------
    t : float
        The statistic, in its own standard deviations. [1]
    dof : int
        Degrees of freedom, at least 1. [1]

    Returns
    -------
    float
        Between 0 and 1, good to about 1e-13; NaN where `t` is. [1]

    References
    ----------
    .. [1] M. Abramowitz, I. A. Stegun, "Handbook of Mathematical Functions", 26.7.3 and 26.7.4; from memory.

    Examples
    --------
    >>> round(two_sided_p(3.182446, 3), 6)
    0.05
    """
    if isnan(t):
        return t
    theta = atan(abs(t) / sqrt(dof))
    inside = 2.0 * theta / pi if dof % 2 else 0.0
    term = 2.0 * sin(theta) * cos(theta) / pi if dof % 2 else sin(theta)
    first = 3 if dof % 2 else 2
    for n in range(first, dof + 1, 2):
        inside += term
        term *= cos(theta) ** 2 * (n - 1) / n
    return min(max(1.0 - inside, 0.0), 1.0)
