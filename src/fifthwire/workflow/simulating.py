"""Simulate a plant: read its file and the map beside it, solve it, and write what came out."""

import json
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, Final

from fifthwire.model.errors import InputError, NoSolution
from fifthwire.model.plant import Plant
from fifthwire.model.record import record
from fifthwire.model.units import finite
from fifthwire.workflow.files import checked_size, read_file, refuse_existing, write_file
from fifthwire.workflow.saturation import quantity
from fifthwire.workflow.visits import STANDARD_INPUT, read_standard_input, syntax_of

if TYPE_CHECKING:
    from fifthwire.circuit.atlas import Atlas
    from fifthwire.circuit.compressor import CompressorLaw
    from fifthwire.circuit.content import SimulatedPage
    from fifthwire.circuit.logs.make import MadeLog
    from fifthwire.circuit.scenario import Scenarios
    from fifthwire.circuit.states import States
    from fifthwire.circuit.system import CircuitSystem

CLOSURES: Final = ("minutes-after", "settled")
LONGEST_SEED: Final = 18
"""Digits of a seed.  Our choice."""
PAGE_SUFFIXES: Final = (".pdf", ".html", ".png", ".svg")
OTHER_CURVE: Final = {"concave": "linear", "linear": "concave", "table": "concave"}
"""Against which an atlas shows how much the valve curve matters."""


@record
class OpenPlant:
    """A plant as read, with the law of its compressors where a map says it."""

    name: str
    """As the person named its file; `-` is standard input."""
    plant: Plant
    law: "CompressorLaw | None"


@record
class Simulated:
    """A plant's state under each closure that was asked for."""

    opened: OpenPlant
    system: "CircuitSystem"
    cases: "Scenarios"
    """One row."""
    solved: "dict[str, States]"


def open_plant(name: str, *, standard_input: Callable[[], bytes] = read_standard_input) -> OpenPlant:
    """Read a plant file, and the compressor's map that it names.

    Parameters
    ----------
    name : str
        Path of a TOML or JSON file; `-` for standard input.
    standard_input : callable
        Gives the bytes of standard input.

    Raises
    ------
    VisitFileError, InputError
        If it or the map cannot be read.
    """
    from fifthwire.visitfile import read_plant

    is_file = name != STANDARD_INPUT
    shown = name if is_file else "standard input"
    content = read_file(name) if is_file else checked_size(standard_input(), shown)
    plant = read_plant(content, name=shown, syntax=syntax_of(name, content))
    return OpenPlant(name=shown, plant=plant, law=_law(plant, name if is_file else None))


def _law(plant: Plant, beside: str | None) -> "CompressorLaw | None":
    """The map of the compressors; its file lies beside the plant's. `maps.csv#ID` is a row of a table."""
    from pathlib import Path

    if plant.compressor.map is None:
        return None
    from fifthwire.circuit.ahri540 import MappedCompressor
    from fifthwire.circuit.map_file import map_of_table, read_map
    from fifthwire.circuit.mapped import MappedLaw
    from fifthwire.properties import refrigerant_arrays

    file, _, row = plant.compressor.map.partition("#")
    path = Path(file) if beside is None else Path(beside).parent / file
    content = read_file(path)
    found = map_of_table(content, row, name=file) if row else read_map(content, name=file)
    return MappedLaw(MappedCompressor(found, refrigerant_arrays(plant.refrigerant)))


def simulate_plant(opened: OpenPlant, *, closures: tuple[str, ...] = CLOSURES) -> Simulated:
    """Solve a plant with what is wrong with it.

    Parameters
    ----------
    opened : OpenPlant
        As read.
    closures : tuple of str
        "minutes-after", "settled" or both.

    Returns
    -------
    Simulated
        A state that does not exist says why.

    Raises
    ------
    InputError
        If the plant cannot be simulated.
    """
    from fifthwire.circuit.scenario import scenarios_of
    from fifthwire.circuit.sizing import circuit_of
    from fifthwire.circuit.solve import solve

    system, cases = circuit_of(opened.plant, law=opened.law), scenarios_of(opened.plant)
    solved = {closure: solve(system, cases, closure=closure) for closure in closures}
    return Simulated(opened=opened, system=system, cases=cases, solved=solved)


def require_a_state(simulated: Simulated) -> None:
    """Stop where no closure has a steady state.

    Raises
    ------
    NoSolution
        With the reasons.
    """
    whys = {name: states.why_not[0] for name, states in simulated.solved.items() if not states.converged[0]}
    if len(whys) == len(simulated.solved):
        said = "; ".join(f"{name.replace('-', ' ')}: {why}" for name, why in whys.items())
        raise NoSolution(f"{simulated.opened.name}: no steady state. {said}", "Less wrong at once, or more units on.")


def state_to_json(simulated: Simulated) -> dict[str, Any]:
    """The states for other programs, `fifthwire/state/1`."""
    from fifthwire.circuit.state_json import state_as_json

    return state_as_json(simulated.system, simulated.solved)


def state_content(simulated: Simulated, *, units: str = "si") -> "SimulatedPage":
    """What a page about the states says."""
    from fifthwire.circuit.content import state_page

    return state_page(simulated.system, simulated.cases, simulated.solved, units)


@record
class MadeAtlas:
    """An atlas, and the one of another valve curve at the plant's own weather beside it."""

    own: "Atlas"
    other: "Atlas"


def run_atlas(opened: OpenPlant, *, closure: str = CLOSURES[0]) -> MadeAtlas:
    """The atlas of a plant; how much the valve curve matters is worked out with it.

    Parameters
    ----------
    opened : OpenPlant
        As read; its own faults are left out.
    closure : str
        "minutes-after" or "settled".

    Raises
    ------
    InputError
        If the plant cannot be simulated.
    """
    from fifthwire.circuit.atlas import atlas_conditions, home_ambient_c, make_atlas

    own = make_atlas(opened.plant, closure=closure, law=opened.law)
    home = home_ambient_c(opened.plant)
    at_home = tuple(one for one in atlas_conditions(opened.plant) if one.ambient_c == home)
    curve = OTHER_CURVE[own.system.curve_name]
    other = make_atlas(opened.plant, curve=curve, closure=closure, conditions=at_home, law=opened.law)
    return MadeAtlas(own=own, other=other)


def atlas_content(made: MadeAtlas, *, units: str = "si") -> "SimulatedPage":
    """What the page of an atlas says."""
    from fifthwire.circuit.atlas_content import atlas_page

    return atlas_page(made.own, made.other, units)


def atlas_of_valve(made: MadeAtlas, valve: str, *, units: str = "si") -> "SimulatedPage":
    """Every position of one valve.

    Raises
    ------
    InputError
        If the plant has no valve of that name.
    """
    from fifthwire.circuit.atlas_content import valve_page

    return valve_page(made.own, valve, units)


def atlas_to_json(made: MadeAtlas) -> dict[str, Any]:
    """The atlas for other programs, `fifthwire/atlas/1`."""
    from fifthwire.circuit.atlas_content import atlas_to_json as written

    return written(made.own, made.other)


def require_page_places(paths: list[str], *, overwrite: bool) -> None:
    """Stop before anything is computed where a page could not be written.

    Raises
    ------
    InputError
        If a suffix is unknown, a file is already there, or its directory is missing.
    """
    for path in paths:
        _page_suffix(path)
        refuse_existing(path, overwrite=overwrite)


def write_pages(content: "SimulatedPage", paths: list[str], *, units: str = "si", overwrite: bool = False) -> None:
    """Write a page under each name, in the form its suffix asks for; all are made before the first is written.

    Raises
    ------
    InputError
        If a suffix is unknown, a file is already there, or a place cannot be written.
    """
    require_page_places(paths, overwrite=overwrite)
    made = [(path, _page(content, _page_suffix(path), units)) for path in paths]
    for path, page in dict(made).items():
        write_file(path, page, overwrite=overwrite)


def _page_suffix(path: str) -> str:
    for suffix in PAGE_SUFFIXES:
        if path.lower().endswith(suffix):
            return suffix
    raise InputError(
        f"{path}: a page is written as .pdf, .html or .png, its drawings as .svg", "Give it one of these endings."
    )


def _page(content: "SimulatedPage", suffix: str, units: str) -> bytes:
    if suffix == ".html":
        from fifthwire.circuit.page import simulated_page

        return simulated_page(content).encode("utf-8")
    if suffix == ".svg":
        from fifthwire.circuit.page import pictures_svg

        return pictures_svg(content).encode("utf-8")
    from fifthwire.reports.simulated import simulated_pdf, simulated_png  # typst loads only where it is asked for

    return simulated_pdf(content, units=units) if suffix == ".pdf" else simulated_png(content, units=units)


@record
class WrittenLog:
    """A made log, and where it was written."""

    made: "MadeLog"
    table: str
    map: str
    truth: str


def make_plant_log(
    plant: str,
    *,
    days: str,
    seed: str,
    period: str | None = None,
    begins: str | None = None,
    stem: str | None = None,
    overwrite: bool = False,
) -> WrittenLog:
    """Make a plant's log and write its table, its map and its truth; nothing is written where one of them is there.

    Parameters
    ----------
    plant : str
        Its file, with the faults that shall begin.
    days, seed : str
        How long; the same seed gives the same bytes.
    period : str, optional
        Of the recorder: a time with its unit.
    begins : str, optional
        When the faults begin, in days from the start; left out: each at a time of its own.
    stem : str, optional
        Path of the files without their endings; left out: beside the plant, by its name.
    overwrite : bool
        Whether files that are there are replaced.

    Raises
    ------
    InputError
        If the log cannot be made, or a place cannot be written.
    """
    from fifthwire.circuit.logs.clock import LogPlan
    from fifthwire.circuit.logs.make import make_log

    plan = LogPlan(
        days=_number(days, "--days"),
        seed=_seed(seed),
        period_s=60.0 if period is None else quantity(period, "s", "60 s", "5 min"),
        begins_days=None if begins is None else _number(begins, "--begin"),
    )
    stem = stem or plant.removesuffix(".toml").removesuffix(".json").removesuffix(".plant")
    table, map_of, truth = f"{stem}.log.csv", f"{stem}.log-map.toml", f"{stem}.truth.json"
    for path in (table, map_of, truth):
        refuse_existing(path, overwrite=overwrite)
    opened = open_plant(plant)
    made = make_log(opened.plant, plan, name=stem.replace("\\", "/").rpartition("/")[2] or "plant", law=opened.law)
    said = json.dumps(made.truth(), indent=1, ensure_ascii=False) + "\n"
    for path, content in ((table, made.table()), (map_of, made.map()), (truth, said.encode())):
        write_file(path, content, overwrite=overwrite)
    return WrittenLog(made=made, table=table, map=map_of, truth=truth)


def _number(written: str, option: str) -> float:
    try:
        return finite(float(written))
    except ValueError as err:
        raise InputError(f"{option} {written[:40]} is no number", "Write digits, such as 10 or 2.5.") from err


def _seed(written: str) -> int:
    if not (written.isascii() and written.isdigit() and len(written) <= LONGEST_SEED):
        raise InputError(f"--seed {written[:40]} is no whole number from 0", "Write digits only, such as 1.")
    return int(written)


def log_lines(log: WrittenLog) -> list[str]:
    """What was made, in a few lines."""
    from fifthwire.model.circuit_words import LOG_LIMITS

    truth = log.made.truth()
    faults = [f"{one['words']} from {one['begins']}" for one in truth["faults"]]
    return [
        f"{truth['rows']:,} rows: {log.table}",
        f"Map: {log.map}. Truth: {log.truth}",
        f"Wrong in it: {'; '.join(faults) or 'nothing'}.",
        f"Liquid reaches a compressor for {truth['wet_minutes']:,} minutes.",
        *LOG_LIMITS,
    ]
