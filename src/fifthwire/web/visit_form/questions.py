"""What a visit's pages ask, in the words of the trade; kinds and choices come from the records of the visit file."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from fifthwire.model.fields import FieldNote, Kind, describe
from fifthwire.model.kept.people import UnitSystem
from fifthwire.model.record import record
from fifthwire.model.running import OutdoorReadings, Snapshot, UnitReadings, ValveReadings
from fifthwire.model.units import convert
from fifthwire.model.valve import Board, Inspection, Movement, Valve
from fifthwire.model.visit import System
from fifthwire.model.words import word


def _(message: str) -> str:
    """Marks a text for the catalogue."""
    return message


SELDOM: Final = (
    "common",
    "part_label",
    "known_good_head",
    "old_head_again",
    "plug_swap",
    "after_cleaning",
    "fault_code",
)
"""Asked for on a second look: folded away until answered."""
BOTH: Final = ("clip-on", "bolt-on", None)
ASKED: Final[dict[str, tuple[type, tuple[tuple[str, str, tuple[str | None, ...]], ...]]]] = {
    "before": (
        Valve,
        (
            ("plug_off", _("The plug is off its board"), BOTH),
            ("head_temperature", _("Temperature of the head"), BOTH),
            ("head_temperature_from", _("How it was taken"), BOTH),
            ("meter", _("Meter"), BOTH),
            ("common", _("Common wire, where it is known for sure"), BOTH),
            ("suspected", _("Something pointed at this head before"), BOTH),
            ("part_label", _("As printed on the head"), BOTH),
        ),
    ),
    "look": (
        Inspection,
        (
            ("rust", _("Rust under the head"), ("clip-on", None)),
            ("pitted", _("Pitted: rust has eaten into the can"), ("clip-on", None)),
            ("cracks", _("Cracks in the housing"), ("bolt-on",)),
            ("seated", _("Latched home"), ("clip-on", None)),
            ("connector", _("Plug"), BOTH),
        ),
    ),
    "move": (
        Movement,
        (
            ("stem", _("The stem, with all valves open for service"), ("bolt-on",)),
            ("stem_mm", _("How far it stands out, in mm"), ("bolt-on",)),
            ("felt", _("What the hand feels while it is commanded"), BOTH),
            ("hand_magnet", _("With a manual opening magnet"), ("clip-on",)),
            ("known_good_head", _("With a good head on this body"), BOTH),
            ("old_head_again", _("With its own head put back after that"), BOTH),
            ("plug_swap", _("Two like plugs exchanged at the board"), BOTH),
            ("after_cleaning", _("After cleaning"), BOTH),
            ("fault_code", _("What the controller shows"), BOTH),
        ),
    ),
    "board": (
        Board,
        (
            ("when", _("When the output was measured"), BOTH),
            ("supply", _("Supply, from common to board zero"), BOTH),
            ("pulses", _("Every phase swings"), BOTH),
        ),
    ),
    "unit": (
        UnitReadings,
        (
            ("on", _("The unit runs"), BOTH),
            ("opening", _("Opening that is commanded"), BOTH),
            ("liquid_pipe", _("Liquid pipe at the coil"), BOTH),
            ("gas_pipe", _("Gas pipe at the coil"), BOTH),
            ("return_air", _("Air entering"), BOTH),
            ("supply_air", _("Air leaving"), BOTH),
        ),
    ),
    "valve": (
        ValveReadings,
        (
            ("opening", _("Opening that is commanded"), BOTH),
            ("outlet", _("Vapour leaving the bypass"), BOTH),
        ),
    ),
    "system": (
        System,
        (
            ("service_state", _("All valves driven open for service"), BOTH),
            ("service_state_minutes", _("How long they were given, in minutes"), BOTH),
            ("mode", _("How the system ran"), BOTH),
        ),
    ),
    "snapshot": (
        Snapshot,
        (
            ("minutes_running", _("Minutes since the start"), BOTH),
            ("state", _("What the controller was doing"), BOTH),
            ("ambient", _("Outdoor air"), BOTH),
        ),
    ),
    "outdoor": (
        OutdoorReadings,
        (
            ("suction_pressure", _("Suction pressure"), BOTH),
            ("discharge_pressure", _("Discharge pressure"), BOTH),
            ("suction_temperature", _("Suction line"), BOTH),
            ("discharge_temperature", _("Discharge line"), BOTH),
            ("liquid_temperature", _("Liquid line after the subcooler"), BOTH),
            ("shell_temperature", _("Compressor shell, low down"), BOTH),
            ("speed", _("Compressor speed"), BOTH),
        ),
    ),
}
"""By part of a page: the record, and of each question the key, the words, and the heads that it is asked of."""
_TEMPERATURE_HINTS: Final[dict[UnitSystem, str]] = {"si": _("In °C."), "us": _("In °F.")}
WITH_UNIT: Final[dict[str, str]] = {
    "kPa": _("With its unit: 118 psig, 812 kPag. A bare number is kPa absolute."),
    "V": _("In volts."),
    "Hz": _("In hertz."),
}
OPTION_WORDS: Final[dict[str, str]] = {
    "retracted": _("fully back"),
    "part-way": _("part way out"),
    "extended": _("fully out"),
    "steps": _("it steps"),
    "rocking": _("it rocks and goes nowhere"),
    "nothing": _("nothing"),
    "moves": _("it moves"),
    "stuck": _("it stays stuck"),
    "fault-moves": _("the fault went with the plug: head or harness"),
    "fault-stays": _("the fault stayed at the output: board"),
    "air-after-1h": _("air, after an hour off"),
    "clamp": _("clamp on the head"),
    "infrared": _("infrared"),
    "by-hand": _("by hand"),
}
"""Of choices that need more than their key; the rest is `model.words`."""
OPENING_HINT: Final = _("Pulses, or a share of the full stroke with its percent sign.")


@record
class Question:
    """One question of a form."""

    key: str
    text: str
    kind: str
    """choice | flag | text"""
    options: tuple[tuple[str, str], ...] = ()
    """Values with their words."""
    value: str = ""
    """As it stands; of a flag yes or no."""
    hint: str = ""
    unit: str = ""
    """Of a bare number, as a visit file takes it; empty where the answer is text."""


def questions(
    part: str, held: Mapping[str, Any], units: UnitSystem, *, head: str | None = None, meters: Sequence[str] = ()
) -> tuple[Question, ...]:
    """The questions of a part, with what was answered.

    Parameters
    ----------
    part : str
        Of a page.
    held : mapping
        The table as it stands.
    units : str
        "si" or "us".
    head : str or None
        Kind of the head; a question that does not fit it is left out.
    meters : sequence of str
        Names of the visit's meters.
    """
    of, asked = ASKED[part]
    notes = {note.key: note for note in describe(of)}
    return tuple(
        _question(notes[key], text, held.get(key), units, meters) for key, text, heads in asked if head in heads
    )


def _question(note: FieldNote, text: str, value: Any, units: UnitSystem, meters: Sequence[str]) -> Question:
    if note.kind is Kind.CHOICE or note.key == "meter":
        options = tuple((one, OPTION_WORDS.get(one, word(one))) for one in note.choices or meters)
        return Question(key=note.key, text=text, kind="choice", options=options, value=str(value or ""))
    if note.kind is Kind.FLAG or note.key == "pulses":
        said = "" if not isinstance(value, bool) else "yes" if value else "no"
        return Question(key=note.key, text=text, kind="flag", value=said)
    hint = OPENING_HINT if note.key == "opening" else WITH_UNIT.get(note.unit, "")
    hint = _TEMPERATURE_HINTS[units] if note.unit == "degC" else hint
    unit = "number" if note.key == "opening" else note.unit
    return Question(key=note.key, text=text, kind="text", value=written(value, unit, units), hint=hint, unit=unit)


def written(value: Any, unit: str, units: UnitSystem) -> str:
    """A value of a visit file as the person would type it.

    Examples
    --------
    >>> written(31.0, "degC", "us"), written("118 psig", "kPa", "si"), written(["2", "5"], "", "si")
    ('87.8', '118 psig', '2 5')
    """
    if value is None:
        return ""
    if isinstance(value, list | tuple):
        return " ".join(str(one) for one in value)
    if isinstance(value, int | float):
        if unit == "degC" and units == "us":
            value = convert(float(value), "degC", "degF")
        return f"{value:.6g}"
    return str(value)


def answered(text: str, question: Question, units: UnitSystem) -> Any:
    """What a person typed or chose, as the visit file holds it; None where nothing was said.

    Examples
    --------
    >>> of = Question(key="head_temperature", text="", kind="text", unit="degC")
    >>> answered("31", of, "si"), answered("88", of, "us"), answered("31 degC", of, "us"), answered("", of, "si")
    (31.0, '88 degF', '31 degC', None)
    """
    if not text:
        return None
    if question.kind == "flag":
        return text == "yes"
    if question.key == "common":
        wires = text.replace(",", " ").split()
        return wires[0] if len(wires) == 1 else wires
    if question.kind == "choice" or not question.unit:
        return text
    number = _bare_number(text)
    if number is None:
        return text
    return f"{text.replace(',', '.')} degF" if question.unit == "degC" and units == "us" else number


def _bare_number(text: str) -> float | None:
    """A number without a unit; a comma is taken for a point."""
    try:
        number = float(text.replace(",", ".")) if text.isascii() and text[-1].isdigit() else None
    except ValueError:
        return None
    return number if number is not None and abs(number) < 1e12 else None
