"""All that a set of finite readings says of every arrangement, in one small matrix.

In a star winding j belongs to one free end, and a reading of two wires contains winding j exactly when that end is
one of the two. So the column of a winding is the column of a wire, and the inner products of the wires' columns,
once made, serve every arrangement: its cost no longer depends on the number of readings. The leads are shared by all
readings and integrated out:

.. math:: \\langle a, b \\rangle = a' W b - (a' W 1)(b' W 1) / (1/s_l^2 + 1' W 1)
"""

from dataclasses import dataclass, field
from math import log, pi

from fifthwire.diagnosis.winding.meter_noise import NoiseLaw


@dataclass(frozen=True, slots=True)
class FiniteReading:
    """A finite reading between two wires (numbers), leads and mean touch taken off."""

    wire_a: int
    wire_b: int
    shown_ohm: float
    """As the meter showed it."""
    net_ohm: float
    noise: NoiseLaw


@dataclass(slots=True)
class Gram:
    """Inner products of wires' columns with one another and with the readings."""

    readings: tuple[FiniteReading, ...]
    n_wires: int
    lead_sd_ohm: float
    weights: list[float] = field(init=False)
    share: float = field(init=False)
    """1 / (1/s_l² + ΣW)."""
    touched: list[float] = field(init=False)
    """Σ W of the readings at a wire."""
    matrix: list[list[float]] = field(init=False)
    with_readings: list[float] = field(init=False)
    readings_squared: float = field(init=False)
    weighted_sum: float = field(init=False)
    """Σ W y."""
    log_constant: float = field(init=False)
    """Logarithm of the normal density's factor that no arrangement changes."""
    pair_rows: dict[tuple[int, int], tuple[float, float]] = field(init=False)
    """Σ W and Σ W y of the readings of a pair."""

    def __post_init__(self) -> None:
        n = self.n_wires
        w = self.weights = [1.0 / reading.noise.variance for reading in self.readings]
        total = sum(w)
        self.share = 1.0 / (1.0 / self.lead_sd_ohm**2 + total)
        touched = self.touched = [0.0] * n
        matrix = [[0.0] * n for _ in range(n)]
        with_readings = [0.0] * n
        squared = 0.0
        summed = 0.0
        self.pair_rows = {}
        for reading, weight in zip(self.readings, w, strict=True):
            a, b, y = reading.wire_a, reading.wire_b, reading.net_ohm
            wy = weight * y
            squared += wy * y
            summed += wy
            for wire in (a, b):
                touched[wire] += weight
                matrix[wire][wire] += weight
                with_readings[wire] += wy
            matrix[a][b] += weight
            matrix[b][a] += weight
            pair = (a, b) if a < b else (b, a)
            before = self.pair_rows.get(pair, (0.0, 0.0))
            self.pair_rows[pair] = (before[0] + weight, before[1] + wy)
        for row, t_row in zip(matrix, touched, strict=True):
            for column, t_column in enumerate(touched):
                row[column] -= self.share * t_row * t_column
        self.matrix = matrix
        self.with_readings = [value - self.share * t * summed for value, t in zip(with_readings, touched, strict=True)]
        self.readings_squared = squared - self.share * summed**2
        self.weighted_sum = summed
        log_determinant = log(1.0 + self.lead_sd_ohm**2 * total) - sum(log(weight) for weight in w)
        self.log_constant = -0.5 * (len(w) * log(2.0 * pi) + log_determinant)

    def pair_column(self, a: int, b: int) -> tuple[float, float, list[float]] | None:
        """The column that is 1 on the readings of one pair: its square, its products with readings and wires."""
        found = self.pair_rows.get((a, b) if a < b else (b, a))
        if found is None:
            return None
        weight, weighted = found
        with_wires = [
            (weight if wire in (a, b) else 0.0) - self.share * weight * t for wire, t in enumerate(self.touched)
        ]
        return (
            weight - self.share * weight**2,
            weighted - self.share * weight * self.weighted_sum,
            with_wires,
        )
