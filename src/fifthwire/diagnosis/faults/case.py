"""What the decision on one valve is made from."""

from collections.abc import Mapping
from dataclasses import field

from fifthwire.diagnosis.movement.fact import Fact, State
from fifthwire.model.assessment import WindingFinding
from fifthwire.model.record import record
from fifthwire.model.valve import PairReading


@record
class WindingRead:
    """The measurement that the winding verdict stands on."""

    finding: WindingFinding
    readings: tuple[PairReading, ...] = ()
    at_head_plug: bool = True
    is_of_head_taken_off: bool = False
    """Taken before the head was replaced on this visit."""
    is_before_repair: bool = False
    """Taken before the plug or harness was repaired on this visit, and it blamed them."""
    is_all_open: bool = False
    is_plug_on: bool = False
    doubtful_meter: str | None = None
    """The meter that misread its check resistor."""

    @property
    def counts(self) -> bool:
        """Whether the readings say something of the head and plug as they are now."""
        was_measured = self.finding.verdict != "not-measured"
        return was_measured and not (self.is_of_head_taken_off or self.is_before_repair or self.is_all_open)

    def opens_that_prove(self, wires: tuple[str, ...]) -> list[PairReading]:
        """Open readings between wires that a good head joins: those between two separate groups are open anyway.

        Parameters
        ----------
        wires : tuple of str
            The wire whose winding is open; both ends where a winding has no common.
        """
        if len(wires) == 2:
            return [one for one in self.readings if one.is_open and {one.wire_a, one.wire_b} == set(wires)]
        group = set(wires)
        for one in self.finding.windings:
            group |= set(one.wires) if set(wires) & set(one.wires) else set()
        for one in self.finding.windings:  # the other ends that share its common
            group |= set(one.wires) if one.wires[0] in group else set()
        opens = [one for one in self.readings if one.is_open and set(wires) & {one.wire_a, one.wire_b}]
        return [one for one in opens if {one.wire_a, one.wire_b} <= group] if self.finding.windings else opens

    def finite_readings_of(self, wires: tuple[str, ...]) -> list[PairReading]:
        """Finite readings that touch one of these wires, a pair read twice counted twice.

        Parameters
        ----------
        wires : tuple of str
            The wire whose winding reads low; both ends where a winding has no common.
        """
        return [one for one in self.readings if not one.is_open and set(wires) & {one.wire_a, one.wire_b}]

    def pairs_that_touch(self, wires: tuple[str, ...]) -> set[frozenset[str]]:
        """Pairs with a finite reading of which one wire at least is among these.

        Parameters
        ----------
        wires : tuple of str
            The two that read as if joined.
        """
        pairs = {frozenset((one.wire_a, one.wire_b)) for one in self.readings if not one.is_open}
        return {pair for pair in pairs if pair & set(wires)}


@record
class Case:
    """One valve before the decision: what is known of it and how probable its causes are."""

    id: str
    role: str
    kind: str
    head: str | None
    windings: WindingRead
    facts: tuple[Fact, ...]
    state: State
    causes: Mapping[str, float]
    """Posterior, most probable first.  [1]"""
    never_removed: bool = False
    is_old: bool = False
    """The coil may be rusted fast: never off, or not for years."""
    service_state_holds: bool = False
    behaviours: Mapping[str, float] = field(default_factory=dict)
    """What it does while the system runs, whatever the cause: behaviour -> probability.  [1]"""
    is_running_seen: bool = False
    """Whether the running system was read and may be used."""
    is_system_at_fault: bool = False
    """Whether something is more probably wrong with the system as a whole than not."""

    @property
    def leading(self) -> str:
        """The most probable cause."""
        return next(iter(self.causes))

    @property
    def weighing(self) -> frozenset[str]:
        """Codes of the facts that count."""
        return frozenset(fact.code for fact in self.facts if fact.weighs)

    def probability(self, *causes: str) -> float:
        """Of any of these causes together.  [1]"""
        return sum(self.causes.get(cause, 0.0) for cause in causes)
