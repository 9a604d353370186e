"""What a hypothesis says the next reading of two wires will show."""

from functools import cache
from math import exp, log

from fifthwire.diagnosis.winding.arrangements import LAYOUTS, Layout
from fifthwire.diagnosis.winding.cross_bridge import paths_through
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.model.record import record

Lump = tuple[float, float, float]
"""Share, mean and variance of a part of what is predicted. [-, Ω, Ω²]"""

N_LUMPS = 5
"""Parts into which a size that nothing was read of is cut, of equal probability."""


@record(kw_only=False)
class Sizes:
    """Limits of the sizes of faults of which nothing was read. [Ω, but a fraction for shorted turns]"""

    contact: tuple[float, float]
    bridge: tuple[float, float]
    shorted: tuple[float, float]


class Predictor:
    """Predictions of one hypothesis, by the positions of the two wires in its arrangement."""

    __slots__ = ("covariance", "hypothesis", "known", "layout", "p", "q", "scale_ohm", "sizes", "spanning", "windings")

    def __init__(self, hypothesis: Hypothesis, sizes: Sizes) -> None:
        fit = hypothesis.fit
        assert fit is not None
        self.hypothesis, self.sizes, self.layout = hypothesis, sizes, LAYOUTS[hypothesis.arrangement]
        self.known: dict[tuple[int, int], list[Lump]] = {}
        crosses = hypothesis.cause == "bridged" and _is_cross(self.layout, hypothesis.places)
        self.p, self.q = hypothesis.places if crosses else (0, 0)
        self.spanning = crosses
        self.windings = [fit.centre_ohm + d for d in hypothesis.deviation()]
        self.scale_ohm = sum(self.windings) / len(self.windings)
        self.covariance = fit.covariance

    def between(self, a: int, b: int) -> list[Lump]:
        """Lumps of the reading, its own noise not in; empty where it will show open."""
        pair = (a, b) if a < b else (b, a)
        found = self.known.get(pair)
        if found is None:
            found = self.known[pair] = self._lumps(pair)
        return found

    def _lumps(self, pair: tuple[int, int]) -> list[Lump]:
        hypothesis, group = self.hypothesis, self.layout.group_of
        spans = group[pair[0]] != group[pair[1]]
        if spans and not self.spanning:
            return []
        way = paths_through(hypothesis.arrangement, self.p, self.q)[pair]
        used = [index for index, count in enumerate(way.windings) if count]
        if _is_broken(hypothesis, pair, used):
            return []
        mean = sum([self.windings[i] for i in used])
        variance = sum([self.covariance[i][j] for i in used for j in used])
        size_share = _size_share(hypothesis, self.layout, pair, spans)
        if hypothesis.sized is not None:
            lean = sum([hypothesis.lean[i] for i in used])
            mean += size_share * hypothesis.sized.mean
            return [(1.0, mean, variance + (size_share - lean) ** 2 * hypothesis.sized.variance)]
        if size_share == 0.0:
            return [(1.0, mean, variance)]
        found = _unread_sizes(hypothesis, self.scale_ohm, self.sizes)
        return [(share, mean + size_share * size, variance + size_share**2 * spread) for share, size, spread in found]


def _is_cross(layout: Layout, places: tuple[int, ...]) -> bool:
    return layout.group_of[places[0]] != layout.group_of[places[1]]


def _is_broken(hypothesis: Hypothesis, pair: tuple[int, int], used: list[int]) -> bool:
    if hypothesis.broken is not None:
        return hypothesis.broken in used
    return hypothesis.cause == "open-common" and hypothesis.places[0] in pair


def _size_share(hypothesis: Hypothesis, layout: Layout, pair: tuple[int, int], spans: bool) -> float:
    """How the reading depends on the fault's size."""
    places = hypothesis.places
    if hypothesis.cause == "bad-contact":
        return float(sum(place in pair for place in places[:1] if layout.commons) or _any(hypothesis, pair))
    if hypothesis.cause == "shorted-turns":
        return -float(_any(hypothesis, pair))
    if hypothesis.cause != "bridged":
        return 0.0
    if _is_cross(layout, places):
        return float(spans)
    n_shared = sum(place in pair for place in places)
    return -float(n_shared * n_shared)


def _any(hypothesis: Hypothesis, pair: tuple[int, int]) -> bool:
    return any(place in pair for place in hypothesis.places)


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
