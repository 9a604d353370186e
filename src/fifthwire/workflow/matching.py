"""Which valve of the register a valve of a visit is: by its place, then by its label, else a person is asked."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from fifthwire.model.errors import InputError
from fifthwire.model.kept.places import ValvePlace
from fifthwire.model.kept.visits import Choice, Question, ValveMatch
from fifthwire.model.record import record
from fifthwire.model.valve import Valve
from fifthwire.model.words import word

NEW: Final = "new"
"""The answer that it is none of those that are kept."""


@record(kw_only=False)
class Matching:
    """Every valve of a visit with the one that it is, and what has to be asked."""

    matches: tuple[ValveMatch, ...]
    questions: tuple[Question, ...]

    @property
    def known(self) -> dict[str, str]:
        """Id of the valve that stands under each label; those that are new or asked about are left out."""
        return {one.label: one.valve_id for one in self.matches if one.valve_id is not None}


def question_key(label: str) -> str:
    """Name of the answer about a valve.

    >>> question_key("OU1-main")
    'valve:OU1-main'
    """
    return f"valve:{label}"


def match_valves(
    valves: Iterable[Valve], kept: Sequence[ValvePlace], answers: Mapping[str, str], known: Mapping[str, str]
) -> Matching:
    """Which valve of the register each valve of a visit is.

    Parameters
    ----------
    valves : iterable of Valve
        Of the visit; struck ones are left out.
    kept : sequence of ValvePlace
        Those of its system.
    answers : mapping
        What a person said, by the question's key.
    known : mapping
        What was decided before: id by label.

    Raises
    ------
    InputError
        If an answer names a valve that the system does not have, or one twice.
    """
    given = [valve for valve in valves if not valve.is_void]
    by_id = {one.id: one for one in kept}
    found: dict[str, tuple[str, str]] = {label: (id_, "place") for label, id_ in known.items() if id_ in by_id}
    left = _Left(kept, {id_ for id_, _ in found.values()})
    for find, how in ((left.by_place, "place"), (left.by_label, "label")):
        for valve in given:
            if valve.id not in found and question_key(valve.id) not in answers:
                match = find(valve)
                if match is not None:
                    found[valve.id] = (match.id, how)
                    left.taken.add(match.id)
    for valve in given:
        answer = answers.get(question_key(valve.id))
        if answer is not None and answer != NEW and valve.id not in found:
            found[valve.id] = (_answered(valve, answer, by_id, found), "answered")
    return _told(given, kept, found, answers)


def _told(
    given: Sequence[Valve], kept: Sequence[ValvePlace], found: Mapping[str, tuple[str, str]], answers: Mapping[str, str]
) -> Matching:
    taken = {id_ for id_, _ in found.values()}
    matches, questions = [], []
    for valve in given:
        valve_id, how = found.get(valve.id, (None, "new"))
        if valve_id is None and answers.get(question_key(valve.id)) != NEW:
            might_be = [one for one in kept if one.id not in taken and _is_like(valve, one)]
            if might_be:
                how = "asked"
                questions.append(_question(valve, might_be))
        matches.append(_match(valve, valve_id, how))
    return Matching(tuple(matches), tuple(questions))


def _match(valve: Valve, valve_id: str | None, how: str) -> ValveMatch:
    return ValveMatch(label=valve.id, unit=valve.unit, role=valve.role, number=valve.number, valve_id=valve_id, how=how)


class _Left:
    """The valves of a system that no valve of the visit is yet, found by place and by label."""

    def __init__(self, kept: Sequence[ValvePlace], taken: set[str]) -> None:
        self.taken = taken
        self._at: dict[tuple[str, str], list[ValvePlace]] = defaultdict(list)
        for one in kept:
            self._at[one.unit, one.role].append(one)
        self._labelled = {one.label: one for one in kept}

    def by_place(self, valve: Valve) -> ValvePlace | None:
        """The valve at the same place; a number that only one side gives tells nothing apart where there is but one."""
        there = [one for one in self._at.get((valve.unit, valve.role), ()) if one.id not in self.taken]
        exact = [one for one in there if one.number == valve.number]
        if exact:
            return exact[0]
        return there[0] if len(there) == 1 and (valve.number is None or there[0].number is None) else None

    def by_label(self, valve: Valve) -> ValvePlace | None:
        """The valve of the same label."""
        one = self._labelled.get(valve.id)
        return None if one is None or one.id in self.taken else one


def _is_like(valve: Valve, one: ValvePlace) -> bool:
    """Whether a person might mean this one: it does the same, or sits in the same unit."""
    return one.role == valve.role or one.unit == valve.unit


def _question(valve: Valve, might_be: Sequence[ValvePlace]) -> Question:
    number = "" if valve.number is None else f" {valve.number}"
    return Question(
        key=question_key(valve.id),
        text=f"Which valve is {valve.id} ({valve.unit}, {word(valve.role)}{number})?",
        choices=(*(Choice(one.id, _words(one)) for one in might_be), Choice(NEW, "a valve that is not kept yet")),
    )


def _words(one: ValvePlace) -> str:
    number = "" if one.number is None else f" {one.number}"
    return f"{one.label} ({one.unit}, {word(one.role)}{number})"


def _answered(valve: Valve, answer: str, by_id: Mapping[str, ValvePlace], found: Mapping[str, tuple[str, str]]) -> str:
    if answer not in by_id:
        raise InputError(f"{answer} is no valve of this system.", f"Answer {question_key(valve.id)} again.")
    other = next((label for label, (id_, _) in found.items() if id_ == answer), None)
    if other is not None:
        raise InputError(
            f"{valve.id} and {other} cannot both be {by_id[answer].label}.", f"Answer {question_key(valve.id)} again."
        )
    return answer
