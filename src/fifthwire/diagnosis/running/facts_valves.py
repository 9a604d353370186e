"""What the vapour that leaves a bypass shows of its valve, and whether a coil was held at two commands."""

from collections.abc import Sequence
from math import hypot
from typing import Final

from fifthwire.diagnosis.movement.fact import Fact
from fifthwire.diagnosis.running.facts_units import CoilSeen, bands, held_bands, soft_fact, target_of
from fifthwire.model.record import record

WET_UNDER_K: Final = 1.5
HOT_OVER_K: Final = 14.0
OUTLET_U_K: Final = 0.8
"""Superheat of the vapour leaving a bypass: wet, as it should be, hot.  [K]  Computed: steady circuit, 5 K where it is
held, 0 K where it stands open, 25 to 30 K where next to nothing passes."""
SHUT_UNDER: Final = 0.02
LOW_UNDER: Final = 0.20
WIDE_OVER: Final = 0.75
COMMAND_U: Final = 0.02
"""Command of a bypass: shut, driven down, wide.  [share of full stroke]  Judgement."""

MOVED_BY: Final = 0.10
"""Two commands that differ by so much are two places.  [share of full stroke]  Judgement: the band in which a stuck
valve hides is some 3 % wide (computed: steady circuit)."""
HELD_FROM: Final = 0.8
"""What is on its target with this weight at both moments was held.  [1]  Judgement."""


@record
class BypassSeen:
    """A bypass at one moment: its command and the vapour that leaves it."""

    valve: str
    command: float | None
    """Share of full stroke.  [1]"""
    outlet_superheat_k: float | None
    u_k: float = 1.0


def bypass_fact(seen: BypassSeen) -> Fact | None:
    """What leaves a bypass, against its command.

    Parameters
    ----------
    seen : BypassSeen
        With an outlet temperature; a command that is not known counts as any.

    Returns
    -------
    Fact or None
        None without an outlet temperature.
    """
    if seen.outlet_superheat_k is None:
        return None
    values: dict[str, object] = {
        "outlet_k": round(seen.outlet_superheat_k, 1),
        "command": "not known" if seen.command is None else f"{seen.command:.0%}",
    }
    u_k = hypot(seen.u_k, OUTLET_U_K)
    outlet = bands(seen.outlet_superheat_k, u_k, [WET_UNDER_K, HOT_OVER_K], ["wet", "on", "hot"])
    if seen.command is None:
        weights = {f"{o}-{c}": w / 3.0 for o, w in outlet.items() for c in ("low", "mid", "wide")}
        return soft_fact("bypass", weights, values)
    if seen.command < SHUT_UNDER:
        return soft_fact("bypass-shut", {"wet": outlet["wet"], "dry": 1.0 - outlet["wet"]}, values)
    command = bands(seen.command, COMMAND_U, [LOW_UNDER, WIDE_OVER], ["low", "mid", "wide"])
    return soft_fact("bypass", {f"{o}-{c}": a * b for o, a in outlet.items() for c, b in command.items()}, values)


def two_commands_fact(moments: Sequence[tuple[CoilSeen, Sequence[CoilSeen]]]) -> Fact | None:
    """Whether a coil stood on its target at two clearly different commands: then its valve moves.

    Parameters
    ----------
    moments : sequence of (CoilSeen, sequence of CoilSeen)
        The unit at each moment of one mode, with its peers of that moment.

    Returns
    -------
    Fact or None
        None where it did not, or the commands are too near each other.
    """
    held = []
    for coil, peers in moments:
        weights = held_bands(coil, target_of(coil, peers)) if coil.is_on else None
        if weights is not None and coil.command is not None and weights["on"] >= HELD_FROM:
            held.append(coil.command)
    if len(held) < 2 or max(held) - min(held) < MOVED_BY:
        return None
    return Fact(code="held.at-two-commands", values={"low": f"{min(held):.0%}", "high": f"{max(held):.0%}"})
