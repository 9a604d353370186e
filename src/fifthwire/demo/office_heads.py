"""The heads of the invented sites as they really are, over the years: windings, drift, faults, and what a meter shows.

A head is drawn once by the laws of the shipped priors (batch, bobbin, winding) and stays what it is until a fault
begins or another head takes its place. Each visit adds its own temperature and touch; each meter keeps its own gain.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from itertools import combinations
from math import inf
from random import Random
from typing import Final

from fifthwire.demo.office_places import GAINS, SPECS
from fifthwire.model.record import record
from fifthwire.model.valve import PairReading
from fifthwire.physics.copper import resistance_factor
from fifthwire.physics.head_network import WINDING_ENDS, head_network
from fifthwire.physics.network import effective_matrix

WIRES: Final[dict[str, tuple[str, ...]]] = {
    "unipolar-5": ("5", "1", "2", "3", "4"),
    "unipolar-6": ("2", "1", "3", "5", "4", "6"),
    "bipolar-4": ("1", "2", "3", "4"),
    "single-2": ("1", "2"),
}
"""Pins by arrangement, commons before their ends."""
COMMONS: Final[dict[str, tuple[str, ...]]] = {"unipolar-5": ("5",), "unipolar-6": ("2", "5")}
BOBBIN_OF: Final[dict[str, tuple[int, ...]]] = {
    "unipolar-5": (0, 1, 0, 1),
    "unipolar-6": (0, 0, 1, 1),
    "bipolar-4": (0, 1),
    "single-2": (0,),
}
BOBBIN_SD: Final = 0.007
WINDING_SD: Final = 0.003
"""Scatter of bobbins, and of the windings of one.  [1]  As the shipped priors have it."""
TOUCH_OHM: Final = 0.06
LEADS_OHM: Final = 0.2
METER_DIGITS: Final = 2.0
TEMPERATURE_SD_K: Final = 0.8
"""How far a clamped thermometer is from the copper.  [K]"""
DAYS_A_YEAR: Final = 365.25


@record
class TrueHead:
    """A head as it is."""

    spec: str
    ohm_20c: tuple[float, ...]
    """One a winding, in the order of `WINDING_ENDS`. [Ω]"""
    part_label: str
    since: date | None = None
    drifting_winding: int | None = None
    drift_a_year: float = 0.0
    """Share by which that winding changes in a year. [1]"""
    drift_from: date | None = None


@record
class Electrical:
    """What is wrong with the wires of a head on a day; nothing unless stated."""

    open_wire: str | None = None
    open_common: str | None = None
    shorted: tuple[str, float] | None = None
    """The wire of the winding, and the share of its turns that is gone."""
    contact_ohm: Mapping[str, float] | None = None


SOUND: Final = Electrical()


def draw_true_head(
    rng: Random, spec_name: str, part_label: str, *, since: date | None = None, scale: float = 1.0
) -> TrueHead:
    """A head out of the box.

    Parameters
    ----------
    rng : random.Random
        Where all chance comes from.
    spec_name : str
        A key of `office_places.SPECS`.
    part_label : str
        As printed on it.
    since : date, optional
        The day it was fitted.
    scale : float
        Its resistance over what the manual says; other than 1 for a head of another kind. [1]
    """
    spec = SPECS[spec_name]
    arrangement = spec.winding
    assert spec.resistance_ohm is not None, "every invented spec says its ohms"
    assert spec.tolerance is not None, "and its tolerance"
    batch = max(-2.0, min(2.0, rng.gauss(0.0, 1.0))) * (spec.tolerance.frac or 0.0) / 3.0
    bobbins = [rng.gauss(0.0, BOBBIN_SD) for _ in range(2)]
    factors = (bobbins[at] + rng.gauss(0.0, WINDING_SD) for at in BOBBIN_OF[arrangement])
    ohm = spec.resistance_ohm * scale * (1.0 + batch)
    return TrueHead(
        spec=spec_name, part_label=part_label, since=since, ohm_20c=tuple(ohm * (1.0 + one) for one in factors)
    )


def pairs_of(arrangement: str, *, every: bool = False) -> list[tuple[str, str]]:
    """The pairs that a careful technician reads: the windings themselves; where one looks wrong, every pair."""
    wires = WIRES[arrangement]
    if every:
        return list(combinations(sorted(wires), 2))
    return [(wires[a], wires[b]) for a, b in WINDING_ENDS[arrangement]]


def shown_readings(
    rng: Random,
    head: TrueHead,
    day: date,
    *,
    stated_c: float,
    meter: str,
    pairs: Sequence[tuple[str, str]],
    electrical: Electrical = SOUND,
) -> tuple[PairReading, ...]:
    """What the meter shows of a head on a day.

    Parameters
    ----------
    rng : random.Random
        Where all chance comes from.
    head : TrueHead
        The head.
    day : date
        For its drift.
    stated_c : float
        Temperature that the technician writes down; the copper's own differs a little. [°C]
    meter : str
        A key of `office_places.METERS`.
    pairs : sequence
        Which pairs are touched, in order.
    electrical : Electrical
        What is wrong with its wires that day.
    """
    arrangement = SPECS[head.spec].winding
    wires = WIRES[arrangement]
    warm = resistance_factor(20.0, stated_c + rng.gauss(0.0, TEMPERATURE_SD_K))
    windings = [ohm * warm for ohm in _on_day(head, day, electrical, arrangement)]
    contact = dict(electrical.contact_ohm or {})
    if electrical.open_common is not None:
        contact[electrical.open_common] = inf
    true_ohm = effective_matrix(head_network(arrangement, wires, windings, contact_ohm=contact), wires)
    leads = LEADS_OHM + rng.uniform(-0.04, 0.04)
    return tuple(_shown(rng, true_ohm, pair, leads, meter) for pair in pairs)


def _on_day(head: TrueHead, day: date, electrical: Electrical, arrangement: str) -> list[float]:
    """Resistance of each winding at 20 °C that day; infinity where it is open. [Ω]"""
    wires, ohm = WIRES[arrangement], list(head.ohm_20c)
    if head.drifting_winding is not None and head.drift_from is not None and day > head.drift_from:
        ohm[head.drifting_winding] *= 1.0 + head.drift_a_year * (day - head.drift_from).days / DAYS_A_YEAR
    for at, (_, end) in enumerate(WINDING_ENDS[arrangement]):
        if wires[end] == electrical.open_wire:
            ohm[at] = inf
        if electrical.shorted is not None and wires[end] == electrical.shorted[0]:
            ohm[at] *= 1.0 - electrical.shorted[1]
    return ohm


def _shown(
    rng: Random, true_ohm: Mapping[tuple[str, str], float], pair: tuple[str, str], leads_ohm: float, meter: str
) -> PairReading:
    ohm = true_ohm.get(pair, true_ohm.get((pair[1], pair[0]), inf))
    touch_ohm = abs(rng.gauss(0.0, TOUCH_OHM))
    if ohm == inf:
        return PairReading(*pair, None)
    step = 0.1 if ohm < 600.0 else 1.0
    shown = (ohm + leads_ohm + touch_ohm) * (1.0 + GAINS[meter]) + rng.uniform(-METER_DIGITS, METER_DIGITS) * step / 2
    return PairReading(*pair, round(round(shown / step) * step, 1))
