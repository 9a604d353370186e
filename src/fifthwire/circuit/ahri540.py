"""A compressor's map: ten coefficients each for flow or capacity and for power, as AHRI 540 and EN 12900 write them.

The map speaks of its rating's suction superheat; another superheat is corrected for with the density at suction (flow)
and the work of an ideal compression (power), after E. B. Dabiri and C. K. Rice, "A compressor simulation model with
corrections for the level of suction gas superheat", ASHRAE Transactions 87 (2), 1981, 771-782. A map holds only inside
its limits, and one that gives nothing or less than nothing there is refused.
"""

from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from fifthwire.model.errors import InputError
from fifthwire.properties import RefrigerantArrays

Array = NDArray[np.float64]

SUPERHEAT_SHARE: Final = 0.75
"""How much of the change of suction density reaches the cylinder.  [1]  Dabiri and Rice 1981."""
TERMS: Final = 10
_GRID: Final = 41
_ZOOMS: Final = 6


@dataclass(frozen=True)
class TenTerms:
    """A cubic of the two saturation temperatures, in the order of the standard.

    Parameters
    ----------
    coefficients : tuple of float
        C1 to C10: 1, S, D, S², S D, D², S³, D S², S D², D³ (S suction, D discharge dew temperature).
    per : float
        What one of the map's own units is in kg/s or W.  [1]
    is_fahrenheit : bool
        Whether S and D are in °F.
    """

    coefficients: tuple[float, ...]
    per: float = 1.0
    is_fahrenheit: bool = False

    def at(self, evaporating_c: ArrayLike, condensing_c: ArrayLike) -> Array:
        """The value, in kg/s or W. [°C], [°C]"""
        s, d = np.asarray(evaporating_c, dtype=float), np.asarray(condensing_c, dtype=float)
        if self.is_fahrenheit:
            s, d = 1.8 * s + 32.0, 1.8 * d + 32.0
        c1, c2, c3, c4, c5, c6, c7, c8, c9, c10 = self.coefficients
        of_s = c1 + s * (c2 + s * (c4 + s * c7))
        return np.asarray(self.per * (of_s + d * (c3 + s * (c5 + s * c8) + d * (c6 + s * c9 + d * c10))))


@dataclass(frozen=True)
class AtSpeed:
    """The map at one speed; flow or capacity, whichever its file gives, and power."""

    speed_frac: float
    """Of the rated speed.  [1]"""
    power_watt: TenTerms
    flow_kg_s: TenTerms | None = None
    capacity_watt: TenTerms | None = None


@dataclass(frozen=True)
class CompressorMap:
    """A map as read, not yet tied to the properties of a refrigerant."""

    name: str
    refrigerant: str
    speeds: tuple[AtSpeed, ...]
    """Slowest first."""
    evaporating_c: tuple[float, float]
    condensing_c: tuple[float, float]
    """Limits inside which it holds, of the dew temperatures.  [°C]"""
    superheat_k: float = 0.0
    """At suction, of its rating.  [K]"""
    return_gas_c: float | None = None
    """Temperature at suction of its rating, in place of the superheat.  [°C]"""
    subcooling_k: float = 0.0
    """Of the liquid, behind a capacity.  [K]"""
    liquid_c: float | None = None
    """Temperature of the liquid behind a capacity, in place of the subcooling.  [°C]"""

    def rating_superheat_k(self, evaporating_c: ArrayLike) -> Array:
        """Suction superheat of the rating; never below 0. [°C] -> [K]"""
        evaporating = np.asarray(evaporating_c, dtype=float)
        if self.return_gas_c is None:
            return np.full_like(evaporating, self.superheat_k)
        return np.maximum(self.return_gas_c - evaporating, 0.0)

    def is_outside(self, evaporating_c: ArrayLike, condensing_c: ArrayLike) -> NDArray[np.bool_]:
        """Where a point lies outside the map's limits. [°C], [°C]"""
        evaporating, condensing = np.asarray(evaporating_c, dtype=float), np.asarray(condensing_c, dtype=float)
        (low, high), (cold, hot) = self.evaporating_c, self.condensing_c
        return np.asarray(~((evaporating >= low) & (evaporating <= high) & (condensing >= cold) & (condensing <= hot)))


class Lowest(NamedTuple):
    """Where in its limits a map gives least."""

    of: str
    value: float
    evaporating_c: float
    condensing_c: float
    speed_frac: float


def lowest_values(of: CompressorMap) -> tuple[Lowest, ...]:
    """The least flow or capacity and the least power of each speed, inside the map's own limits.

    Parameters
    ----------
    of : CompressorMap
        The map.

    Returns
    -------
    tuple of Lowest
        By a grid that is refined about its least point: a cubic has few of them.  [kg/s] or [W]
    """
    found = []
    for one in of.speeds:
        for what, terms in (("flow", one.flow_kg_s), ("capacity", one.capacity_watt), ("power", one.power_watt)):
            if terms is not None:
                found.append(Lowest(what, *_lowest(terms, of.evaporating_c, of.condensing_c), one.speed_frac))
    return tuple(found)


def _lowest(
    terms: TenTerms, evaporating_c: tuple[float, float], condensing_c: tuple[float, float]
) -> tuple[float, float, float]:
    ends = np.array([evaporating_c, condensing_c])
    (low, high) = ends.T
    for _ in range(_ZOOMS):
        evaporating, condensing = np.meshgrid(*np.linspace(low, high, _GRID).T, indexing="ij")
        values = terms.at(evaporating, condensing)
        at = np.unravel_index(values.argmin(), values.shape)
        best = np.array([evaporating[at], condensing[at]])
        step = (high - low) / (_GRID - 1)
        low, high = np.maximum(best - step, ends[:, 0]), np.minimum(best + step, ends[:, 1])
    return float(values[at]), float(best[0]), float(best[1])


def checked_map(of: CompressorMap) -> CompressorMap:
    """The map itself, if it gives a flow and a power everywhere in its limits.

    Raises
    ------
    InputError
        With the first point at which it does not: such a map was fitted badly, or its limits are wrong.
    """
    for one in lowest_values(of):
        if not one.value > 0.0:
            shown = f"{one.value * 3600.0:.4g} kg/h" if one.of == "flow" else f"{one.value:.4g} W"
            at_speed = f" at speed {one.speed_frac:g}" if len(of.speeds) > 1 else ""
            raise InputError(
                f"compressor map {of.name}: its {one.of} is {shown}{at_speed} where it evaporates at "
                f"{one.evaporating_c:.1f} °C and condenses at {one.condensing_c:.1f} °C, inside its own limits",
                "Take another map, or narrow its limits to what was measured.",
            )
    return of


class RatedPoint(NamedTuple):
    """What a map gives at its own suction superheat, a row a speed."""

    flow_kg_s: Array
    power_watt: Array
    suction_m3_kg: Array
    """Specific volume at suction of the rating, the same for all speeds.  [m³/kg]"""
    ideal_kj_kg: Array
    """Work of an ideal compression from there, the same for all speeds.  [kJ/kg]"""

    @property
    def isentropic_frac(self) -> Array:
        """Efficiency that the map implies: it stays where the superheat changes. [1]"""
        return np.asarray(self.flow_kg_s * self.ideal_kj_kg * 1e3 / self.power_watt)


class MappedCompressor:
    """A map with the properties of its refrigerant.

    Parameters
    ----------
    of : CompressorMap
        Read and checked.
    refrigerant : RefrigerantArrays
        Its refrigerant.

    Raises
    ------
    InputError
        If the map is of another refrigerant, or gives nothing inside its limits.
    """

    def __init__(self, of: CompressorMap, refrigerant: RefrigerantArrays) -> None:
        if of.refrigerant.upper() != refrigerant.name.upper():
            raise InputError(
                f"compressor map {of.name} is for {of.refrigerant}, the plant holds {refrigerant.name}",
                "Take the map of a compressor for this refrigerant, or give its efficiencies.",
            )
        self.map, self._of = checked_map(of), refrigerant
        self.speeds = np.array([one.speed_frac for one in of.speeds])

    def rated(self, evaporating_c: ArrayLike, condensing_c: ArrayLike) -> RatedPoint:
        """What the map gives at points, a row a speed; NaN where the refrigerant is not known.

        Parameters
        ----------
        evaporating_c, condensing_c : array_like
            Dew temperatures, of one shape.  [°C]

        Returns
        -------
        RatedPoint
            Rows by speed, then the shape of the points.
        """
        evaporating, condensing = np.broadcast_arrays(
            np.asarray(evaporating_c, dtype=float), np.asarray(condensing_c, dtype=float)
        )
        low, high = self._of.dew_kpa_abs(evaporating), self._of.dew_kpa_abs(condensing)
        superheat = self.map.rating_superheat_k(evaporating)
        inlet = self._of.vapour_enthalpy_kj_kg(low, superheat)
        ideal = self._of.isentropic_enthalpy_kj_kg(self._of.vapour_entropy_kj_kg_k(low, superheat), high) - inlet
        per_kg = 1e3 * (inlet - self._of.liquid_enthalpy_kj_kg(self._rating_liquid_c(high)))
        flow = [_flow(one, evaporating, condensing, per_kg) for one in self.map.speeds]
        power = [one.power_watt.at(evaporating, condensing) for one in self.map.speeds]
        volume = 1.0 / self._of.vapour_density_kg_m3(low, superheat)
        return RatedPoint(np.array(flow), np.array(power), volume, ideal)

    def _rating_liquid_c(self, high_kpa_abs: Array) -> Array:
        """Temperature of the liquid behind a capacity."""
        if self.map.liquid_c is not None:
            return np.full_like(high_kpa_abs, self.map.liquid_c)
        return np.asarray(self._of.bubble_c(high_kpa_abs) - self.map.subcooling_k)

    def flow_kg_s(
        self, evaporating_c: ArrayLike, condensing_c: ArrayLike, speed_frac: ArrayLike, suction_m3_kg: ArrayLike
    ) -> Array:
        """Flow at a speed and a suction.

        Parameters
        ----------
        evaporating_c, condensing_c : array_like
            Dew temperatures.  [°C]
        speed_frac : array_like
            Of the rated speed; between the map's speeds on straight lines, beyond them in proportion.  [1]
        suction_m3_kg : array_like
            Specific volume at suction; that of the mixture where it is wet.  [m³/kg]

        Returns
        -------
        array
            [kg/s]
        """
        rated = self.rated(evaporating_c, condensing_c)
        at = along_speed(self.speeds, rated.flow_kg_s, np.asarray(speed_frac, dtype=float))
        return np.asarray(at * suction_correction(rated.suction_m3_kg, suction_m3_kg))

    def speed_frac(
        self, evaporating_c: ArrayLike, condensing_c: ArrayLike, flow_kg_s: ArrayLike, suction_m3_kg: ArrayLike
    ) -> Array:
        """Speed at which the map gives a flow: the inverse of `flow_kg_s`. [°C], [°C], [kg/s], [m³/kg] -> [1]"""
        rated = self.rated(evaporating_c, condensing_c)
        wanted = np.asarray(flow_kg_s, dtype=float) / suction_correction(rated.suction_m3_kg, suction_m3_kg)
        return speed_of_flow(self.speeds, rated.flow_kg_s, wanted)

    def isentropic_frac(self, evaporating_c: ArrayLike, condensing_c: ArrayLike, speed_frac: ArrayLike) -> Array:
        """Isentropic efficiency at a speed: power is flow times ideal work over this. [°C], [°C], [1] -> [1]"""
        rated = self.rated(evaporating_c, condensing_c)
        speed = np.asarray(speed_frac, dtype=float)
        return along_speed(self.speeds, rated.isentropic_frac, speed, starts_at_zero=False)


def suction_correction(rating_m3_kg: ArrayLike, suction_m3_kg: ArrayLike) -> Array:
    """Factor on a map's flow where the suction is not that of its rating.

    .. math:: m / m_{map} = 1 + F (v_{map} / v - 1)

    Parameters
    ----------
    rating_m3_kg, suction_m3_kg : array_like
        Specific volume at suction, of the rating and here.  [m³/kg]

    Returns
    -------
    array
        1 at the rating.  [1]

    Examples
    --------
    >>> float(suction_correction(0.030, 0.030)), round(float(suction_correction(0.033, 0.030)), 3)
    (1.0, 1.075)
    """
    return np.asarray(1.0 + SUPERHEAT_SHARE * (np.asarray(rating_m3_kg) / np.asarray(suction_m3_kg) - 1.0))


def _flow(one: AtSpeed, evaporating_c: Array, condensing_c: Array, per_kg_j: Array) -> Array:
    if one.flow_kg_s is not None:
        return one.flow_kg_s.at(evaporating_c, condensing_c)
    assert one.capacity_watt is not None, "a map gives one or the other"
    return np.asarray(one.capacity_watt.at(evaporating_c, condensing_c) / per_kg_j)


def along_speed(speeds: Array, rows: Array, speed_frac: Array, *, starts_at_zero: bool = True) -> Array:
    """Values between the speeds of a map, on straight lines.

    Parameters
    ----------
    speeds : array
        Of the map, rising.  [1]
    rows : array
        The values, a row a speed.
    speed_frac : array
        Where.  [1]
    starts_at_zero : bool
        Whether the value is 0 at a standstill and goes on beyond the last speed, as a flow does; else it stays what it
        is at the nearest speed.
    """
    first = np.zeros_like(rows[:1]) if starts_at_zero else rows[:1]
    knots, rows = np.append(0.0, speeds), np.concatenate([first, rows])
    speed, *_ = np.broadcast_arrays(speed_frac if starts_at_zero else np.minimum(speed_frac, speeds[-1]), rows[0])
    piece = np.clip(np.searchsorted(knots, speed, side="right") - 1, 0, knots.size - 2)
    low, high = _picked(rows, piece), _picked(rows, piece + 1)
    return np.asarray(low + (high - low) * (speed - knots[piece]) / (knots[piece + 1] - knots[piece]))


def speed_of_flow(speeds: Array, rows: Array, flow_kg_s: Array) -> Array:
    """The speed at which a map's flow is a given one: the inverse of `along_speed`.

    Parameters
    ----------
    speeds : array
        Of the map, rising.  [1]
    rows : array
        Its flows, a row a speed.  [kg/s]
    flow_kg_s : array
        What is to be moved.  [kg/s]
    """
    knots, rows = np.append(0.0, speeds), np.concatenate([np.zeros_like(rows[:1]), rows])
    wanted = np.broadcast_to(flow_kg_s, np.broadcast_shapes(np.shape(flow_kg_s), rows[0].shape))
    piece = np.clip((np.stack(np.broadcast_arrays(*rows, wanted)[:-1]) <= wanted).sum(axis=0) - 1, 0, knots.size - 2)
    low, high = _picked(rows, piece), _picked(rows, piece + 1)
    return np.asarray(knots[piece] + (knots[piece + 1] - knots[piece]) * (wanted - low) / (high - low))


def _picked(rows: Array, piece: NDArray[np.intp]) -> Array:
    rows = np.broadcast_to(rows, (rows.shape[0], *piece.shape))
    return np.asarray(np.take_along_axis(rows, piece[np.newaxis], axis=0)[0])
