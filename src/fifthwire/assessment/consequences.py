"""What a faulty valve does to the system if it is left as it is: one sentence from a table that was simulated once.

The table knows a few refrigerants, three sizes of system and two valve curves; a visit tells the first two, and of the
curve nothing, so that the sentence covers both. It is no reading and judges nothing: it stands beside the verdict.
"""

from functools import cache
from typing import Final, NamedTuple, TypeAlias

from fifthwire.model import consequence_words as words
from fifthwire.model.assessment import ValveAssessment
from fifthwire.model.record import record
from fifthwire.model.valve import Valve
from fifthwire.model.visit import Visit

Span: TypeAlias = tuple[float | None, float | None]

SIZE_CLASSES: Final = (8, 24, 40)
"""Indoor units of the plants that were simulated.  [1]  Our choice: a small, a usual and a large system."""
CLASS_ENDS: Final = (15, 31)
"""Up to so many indoor units a system counts as the first, the second class.  [1]  Our choice: half-way."""
LEAST_LISTED: Final = 4
"""A visit that names fewer indoor units does not tell how large the system is.  [1]  Our choice."""
STAYS: Final = {
    "body-stuck-open": "open",
    "body-stuck-closed": "shut",
    "leaks-when-shut": "leaks",
    "winding": "anywhere",
    "head-jammed": "anywhere",
    "head-cracked": "anywhere",
    "head-unseated": "anywhere",
    "plug-or-harness": "anywhere",
    "board-output": "anywhere",
    "wrong-head": "anywhere",
}
"""Where a valve with a cause stands: at one end, nowhere tight, or wherever it happened to stop."""


class Line(NamedTuple):
    """A line of the table."""

    mode: str
    refrigerant: str
    units: int
    curve: str
    role: str
    full_from: Span
    """Opening from which on liquid reaches the compressor, all units on: of the first valve and of the last; None:
    never.  [1]"""
    part_from: Span
    """The same with a third of the units on."""
    stopped_from: Span
    """The same with the valve's own unit off."""
    full_lost: Span
    """Capacity that the plant loses where the valve is shut, least and most; None: no steady state.  [1]"""
    part_lost: Span


@record
class Consequence:
    """What is said under a valve."""

    sentence: str
    assumed: str
    """What the sentence rests on."""


def written(line: Line) -> str:
    """A line as the table has it.

    Examples
    --------
    >>> spans = (0.5, None), (0.4, 0.6), (0.1, 0.2), (0.01, 0.2), (0.0, 0.3)
    >>> written(Line("cooling", "R32", 8, "linear", "indoor", *spans))
    'cooling R32 8 linear indoor  50-never 40-60 10-20  1-20 0-30'
    """
    name = f"{line.mode} {line.refrigerant} {line.units} {line.curve} {line.role}"
    begins = " ".join(f"{_percent(low, 'never')}-{_percent(high, 'never')}" for low, high in line[5:8])
    lost = " ".join(f"{_percent(low, 'none')}-{_percent(high, 'none')}" for low, high in line[8:])
    return f"{name}  {begins}  {lost}"


def _percent(value: float | None, otherwise: str) -> str:
    return otherwise if value is None else f"{max(value, 0.0) * 100.0:.0f}"


def parsed(text: str) -> tuple[Line, ...]:
    """The lines of a table."""
    return tuple(_line(row.split()) for row in text.strip().splitlines())


def _line(cells: list[str]) -> Line:
    mode, refrigerant, units, curve, role, *spans = cells
    full, part, stopped, lost, part_lost = (_span(one) for one in spans)
    return Line(mode, refrigerant, int(units), curve, role, full, part, stopped, lost, part_lost)


def _span(cell: str) -> Span:
    low, high = (None if one in ("never", "none") else float(one) / 100.0 for one in cell.split("-"))
    return low, high


@cache
def _by_key() -> dict[tuple[str, str, int, str], tuple[Line, ...]]:
    from fifthwire.assessment.consequence_table import TABLE  # only where a report is made

    found: dict[tuple[str, str, int, str], tuple[Line, ...]] = {}
    for line in parsed(TABLE):
        key = (line.mode, line.refrigerant, line.units, line.role)
        found[key] = (*found.get(key, ()), line)
    return found


def consequence_of(visit: Visit, record_of: Valve, valve: ValveAssessment) -> Consequence | None:
    """What a valve does if it is left as it is.

    Parameters
    ----------
    visit : Visit
        Tells the refrigerant and the size of the system.
    record_of : Valve
        As written.
    valve : ValveAssessment
        As assessed.

    Returns
    -------
    Consequence or None
        None where nothing speaks against the valve itself, or where nothing like it was simulated.
    """
    stays = STAYS.get(valve.causes[0].cause) if valve.causes else None
    refrigerant = visit.system.refrigerant
    if stays is None or refrigerant is None or record_of.kind == "solenoid" or visit.system.mode == "mixed":
        return None
    mode = "heating" if visit.system.mode == "heating" else "cooling"
    listed = indoor_units(visit)
    size = size_class(listed)
    lines = _by_key().get((mode, refrigerant, size, record_of.role), ())
    said = _sentence(lines, stays, mode) if lines else ""
    if not said:
        return None
    taken = words.SIZE_TAKEN if listed < LEAST_LISTED else ""
    return Consequence(
        sentence=said, assumed=words.ASSUMED.format(refrigerant=refrigerant, units=size, mode=mode) + taken
    )


def indoor_units(visit: Visit) -> int:
    """How many indoor units a visit names, in its valves and in its snapshots."""
    named = {one.unit for one in visit.valves if one.role == "indoor" and not one.is_void}
    snapshots = [*((visit.snapshot,) if visit.snapshot is not None else ()), *visit.snapshots]
    return len(named | {name for one in snapshots for name in one.units})


def size_class(count: int) -> int:
    """The simulated system that comes nearest.

    Examples
    --------
    >>> [size_class(count) for count in (0, 4, 15, 16, 31, 64)]
    [24, 8, 8, 24, 24, 40]
    """
    if count < LEAST_LISTED:
        return SIZE_CLASSES[1]
    return SIZE_CLASSES[sum(count > end for end in CLASS_ENDS)]


def _sentence(lines: tuple[Line, ...], stays: str, mode: str) -> str:
    """One sentence; empty where the table has nothing to say."""
    parts = {"open": _open(lines), "shut": _shut(lines, mode), "leaks": _leaks(lines)}
    needed = ("open", "shut") if stays == "anywhere" else (stays,)
    if stays == "anywhere" and not parts["shut"]:
        stays, needed = "anywhere-open", ("open",)
    return words.START[stays].format(**parts) if all(parts[one] for one in needed) else ""


def _open(lines: tuple[Line, ...]) -> str:
    full, part = _over_curves([one.full_from for one in lines]), _over_curves([one.part_from for one in lines])
    if part[0] is None:
        return words.DRY
    at_full = words.AT_FULL_NEVER if full[0] is None else words.AT_FULL_SOME if full[1] is None else words.AT_FULL_ALL
    told = at_full.format(begins=words.begins_words(full[0] or 0.0, full[1]))
    sign = words.NO_INDOOR_SIGN if lines[0].role == "subcooler-bypass" else ""
    return words.FLOODS.format(begins=words.begins_words(part[0], part[1]), at_full=told) + sign


def _shut(lines: tuple[Line, ...], mode: str) -> str:
    lost = [one for of in lines for one in (*of.full_lost, *of.part_lost) if one is not None]
    if not lost:
        return words.MAIN_STARVES if lines[0].role == "main" else ""
    told = words.share(min(lost), max(lost))
    return (words.ROOM[mode] if lines[0].role == "indoor" else words.PLANT_LOSES).format(lost=told)


def _leaks(lines: tuple[Line, ...]) -> str:
    """Only an indoor unit's valve has a unit that may be off."""
    if lines[0].role != "indoor":
        return ""
    stopped = _over_curves([one.stopped_from for one in lines])
    if stopped[0] is None:
        return words.LEAKS_DRY
    return words.LEAKS_FLOOD.format(begins=words.about(stopped[0], stopped[1]))


def _over_curves(spans: list[Span]) -> Span:
    """From the first valve on any curve to the last on any; None as end where some never does."""
    lows = [low for low, _ in spans if low is not None]
    highs = [high for low, high in spans if low is not None and high is not None]
    is_sometimes_never = len(highs) < len(spans)
    return (min(lows) if lows else None, None if is_sometimes_never or not highs else max(highs))
