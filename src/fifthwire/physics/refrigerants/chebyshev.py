"""Chebyshev series of one and of two variables, by Clenshaw's recurrence.

C. W. Clenshaw, "A note on the summation of Chebyshev series", Mathematical Tables and Other Aids to Computation 9
(1955) 118-120.
"""


def series(coefficients: tuple[float, ...], x: float) -> float:
    """Sum of c[i] T_i(x).

    Parameters
    ----------
    coefficients : tuple of float
        From degree 0 up; two at least.
    x : float
        From -1 to 1.  [1]

    Returns
    -------
    float
        In the unit of the coefficients.

    Examples
    --------
    >>> series((1.0, 2.0, 3.0), 0.5)
    0.5
    """
    twice, b1, b2 = 2.0 * x, 0.0, 0.0
    for c in coefficients[:0:-1]:
        b1, b2 = c + twice * b1 - b2, b1
    return coefficients[0] + x * b1 - b2


def surface(coefficients: tuple[tuple[float, ...], ...], x: float, y: float) -> float:
    """Sum of c[i][j] T_i(x) T_j(y); x and y from -1 to 1.

    Examples
    --------
    >>> surface(((1.0, 2.0), (3.0, 4.0)), 0.5, -0.5)
    0.5
    """
    return series(tuple([series(row, y) for row in coefficients]), x)
