"""One head, two pins at a time: which pins next, what the readings say so far, and when more would change nothing.

A session is frozen: each reading gives a new one, so that undoing is going back. It judges by assessing the visit that
holds the valve, so that what is seen at the head is what the report will say.
"""

from dataclasses import replace
from datetime import date
from itertools import combinations
from typing import Final

from fifthwire.assessment.assess import assess
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import ValveAssessment, WindingFinding
from fifthwire.model.errors import InputError
from fifthwire.model.record import record
from fifthwire.model.valve import PairReading, Valve
from fifthwire.model.visit import Spec, Visit, VisitHeader
from fifthwire.workflow.states import latest_state, readings_of, state_when, with_readings_of, with_state

PINS_OF: Final = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4, "single-2": 2}
"""How many wires each arrangement has."""
READ_AT_MOST: Final = 3
"""A pair that was read so often is not asked for again.  [1]  Our choice: two that agree against one that slipped."""
LOOSE_LABEL: Final = "head"
LOOSE_SPEC: Final = "head"


@record
class TouchSession:
    """The readings of one head so far."""

    visit: Visit
    valve_id: str
    priors: Priors
    arrangement: str
    pins: tuple[str, ...]
    """In the order of the plug."""
    state: int | None = None
    """Which of the valve's further measurements is read; None: `readings`, the first."""
    taken: tuple[PairReading, ...] = ()
    """Read in this session; those of the file come before them."""

    @property
    def valve(self) -> Valve:
        """The valve, with the readings of the file and of this session."""
        return next(valve for valve in _with_taken(self).valves if valve.id == self.valve_id)

    @property
    def readings(self) -> tuple[PairReading, ...]:
        """All readings of the state that is read."""
        return readings_of(self.valve, self.state)


@record
class TouchStep:
    """Where a session stands."""

    assessed: ValveAssessment
    next_pins: tuple[str, str] | None
    """The two pins to touch; None once more readings would change nothing."""

    @property
    def winding(self) -> WindingFinding:
        """What the readings say."""
        return self.assessed.winding


def loose_head(*, spec: Spec, today: date, head_temperature_c: float | None = None) -> Visit:
    """A visit of one head that belongs to no file."""
    valve = Valve(
        id=LOOSE_LABEL,
        unit="",
        role="main",
        spec=LOOSE_SPEC,
        head_temperature_c=head_temperature_c,
        plug_off=True,
    )
    header = VisitHeader(date=today, site="", system="")
    return Visit(header=header, specs={LOOSE_SPEC: spec}, valves=(valve,))


def arrangement_in(visit: Visit, valve_id: str) -> str | None:
    """The winding arrangement that the visit states for a valve; None where it states none."""
    valve = next(valve for valve in visit.valves if valve.id == valve_id)
    return visit.specs[valve.spec].winding if valve.spec is not None else None


def start_session(
    visit: Visit,
    valve_id: str,
    priors: Priors,
    *,
    arrangement: str,
    when: str | None = None,
    pins: tuple[str, ...] = (),
) -> TouchSession:
    """A session on a valve of a visit.

    Parameters
    ----------
    visit : Visit
        That lists the valve.
    valve_id : str
        Its label.
    priors : Priors
        The laws to judge by.
    arrangement : str
        Of the windings; put into the visit where it states none.
    when : str or None
        The state that is measured; None: the latest one at the head's plug.
    pins : tuple[str, ...]
        Names of the pins in the order of the plug; empty: those seen in the file, else numbers.

    Raises
    ------
    InputError
        If the plug is on the board, or the pins named are not those of the arrangement.
    """
    valve = next(valve for valve in visit.valves if valve.id == valve_id)
    if valve.plug_off is False:
        raise InputError(
            f"{valve_id}: plug_off is false, and with the board in parallel no reading means anything",
            "Lock out, prove dead, take the plug off, and write plug_off = true.",
        )
    state = latest_state(valve) if when is None else state_when(valve, when)
    visit = _with_valve(visit, with_state(valve, state, when))
    session = TouchSession(
        visit=visit, valve_id=valve_id, priors=priors, arrangement=arrangement, pins=pins, state=state
    )
    return replace(session, pins=_named_pins(session, pins))


def take(session: TouchSession, reading: PairReading) -> TouchSession:
    """The session with one more reading.

    Raises
    ------
    InputError
        If it names a pin that the plug does not have, or one pin twice.
    """
    for wire in (reading.wire_a, reading.wire_b):
        if wire not in session.pins:
            raise InputError(f"the plug has no pin {wire}", "Its pins are " + ", ".join(session.pins) + ".")
    if reading.wire_a == reading.wire_b:
        raise InputError(f"pin {reading.wire_a} is named twice", "Touch two different pins.")
    return replace(session, taken=(*session.taken, reading))


def undo(session: TouchSession) -> TouchSession:
    """The session without its last reading; readings that the file held before stay."""
    return replace(session, taken=session.taken[:-1])


def judge(session: TouchSession) -> TouchStep:
    """What the readings say so far, and which two pins settle most."""
    assessment = assess(_with_taken(session), session.priors, only=session.valve_id)
    assessed = assessment.valves[0]
    return TouchStep(assessed=assessed, next_pins=_next_pins(session, assessed))


def _next_pins(session: TouchSession, assessed: ValveAssessment) -> tuple[str, str] | None:
    """The pair asked for, a wire that was never touched standing for the first such pin of the plug."""
    if not session.readings:
        common = session.valve.common
        first = common[0] if common else session.pins[0]
        return first, next(pin for pin in session.pins if pin not in (first, *common))
    finding = assessed.winding
    asked = finding.next_reading.wires if finding.next_reading is not None else _doubted(session, finding)
    pins = None if asked is None else _pins_of(session, asked)
    if pins is not None and _times_read(session, pins) < READ_AT_MOST:
        return pins
    is_settled = finding.verdict == "sound" or (finding.verdict == "faulty" and assessed.action != "check-more")
    return None if is_settled else _unread_pair(session, finding)


def _pins_of(session: TouchSession, asked: tuple[str, str]) -> tuple[str, str] | None:
    seen = {wire for reading in session.readings for wire in (reading.wire_a, reading.wire_b)} | {*session.valve.common}
    spare = iter([pin for pin in session.pins if pin not in seen])
    pins = [wire if wire in seen else next(spare, None) for wire in asked]
    return None if pins[0] is None or pins[1] is None else (pins[0], pins[1])


def _times_read(session: TouchSession, pins: tuple[str, str]) -> int:
    return sum({reading.wire_a, reading.wire_b} == set(pins) for reading in session.readings)


def _doubted(session: TouchSession, finding: WindingFinding) -> tuple[str, str] | None:
    """The pair of a reading that fits nothing: it is read again before the head is let go."""
    leading = finding.causes[0] if finding.causes else None
    if finding.verdict != "undecided" or leading is None or leading.cause != "bad-reading":
        return None
    if len(leading.wires) == 2:
        return leading.wires[0], leading.wires[1]
    last = session.taken[-1] if session.taken else None
    if last is None or _times_read(session, (last.wire_a, last.wire_b)) > 1 or _repeats(session) > 0:
        return None
    return last.wire_a, last.wire_b


def _repeats(session: TouchSession) -> int:
    """How many readings of this session are of a pair that was read before."""
    pairs = [frozenset((one.wire_a, one.wire_b)) for one in session.readings]
    return len(pairs) - len(set(pairs))


def _unread_pair(session: TouchSession, finding: WindingFinding) -> tuple[str, str] | None:
    """A pair that was never read, one with a wire that is blamed first: what may still complete a proof."""
    blamed = set(finding.causes[0].wires) if finding.causes else set()
    pairs = [(a, b) for a, b in combinations(session.pins, 2) if _times_read(session, (a, b)) == 0]
    return min(pairs, key=lambda pair: -len(blamed & set(pair)), default=None)


def _named_pins(session: TouchSession, given: tuple[str, ...]) -> tuple[str, ...]:
    count = PINS_OF[session.arrangement]
    known = [*session.valve.common]
    for reading in session.readings:
        known += [wire for wire in (reading.wire_a, reading.wire_b) if wire not in known]
    numbers = [str(pin) for pin in range(1, count + 1)]
    if not given:
        given = (
            tuple(numbers) if set(known) <= set(numbers) else (*known, *(pin for pin in numbers if pin not in known))
        )
        given = given[: max(count, len(known))]
    if len(given) != count or len(set(given)) != count:
        raise InputError(
            f"{session.arrangement} has {count} pins, and {len(given)} are named: {' '.join(given)}",
            "Name each pin once, or correct the readings in the file.",
        )
    missing = [wire for wire in known if wire not in given]
    if missing:
        raise InputError(f"the file has readings of pin {missing[0]}, which is not among {' '.join(given)}")
    return given


def _with_taken(session: TouchSession) -> Visit:
    valve = next(valve for valve in session.visit.valves if valve.id == session.valve_id)
    readings = readings_of(valve, session.state) + session.taken
    valve = with_readings_of(valve, session.state, readings)
    return _with_valve(_with_arrangement(session.visit, valve, session.arrangement), valve)


def _with_arrangement(visit: Visit, valve: Valve, arrangement: str) -> Visit:
    """The visit, which knows the arrangement of a valve without a spec through its windings alone."""
    return visit if valve.spec is not None else replace(visit, specs={**visit.specs, "": Spec(winding=arrangement)})


def _with_valve(visit: Visit, valve: Valve) -> Visit:
    if valve.spec is None and "" in visit.specs:
        valve = replace(valve, spec="")
    return replace(visit, valves=tuple(valve if old.id == valve.id else old for old in visit.valves))
