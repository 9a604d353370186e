"""A hypothesis of a head: an arrangement, a cause, the places it names, and how well the readings fit it."""

from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf

from fifthwire.diagnosis.winding.arrangements import ArrangementClass
from fifthwire.diagnosis.winding.base_fit import Fit
from fifthwire.diagnosis.winding.column import Sized, SizeLaw
from fifthwire.diagnosis.winding.scale import ScaleLaw


@dataclass(frozen=True, slots=True)
class Column:
    """What a fault of size 1 adds to each reading, and its products with everything else."""

    kind: str
    """wire | short | stray | star-bridge | cross-bridge."""
    at: tuple[int, ...]
    """Positions in the arrangement; of a stray reading its number."""
    squared: float
    with_windings: list[float]
    with_residual: float
    times_scale: bool = False
    """Whether the size's law is a fraction of the head's scale."""


@dataclass(frozen=True, slots=True)
class Bridge:
    """Where a bridge's readings are taken as straight lines."""

    scale_ohm: float
    loss_ohm: float

    def _per_scale(self) -> float:
        """How a loss goes with the scale while the bridge's resistance stays."""
        u = self.loss_ohm / self.scale_ohm
        return 2.0 * u * (1.0 - u)

    def loss_at(self, size: float, scale_ohm: float) -> float:
        """The loss at another scale, where the size is what the straight lines say at theirs. [Ω]"""
        return size + self._per_scale() * (scale_ohm - self.scale_ohm)

    def size_at(self, loss: float, scale_ohm: float) -> float:
        """The other way round. [Ω]"""
        return loss - self._per_scale() * (scale_ohm - self.scale_ohm)

    def loss_slope(self, rise: float) -> float:
        """How the loss goes with the size where the scale rises with it. [1]"""
        return 1.0 + self._per_scale() * rise


@dataclass(slots=True)
class Hypothesis:
    """One way in which the readings may have come about."""

    cause: str
    places: tuple[int, ...]
    """Positions in the arrangement that the cause names."""
    log_weight: float
    arrangement: str = ""
    klass: ArrangementClass = ArrangementClass(((),), 1.0)
    log_prior: float = 0.0
    """Of arrangement and cause."""
    log_place: float = 0.0
    """Of the place, given the cause."""
    scale: ScaleLaw | None = None
    fit: Fit | None = None
    column: Column | None = None
    law: SizeLaw | None = None
    sized: Sized | None = None
    lean: list[float] = field(default_factory=list)
    """How far the windings' deviations fall for each unit of the size."""
    broken: int | None = None
    """The open winding, by number."""
    bridge: Bridge | None = None

    def size_density(self, size: float, scale_ohm: float) -> float:
        """Density of the size in the coordinate of the readings, given the scale. [1/Ω]"""
        law = self.law
        assert law is not None
        if self.bridge is not None:
            loss = max(self.bridge.loss_at(size, scale_ohm), 1e-9)
            bridge_ohm = scale_ohm * scale_ohm / loss - 2.0 * scale_ohm
            return law.density(min(max(bridge_ohm, law.low), law.high)) * (scale_ohm / loss) ** 2
        if self.column is not None and self.column.times_scale:
            return law.density(size / scale_ohm) / scale_ohm
        return law.density(size)

    def size_limits(self, scale_ohm: Callable[[float], float]) -> tuple[float, float]:
        """Limits of the size in the coordinate of the readings, where the scale depends on the size. [Ω]"""
        law = self.law
        assert law is not None
        if self.bridge is None and not (self.column is not None and self.column.times_scale):
            return law.low, law.high
        if self.bridge is None:
            return _share_of_scale(law.low, scale_ohm), _share_of_scale(law.high, scale_ohm)
        most, least = self._bridge_limit(law.low, scale_ohm, inf), self._bridge_limit(law.high, scale_ohm, -inf)
        return min(most, least), max(most, least)

    def _bridge_limit(self, bridge_ohm: float, scale_ohm: Callable[[float], float], beyond: float) -> float:
        """Size of a bridge of this resistance; `beyond` where so far off the scale runs away from it."""
        assert self.bridge is not None
        size = before = self.sized.mean if self.sized else 0.0
        for _ in range(8):
            k = scale_ohm(size)
            size, before = self.bridge.size_at(k * k / (2.0 * k + bridge_ohm), k), size
        return size if abs(size - before) < 1e-3 * scale_ohm(size) else beyond

    def deviation(self) -> list[float]:
        """Posterior mean of the windings' deviations, the fault's size at its mean."""
        if self.fit is None:
            return []
        if self.sized is None:
            return self.fit.deviation
        size = self.sized.mean - (self.bridge.loss_ohm if self.bridge else 0.0)
        return [d - size * v for d, v in zip(self.fit.deviation, self.lean, strict=True)]

    def covariance(self, i: int, j: int) -> float:
        """Posterior covariance of two windings' deviations, the fault's size unknown."""
        if self.fit is None:
            return 0.0
        own = self.fit.covariance[i][j]
        return own if self.sized is None else own + self.lean[i] * self.lean[j] * self.sized.variance


def _share_of_scale(share: float, scale_ohm: Callable[[float], float]) -> float:
    """The size that is this share of the scale, where the scale is straight in the size."""
    at_zero = scale_ohm(0.0)
    left = 1.0 - share * (scale_ohm(1.0) - at_zero)
    return share * at_zero / left if left > 1e-3 else inf
