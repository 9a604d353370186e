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
    winding: int | None = None
    """The winding of whose own resistance the size is a fraction, by number; None where the size is in ohm."""


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

    def loss_slope(self, rise: float) -> float:
        """How the loss goes with the size where the scale rises with it. [1]"""
        return 1.0 + self._per_scale() * rise

    def size_of(self, bridge_ohm: float, scale_ohm: Callable[[float], float], start: float) -> float | None:
        """The size that a bridge of this resistance has where the scale goes with the size; None where none is found.

        By Newton's steps from `start`.
        """
        rise = scale_ohm(start + 1.0) - scale_ohm(start)
        size, slope = start, self.loss_slope(rise)
        for _ in range(12):
            k = scale_ohm(size)
            left = k / (2.0 * k + bridge_ohm)
            fall = slope - 2.0 * left * (1.0 - left) * rise
            if abs(fall) < 1e-3:
                return None
            step = (self.loss_at(size, k) - left * k) / fall
            size -= step
            if abs(step) < 1e-7 * k:
                return size
        return None


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
    alike: tuple[object, ...] | None = None
    """Hypotheses with the same predict the same readings, whatever their windings are called."""

    @property
    def is_share(self) -> bool:
        """Whether the size's law is of a fraction of one winding."""
        return self.bridge is None and self.column is not None and self.column.winding is not None

    def size_density(self, size: float, of_ohm: float) -> float:
        """Density of the size in the coordinate of the readings, given the scale or the winding it is a share of.

        [1/Ω]
        """
        law = self.law
        assert law is not None
        if self.bridge is not None:
            loss = max(self.bridge.loss_at(size, of_ohm), 1e-9)
            bridge_ohm = of_ohm * of_ohm / loss - 2.0 * of_ohm
            return law.density(min(max(bridge_ohm, law.low), law.high)) * (of_ohm / loss) ** 2
        if self.is_share:
            return law.density(size / of_ohm) / of_ohm
        return law.density(size)

    def size_limits(self, of_ohm: Callable[[float], float]) -> tuple[float, float]:
        """Limits of the size in the coordinate of the readings, where what it is a share of depends on the size. [Ω]"""
        law = self.law
        assert law is not None
        if self.is_share:
            return _share_of(law.low, of_ohm), _share_of(law.high, of_ohm)
        if self.bridge is None:
            return law.low, law.high
        start = self.sized.mean if self.sized else 0.0
        most, least = (self.bridge.size_of(x, of_ohm, start) for x in (law.low, law.high))
        ends = inf if most is None else most, -inf if least is None else least
        return min(ends), max(ends)

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


def _share_of(share: float, of_ohm: Callable[[float], float]) -> float:
    """The size that is this share of a resistance which is straight in the size."""
    at_zero = of_ohm(0.0)
    left = 1.0 - share * (of_ohm(1.0) - at_zero)
    return share * at_zero / left if left > 1e-3 else inf
