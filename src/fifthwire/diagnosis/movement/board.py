"""The board's output: which phases swing, and the supply. A board at rest drives nothing, and that is normal."""

from collections.abc import Mapping
from typing import Final

from fifthwire.diagnosis.movement.fact import Fact, Found
from fifthwire.model.assessment import Reason
from fifthwire.model.valve import Board, Valve

N_PHASES: Final = 4
"""Wires that must swing: the phases of a unipolar head, or both ends of both windings of a bipolar one.  [1]"""
SUPPLY_LOW_FRAC: Final = 0.85
"""A supply under this share of what is meant is low.  [1]  Judgement: some 15 % is what drivers are built to bear."""


def board_facts(
    valve: Valve, board: Board, *, common: tuple[str, ...], spec_supply_volt: float | None, has_common: bool = True
) -> Found:
    """Facts of `[valves.board]`.

    Parameters
    ----------
    valve : Valve
        A solenoid has no pulses.
    board : Board
        As written.
    common : tuple of str
        The common wires, stated or found: they never swing.
    spec_supply_volt : float or None
        What the supply should be. [V]
    has_common : bool
        False for a bipolar head: it has no common, so a supply at it means nothing.
    """
    if board.when == "at-rest":
        return _at_rest(valve, board)
    supply = _supply(board, spec_supply_volt) if has_common else []
    if valve.kind == "solenoid":
        has_pulses = board.pulses is not None
        warnings = (Reason(code="other-kind.pulses", values={"valve": valve.id}),) if has_pulses else ()
        return Found(facts=tuple(supply), warnings=warnings)
    return Found(facts=(*_pulses(board, common), *supply))


def _at_rest(valve: Valve, board: Board) -> Found:
    swings = board.pulses is True or (isinstance(board.pulses, Mapping) and any(board.pulses.values()))
    warnings = (Reason(code="board.pulses-at-rest", values={"valve": valve.id}),) if swings else ()
    return Found(facts=(Fact(code="board.at-rest"),), warnings=warnings)


def _pulses(board: Board, common: tuple[str, ...]) -> list[Fact]:
    if board.pulses is None:
        return []
    if isinstance(board.pulses, bool):
        if board.pulses:
            return [Fact(code="board.all-swing")]
        return [Fact(code="board.none-swing" if board.when else "board.unknown-when")]
    phases = {wire: swings for wire, swings in board.pulses.items() if wire not in common}
    still = [wire for wire, swings in phases.items() if not swings]
    if not phases:
        return []
    if not still:
        if len(phases) >= N_PHASES:
            return [Fact(code="board.all-swing")]
        return [Fact(code="board.listed-swing", values={"wires": list(phases)})]
    if len(still) == len(phases):
        return [Fact(code="board.none-swing" if board.when else "board.unknown-when")]
    verb = "does not" if len(still) == 1 else "do not"
    named = [f"{'wire' if len(still) == 1 else 'wires'} {still[0]}", *still[1:]]
    return [Fact(code="board.some-missing", values={"wires": named, "does_not": verb})]


def _supply(board: Board, spec_volt: float | None) -> list[Fact]:
    volt = board.supply_volt
    if volt is None:
        return []
    if spec_volt is None:
        return [Fact(code="supply.unknown", values={"supply_volt": volt})]
    if volt < SUPPLY_LOW_FRAC * spec_volt:
        return [Fact(code="supply.low", values={"supply_volt": volt, "spec_volt": spec_volt})]
    return [Fact(code="supply.good", values={"supply_volt": volt})]
