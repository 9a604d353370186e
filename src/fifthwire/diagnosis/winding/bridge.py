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
from fifthwire.diagnosis.winding.hypothesis import Column

LEAST_LEFT = 1e-10
"""What the windings leave of a column's square is at least this share of it: less is lost in rounding."""

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


def loss_column(gram: Gram, ends: list[int], p: int, q: int, centre_ohm: float) -> Column:
    """The column of the loss (once where one end is read, four times where both are), for a first look."""
    row_p, row_q, h = gram.matrix[p], gram.matrix[q], gram.with_readings
    squared, product = row_p[p] + row_q[q] + 2.0 * row_p[q], h[p] + h[q]
    with_windings = [-row_p[end] - row_q[end] for end in ends]
    pair = gram.pair_column(p, q)
    if pair is not None:
        of_pair, with_readings, with_wires = pair
        squared += 4.0 * (with_wires[p] + with_wires[q] + of_pair)
        product += 2.0 * with_readings
        with_windings = [c - 2.0 * with_wires[end] for c, end in zip(with_windings, ends, strict=True)]
    return Column("loss", (p, q), squared, with_windings, -product - centre_ohm * sum(with_windings))


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
        self.loss_squared = sum([x * product for (_, x), product in zip(self.loss, self._with_loss(), strict=True)])

    def _with_loss(self) -> list[float]:
        row = self.products(self.loss)
        return [row[i] for i, _ in self.loss]

    def products(self, a: Sparse) -> list[float]:
        """Inner products of a column with every wire's, and with the pair's."""
        if len(a) == 1:
            return self.matrix[a[0][0]]
        (i, x), (j, y), (k, z) = a
        return [x * p + y * q + z * r for p, q, r in zip(self.matrix[i], self.matrix[j], self.matrix[k], strict=True)]

    def windings(self, u: float) -> list[Sparse]:
        """Columns of the windings' deviations where the loss is u times the scale."""
        wire_p, wire_q = self.ends[self.p], self.ends[self.q]
        near, far = (1.0 - u) ** 2, u * u
        both = (1.0 - 2.0 * u) ** 2 - near - far
        columns: list[Sparse] = [[(end, 1.0)] for end in self.ends]
        columns[self.p] = [(wire_p, near), (wire_q, far), (self.pair_index, both)]
        columns[self.q] = [(wire_q, near), (wire_p, far), (self.pair_index, both)]
        return columns

    def fit_at(self, prior: Prior, centre_ohm: float, scale_ohm: float, loss_ohm: float, law: SizeLaw) -> BridgeFit:
        """Fit with the readings straight about one scale and one loss; the loss is then integrated over its law."""
        columns = self.windings(loss_ohm / scale_ohm)
        products = [self.products(column) for column in columns]
        gram = [[sum([x * row[i] for i, x in column]) for column in columns] for row in products]
        expected = [0.0] * (self.pair_index + 1)
        for end in self.ends:
            expected[end] = scale_ohm
        for index, x in self.loss:
            expected[index] -= loss_ohm * x
        offset = centre_ohm - scale_ohm
        rho = sum(prior.precision[0]) * offset
        residual = [
            y - sum([m * x for m, x in zip(row, expected, strict=True)])
            for y, row in zip(self.readings, self.matrix, strict=True)
        ]
        g = [sum([x * residual[i] for i, x in column]) + rho for column in columns]
        squared = (
            self.readings_squared
            - sum([x * (y + r) for x, y, r in zip(expected, self.readings, residual, strict=True)])
            + len(self.ends) * rho * offset
        )
        found = fit(prior, scale_ohm, gram, g, squared)
        with_loss = [-sum([x * row[i] for i, x in self.loss]) for row in products]
        lean = [sum([v * c for v, c in zip(row, with_loss, strict=True)]) for row in found.covariance]
        beta = self.loss_squared - sum([c * v for c, v in zip(with_loss, lean, strict=True)])
        beta = max(beta, LEAST_LEFT * self.loss_squared)
        gamma = -sum([x * residual[i] for i, x in self.loss]) - sum(
            [c * d for c, d in zip(with_loss, found.deviation, strict=True)]
        )
        about_zero = gamma + beta * loss_ohm
        sized = integrate(about_zero, beta, loss_law(law, scale_ohm))
        log_evidence = found.log_evidence + sized.log_mean - gamma * loss_ohm - 0.5 * beta * loss_ohm**2
        return BridgeFit(log_evidence, found, lean, sized, scale_ohm, loss_ohm)
