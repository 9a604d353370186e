"""What a person types at the terminal, made into what was meant."""

from typing import Final, NamedTuple

from fifthwire.model.errors import InputError
from fifthwire.model.units import finite, parse_quantity, split_number, unit_named
from fifthwire.model.valve import PairReading
from fifthwire.model.visit import Spec, Tolerance
from fifthwire.workflow.touching import PINS_OF

OPEN_WORDS: Final = ("open", "ol", "o.l", "o.l.", "0l", "inf", "infinite", "∞")
"""What people say, and what meters show, where nothing is connected."""
SAME_WORDS: Final = ("same again", "same", "again", "=")
UNDO_WORDS: Final = ("undo", "back")
DONE_WORDS: Final = ("done", "stop", "quit", "exit")
HELP_WORDS: Final = ("help", "?")
ARRANGEMENTS: Final = {**{str(count): name for name, count in PINS_OF.items()}, **{name: name for name in PINS_OF}}
"""A plug's number of wires, or the arrangement by its name."""
LONGEST_ANSWER: Final = 200
LONGEST_ECHO: Final = 40
"""Characters of an answer that are shown again where it is not understood.  Our choice."""
HELP: Final = (
    'Type what the meter shows: 62.1, "0.94 kohm", or open.',
    "same again: it shows the same as the last time.   undo: strike out the last reading.   done: stop here.",
    "Another pair: its two pins, then what the meter shows, for example 1 3 open.",
)


class Answer(NamedTuple):
    """What was meant: a reading, or one of the words `undo`, `done`, `help`."""

    word: str
    reading: PairReading | None = None


def not_understood(said: str, hint: str) -> InputError:
    """What is raised where an answer means nothing."""
    return InputError(f"not understood: {said.strip()[:LONGEST_ECHO] or 'an empty line'}", hint)


def understand(line: str, *, asked: tuple[str, str] | None, pins: tuple[str, ...], last: PairReading | None) -> Answer:
    """What a line means.

    Parameters
    ----------
    line : str
        As typed.
    asked : tuple[str, str] or None
        The pair that was asked for.
    pins : tuple[str, ...]
        Of the plug.
    last : PairReading or None
        The reading before.

    Raises
    ------
    InputError
        If it is none of the things that can be meant.
    """
    said = " ".join(line[:LONGEST_ANSWER].split())
    folded = said.casefold()
    for word, words in (("undo", UNDO_WORDS), ("done", DONE_WORDS), ("help", HELP_WORDS)):
        if folded in words:
            return Answer(word)
    pair, shown = _own_pair(said, pins)
    pair = pair or asked
    if pair is None:
        raise InputError("no pair is asked for", "Name two pins and what the meter shows, for example 1 3 62.1.")
    return Answer("reading", PairReading(pair[0], pair[1], _ohm(shown, last)))


def _own_pair(said: str, pins: tuple[str, ...]) -> tuple[tuple[str, str] | None, str]:
    """The pair that the line names itself, and the rest of it."""
    words = said.split(" ", 2)
    if len(words) == 3 and words[0] in pins and words[1] in pins:
        return (words[0], words[1]), words[2]
    return None, said


def _ohm(shown: str, last: PairReading | None) -> float | None:
    folded = shown.casefold()
    if folded in OPEN_WORDS:
        return None
    if folded in SAME_WORDS:
        if last is None:
            raise InputError("nothing was read before", "Type what the meter shows.")
        return last.ohm
    try:
        number, unit = split_number(shown)
        ohm = finite(number) if not unit else parse_quantity(shown, "ohm")
    except InputError as err:
        raise InputError(
            f"not understood: {shown[:LONGEST_ECHO] or 'an empty line'}", err.hint if shown else HELP[0]
        ) from err
    if ohm < 0.0:
        raise InputError(f"{shown} is below zero", "Short the probes, zero the meter, and read again.")
    return ohm


def manual_says(line: str, arrangement: str) -> Spec:
    """The spec that a line gives: ohms, then a tolerance and a temperature in any order; an empty line gives none.

    Raises
    ------
    InputError
        If a part of it is no resistance, percentage or temperature.

    Examples
    --------
    >>> spec = manual_says("62 ohm 10 % 20 degC", "unipolar-5")
    >>> spec.resistance_ohm, spec.tolerance, spec.at_c
    (62.0, Tolerance(frac=0.1, ohm=None), 20.0)
    """
    found: dict[str, float] = {}
    for number, unit in _quantities(line):
        of = unit_named(unit).of if unit else "a resistance"
        known = {"a resistance": "ohm", "a share": "frac", "a temperature": "degC"}
        if of not in known or of in found:
            raise InputError(f"{number:g} {unit} does not belong here", "Type it as 62 ohm 10 % 20 degC.")
        found[of] = number if not unit else parse_quantity(f"{number!r} {unit}", known[of])
    tolerance = Tolerance(frac=found["a share"]) if "a share" in found else None
    return Spec(
        winding=arrangement,
        resistance_ohm=found.get("a resistance"),
        tolerance=tolerance,
        at_c=found.get("a temperature"),
    )


def _quantities(line: str) -> list[tuple[float, str]]:
    """Numbers and the units that follow them."""
    found: list[tuple[float, str]] = []
    for part in line[:LONGEST_ANSWER].replace("±", " ").replace("+-", " ").replace("+/-", " ").split():
        if part[0].isdigit() or part[0] in "-.":
            found.append(split_number(part))
        elif found and not found[-1][1] and part not in ("at", "of"):
            found[-1] = (found[-1][0], part)
        elif part not in ("at", "of"):
            raise not_understood(part, "Type it as 62 ohm 10 % 20 degC.")
    return found
