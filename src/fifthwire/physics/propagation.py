"""Uncertainty of a result from the uncertainties of what went into it, correlated or not (JCGM 100, "GUM")."""

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import fsum, inf, sqrt

from fifthwire.model.errors import InputError
from fifthwire.model.estimate import Estimate


def combined_u(
    sensitivities: Sequence[float],
    uncertainties: Sequence[float],
    correlations: Mapping[tuple[int, int], float] | None = None,
) -> float:
    r"""Standard uncertainty of a result, first order.

    .. math:: u^2 = \sum c_i^2 u_i^2 + 2 \sum_{i<j} c_i c_j u_i u_j r_{ij}

    Parameters
    ----------
    sensitivities : sequence of float
        Change of the result for a change of each input.
    uncertainties : sequence of float
        Standard uncertainty of each input.
    correlations : mapping
        Correlation of inputs (i, j) with i < j; those left out are independent. Two readings of one meter on one
        range share its gain, and their ratio is better known than either. [1]

    Returns
    -------
    float
        In the unit of the result.

    Raises
    ------
    InputError
        If the lists differ in length or a correlation is outside -1 to 1.

    References
    ----------
    .. [1] JCGM 100:2008, equations 13 and 16 (from memory).

    Examples
    --------
    The difference of two readings that share all their error:

    >>> combined_u([1.0, -1.0], [0.3, 0.3], {(0, 1): 1.0})
    0.0
    """
    if len(sensitivities) != len(uncertainties):
        raise InputError(f"{len(sensitivities)} sensitivities for {len(uncertainties)} uncertainties")
    given = correlations or {}
    if any(abs(r) > 1.0 for r in given.values()):
        raise InputError("a correlation outside -1 to 1")
    parts = [c * u for c, u in zip(sensitivities, uncertainties, strict=True)]
    crossed = (2.0 * parts[i] * parts[j] * given.get((i, j), 0.0) for i, j in combinations(range(len(parts)), 2))
    return sqrt(max(0.0, fsum([*(part * part for part in parts), *crossed])))


def effective_dof(parts: Sequence[float], dofs: Sequence[float]) -> float:
    """Degrees of freedom of a result by Welch and Satterthwaite.

    Parameters
    ----------
    parts : sequence of float
        Sensitivity times standard uncertainty of each input, independent.
    dofs : sequence of float
        Degrees of freedom of each. [1]

    Returns
    -------
    float
        Infinity where every part is exact or has infinitely many. [1]

    References
    ----------
    .. [1] JCGM 100:2008, G.4.1 (from memory).

    Examples
    --------
    >>> round(effective_dof([0.3, 0.4], [4.0, 9.0]), 2)
    12.84
    """
    spread = fsum(part**4 / dof for part, dof in zip(parts, dofs, strict=True))
    return fsum(part * part for part in parts) ** 2 / spread if spread > 0.0 else inf


def mean_of(values: Sequence[float]) -> Estimate:
    """Mean of repeated observations, with its standard uncertainty.

    Parameters
    ----------
    values : sequence of float
        Two observations or more of one quantity.

    Returns
    -------
    Estimate
        In the unit of the observations.

    Raises
    ------
    InputError
        If there are fewer than two.

    Examples
    --------
    >>> mean = mean_of([62.1, 62.3, 62.2])
    >>> round(mean.value, 2), round(mean.u, 4), mean.dof
    (62.2, 0.0577, 2)
    """
    if len(values) < 2:
        raise InputError("one observation has no spread", "Take the reading again at least once.")
    mean = fsum(values) / len(values)
    variance = fsum((value - mean) ** 2 for value in values) / (len(values) - 1)
    return Estimate(mean, sqrt(variance / len(values)), len(values) - 1)


def correlation_of_means(first: Sequence[float], second: Sequence[float]) -> float:
    """Correlation of the means of two quantities observed together.

    Parameters
    ----------
    first, second : sequence of float
        Observations, one pair at a time.

    Returns
    -------
    float
        From -1 to 1; 0 where one of them does not vary. [1]

    References
    ----------
    .. [1] JCGM 100:2008, 5.2.3 (from memory).

    Examples
    --------
    >>> correlation_of_means([1.0, 2.0, 3.0], [2.0, 4.0, 6.0])
    1.0
    """
    mean_1, mean_2 = mean_of(first).value, mean_of(second).value
    products = fsum((a - mean_1) * (b - mean_2) for a, b in zip(first, second, strict=True))
    squares = fsum((a - mean_1) ** 2 for a in first) * fsum((b - mean_2) ** 2 for b in second)
    return max(-1.0, min(1.0, products / sqrt(squares))) if squares > 0.0 else 0.0
