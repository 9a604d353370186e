"""Turn a temperature sensor's resistance into its temperature, and back, on a curve that was given."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

from fifthwire.assessment.figures import number, plain
from fifthwire.diagnosis.running.sensor_checks import curve_c
from fifthwire.model import gauges
from fifthwire.model.errors import InputError, Problem, RangeError, VisitFileError
from fifthwire.model.nearest import nearest
from fifthwire.model.record import record
from fifthwire.model.running import Curve
from fifthwire.model.units import RESISTANCE, TEMPERATURE, convert, parse_quantity, split_number, unit_named
from fifthwire.physics import thermistor
from fifthwire.workflow.files import file_error, read_file

Points = tuple[tuple[float, float], ...]

UNSURE_UNDER_C: Final = 5.0
"""Colder than this the plain beta law is not good enough for superheat.  [°C]  See `physics.thermistor`."""
FIT_POINTS: Final = 3


@record
class SensorCurve:
    """A curve, and the points it was laid through where it was."""

    curve: Curve
    points: Points = ()

    @property
    def law(self) -> str:
        """What kind of curve: `table`, `beta` or `steinhart`."""
        return "table" if self.curve.table else "steinhart" if self.curve.steinhart is not None else "beta"


@record
class SensorAnswer:
    """One reading with its partner."""

    given: str
    is_resistance: bool
    """Whether a resistance was given and the temperature found."""
    ohm: float
    c: float


@record
class SensorAnswers:
    """Everything that was asked at once."""

    of: SensorCurve
    answers: tuple[SensorAnswer, ...]
    warnings: tuple[str, ...]


def curve_from(
    *,
    table: str | None = None,
    points: Sequence[Sequence[str]] = (),
    does_fit: bool = False,
    r25: str | None = None,
    beta: str | None = None,
    steinhart: Sequence[str] | None = None,
    visit: str | None = None,
    curve: str | None = None,
) -> SensorCurve:
    """The one curve that was given, in whichever way.

    Parameters
    ----------
    table : str, optional
        A CSV file.
    points : sequence of pairs
        A temperature and a resistance each, as typed.
    does_fit : bool
        Lay a Steinhart-Hart curve through three points.
    r25, beta : str, optional
        Of the beta law.
    steinhart : sequence of str, optional
        A, B, C.
    visit, curve : str, optional
        A visit file, and which of its curves.

    Raises
    ------
    InputError
        If none, more than one or half a curve is given, or it is none.
    """
    given = {
        "--table": table is not None,
        "--point": bool(points),
        "--r25 and --beta": r25 is not None or beta is not None,
        "--steinhart": steinhart is not None,
        "--visit and --curve": visit is not None or curve is not None,
    }
    named = [name for name, is_given in given.items() if is_given]
    if len(named) != 1:
        raise InputError(
            "no curve is given" if not named else f"more than one curve is given: {', '.join(named)}",
            f"Give one of {', '.join(given)}.",
        )
    if table is not None or points:
        return _through(_read_table(table) if table is not None else _typed(points), does_fit=does_fit)
    if does_fit:
        raise InputError("--fit needs three points", "Give them with --point or --table.")
    if steinhart is not None:
        a, b, c = (_plain_number(one) for one in steinhart)
        return SensorCurve(curve=Curve(steinhart=(a, b, c)))
    if visit is not None or curve is not None:
        return SensorCurve(curve=_of_visit(visit, curve))
    return SensorCurve(curve=_beta(r25, beta))


def ask_sensor(of: SensorCurve, readings: Sequence[str]) -> SensorAnswers:
    """Each reading's partner on a curve.

    Parameters
    ----------
    of : SensorCurve
        The curve.
    readings : sequence of str
        Resistances or temperatures with their units.

    Raises
    ------
    InputError, RangeError
        If one of them cannot be read or lies beyond the curve.
    """
    answers = tuple(_answer(of.curve, one) for one in readings)
    return SensorAnswers(of=of, answers=answers, warnings=_warnings(of, answers))


def curve_ohm(curve: Curve, c: float) -> float:
    """Resistance at a temperature on a curve. [°C] -> [Ω]

    Raises
    ------
    RangeError
        If the temperature lies beyond the curve.
    InputError
        If the curve says nothing.
    """
    if curve.table:
        return thermistor.table_ohm(curve.table, c)
    if curve.steinhart is not None:
        return thermistor.steinhart_ohm(curve.steinhart, c)
    if curve.r25_ohm is not None and curve.beta_k is not None:
        return thermistor.beta_ohm(curve.r25_ohm, curve.beta_k, c)
    raise InputError("the curve gives neither a table nor a law")


def sensor_to_json(found: SensorAnswers) -> dict[str, Any]:
    """The answers for other programs."""
    curve = found.of.curve
    written: dict[str, Any] = {"format": "fifthwire/sensor/1", "law": found.of.law}
    if curve.steinhart is not None:
        written["steinhart"] = list(curve.steinhart)
    values = [
        {"given": one.given, "resistance_ohm": round(one.ohm, 3), "temperature_c": round(one.c, 4) + 0.0}
        for one in found.answers
    ]
    return written | {"values": values, "warnings": list(found.warnings)}


def _answer(curve: Curve, written: str) -> SensorAnswer:
    value, unit = split_number(written, example='a resistance or a temperature, such as "13.8 kohm" or "5 degC"')
    if not unit:
        raise InputError(f"{written} has no unit", f'Write "{written} ohm", "{written} degC" or "{written} degF".')
    of_unit = unit_named(unit)
    if of_unit.of == RESISTANCE:
        ohm = convert(value, of_unit.name, "ohm")
        return SensorAnswer(given=written, is_resistance=True, ohm=ohm, c=_believable(curve_c(curve, ohm)))
    if of_unit.of != TEMPERATURE:
        raise InputError(f"{written} is {of_unit.of}", "Write a resistance (ohm, kohm) or a temperature (degC, degF).")
    c = _believable(convert(value, of_unit.name, "degC"))
    return SensorAnswer(given=written, is_resistance=False, ohm=curve_ohm(curve, c), c=c)


def _believable(c: float) -> float:
    if thermistor.COLDEST_C <= c <= thermistor.HOTTEST_C:
        return c
    raise RangeError(
        f"{c:.1f} °C lies outside {thermistor.COLDEST_C:g} to {thermistor.HOTTEST_C:g} °C",
        "The sensor is open, shorted or wet, or the curve is another sensor's.",
    )


def _warnings(of: SensorCurve, answers: tuple[SensorAnswer, ...]) -> tuple[str, ...]:
    said = []
    if of.law == "beta" and any(one.c < UNSURE_UNDER_C for one in answers):
        said.append(gauges.BETA_LAW)
    if of.points:
        low, high = min(c for c, _ in of.points), max(c for c, _ in of.points)
        said += [
            gauges.BEYOND_POINTS.format(c=number(one.c), low_c=plain(low), high_c=plain(high))
            for one in answers
            if not low - 1e-6 <= one.c <= high + 1e-6
        ]
    return tuple(said)


def _through(points: Points, *, does_fit: bool) -> SensorCurve:
    rows = tuple(sorted(points))
    if does_fit:
        if len(rows) != FIT_POINTS:
            raise InputError(f"--fit takes three points, not {len(rows)}", "Leave --fit out to use them as a table.")
        _require_falling(rows)
        return SensorCurve(curve=Curve(steinhart=thermistor.steinhart_of(rows)), points=rows)
    if len(rows) < 2:
        raise InputError("one point is no table", "Give two or more.")
    _require_falling(rows)
    return SensorCurve(curve=Curve(table=rows))


def _require_falling(rows: Points) -> None:
    """Between two rows of a table exactly one resistance belongs to a temperature: it falls all the way."""
    for (c_low, ohm_low), (c_high, ohm_high) in pairwise(rows):
        if c_low == c_high:
            raise InputError(f"{c_low:g} °C stands twice in the table", "Keep one of the two.")
        if ohm_high >= ohm_low:
            raise InputError(
                f"from {c_low:g} to {c_high:g} °C the resistance does not fall ({ohm_low:g} to {ohm_high:g} Ω)",
                "See whether a row is mistyped; a sensor whose resistance rises is not known here.",
            )


def _typed(points: Sequence[Sequence[str]]) -> Points:
    return tuple((_cell(c, "degC"), _ohm(ohm)) for c, ohm in points)


def _read_table(path: str) -> Points:
    """A CSV file: a temperature and a resistance a line, bare in °C and ohm; a line of names may come first."""
    try:
        text = read_file(path).decode("utf-8-sig")
    except UnicodeDecodeError as err:
        raise file_error(path, "is not UTF-8 text", "Save it as CSV in UTF-8.") from err
    rows: list[tuple[float, float]] = []
    problems: list[Problem] = []
    for line, written in enumerate(text.splitlines(), start=1):
        if not written.strip() or written.lstrip().startswith("#") or (line == 1 and not _starts_with_number(written)):
            continue
        try:
            rows.append(_row(_cells(written)))
        except InputError as err:
            problems.append(Problem(place="", message=err.message, hint=err.hint, line=line))
    if problems:
        raise VisitFileError(path, tuple(problems))
    if not rows:
        raise file_error(path, "holds no row", "Write a temperature and a resistance a line.")
    return tuple(rows)


def _row(cells: list[str]) -> tuple[float, float]:
    if len(cells) != 2:
        raise InputError(
            f"{len(cells)} value{'s' if len(cells) > 1 else ''} in the line", "write a temperature and a resistance"
        )
    return _cell(cells[0], "degC"), _ohm(cells[1])


def _cells(line: str) -> list[str]:
    separator = next((sign for sign in (";", "\t", ",") if sign in line), ",")
    return [cell.strip().strip('"').strip() for cell in line.split(separator)]


def _starts_with_number(line: str) -> bool:
    first = _cells(line)[0].replace("\N{MINUS SIGN}", "-").lstrip("+-.")
    return first[:1].isdigit()


def _cell(written: str, unit: str) -> float:
    """A cell of a table: a bare number is in the table's own unit."""
    value, rest = split_number(written)
    return parse_quantity(f"{value!r} {rest}" if rest else value, unit)


def _ohm(written: str) -> float:
    ohm = _cell(written, "ohm")
    if ohm <= 0.0:
        raise InputError(f"{written} is no resistance of a sensor", "write a resistance above zero")
    return ohm


def _beta(r25: str | None, beta: str | None) -> Curve:
    if r25 is None or beta is None:
        raise InputError("--r25 and --beta belong together", 'As in --r25 "10 kohm" --beta 3950.')
    beta_k = _cell(beta, "K")
    if beta_k <= 0.0:
        raise InputError(f"a beta of {beta} cannot be", "It lies between 2000 and 6000 K for usual sensors.")
    return Curve(r25_ohm=_ohm(r25), beta_k=beta_k)


def _plain_number(written: str) -> float:
    value, rest = split_number(written, example="a number such as 1.129148e-3")
    if rest:
        raise InputError(f"{written} is no plain number", "Write A, B and C without a unit, for ohm and kelvin.")
    return value


def _of_visit(path: str | None, name: str | None) -> Curve:
    if path is None or name is None:
        raise InputError("--visit and --curve belong together", "As in --visit quayside.visit.toml --curve coil.")
    from fifthwire.workflow.visits import open_visit

    curves = open_visit(path).visit.curves
    if name in curves:
        return curves[name]
    near = nearest(name, list(curves))
    known = f"Did you mean {near}?" if near else f"It has {', '.join(curves) or 'none'}."
    raise file_error(path, f"has no curve {name}", known)
