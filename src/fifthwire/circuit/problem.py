"""What Newton's method asks of a set of cases, and what cooling and heating have in common."""

from abc import ABC, abstractmethod
from enum import Enum
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from fifthwire.circuit import sizes
from fifthwire.circuit.compressor import Suction
from fifthwire.circuit.fluid import Saturated
from fifthwire.circuit.scenario import Scenarios
from fifthwire.circuit.system import CircuitSystem

Array = NDArray[np.float64]
Jacobian = NDArray[np.float64]
PER_LOG_SPEED: Final = 20.0
"""What a log of speed counts in the residual, in kelvin.  Our choice."""
PER_CHARGE: Final = 20.0
"""What the whole charge counts in the residual.  Our choice."""
DIFFERENCE: Final = 1e-6
"""Of a scale, for a slope."""


class Closure(Enum):
    """What is known of the refrigerant's whereabouts."""

    MINUTES_AFTER = "minutes-after"
    SETTLED = "settled"
    DESIGN = "design"
    """Heating only: the liquid line's pressure stands where it is meant to. Gives the charge that takes part."""


CLOSURES: Final = (Closure.MINUTES_AFTER.value, Closure.SETTLED.value)
"""Those that a person may ask for."""


class Problem(ABC):
    """Cases of one system with their equations; rows are independent of each other.

    Parameters
    ----------
    system : CircuitSystem
        The plant.
    cases : Scenarios
        What is around it and what is wrong.
    closure : Closure
        Which closure.
    """

    difference = DIFFERENCE
    scanned = "evaporating"
    """Which temperature is the first unknown, along which a hard case is scanned."""
    too_fast = ""
    """What it means where even the least speed is too much all along."""
    too_slow = ""
    """What it means where even the most speed is too little all along."""

    def __init__(self, system: CircuitSystem, cases: Scenarios, closure: Closure, **held: Any) -> None:
        self.system, self.cases, self.closure = system, cases, closure
        self.loss_k: Array | None = held.get("loss_k")
        self.flooded_aim: Array = held.get("flooded_aim", np.tile(system.flooded_share, (len(cases), 1)))
        least, most = system.plant.compressor.speed_frac
        fixed = cases.fixed_speed_frac
        self.is_fixed = ~np.isnan(fixed)
        self.least_speed = np.where(self.is_fixed, fixed, least)
        self.most_speed = np.where(self.is_fixed, fixed, most)
        self.most_condensing_c = min(sizes.MOST_CONDENSING_C, system.fluid.high_c - 1.0)
        heats = system.mode == "heating"
        self.least_evaporating_c = sizes.LEAST_EVAPORATING_HEATING_C if heats else sizes.LEAST_EVAPORATING_C
        self.fixed_at: Array | None = held.get("fixed_at")
        self.prepare()

    def rows(self, which: Any) -> "Problem":
        """The same for some of the cases."""
        held: dict[str, Any] = {"flooded_aim": np.broadcast_to(self.flooded_aim, self.outdoor_shape)[which]}
        for name in ("loss_k", "fixed_at"):
            value = getattr(self, name)
            if value is not None:
                held[name] = value[which]
        return type(self)(self.system, self.cases.rows(which), self.closure, **held)

    @property
    def outdoor_shape(self) -> tuple[int, int]:
        return len(self.cases), len(self.system.outdoor)

    def compress(self, suction: Suction, high: Saturated, flow: Array) -> tuple[Array, Array]:
        """Speed and enthalpy at the outlet. [..., outdoor]"""
        law, size = self.system.law, self.system.size
        speed = law.speed_frac(flow, size, suction, high.dew_c)
        ideal = self.system.fluid.at_entropy(high, suction.state.entropy) - suction.enthalpy
        return speed, suction.enthalpy + law.work_kj_kg(speed, size, suction, high.dew_c, ideal)

    def held_at(self, first_c: Array) -> "Problem":
        """The same with the first unknown given in place of the speed's equation. [n]"""
        other = self.rows(slice(None))
        other.fixed_at = first_c
        return other

    @abstractmethod
    def ruled_out(self) -> list[tuple[NDArray[np.bool_], str]]:
        """Which cases have no state whatever the pressures, and why."""

    def because(self, row: int) -> str | None:
        """What is known to make a case hopeless that nothing balances."""
        return None

    @abstractmethod
    def speed_balance(self, u: Array) -> Array:
        """The speed's part of the residual, whatever is held. [n]"""

    @abstractmethod
    def span_c(self) -> tuple[Array, Array]:
        """Between which the first unknown makes sense. [n] each"""

    @abstractmethod
    def flooded_share(self, u: Array) -> Array:
        """Of the outdoor coils, filled with liquid. [n, outdoor]"""

    @abstractmethod
    def losses_k(self, u: Array) -> Array:
        """Losses of the gas pipes by the flows at the unknowns. [n, units]"""

    @abstractmethod
    def beyond(self, u: Array) -> list[tuple[NDArray[np.bool_], str]]:
        """Which cases lie beyond a limit, limit by limit, and what that means."""

    @abstractmethod
    def prepare(self) -> None:
        """What does not change with the state."""

    @property
    @abstractmethod
    def scales(self) -> Array:
        """Of the unknowns."""

    @property
    @abstractmethod
    def steps(self) -> Array:
        """Most of one step, of each unknown."""

    @abstractmethod
    def bounds(self) -> tuple[Array, Array]:
        """Between which the unknowns stay. [n, unknowns] each"""

    @abstractmethod
    def start(self) -> Array:
        """Where to begin. [n, unknowns]"""

    @abstractmethod
    def other_start(self) -> Array:
        """Where to begin in a case that is far from usual: next to nothing flows. [n, unknowns]"""

    @abstractmethod
    def evaluate(self, u: Array) -> tuple[Array, Jacobian]:
        """Residuals and their slopes. [n, unknowns], [n, residuals, unknowns]"""


NO_WAY: Final = "every valve on the refrigerant's way is shut: the compressors pump the suction down and stop"
OVER_HIGH: Final = (
    "the discharge pressure lies above its limit even at the least speed: the high-pressure protection stops it"
)
UNDER_LOW: Final = (
    "the suction pressure lies below its limit even at the least speed: the low-pressure protection stops it"
)
TOO_HOT: Final = "the discharge is more than 100 K above saturation: beyond what the refrigerant's figures cover"
OUTSIDE_MAP: Final = "the state lies outside the limits of the compressor's map: nothing is known of it there"
STILL_KG_S: Final = 1e-9
"""Up to so much through a compressor counts as nothing.  [kg/s]  Our choice: below any leak of a seat."""
CLOSE_K: Final = 0.01


def held_by_speed(excess_k: Array, speed_frac: Array, of: Problem, over_high_k: Array, under_low_k: Array) -> Array:
    """The speed's part of the residual: zero where the aim is held inside the range, or at the end that comes nearest.

    `excess_k` is positive where less speed is wanted. Above the limits of the pressures the speed is held back.
    """
    speed = np.maximum(speed_frac, 1e-9)
    over_least = PER_LOG_SPEED * np.log(speed / of.least_speed)
    over_most = PER_LOG_SPEED * np.log(speed / of.most_speed)
    base = np.where(of.is_fixed, over_most, np.maximum(np.minimum(excess_k, over_least), over_most))
    held_back = np.minimum(np.maximum(np.maximum(base, over_high_k), under_low_k), over_least)
    return np.where(of.is_fixed, over_most, held_back)
