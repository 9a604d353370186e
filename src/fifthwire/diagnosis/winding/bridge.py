"""A bridge inside one star: two of its windings joined by a resistance.

A bridge of x between ends p and q takes (o·w)²/(w_p + w_q + x) off a reading, o the windings that the reading shares
with the loop. Where both windings are K that is straight in the loss z = K²/(2K + x): z off a reading of one of the
two ends, 4 z off a reading of both. The leverage of the two windings' own deviations falls with u = z/K: to (1-u)²
of the near and u² of the far one for a reading of one end, to (1-2u)² of both for a reading of both.
"""

from dataclasses import dataclass

from fifthwire.diagnosis.winding.base_fit import Fit, Prior, fit
from fifthwire.diagnosis.winding.column import Sized, SizeLaw, integrate
from fifthwire.diagnosis.winding.gram import Gram

Sparse = list[tuple[int, float]]
"""A column as a sum of wires' columns; the last number stands for the column of the bridged pair."""


@dataclass(frozen=True, slots=True)
class BridgeFit:
    """Windings and loss under a bridge."""

    log_evidence: float
    fit: Fit
    lean: list[float]
    sized: Sized
    """The loss z. [Ω]"""
    scale_ohm: float
    """Where the readings are taken as straight lines."""
    loss_ohm: float


def loss_law(law: SizeLaw, scale_ohm: float) -> SizeLaw:
    """The law of the loss, given that of the bridge's resistance and the scale."""
    square = scale_ohm * scale_ohm

    def density(loss: float) -> float:
        bridge_ohm = square / loss - 2.0 * scale_ohm
        return law.density(max(bridge_ohm, law.low)) * square / (loss * loss)

    return SizeLaw(square / (2.0 * scale_ohm + law.high), square / (2.0 * scale_ohm + law.low), density)


class StarBridge:
    """Fits of a bridge between two ends of one star."""

    def __init__(self, gram: Gram, ends: list[int], p: int, q: int) -> None:
        self.ends, self.p, self.q = ends, ends.index(p), ends.index(q)
        pair = gram.pair_column(p, q)
        n = len(gram.matrix)
        squared, readings, with_wires = pair if pair is not None else (0.0, 0.0, [0.0] * n)
        self.matrix = [[*row, extra] for row, extra in zip(gram.matrix, with_wires, strict=True)]
        self.matrix.append([*with_wires, squared])
        self.readings = [*gram.with_readings, readings]
        self.readings_squared = gram.readings_squared
        self.pair_index = n
        self.loss: Sparse = [(p, 1.0), (q, 1.0), (n, 2.0)]

    def inner(self, a: Sparse, b: Sparse) -> float:
        """Inner product of two columns."""
        matrix = self.matrix
        return sum([x * y * matrix[i][j] for i, x in a for j, y in b])

    def with_readings(self, a: Sparse) -> float:
        """Inner product of a column with the readings."""
        return sum([x * self.readings[i] for i, x in a])

    def windings(self, u: float) -> list[Sparse]:
        """Columns of the windings' deviations where the loss is u times the scale."""
        wire_p, wire_q = self.ends[self.p], self.ends[self.q]
        near, far = (1.0 - u) ** 2, u * u
        both = (1.0 - 2.0 * u) ** 2 - near - far
        columns: list[Sparse] = [[(end, 1.0)] for end in self.ends]
        columns[self.p] = [(wire_p, near), (wire_q, far), (self.pair_index, both)]
        columns[self.q] = [(wire_q, near), (wire_p, far), (self.pair_index, both)]
        return columns

    def against(self, base: Fit, centre_ohm: float, squared: float) -> tuple[float, float, list[float]]:
        """First look from the base fit: slope and curvature of the likelihood in the loss, and the lean."""
        with_windings = [-self.inner([(end, 1.0)], self.loss) for end in self.ends]
        lean = [sum([v * c for v, c in zip(row, with_windings, strict=True)]) for row in base.covariance]
        beta = squared - sum([c * v for c, v in zip(with_windings, lean, strict=True)])
        residual = -self.with_readings(self.loss) - centre_ohm * sum(with_windings)
        return residual - sum([c * d for c, d in zip(with_windings, base.deviation, strict=True)]), beta, lean

    def fit_at(self, prior: Prior, centre_ohm: float, scale_ohm: float, loss_ohm: float, law: SizeLaw) -> BridgeFit:
        """Fit with the readings straight about one scale and one loss; the loss is then integrated over its law."""
        columns = self.windings(loss_ohm / scale_ohm)
        gram = [[self.inner(a, b) for b in columns] for a in columns]
        plain: Sparse = [(end, scale_ohm) for end in self.ends]
        expected: Sparse = [*plain, *[(index, -loss_ohm * x) for index, x in self.loss]]
        offset = centre_ohm - scale_ohm
        rho = sum(prior.precision[0]) * offset
        g = [self.with_readings(column) - self.inner(column, expected) + rho for column in columns]
        squared = (
            self.readings_squared
            - 2.0 * self.with_readings(expected)
            + self.inner(expected, expected)
            + len(self.ends) * rho * offset
        )
        found = fit(prior, scale_ohm, gram, g, squared)
        with_loss = [-self.inner(column, self.loss) for column in columns]
        lean = [sum([v * c for v, c in zip(row, with_loss, strict=True)]) for row in found.covariance]
        beta = self.inner(self.loss, self.loss) - sum([c * v for c, v in zip(with_loss, lean, strict=True)])
        residual = -(self.with_readings(self.loss) - self.inner(self.loss, expected))
        gamma = residual - sum([c * d for c, d in zip(with_loss, found.deviation, strict=True)])
        about_zero = gamma + beta * loss_ohm
        sized = integrate(about_zero, beta, loss_law(law, scale_ohm))
        log_evidence = found.log_evidence + sized.log_mean - gamma * loss_ohm - 0.5 * beta * loss_ohm**2
        return BridgeFit(log_evidence, found, lean, sized, scale_ohm, loss_ohm)


def bridge_ohm_at(loss_ohm: float, scale_ohm: float) -> float:
    """The bridge's resistance that takes `loss_ohm` off. [Ω]"""
    return scale_ohm * scale_ohm / max(loss_ohm, 1e-9) - 2.0 * scale_ohm
