"""`fifthwire touch`: one head at the terminal, two pins at a time."""

from argparse import Namespace
from dataclasses import replace
from datetime import date

from fifthwire.assessment.marks import mark_of
from fifthwire.assessment.valve_words import action_words, cause_words, place_words
from fifthwire.cli.answers import ARRANGEMENTS, HELP, Answer, manual_says, not_understood, understand
from fifthwire.cli.asking import Asker, Ended
from fifthwire.cli.exits import DONE, INPUT, NO_ANSWER
from fifthwire.cli.plug import plug_lines
from fifthwire.cli.terminal import Terminal, terminal
from fifthwire.diagnosis.priors import Priors
from fifthwire.model.assessment import CauseProbability
from fifthwire.model.errors import InputError
from fifthwire.model.reasons import CAUTIONS, CHECKS, say
from fifthwire.model.units import parse_quantity
from fifthwire.model.valve import PairReading
from fifthwire.model.visit import Visit
from fifthwire.model.words import PROBABLE_AT, how_sure, word
from fifthwire.workflow.keeping import ReadingsKept, keep_readings
from fifthwire.workflow.laws import load_priors
from fifthwire.workflow.make_safe import make_safe_steps
from fifthwire.workflow.touching import (
    LOOSE_LABEL,
    TouchSession,
    TouchStep,
    arrangement_in,
    judge,
    loose_head,
    start_session,
    take,
    undo,
)
from fifthwire.workflow.visits import STANDARD_INPUT, open_visit, require_valve


def run(arguments: Namespace) -> int:
    """Guide through one head; what was read is kept whatever ends it."""
    screen = terminal()
    asker = Asker(screen)
    priors = load_priors(arguments.priors, with_checksum=False)
    pins = tuple((arguments.pins or "").replace(",", " ").split())
    try:
        if arguments.into:
            session, kept = _into(arguments, priors, pins, asker)
        else:
            session, kept = _loose(priors, pins, asker), None
    except Ended:
        screen.show("Nothing was read.")
        return INPUT if asker.was_misunderstood else NO_ANSWER
    return _Guide(session=session, kept=kept, when=arguments.when, asker=asker, screen=screen).run()


def _into(
    arguments: Namespace, priors: Priors, pins: tuple[str, ...], asker: Asker
) -> tuple[TouchSession, ReadingsKept]:
    name, label = arguments.into
    if name == STANDARD_INPUT:
        raise InputError("standard input cannot be written into", "Name a file.")
    opened = open_visit(name)
    require_valve(opened, label)
    _show_make_safe(opened.visit, asker.screen)
    valve = next(valve for valve in opened.visit.valves if valve.id == label)
    asker.screen.show(f"{label}: {place_words(valve)}")
    arrangement = arrangement_in(opened.visit, label) or _ask_arrangement(asker)
    session = start_session(opened.visit, label, priors, arrangement=arrangement, when=arguments.when, pins=pins)
    return session, ReadingsKept(opened=opened, written=opened.content)


def _loose(priors: Priors, pins: tuple[str, ...], asker: Asker) -> TouchSession:
    _show_make_safe(None, asker.screen)
    arrangement = _ask_arrangement(asker)
    spec = asker.ask(
        "What should one winding measure, by its manual? For example 62 ohm 10 % 20 degC. Enter: not known.",
        lambda line: manual_says(line, arrangement),
    )
    head_c = asker.ask("Temperature of the head? For example 31 degC. Enter: not known.", _temperature)
    visit = loose_head(spec=spec, today=date.today(), head_temperature_c=head_c)
    session = start_session(visit, LOOSE_LABEL, priors, arrangement=arrangement, pins=pins)
    if arrangement.startswith("unipolar"):
        n_commons = 2 if arrangement == "unipolar-6" else 1
        which = "Which two pins are the commons?" if n_commons == 2 else "Which pin is the common?"
        common = asker.ask(f"{which} Enter: not known.", lambda line: _commons(line, session.pins, n_commons))
        session = replace(session, visit=_with_common(session.visit, common))
    return session


def _with_common(visit: Visit, common: tuple[str, ...]) -> Visit:
    return replace(visit, valves=(replace(visit.valves[0], common=common),))


def _ask_arrangement(asker: Asker) -> str:
    return asker.ask("How many wires has the plug? 5, 6 or 4; 2 for a solenoid's coil.", _arrangement)


def _arrangement(line: str) -> str:
    said = line.strip().casefold()
    if said not in ARRANGEMENTS:
        raise not_understood(line, "Type 5, 6, 4 or 2.")
    return ARRANGEMENTS[said]


def _temperature(line: str) -> float | None:
    said = line.strip()
    if not said:
        return None
    head_c = parse_quantity(float(said) if said.replace(".", "", 1).lstrip("-").isdecimal() else said, "degC")
    if not -60.0 <= head_c <= 150.0:
        raise InputError(f"{said} is no temperature of a head", "It lies between -60 and 150 degC.")
    return head_c


def _commons(line: str, pins: tuple[str, ...], n_commons: int) -> tuple[str, ...]:
    named = tuple(line.replace(",", " ").replace(" and ", " ").split())
    if named and (len(set(named)) != n_commons or not set(named) <= set(pins)):
        raise not_understood(line, f"Type {n_commons} of {' '.join(pins)}, or Enter.")
    return named


def _show_make_safe(visit: Visit | None, screen: Terminal) -> None:
    """How a system is made safe, told once before the first head comes off, without the steps the visit confirms."""
    steps = make_safe_steps(visit)
    if steps:
        screen.show("Before the first head comes off:")
    for number, code in enumerate(steps, start=1):
        first, *rest = screen.wrapped(say(CAUTIONS, code), indent="    ")
        screen.show(f"{number:>2}. {first.lstrip()}")
        for line in rest:
            screen.show(line)
    if steps:
        screen.show("Local codes and licensed practice rule.")
        screen.show()


class _Guide:
    """Asks, takes, shows and keeps, until more readings would change nothing."""

    def __init__(
        self, *, session: TouchSession, kept: ReadingsKept | None, when: str | None, asker: Asker, screen: Terminal
    ) -> None:
        self._session = session
        self._kept = kept
        self._when = when
        self._asker = asker
        self._screen = screen

    def run(self) -> int:
        step = judge(self._session)
        self._show_known(step)
        for line in HELP if step.next_pins is not None else ():
            self._screen.show(line)
        try:
            while step.next_pins is not None:
                step = self._one(step, step.next_pins)
        except (Ended, KeyboardInterrupt) as end:
            how = end.how if isinstance(end, Ended) else "Stopped."
            self._screen.show(f"{how} {self._what_was_kept()}")
            return self._code() or (DONE if self._session.readings else NO_ANSWER)
        self._finish(step)
        return self._code()

    def _one(self, step: TouchStep, pins: tuple[str, str]) -> TouchStep:
        """One answer: a reading, or a word."""
        self._screen.show()
        for line in plug_lines(self._session.pins, pins, is_plain=self._screen.is_plain):
            self._screen.show(line)
        answer = self._answer(pins)
        if answer.word == "done":
            raise Ended("Done.")
        if answer.word == "help":
            for line in HELP:
                self._screen.show(line)
            return step
        if answer.word == "undo":
            return self._undone(step)
        assert answer.reading is not None
        return self._taken(take(self._session, answer.reading))

    def _answer(self, pins: tuple[str, str]) -> Answer:
        last = self._session.readings[-1] if self._session.readings else None
        question = f"Touch {pins[0]} and {pins[1]}:"

        def meant(line: str) -> Answer:
            answer = understand(line, asked=pins, pins=self._session.pins, last=last)
            if answer.reading is not None:
                take(self._session, answer.reading)
            return answer

        return self._asker.ask(question, meant)

    def _undone(self, step: TouchStep) -> TouchStep:
        if not self._session.taken:
            self._screen.show("There is nothing to undo. Readings that were in the file stay in it.")
            return step
        struck = self._session.taken[-1]
        self._screen.show(f"Struck out: {_shown(struck)}.")
        return self._taken(undo(self._session))

    def _taken(self, session: TouchSession) -> TouchStep:
        self._session = session
        if self._kept is not None:
            self._kept = keep_readings(
                self._kept, session.valve_id, session.taken, state=session.state, when=self._when
            )
        step = judge(session)
        self._show_known(step)
        return step

    def _show_known(self, step: TouchStep) -> None:
        """What was read, and what it says so far."""
        if not self._session.readings:
            return
        read = "   ".join(_shown(reading) for reading in self._session.readings)
        for line in self._screen.wrapped(f"Read: {read}"):
            self._screen.show(line)
        for line in self._screen.wrapped(_winding_line(step)):
            self._screen.show(line)

    def _finish(self, step: TouchStep) -> None:
        record = self._session.valve
        self._screen.show()
        is_settled = step.winding.verdict in ("sound", "faulty")
        self._screen.show(f"More readings {'would change nothing' if is_settled else 'of this head cannot settle it'}.")
        if self._kept is None:
            return
        cause = cause_words(step.assessed, record)
        said = f"{self._session.valve_id}: {mark_of(step.assessed).word}. {cause + '. ' if cause else ''}"
        said += f"To do: {action_words(step.assessed, record)}."
        if step.assessed.next_check is not None:
            said += f" {say(CHECKS, step.assessed.next_check.check, step.assessed.next_check.values)}"
        for line in self._screen.wrapped(said):
            self._screen.show(line)
        self._screen.show(self._what_was_kept())

    def _what_was_kept(self) -> str:
        count = len(self._session.taken)
        readings = "1 reading" if count == 1 else f"{count or 'No'} readings"
        if self._kept is None:
            return f"{readings} taken."
        return f"{readings} added to {self._session.valve_id} in {self._kept.opened.name}."

    def _code(self) -> int:
        return INPUT if self._asker.was_misunderstood else DONE


def _shown(reading: PairReading) -> str:
    return f"{reading.wire_a}-{reading.wire_b} {'open' if reading.ohm is None else f'{reading.ohm:g} Ω'}"


def _winding_line(step: TouchStep) -> str:
    """The verdict on the windings in one line."""
    winding = step.winding
    leading = winding.causes[0] if winding.causes else None
    words = []
    if winding.verdict == "sound":
        words.append("Windings good.")
    elif leading is not None and leading.cause == "sound":
        words.append("Nothing wrong so far.")
    elif leading is not None:
        start = "Windings faulty" if winding.verdict == "faulty" else "Not proven yet"
        words.append(f"{start}: {_named(leading)}: {how_sure(leading.probability)}.")
        if leading.cause == "bad-reading" and not leading.wires:
            words.append("No head reads like this: check the wire numbers; undo strikes out the last reading.")
    if winding.common and winding.common[0].probability >= PROBABLE_AT:
        common = winding.common[0]
        name = "Common" if len(common.wires) == 1 else "Commons"
        words.append(f"{name} {' and '.join(common.wires)}: {how_sure(common.probability)}.")
    return " ".join(words)


def _named(cause: CauseProbability) -> str:
    if not cause.wires:
        return word(cause.cause)
    return f"{word(cause.cause)}, {'wire' if len(cause.wires) == 1 else 'wires'} {' and '.join(cause.wires)}"
