"""What a hypothesis says the next reading of two wires will show."""

from dataclasses import dataclass
from functools import cache
from math import exp, log

from fifthwire.diagnosis.winding.arrangements import LAYOUTS, Layout
from fifthwire.diagnosis.winding.cross_bridge import path_windings
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.model.record import record

Lump = tuple[float, float, float]
"""Share, mean and variance of a part of what is predicted. [-, Ω, Ω²]"""

N_LUMPS = 5
"""Parts into which a size that nothing was read of is cut, of equal probability."""


@dataclass(slots=True)
class Predictor:
    """Predictions of one hypothesis, by the positions of the two wires in its arrangement."""

    hypothesis: Hypothesis
    sizes: "Sizes"
    known: dict[tuple[int, int], list[Lump]]

    def between(self, a: int, b: int) -> list[Lump]:
        """Lumps of the reading, its own noise not in; empty where it will show open."""
        pair = (a, b) if a < b else (b, a)
        found = self.known.get(pair)
        if found is None:
            found = self.known[pair] = _lumps(self.hypothesis, pair, self.sizes)
        return found


@record(kw_only=False)
class Sizes:
    """Limits of the sizes of faults of which nothing was read. [Ω, but a fraction for shorted turns]"""

    contact: tuple[float, float]
    bridge: tuple[float, float]
    shorted: tuple[float, float]


def predictor_of(hypothesis: Hypothesis, sizes: Sizes) -> Predictor:
    """A predictor with nothing predicted yet."""
    return Predictor(hypothesis, sizes, {})


def _lumps(hypothesis: Hypothesis, pair: tuple[int, int], sizes: Sizes) -> list[Lump]:
    layout = LAYOUTS[hypothesis.arrangement]
    a, b = pair
    spans = layout.group_of[a] != layout.group_of[b]
    crosses = hypothesis.cause == "bridged" and _is_cross(layout, hypothesis.places)
    if spans and not crosses:
        return []
    if spans:
        p, q = hypothesis.places
        windings, _ = path_windings(layout, a, b, p, q)
    else:
        windings, _ = path_windings(layout, a, b, 0, 0)
    if _is_broken(hypothesis, layout, pair, windings):
        return []
    own, size_share = _row(hypothesis, layout, pair, windings, spans)
    return _posterior(hypothesis, own, size_share, sizes)


def _is_cross(layout: Layout, places: tuple[int, ...]) -> bool:
    return layout.group_of[places[0]] != layout.group_of[places[1]]


def _is_broken(hypothesis: Hypothesis, layout: Layout, pair: tuple[int, int], windings: list[int]) -> bool:
    if hypothesis.broken is not None:
        return bool(windings[hypothesis.broken])
    return hypothesis.cause == "open-common" and hypothesis.places[0] in pair


def _row(
    hypothesis: Hypothesis, layout: Layout, pair: tuple[int, int], windings: list[int], spans: bool
) -> tuple[list[float], float]:
    """How the reading depends on each winding's resistance and on the fault's size."""
    row = [float(count) for count in windings]
    if hypothesis.cause == "bad-contact":
        return row, float(
            sum(place in pair for place in hypothesis.places[:1] if layout.commons) or _any(hypothesis, pair)
        )
    if hypothesis.cause == "shorted-turns":
        return row, -float(_any(hypothesis, pair))
    if hypothesis.cause != "bridged":
        return row, 0.0
    if _is_cross(layout, hypothesis.places):
        return row, float(spans)
    n_shared = sum(place in pair for place in hypothesis.places)
    return row, -float(n_shared * n_shared)


def _any(hypothesis: Hypothesis, pair: tuple[int, int]) -> bool:
    return any(place in pair for place in hypothesis.places)


def _posterior(hypothesis: Hypothesis, row: list[float], size_share: float, sizes: Sizes) -> list[Lump]:
    fit = hypothesis.fit
    assert fit is not None
    deviation = hypothesis.deviation()
    centre = fit.centre_ohm
    mean = sum([x * (centre + d) for x, d in zip(row, deviation, strict=True)])
    used = [index for index, x in enumerate(row) if x]
    variance = sum([row[i] * row[j] * fit.covariance[i][j] for i in used for j in used])
    if hypothesis.sized is not None:
        lean = sum([row[i] * hypothesis.lean[i] for i in used])
        mean += size_share * hypothesis.sized.mean
        return [(1.0, mean, variance + (size_share - lean) ** 2 * hypothesis.sized.variance)]
    if size_share == 0.0:
        return [(1.0, mean, variance)]
    scale_ohm = centre + sum(deviation) / len(deviation)
    found = _unread_sizes(hypothesis, scale_ohm, sizes)
    return [(share, mean + size_share * size, variance + size_share**2 * spread) for share, size, spread in found]


def _unread_sizes(hypothesis: Hypothesis, scale_ohm: float, sizes: Sizes) -> list[Lump]:
    if hypothesis.cause == "bad-contact":
        return _log_lumps(*sizes.contact)
    if hypothesis.cause == "shorted-turns":
        low, high = sizes.shorted[0] * scale_ohm, sizes.shorted[1] * scale_ohm
        step = (high - low) / N_LUMPS
        return [(1.0 / N_LUMPS, low + (index + 0.5) * step, step * step / 12.0) for index in range(N_LUMPS)]
    lumps = _log_lumps(*sizes.bridge)
    if _is_cross(LAYOUTS[hypothesis.arrangement], hypothesis.places):
        return lumps
    return [
        (share, scale_ohm**2 / (2.0 * scale_ohm + x), v * (scale_ohm / (2.0 * scale_ohm + x)) ** 4)
        for share, x, v in lumps
    ]


@cache
def _log_lumps(low: float, high: float) -> list[Lump]:
    step = log(high / low) / N_LUMPS
    middles = [low * exp((index + 0.5) * step) for index in range(N_LUMPS)]
    return [(1.0 / N_LUMPS, middle, (middle * step) ** 2 / 12.0) for middle in middles]
