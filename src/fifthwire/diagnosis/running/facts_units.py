"""What an indoor unit's coil shows of its valve: what it holds against what it should, its command, its pipes, its air.

In cooling a valve holds superheat, in heating subcooling; either is low where too much passes and high where too little
does, so one set of facts serves both. Every reading belongs to each outcome with a weight, by its uncertainty.
"""

from collections.abc import Mapping, Sequence
from math import erf, hypot, log, sqrt
from statistics import median
from typing import Final

from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.model.record import record

TARGET_ELSE_K: Final = 5.0
"""What a valve is taken to hold where neither the file nor its peers say.  [K]  Common practice: 3 to 8 K."""
SPREAD_K: Final = 0.8
"""What healthy coils differ by beside their readings' uncertainty.  [K]  Judgement; a measured day of three healthy
branches shows 1.5 K between the middle one and the others, constant."""
LOW_OF_TARGET: Final = 0.30
LOW_AT_MOST_K: Final = 1.5
"""Under this share of the target, and never above this, too much passes.  [1], [K]  Judgement."""
HIGH_OVER_TARGET_K: Final = 4.0
"""So far over the target too little passes.  [K]  Judgement: an order of 10 times the noise of two temperatures."""

AT_MINIMUM_WITHIN: Final = 0.015
AT_MAXIMUM_FROM: Final = 0.97
COMMAND_U: Final = 0.01
"""Edges of a command at its ends, and how sharp they are.  [share of full stroke]  Judgement."""
MINIMUM_ELSE: Final = 0.09
MINIMUM_ELSE_U: Final = 0.03
"""Where the controller stops closing when no spec says.  [share of full stroke]  Judgement."""
BELOW_PEERS: Final = 0.70
ABOVE_PEERS: Final = 1.40
PEERS_U: Final = 0.08
"""Command against the median of the other units: edges of the ratio, and how sharp they are (as ln).  [1]
Judgement: units are of different size and load."""
FEWEST_PEERS: Final = 2
ENDS_WITHIN: Final = 0.05
"""A command so near to an end of its stroke, or to where the controller stops closing, regulates no longer.
[share of full stroke]  Judgement."""

PIPE_LOW_K: Final = -2.5
PIPE_WARM_K: Final = 5.0
PIPE_U_K: Final = 0.8
"""Liquid pipe against evaporating temperature: colder than that is not possible, much warmer means hardly any flow.
[K]
Judgement: the drop of pressure in a coil and its pipe puts the inlet some 0 to 3 K above the suction's dew point."""
GAS_IMPOSSIBLE_K: Final = -3.0
GAS_IMPOSSIBLE_TWICE_K: Final = -2.0
"""Gas pipe under its own coil's inlet by more is not possible in cooling; less of it will do where the pipe is as far
under what evaporates too.  [K]  Judgement: a coil's own drop of pressure is worth 1 to 2 K."""

AIR_MORE: Final = 1.22
AIR_MUCH: Final = 1.40
AIR_LESS: Final = 0.70
AIR_U: Final = 0.05
"""Fall of the air's temperature against the other units, each reckoned by its own room: edges of the ratio.  [1]
Judgement; computed: steady circuit, half the air gives 1.8 times the fall."""
LEAST_AIR_K: Final = 4.0
"""Under this difference between room and evaporating temperature the air says nothing.  [K]"""

OFF_LONG_ENOUGH_MIN: Final = 30.0
"""A unit off for so long has pipes that tell.  [min]  Common practice."""
COLD_UNDER: Final = 0.30
COOL_UNDER: Final = 0.62
OFF_U_K: Final = 1.5
"""Pipe of a stopped unit on the way from evaporating to room temperature: cold, cool.  [1], [K]  Computed: steady
circuit, outlet superheat 9 K of 21 K at 5 % of full flow and 0.6 K at 7 %."""
ROOM_ELSE_C: Final = 24.0
OFF_ROOM_U_K: Final = 2.0
"""A room that nobody measured.  [°C], [K]  Judgement."""


@record
class CoilSeen:
    """One indoor unit at one moment, or an outdoor coil in heating: what is known, None where nothing is."""

    unit: str
    valve: str | None = None
    is_on: bool = True
    is_cooling: bool = True
    off_minutes: float | None = None
    held_k: float | None = None
    """Superheat in cooling, subcooling in heating.  [K]"""
    u_k: float = 1.0
    target_k: float | None = None
    command: float | None = None
    """Share of full stroke.  [1]"""
    least_command: float | None = None
    """Where the controller stops closing.  [1]"""
    pulses: float | None = None
    """The command where full stroke is not known: against peers only.  [pulses]"""
    saturation_c: float | None = None
    """Evaporating temperature at the suction's pressure.  [°C]"""
    liquid_pipe_c: float | None = None
    gas_pipe_c: float | None = None
    return_air_c: float | None = None
    supply_air_c: float | None = None


def bands(value: float, u: float, edges: Sequence[float], names: Sequence[str]) -> dict[str, float]:
    """Weights of the bands that a value with an uncertainty falls into.

    Parameters
    ----------
    value : float
        As read.
    u : float
        Its standard uncertainty, one sigma.
    edges : sequence of float
        Rising; one fewer than the names.
    names : sequence of str
        Of the bands, lowest first.

    Returns
    -------
    dict
        Name -> weight, summing to 1.

    Examples
    --------
    >>> bands(0.0, 1.0, [0.0], ["under", "over"])
    {'under': 0.5, 'over': 0.5}
    """
    below = [0.0, *(0.5 * (1.0 + erf((edge - value) / (max(u, 1e-9) * sqrt(2.0)))) for edge in edges), 1.0]
    return {name: max(below[i + 1] - below[i], 0.0) for i, name in enumerate(names)}


def soft_fact(question: str, weights: Mapping[str, float], values: Mapping[str, object]) -> Fact:
    """A fact told by its weightiest outcome."""
    codes = {f"{question}.{name}": weight for name, weight in weights.items()}
    return Fact(code=max(codes, key=lambda code: codes[code]), values=values, soft=codes)


def coil_facts(coil: CoilSeen, peers: Sequence[CoilSeen]) -> tuple[Fact, ...]:
    """The running facts of one unit's coil.

    Parameters
    ----------
    coil : CoilSeen
        The unit.
    peers : sequence of CoilSeen
        The other units that run in the same mode.

    Returns
    -------
    tuple of Fact
        Empty where the readings give nothing.
    """
    if not coil.is_on:
        fact = _stopped(coil)
        return (fact,) if fact is not None else ()
    facts = [_held(coil, peers)]
    if coil.is_cooling:
        facts += [_liquid_pipe(coil, peers), _gas_pipe(coil), _air(coil, peers)]
    return tuple(fact for fact in facts if fact is not None)


def target_of(coil: CoilSeen, peers: Sequence[CoilSeen]) -> float:
    """What the valve is to hold: stated, or what most of its peers hold, or what is usual.  [K]"""
    if coil.target_k is not None:
        return coil.target_k
    stated = [one.target_k for one in peers if one.target_k is not None]
    if stated:
        return median(stated)
    held = [one.held_k for one in peers if one.held_k is not None and not _is_at_an_end(one)]
    if len(held) > FEWEST_PEERS:
        return min(max(median(held), 3.0), 10.0)
    return TARGET_ELSE_K


def _is_at_an_end(coil: CoilSeen) -> bool:
    """Whether a command can go no further: what its coil holds then is not what it is to hold."""
    if coil.command is None:
        return False
    least = 0.0 if coil.least_command is None else coil.least_command
    return coil.command > 1.0 - ENDS_WITHIN or coil.command < least + AT_MINIMUM_WITHIN


def held_bands(coil: CoilSeen, target_k: float) -> dict[str, float] | None:
    """Whether what it holds is low, on its target or high; None where it is not known."""
    if coil.held_k is None:
        return None
    low = min(LOW_AT_MOST_K, LOW_OF_TARGET * target_k)
    u_k = hypot(coil.u_k, SPREAD_K if coil.held_k > target_k else 0.3)
    return bands(coil.held_k, u_k, [low, target_k + HIGH_OVER_TARGET_K], ["low", "on", "high"])


def command_bands(coil: CoilSeen, peers: Sequence[CoilSeen]) -> dict[str, float] | None:
    """Where its command stands: at an end, or against its peers; None where it is not known."""
    ratio = _against_peers(coil, peers)
    if coil.command is None and ratio is None:
        return None
    names = ["below", "like", "above"]
    by_peers = {"below": 0.0, "like": 1.0, "above": 0.0}
    if ratio is not None:
        by_peers = bands(log(max(ratio, 1e-3)), PEERS_U, [log(BELOW_PEERS), log(ABOVE_PEERS)], names)
    if coil.command is None:
        return {"min": 0.0, **by_peers, "max": 0.0}
    least = MINIMUM_ELSE if coil.least_command is None else coil.least_command
    u = MINIMUM_ELSE_U if coil.least_command is None else COMMAND_U
    at_min = bands(coil.command, u, [least + AT_MINIMUM_WITHIN], ["yes", "no"])["yes"]
    at_max = bands(coil.command, COMMAND_U, [AT_MAXIMUM_FROM], ["no", "yes"])["yes"]
    between = max(1.0 - at_min - at_max, 0.0)
    return {"min": at_min, **{name: between * by_peers[name] for name in names}, "max": at_max}


def _against_peers(coil: CoilSeen, peers: Sequence[CoilSeen]) -> float | None:
    if coil.command is not None:
        own, others = coil.command, [one.command for one in peers if one.command is not None]
    elif coil.pulses is not None:
        own, others = coil.pulses, [one.pulses for one in peers if one.pulses is not None]
    else:
        return None
    middle = median(others) if len(others) >= FEWEST_PEERS else 0.0
    return own / middle if middle > 0.0 else None


def _held(coil: CoilSeen, peers: Sequence[CoilSeen]) -> Fact | None:
    target_k = target_of(coil, peers)
    held, command = held_bands(coil, target_k), command_bands(coil, peers)
    if held is None or coil.held_k is None:
        return None
    values: dict[str, object] = {
        "what": "superheat" if coil.is_cooling else "subcooling",
        "held_k": round(coil.held_k, 2),
        "target_k": round(target_k, 2),
        "command": "not known" if coil.command is None else f"{coil.command:.0%}",
    }
    if command is None:
        return None
    weights = {f"{h}-{c}": wh * wc for h, wh in held.items() for c, wc in command.items()}
    return soft_fact("coil", weights, values)


def _liquid_pipe(coil: CoilSeen, peers: Sequence[CoilSeen]) -> Fact | None:
    """The coil's inlet against what evaporates: by the suction's pressure, its peers telling the drop on the way."""
    if coil.liquid_pipe_c is None or coil.saturation_c is None:
        return None
    above = [
        one.liquid_pipe_c - one.saturation_c
        for one in peers
        if one.liquid_pipe_c is not None and one.saturation_c is not None
    ]
    usual = min(max(median(above), 0.0), 5.0) if len(above) > FEWEST_PEERS else 0.8
    off_k = coil.liquid_pipe_c - coil.saturation_c - usual
    u_k = PIPE_U_K if len(above) > FEWEST_PEERS else 1.5
    weights = bands(off_k, u_k, [PIPE_LOW_K, PIPE_WARM_K], ["low", "near", "warm"])
    values = {"liquid_pipe_c": round(coil.liquid_pipe_c, 1), "saturation_c": round(coil.saturation_c, 1)}
    return soft_fact("liquid-pipe", weights, values)


def _gas_pipe(coil: CoilSeen) -> Fact | None:
    """Gas pipe against its own inlet, and against what evaporates: colder is not possible."""
    if coil.gas_pipe_c is None or coil.liquid_pipe_c is None:
        return None
    off_k = coil.gas_pipe_c - coil.liquid_pipe_c
    is_under_both = coil.saturation_c is not None and coil.gas_pipe_c < coil.saturation_c + GAS_IMPOSSIBLE_TWICE_K
    edge = GAS_IMPOSSIBLE_TWICE_K if is_under_both else GAS_IMPOSSIBLE_K
    weights = bands(off_k, PIPE_U_K, [edge], ["impossible", "possible"])
    values = {"gas_pipe_c": round(coil.gas_pipe_c, 1), "liquid_pipe_c": round(coil.liquid_pipe_c, 1)}
    return soft_fact("gas-pipe", weights, values)


def _air(coil: CoilSeen, peers: Sequence[CoilSeen]) -> Fact | None:
    own = _air_share(coil)
    others = [share for one in peers if (share := _air_share(one)) is not None]
    if own is None or len(others) < FEWEST_PEERS or median(others) <= 0.0:
        return None
    ratio = max(own / median(others), 0.02)
    weights = bands(log(ratio), AIR_U, [log(AIR_LESS), log(AIR_MORE), log(AIR_MUCH)], ["less", "like", "more", "much"])
    fall = (coil.return_air_c or 0.0) - (coil.supply_air_c or 0.0)
    return soft_fact("air", weights, {"air_k": round(fall, 1), "times": round(ratio, 2)})


def _air_share(coil: CoilSeen) -> float | None:
    """Fall of the air's temperature as a share of what the coil could do at most."""
    if coil.return_air_c is None or coil.supply_air_c is None or coil.saturation_c is None:
        return None
    most = coil.return_air_c - coil.saturation_c
    return (coil.return_air_c - coil.supply_air_c) / most if most >= LEAST_AIR_K else None


def _stopped(coil: CoilSeen) -> Fact | None:
    """Pipes of a unit that has been off: only in cooling, off for long, and commanded shut."""
    if not coil.is_cooling or coil.off_minutes is None or coil.off_minutes < OFF_LONG_ENOUGH_MIN:
        return None
    command = coil.command if coil.command is not None else coil.pulses
    if command is None or command > 0.005 or coil.saturation_c is None:
        return None
    pipes = [one for one in (coil.liquid_pipe_c, coil.gas_pipe_c) if one is not None]
    room_c = ROOM_ELSE_C if coil.return_air_c is None else coil.return_air_c
    room_u_k = OFF_ROOM_U_K if coil.return_air_c is None else 0.0
    span = room_c - coil.saturation_c
    if not pipes or span < LEAST_AIR_K:
        return None
    # The warmer of the two: one cold pipe alone may be the next unit's, or a sensor's.
    at = (max(pipes) - coil.saturation_c) / span
    weights = bands(at, hypot(OFF_U_K, room_u_k) / span, [COLD_UNDER, COOL_UNDER], ["cold", "cool", "warm"])
    if len(pipes) == 1:
        weights = {name: 0.5 * weight + 0.5 / 3.0 for name, weight in weights.items()}
    values = {"pipe_c": round(max(pipes), 1), "saturation_c": round(coil.saturation_c, 1), "room_c": round(room_c, 1)}
    return soft_fact("off-pipes", weights, {**values, "off_minutes": coil.off_minutes})
