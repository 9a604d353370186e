"""A hypothesis of a head: an arrangement, a cause, the places it names, and how well the readings fit it."""

from collections.abc import Callable
from dataclasses import dataclass, field

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
            bridge_ohm = scale_ohm * scale_ohm / max(size, 1e-9) - 2.0 * scale_ohm
            return law.density(min(max(bridge_ohm, law.low), law.high)) * (scale_ohm / size) ** 2
        if self.column is not None and self.column.times_scale:
            return law.density(size / scale_ohm) / scale_ohm
        return law.density(size)

    def size_limits(self, scale_ohm: Callable[[float], float]) -> tuple[float, float]:
        """Limits of the size in the coordinate of the readings, where the scale depends on the size. [Ω]"""
        law = self.law
        assert law is not None
        if self.bridge is None and not (self.column is not None and self.column.times_scale):
            return law.low, law.high
        found = []
        for at in (law.low, law.high):
            size = self.sized.mean if self.sized else 0.0
            for _ in range(4):
                k = scale_ohm(size)
                size = k * at if self.bridge is None else k * k / (2.0 * k + at)
            found.append(size)
        return min(found), max(found)

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
