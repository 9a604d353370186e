"""Lags: a coil, a pipe and a sensor follow what they sit in with a time of their own."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit.logs.clock import STEP_S, Array

PRESSURE_S: Final = 20.0
PIPE_S: Final = 45.0
COIL_S: Final = 60.0
AIR_S: Final = 120.0
SHELL_S: Final = 240.0
"""Time constants: a pressure, a sensor on a pipe, on a coil, in air, on a compressor's discharge.  [s]  Judgement:
sensors strapped to pipes follow in 10 to 60 s, what hangs on a compressor's shell in minutes."""


def lagged(values: Array, time_constant_s: float, step_s: float = STEP_S) -> Array:
    """What a first-order lag makes of values held from one step to the next.

    .. math:: y_k = y_{k-1} + (1 - e^{-\\Delta t / \\tau}) (x_k - y_{k-1})

    Parameters
    ----------
    values : array
        A row a step, any columns.
    time_constant_s : float
        [s]
    step_s : float
        Between rows.  [s]

    Returns
    -------
    array
        Begins at the first value.

    Examples
    --------
    >>> lagged(np.array([0.0, 1.0, 1.0]), 60.0).round(3).tolist()
    [0.0, 0.632, 0.865]
    """
    from scipy.signal import lfilter

    share = 1.0 - np.exp(-step_s / time_constant_s)
    flat = values.reshape(values.shape[0], -1)
    out, _ = lfilter([share], [1.0, share - 1.0], flat, axis=0, zi=(1.0 - share) * flat[:1])
    return np.asarray(out).reshape(values.shape)


def held_over(values: Array, is_known: NDArray[np.bool_]) -> Array:
    """Rows that are not known take the last known one; before the first, the first.

    Parameters
    ----------
    values : array
        A row a step.
    is_known : array
        A flag a row.

    Returns
    -------
    array
        Unchanged where no row is known.
    """
    if not is_known.any():
        return values
    places = np.where(is_known, np.arange(len(values)), -1)
    last = np.maximum.accumulate(places)
    return np.asarray(values[np.where(last < 0, np.argmax(is_known), last)])
