"""What moved and what did not: the hand on the head, the opening magnet, heads exchanged, after cleaning, plugs."""

from fifthwire.diagnosis.movement.fact import Fact, Found, State
from fifthwire.model.assessment import Reason
from fifthwire.model.valve import Movement, Valve


def moved_facts(valve: Valve, movement: Movement, state: State) -> Found:
    """Facts of `[valves.movement]` besides the stem.

    Parameters
    ----------
    valve : Valve
        The kind of head decides what a feel means and what belongs to it.
    movement : Movement
        As written.
    state : State
        What was seen of a head or body that has been replaced since does not count any more.
    """
    found = [_felt(valve, movement, state), _hand_magnet(valve, movement, state)]
    head_facts = [*_heads_exchanged(movement, state), *_after_cleaning(movement, state)]
    facts = [fact for one in found for fact in one.facts] + head_facts + _plug_swap(movement, state)
    if movement.fault_code:
        facts.append(Fact(code="fault-code", values={"text": movement.fault_code}))
    return Found(facts=tuple(facts), warnings=tuple(warning for one in found for warning in one.warnings))


def _felt(valve: Valve, movement: Movement, state: State) -> Found:
    """Stepping and rocking are felt on a motor; a coil hums, which proves drive and not movement."""
    if movement.felt is None:
        return Found()
    if valve.kind == "solenoid":
        return Found(warnings=(Reason(code="other-kind.felt", values={"valve": valve.id}),))
    if valve.board is not None and valve.board.when == "at-rest":
        return Found(facts=(Fact(code="felt.at-rest"),))
    code = f"felt.{'motor' if valve.head == 'bolt-on' else 'coil'}.{movement.felt}"
    is_old = state.has_new_head or (state.was_tested_after_cleaning and movement.felt != "steps")
    return Found(facts=(Fact(code=code, weighs=not is_old),))


def _hand_magnet(valve: Valve, movement: Movement, state: State) -> Found:
    if movement.hand_magnet is None:
        return Found()
    if valve.head == "bolt-on" and valve.kind != "solenoid":
        return Found(warnings=(Reason(code="other-kind.hand_magnet", values={"valve": valve.id}),))
    return Found(facts=(Fact(code=f"hand-magnet.{movement.hand_magnet}", weighs=not state.has_new_body),))


def _heads_exchanged(movement: Movement, state: State) -> list[Fact]:
    good, own = movement.known_good_head, movement.old_head_again
    facts = []
    if good is not None:
        facts.append(Fact(code=f"good-head.{good}", weighs=not state.has_new_body))
    if own is not None:
        question = "own-head-after-good" if good == "moves" else "own-head"
        is_cured = own == "stuck" and movement.after_cleaning == "moves"  # stuck before cleaning, then
        weighs = not (state.has_new_head or state.has_new_body or is_cured)
        facts.append(Fact(code=f"{question}.{own}", weighs=weighs))
    return facts


def _after_cleaning(movement: Movement, state: State) -> list[Fact]:
    if movement.after_cleaning is None:
        return []
    weighs = not (state.has_new_head or state.has_new_body)
    return [Fact(code=f"after-cleaning.{movement.after_cleaning}", weighs=weighs)]


def _plug_swap(movement: Movement, state: State) -> list[Fact]:
    if movement.plug_swap is None:
        return []
    went = "moves" if movement.plug_swap == "fault-moves" else "stays"
    is_old = went == "moves" and (state.has_new_head or state.is_plug_repaired)
    return [Fact(code=f"plug-swap.{went}", weighs=not is_old)]
