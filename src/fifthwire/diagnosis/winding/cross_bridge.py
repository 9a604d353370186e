"""A bridge between the two groups of a head, the only fault with finite readings from one group to the other.

A bridge of x between a wire p of one group and q of the other adds x to every reading from group to group, and the
path goes round by p and q. Up to 360 places are possible on six wires; all but a few fall at the first test, that one
scale and one x can make the readings at all.
"""

from dataclasses import dataclass
from functools import cache

from fifthwire.diagnosis.winding.arrangements import LAYOUTS, Layout
from fifthwire.diagnosis.winding.base_fit import Fit, Prior, fit, product
from fifthwire.diagnosis.winding.bridge import LEAST_LEFT
from fifthwire.diagnosis.winding.column import Sized, SizeLaw, integrate
from fifthwire.diagnosis.winding.gram import Gram


@dataclass(frozen=True, slots=True)
class CrossFit:
    """Windings and bridge."""

    log_evidence: float
    fit: Fit
    lean: list[float]
    sized: Sized


def path_windings(layout: Layout, a: int, b: int, p: int, q: int) -> tuple[list[int], int]:
    """Windings on the way between positions `a` and `b`, and whether it crosses the bridge from `p` to `q`."""
    if layout.group_of[a] == layout.group_of[b]:
        return _within(layout, a, b), 0
    if layout.group_of[a] != layout.group_of[p]:
        a, b = b, a
    return [x + y for x, y in zip(_within(layout, a, p), _within(layout, b, q), strict=True)], 1


def _within(layout: Layout, a: int, b: int) -> list[int]:
    """Windings between two positions of one group."""
    if a == b:
        return [0] * len(layout.ends)
    pair = (a, b)
    if layout.commons:
        return [int(end in pair) for end in layout.ends]
    return [int(end in pair and hub in pair) for end, hub in zip(layout.ends, layout.common_of, strict=True)]


@dataclass(frozen=True, slots=True)
class Way:
    """The way between two positions across a bridge or beside it."""

    windings: list[int]
    spans: int
    n_windings: int


@cache
def paths_through(name: str, p: int, q: int) -> dict[tuple[int, int], Way]:
    """The ways between every two positions of an arrangement bridged from `p` to `q`."""
    layout = LAYOUTS[name]
    places = range(len(layout.group_of))
    found = {}
    for pair in ((a, b) for a in places for b in places if a != b):
        windings, spans = path_windings(layout, *pair, p, q)
        found[pair] = Way(windings, spans, sum(windings))
    return found


def can_be(nets: list[float], counts: list[int], spans: list[int], low_ohm: float, high_ohm: float) -> bool:
    """Whether one scale K between two limits and one x can make readings of counts·K + spans·x, roughly."""
    n = len(nets)
    cc = sum([c * c for c in counts])
    ss = sum(spans)
    cs = sum([c * s for c, s in zip(counts, spans, strict=True)])
    cy = sum([c * y for c, y in zip(counts, nets, strict=True)])
    sy = sum([y for s, y in zip(spans, nets, strict=True) if s])
    determinant = cc * ss - cs * cs
    if n < 2 or determinant <= 0:
        return True
    scale_ohm, bridge_ohm = (cy * ss - sy * cs) / determinant, (sy * cc - cy * cs) / determinant
    if not max(low_ohm, 0.0) < scale_ohm < high_ohm or bridge_ohm < -2.0 - 0.1 * scale_ohm:
        return False
    allowed = 2.0 + 0.10 * scale_ohm
    return all(abs(y - c * scale_ohm - s * bridge_ohm) <= allowed for c, s, y in zip(counts, spans, nets, strict=True))


class CrossColumns:
    """Columns of the windings and of a bridge between groups, and their inner products."""

    def __init__(self, gram: Gram, rows: list[list[int]], spans: list[int], centre_ohm: float) -> None:
        columns = [[float(x) for x in column] for column in zip(*rows, strict=True)]
        columns.append([float(x) for x in spans])
        columns.append([r.net_ohm - centre_ohm * sum(row) for r, row in zip(gram.readings, rows, strict=True)])
        self.centre_ohm, self.n = centre_ohm, len(columns) - 2
        self.inner: list[list[float]] = []
        sums: list[float] = []
        for number, column in enumerate(columns):
            weighted = [w * x for w, x in zip(gram.weights, column, strict=True)]
            total = sum(weighted)
            sums.append(total)
            part = gram.share * total
            row = [
                sum([x * y for x, y in zip(weighted, other, strict=True)]) - part * t
                for other, t in zip(columns[: number + 1], sums, strict=True)
            ]
            for before, x in zip(self.inner, row, strict=False):
                before.append(x)
            self.inner.append(row)

    def fit_at(self, prior: Prior, law: SizeLaw) -> CrossFit:
        """Fit windings and bridge; the bridge's resistance is integrated over its law."""
        n, inner = self.n, self.inner
        found = fit(prior, self.centre_ohm, [row[:n] for row in inner[:n]], inner[n + 1][:n], inner[n + 1][n + 1])
        with_windings = inner[n][:n]
        lean = product(found.covariance, with_windings)
        beta = inner[n][n] - sum([c * v for c, v in zip(with_windings, lean, strict=True)])
        beta = max(beta, LEAST_LEFT * inner[n][n])
        gamma = inner[n][n + 1] - sum([c * d for c, d in zip(with_windings, found.deviation, strict=True)])
        sized = integrate(gamma, beta, law)
        return CrossFit(found.log_evidence + sized.log_mean, found, lean, sized)


def one_order(rows: list[list[int]], is_shared: bool) -> tuple[int, ...]:
    """Windings in an order in which like sets of columns come alike: by their readings, bobbin by bobbin.

    Two bridges whose columns agree in that order predict the same.
    """
    columns = [*zip(*rows, strict=True)]
    if not is_shared:
        return tuple(sorted(range(len(columns)), key=columns.__getitem__))
    pairs = [sorted((i, i + 1), key=columns.__getitem__) for i in range(0, len(columns), 2)]
    pairs.sort(key=lambda pair: (columns[pair[0]], columns[pair[1]]))
    return tuple([i for pair in pairs for i in pair])


def reordered(found: CrossFit, order: tuple[int, ...], wanted: tuple[int, ...]) -> CrossFit:
    """The same fit with the windings of one order in the places of another."""
    if order == wanted:
        return found
    place = [0] * len(order)
    for at, to in zip(order, wanted, strict=True):
        place[to] = at
    old = found.fit
    deviation = [old.deviation[i] for i in place]
    covariance = [[old.covariance[i][j] for j in place] for i in place]
    moved = Fit(old.centre_ohm, old.prior, deviation, covariance, old.log_evidence)
    return CrossFit(found.log_evidence, moved, [found.lean[i] for i in place], found.sized)
