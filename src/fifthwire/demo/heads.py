"""Heads drawn by the laws of `priors.toml`, with the truth beside the readings: what a verdict is measured against.

Invented heads, never field data. Each is drawn as the laws say: a batch, a temperature, two bobbins, four windings,
one fault or none, a meter with its gain, leads, touch and digits. The resistor network gives the true readings.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import exp, inf, log
from random import Random
from typing import Final

from fifthwire.diagnosis.winding.case import (
    HeadTemperature,
    MeterLaw,
    RangeLaw,
    SpecLaw,
    WindingCase,
    WindingLaws,
)
from fifthwire.model.valve import PairReading
from fifthwire.physics.copper import resistance_factor
from fifthwire.physics.head_network import WINDING_ENDS, head_network
from fifthwire.physics.network import effective_matrix

SETS: Final = ("full", "common-to-each", "partial")
"""Which pairs a technician reads: every pair, the windings themselves, or some pairs, one perhaps twice."""

TAIL_SHARE: Final = 0.03
"""Share of bridges and wrong heads of a size in the wide tail.  [1]  Judgement: the priors say that tails exist."""

COMMONS: Final[dict[str, tuple[int, ...]]] = {
    "unipolar-5": (0,),
    "unipolar-6": (0, 3),
    "bipolar-4": (),
    "single-2": (),
}
"""Places of the commons in the list of wires."""


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """What heads are drawn from. The defaults are the priors; anything else is a world that differs from them."""

    arrangements: tuple[tuple[str, float], ...] = (("unipolar-5", 0.5), ("unipolar-6", 0.3), ("bipolar-4", 0.2))
    sets: tuple[str, ...] = SETS
    sound: float = 0.70
    """Share of sound heads, also told to the inference. [1]"""
    stated_common: float = 0.5
    """Share of heads whose common the technician states. [1]"""
    unstated_temperature: float = 0.1
    """Share of heads whose temperature is not stated. [1]"""
    tail_share: float = TAIL_SHARE
    scatter_factor: float = 1.0
    """Windings, bobbins and batch scatter this much more than the priors say. [1]"""
    temperature_off_k: float = 0.0
    """The stated temperature is this much too high. [K]"""
    gain_factor: float = 1.0
    """The meter's gain errs by up to this many times its accuracy. [1]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnHead:
    """A head as it is told, and as it is."""

    case: WindingCase
    """What the inference is given."""
    arrangement: str
    set_of_readings: str
    cause: str
    wires: tuple[str, ...]
    """The wires that the cause names, in the order of the arrangement."""
    common: tuple[str, ...]
    """The true common, or commons."""
    ends: tuple[tuple[str, str], ...]
    """The two wires of each winding."""
    winding_ohm: tuple[float, ...]
    """True resistance of each winding at the head's temperature; infinity where open. [Ω]"""
    size: float | None
    """Size of the fault: ohms, or a share; None where it has none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fault:
    """A cause, the wires it names and its size, and what it does to the network."""

    cause: str
    wires: tuple[str, ...] = ()
    size: float | None = None
    factors: tuple[float, ...] = ()
    contact_ohm: Mapping[str, float] | None = None
    bridges: tuple[tuple[str, str, float], ...] = ()


def draw_head(rng: Random, laws: WindingLaws, world: World | None = None) -> DrawnHead:
    """A head and what a technician would read of it.

    Parameters
    ----------
    rng : random.Random
        Where all chance comes from; the same seed gives the same head.
    laws : WindingLaws
        What heads and readings are like.
    world : World
        Where it differs from the laws; left out: nowhere.

    Returns
    -------
    DrawnHead
        The case for the inference, and the truth.
    """
    world = world or World()
    arrangement = _choose(rng, dict(world.arrangements))
    ends = WINDING_ENDS[arrangement]
    wires = [str(number + 1) for number in range(max(max(pair) for pair in ends) + 1)]
    rng.shuffle(wires)
    spec, meter = _draw_spec(rng), _draw_meter(rng)
    head, true_c = _draw_temperature(rng, world)
    sound_ohm = spec.resistance_ohm * resistance_factor(spec.at_c, true_c)
    scatter = _draw_scatter(rng, arrangement, spec, laws, world)
    fault = _draw_fault(rng, arrangement, wires, laws, world)
    windings = [sound_ohm * a * b for a, b in zip(scatter, fault.factors or (1.0,) * len(ends), strict=True)]
    network = head_network(arrangement, wires, windings, contact_ohm=fault.contact_ohm, bridges=fault.bridges)
    set_of_readings = rng.choice(world.sets)
    pairs = _draw_pairs(rng, arrangement, wires, set_of_readings)
    readings = _read(rng, effective_matrix(network, wires), pairs, meter, laws, world)
    if fault.cause == "bad-reading":
        fault = _spoil(rng, readings, meter, laws)
    common = tuple(wires[place] for place in COMMONS[arrangement])
    return DrawnHead(
        case=WindingCase(
            readings=tuple(readings),
            meter=meter,
            head=head,
            arrangement=arrangement,
            spec=spec,
            common=common if rng.random() < world.stated_common else (),
            sound_prior=world.sound,
        ),
        arrangement=arrangement,
        set_of_readings=set_of_readings,
        cause=fault.cause,
        wires=fault.wires,
        common=common,
        ends=tuple((wires[a], wires[b]) for a, b in ends),
        winding_ohm=tuple(windings),
        size=fault.size,
    )


def _choose(rng: Random, shares: Mapping[str, float]) -> str:
    return rng.choices(list(shares), weights=list(shares.values()))[0]


def _log_uniform(rng: Random, limits: tuple[float, float]) -> float:
    return exp(rng.uniform(log(limits[0]), log(limits[1])))


def _draw_spec(rng: Random) -> SpecLaw:
    """Invented specs over the span that valve heads have (common practice, no published source)."""
    return SpecLaw(
        resistance_ohm=float(round(_log_uniform(rng, (25.0, 300.0)))),
        tolerance_frac=rng.choice((0.05, 0.07, 0.10, 0.10)),
        at_c=rng.choice((20.0, 20.0, 25.0)),
    )


def _draw_meter(rng: Random) -> MeterLaw:
    """Handheld meters as data sheets describe them."""
    resolution_ohm = rng.choice((0.1, 0.1, 0.1, 0.01))
    law = RangeLaw(
        of_reading_frac=rng.choice((0.002, 0.005, 0.009, 0.012)),
        digits=float(rng.choice((1, 2, 3, 5))),
        resolution_ohm=resolution_ohm,
    )
    return MeterLaw(ranges=(law,), leads_ohm=rng.choice((0.0, 0.1, 0.2, 0.4)))


def _draw_temperature(rng: Random, world: World) -> tuple[HeadTemperature, float]:
    """What is told of the head's temperature, and what it is. [°C]"""
    stated = HeadTemperature()
    if rng.random() < world.unstated_temperature:
        return stated, rng.uniform(stated.low_c, stated.high_c)
    centre_c, sd_k = rng.uniform(stated.low_c, stated.high_c), 0.5 * rng.choice((2.0, 2.0, 3.0, 5.0, 15.0))
    true_c = centre_c + rng.gauss(0.0, sd_k)
    return HeadTemperature(centre_c=centre_c + world.temperature_off_k, sd_k=sd_k), true_c


def _draw_scatter(rng: Random, arrangement: str, spec: SpecLaw, laws: WindingLaws, world: World) -> tuple[float, ...]:
    """Each winding over the spec at one temperature: batch, bobbin, winding. [1]"""
    batch = inf
    while abs(batch) > spec.tolerance_frac:
        batch = rng.gauss(0.0, spec.tolerance_frac / 3.0)
    windings = len(WINDING_ENDS[arrangement])
    bobbin_of = _draw_bobbins(rng, arrangement, windings)
    bobbins = [rng.gauss(0.0, laws.bobbin_to_bobbin_frac * world.scatter_factor) for _ in range(windings)]
    return tuple(
        (1.0 + batch * world.scatter_factor)
        * (1.0 + bobbins[bobbin_of[j]] + rng.gauss(0.0, laws.winding_to_winding_frac * world.scatter_factor))
        for j in range(windings)
    )


def _draw_bobbins(rng: Random, arrangement: str, windings: int) -> list[int]:
    """Six wires: a group is a bobbin. Five wires: two windings share one, which is not known. Four wires: one each."""
    if arrangement == "unipolar-6":
        return [0, 0, 1, 1]
    if arrangement == "unipolar-5":
        partner = rng.randint(1, 3)
        return [0 if j in (0, partner) else 1 for j in range(4)]
    return list(range(windings))


def _draw_fault(rng: Random, arrangement: str, wires: Sequence[str], laws: WindingLaws, world: World) -> _Fault:
    """A cause by its share, its wires evenly among those it may strike, its size by its law."""
    if rng.random() < world.sound:
        return _Fault(cause="sound")
    commons = [wires[place] for place in COMMONS[arrangement]]
    shares = {c: s for c, s in laws.fault_shares.items() if commons or c != "open-common"}
    cause = _choose(rng, shares)
    ends = WINDING_ENDS[arrangement]
    struck = rng.randrange(len(ends))
    named = (wires[ends[struck][1]],) if commons else tuple(wires[place] for place in ends[struck])

    def one_winding(factor: float) -> tuple[float, ...]:
        return tuple(factor if j == struck else 1.0 for j in range(len(ends)))

    if cause == "open-winding":
        return _Fault(cause=cause, wires=named, factors=one_winding(inf))
    if cause == "open-common":
        common = rng.choice(commons)
        return _Fault(cause=cause, wires=(common,), contact_ohm={common: inf})
    if cause == "shorted-turns":
        size = rng.uniform(*laws.shorted_fraction)
        return _Fault(cause=cause, wires=named, size=size, factors=one_winding(1.0 - size))
    if cause == "bad-contact":
        wire, size = rng.choice(wires), _log_uniform(rng, laws.contact_ohm)
        return _Fault(cause=cause, wires=(wire,), size=size, contact_ohm={wire: size})
    if cause == "bridged":
        return _draw_bridge(rng, arrangement, wires, laws, world)
    if cause == "wrong-head":
        tail = rng.random() < world.tail_share
        size = _from_ranges(rng, laws.wrong_head_tail_factor if tail else laws.wrong_head_factor)
        return _Fault(cause=cause, size=size, factors=(size,) * len(ends))
    return _Fault(cause=cause)


def _draw_bridge(rng: Random, arrangement: str, wires: Sequence[str], laws: WindingLaws, world: World) -> _Fault:
    """Two windings joined: at their free ends; four wires have two ends each."""
    first, second = rng.sample(WINDING_ENDS[arrangement], 2)
    if arrangement == "bipolar-4":
        between = (wires[rng.choice(first)], wires[rng.choice(second)])
    else:
        between = (wires[first[1]], wires[second[1]])
    tail = (laws.bridge_ohm[1], laws.bridge_tail_ohm)
    size = _log_uniform(rng, tail if rng.random() < world.tail_share else laws.bridge_ohm)
    return _Fault(cause="bridged", wires=tuple(sorted(between)), size=size, bridges=((*between, size),))


def _from_ranges(rng: Random, ranges: Sequence[tuple[float, float]]) -> float:
    """Uniform over ranges that leave a gap between them."""
    low, high = rng.choices(ranges, weights=[high - low for low, high in ranges])[0]
    return rng.uniform(low, high)


def _draw_pairs(rng: Random, arrangement: str, wires: Sequence[str], set_of_readings: str) -> list[tuple[str, str]]:
    """Which pairs are read, in which order and which way round."""
    if set_of_readings == "common-to-each":
        pairs = [(wires[a], wires[b]) for a, b in WINDING_ENDS[arrangement]]
    else:
        pairs = list(combinations(sorted(wires), 2))
        if set_of_readings == "partial" and len(pairs) > 1:
            pairs = rng.sample(pairs, rng.randint(1, len(pairs) - 1))
            pairs += [rng.choice(pairs)] if rng.random() < 0.2 else []
    return [pair if rng.random() < 0.5 else (pair[1], pair[0]) for pair in pairs]


def _read(
    rng: Random,
    true_ohm: Mapping[tuple[str, str], float],
    pairs: Sequence[tuple[str, str]],
    meter: MeterLaw,
    laws: WindingLaws,
    world: World,
) -> list[PairReading]:
    """What the meter shows; one gain and one error of the leads for the whole head."""
    law = meter.ranges[-1]
    gain = 1.0 + world.gain_factor * rng.uniform(-law.of_reading_frac, law.of_reading_frac)
    leads_ohm = meter.leads_ohm + rng.uniform(-laws.leads_within_ohm, laws.leads_within_ohm)
    readings = []
    for a, b in pairs:
        ohm = true_ohm.get((a, b), true_ohm.get((b, a), inf))
        touch_ohm = abs(rng.gauss(0.0, laws.touch_ohm))
        digits_ohm = rng.uniform(-law.digits, law.digits) * law.resolution_ohm
        shown = (ohm + leads_ohm + touch_ohm) * gain + digits_ohm
        is_open = shown > laws.open_above_ohm
        readings.append(PairReading(a, b, None if is_open else _rounded(shown, law.resolution_ohm)))
    return readings


def _rounded(ohm: float, resolution_ohm: float) -> float:
    return round(max(0.0, round(ohm / resolution_ohm) * resolution_ohm), 9)


def _spoil(rng: Random, readings: list[PairReading], meter: MeterLaw, laws: WindingLaws) -> _Fault:
    """Make one reading of those that a sound head would join false: ohms more, or open. Changes the list."""
    joined = [place for place, reading in enumerate(readings) if reading.ohm is not None]
    if not joined:
        return _Fault(cause="bad-reading")
    place = rng.choice(joined)
    reading = readings[place]
    size, shown = None, None
    if rng.random() >= laws.bad_reading_open_share:
        size = _log_uniform(rng, laws.bad_reading_adds_ohm)
        shown = _rounded((reading.ohm or 0.0) + size, meter.ranges[-1].resolution_ohm)
    readings[place] = PairReading(reading.wire_a, reading.wire_b, shown)
    return _Fault(cause="bad-reading", wires=tuple(sorted((reading.wire_a, reading.wire_b))), size=size)
