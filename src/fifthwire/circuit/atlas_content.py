"""The atlas as a page: where liquid begins, four heat maps at full and at part load, which readings move."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import isfinite
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from fifthwire import __version__
from fifthwire.assessment.blocks import Column, Labelled, Paragraph, Picture, Row, Table
from fifthwire.assessment.figures import NO_BREAK_SPACE, counted, listed, number, temperature
from fifthwire.circuit.atlas import FULL, PART, Atlas
from fifthwire.circuit.content import NOTHING, SimulatedPage, difference_sign
from fifthwire.circuit.heat_map import HeatMap, heat_map_picture
from fifthwire.circuit.picture import closure_words
from fifthwire.model.circuit_words import LIMITS, READINGS
from fifthwire.model.errors import InputError
from fifthwire.model.nearest import nearest

Array = NDArray[np.float64]

MAP_POSITIONS: Final = 11
"""Columns a load of a heat map: tenths of the stroke.  Our choice: what a page has room for."""
MOST_ROWS: Final = 27
"""Rows of a heat map that four of them leave room for on one page.  Measured on the print."""
SUCTION_LIMITS_K: Final = (0.0, 1.0, 3.0, 5.0)
DISCHARGE_LIMITS_K: Final = (10.0, 15.0, 20.0, 25.0)
LOST_LIMITS: Final = (1.0, 3.0, 6.0, 12.0)
MOVED_LIMITS: Final = (1.0, 2.0, 4.0, 6.0)
"""Where shades change.  [K], [K], [%], [1]  Our choice."""


def atlas_page(atlas: Atlas, other: Atlas | None = None, units: str = "si") -> SimulatedPage:
    """The atlas of a plant on one page.

    Parameters
    ----------
    atlas : Atlas
        With the plant's own valve curve.
    other : Atlas, optional
        With another curve, to show how much that matters.
    units : str
        "si" or "us".
    """
    system, home = atlas.system, atlas.conditions_at_home()
    solved, asked = int(atlas.converged.sum()), atlas.count
    facts = [
        ("Refrigerant", system.plant.refrigerant),
        ("Mode", system.plant.mode),
        ("Units", f"{len(system.units)} indoor, {len(system.outdoor)} outdoor"),
        ("Outside", temperature(atlas.conditions[home[0]].ambient_c, units)),
        ("Valve curve", system.curve_name),
        ("State", closure_words(atlas.closure)),
        ("Cases", f"{solved} of {asked} with a steady state"),
    ]
    return SimulatedPage(
        title="What each valve does where it is stuck, simulated",
        facts=tuple(Labelled(label=label, text=text) for label, text in facts),
        blocks=(*_pictures(atlas, units), *_blind(atlas), liquid_table(atlas, other)),
        limits=LIMITS,
        footer=f"Fifthwire {__version__}. The program advises; the technician decides.",
        is_wide=True,
    )


def shown_loads(atlas: Atlas) -> list[tuple[str, int]]:
    """Full and part load at the plant's own outdoor temperature, by name."""
    full = [("all units on", atlas.condition(FULL))]
    if len(atlas.system.units) == 1:
        return full
    return [*full, (f"{PART:.0%} of the units on".replace("%", f"{NO_BREAK_SPACE}%"), atlas.condition(PART))]


def _pictures(atlas: Atlas, units: str) -> Iterator[Picture]:
    factor, sign = (1.8, "°F") if units == "us" else (1.0, "K")
    is_wet = atlas.liquid_g_s > 0.0
    begins = tuple(
        " · ".join(begins_words(atlas, at, condition) for _, condition in shown_loads(atlas))
        for at in range(len(atlas.valves))
    )
    suction = np.where(is_wet, -1.0, atlas.suction_superheat_k)
    yield _map(
        atlas, suction * factor, tuple(one * factor for one in SUCTION_LIMITS_K), sign,
        f"Suction superheat, {sign}, by opening in %. Darker: less. Dot: liquid.",
        "Suction state", is_dark_low=True, is_wet=is_wet, ends=begins,
    )  # fmt: skip
    yield _map(
        atlas, atlas.discharge_superheat_k * factor, tuple(one * factor for one in DISCHARGE_LIMITS_K), sign,
        f"Discharge superheat, {sign}. Darker: less.", "Discharge superheat", is_dark_low=True,
    )  # fmt: skip
    yield _map(
        atlas, atlas.lost_frac * 100.0, LOST_LIMITS, "%", "Capacity of the plant that is lost, %. Darker: more.",
        "Lost capacity",
    )  # fmt: skip
    count = sum(moved.astype(float) for moved in atlas.moved.values())
    yield _map(
        atlas, np.where(atlas.converged, count, np.nan), MOVED_LIMITS, "readings",
        f"How many of {len(atlas.moved)} readings move. White: none, the fault hides there.", "Readings that move",
    )  # fmt: skip


def _map(
    atlas: Atlas,
    values: Array,
    limits: tuple[float, ...],
    unit: str,
    caption: str,
    title: str,
    *,
    is_dark_low: bool = False,
    is_wet: NDArray[np.bool_] | None = None,
    ends: tuple[str, ...] = (),
) -> Picture:
    places = np.unique(np.linspace(0, atlas.positions.size - 1, MAP_POSITIONS).round().astype(int))
    loads = shown_loads(atlas)
    kept, names = shown_rows(atlas)
    shown = np.concatenate([values[kept, at][:, places] for _, at in loads], axis=1)
    marks: tuple[tuple[bool, ...], ...] = ()
    if is_wet is not None:
        wet = np.concatenate([is_wet[kept, at][:, places] for _, at in loads], axis=1)
        marks = tuple(tuple(bool(one) for one in row) for row in wet)
    heads = tuple(f"{atlas.positions[at] * 100.0:.0f}" for at in places)
    of = HeatMap(
        rows=names,
        columns=heads * len(loads),
        values=tuple(tuple(float(one) for one in row) for row in shown),
        limits=limits,
        unit=unit,
        marks=marks,
        is_dark_low=is_dark_low,
        groups=tuple((word, len(places)) for word, _ in loads),
        ends=tuple(ends[at] for at in kept) if ends else (),
        end_head="liquid from",
    )
    return heat_map_picture(of, caption=caption, title=title)


def shown_rows(atlas: Atlas) -> tuple[list[int], tuple[str, ...]]:
    """Places and names of the valves that are drawn: all, or the worst of each size where a page has no room for all.

    Parameters
    ----------
    atlas : Atlas
        The answers.
    """
    everyone = list(range(len(atlas.valves)))
    if len(everyone) <= MOST_ROWS:
        return everyone, tuple(short_name(name) for name in atlas.valves)
    alike: dict[tuple[float, float | None, float], list[int]] = {}
    for at, unit in enumerate(atlas.system.plant.units):
        alike.setdefault((unit.capacity_kw, unit.room_c, unit.suction_drop_k), []).append(at)
    worst = np.nan_to_num(atlas.liquid_from_frac[:, shown_loads(atlas)[-1][1]], nan=2.0)
    kept = [min(same, key=lambda at: float(worst[at])) for same in alike.values()]
    names = [_alike_name(atlas, at, len(same)) for at, same in zip(kept, alike.values(), strict=True)]
    others = everyone[len(atlas.system.plant.units) :]
    return [*kept, *others], (*names, *(short_name(atlas.valves[at]) for at in others))


def _alike_name(atlas: Atlas, at: int, count: int) -> str:
    return atlas.valves[at] if count == 1 else f"{atlas.valves[at]}, worst of {count}"


def short_name(valve: str) -> str:
    """A valve's name in a narrow place.

    Examples
    --------
    >>> short_name("OU1/subcooler-bypass"), short_name("IU07")
    ('OU1 subcooler', 'IU07')
    """
    return valve.replace("/subcooler-bypass", " subcooler").replace("/", " ")


def liquid_table(atlas: Atlas, other: Atlas | None = None) -> Table:
    """From which opening on liquid reaches the compressor, a row a valve.

    Parameters
    ----------
    atlas : Atlas
        With the plant's own curve.
    other : Atlas, optional
        With another one.
    """
    loads = shown_loads(atlas)
    heads = ["Valve", "Rated, kW"]
    for word, _ in loads:
        heads += [f"Stands at, {word}", "Liquid from"]
        heads += [f"Liquid from, {other.system.curve_name}"] if other is not None else []
    heads += ["Shut: lost", "Open: lost", "Open: liquid, g/s", "Open: moves"]
    rows = tuple(Row(cells=tuple(_liquid_row(atlas, other, at, loads))) for at in range(len(atlas.valves)))
    shares = [1.3, 0.8] + [1.0] * (len(heads) - 3) + [3.2]
    return Table(
        caption="Opening at which each valve stands, and from which on liquid reaches the compressor",
        columns=tuple(
            Column(label=head, is_figure=0 < at < len(heads) - 1, share=share)
            for at, (head, share) in enumerate(zip(heads, shares, strict=True))
        ),
        rows=rows,
        does_stack=False,
    )


def _liquid_row(atlas: Atlas, other: Atlas | None, at: int, loads: list[tuple[str, int]]) -> Iterator[str]:
    units = atlas.system.plant.units
    yield short_name(atlas.valves[at])
    yield number(units[at].capacity_kw, 1) if at < len(units) else NOTHING
    for _, condition in loads:
        yield percent(atlas.healthy_frac[at, condition])
        yield begins_words(atlas, at, condition)
        if other is not None:
            yield begins_words(other, at, other.condition(atlas.conditions[condition].load_frac))
    full = loads[0][1]
    yield percent(atlas.lost_frac[at, full, 0], decimals=1)
    yield percent(atlas.lost_frac[at, full, -1], decimals=1)
    liquid = float(atlas.liquid_g_s[at, loads[-1][1], -1])
    yield number(liquid, 1) if isfinite(liquid) else NOTHING
    yield moved_words(atlas, at, full, -1)


def begins_words(atlas: Atlas, valve: int, condition: int) -> str:
    """From which opening on liquid comes: never only where the wide open valve has a state, and that is dry."""
    is_known = bool(atlas.converged[valve, condition, -1])
    return percent(atlas.liquid_from_frac[valve, condition], "never" if is_known else NOTHING)


def percent(frac: float, otherwise: str = NOTHING, decimals: int = 0) -> str:
    """A share, or a word where there is none."""
    return f"{number(float(frac) * 100.0, decimals)}{NO_BREAK_SPACE}%" if isfinite(frac) else otherwise


def moved_words(atlas: Atlas, valve: int, condition: int, position: int) -> str:
    """Which readings a stuck valve moves."""
    if not atlas.converged[valve, condition, position]:
        return "no steady state"
    names = [READINGS[name] for name, moved in atlas.moved.items() if moved[valve, condition, position]]
    return ", ".join(names) or "nothing that is read"


def _blind(atlas: Atlas) -> Iterator[Paragraph]:
    """Why a stuck valve may not show."""
    where = []
    for word, condition in shown_loads(atlas):
        count = sum(moved[:, condition].astype(int) for moved in atlas.moved.values())
        hidden = np.asarray((count == 0) & atlas.converged[:, condition])
        count_of = int(hidden.any(axis=1).sum())
        where += [f"{counted(count_of, 'valve')} with {word}"] if count_of else []
    if where:
        yield Paragraph(
            text=f"Stuck where they are needed, no reading shows it: {' and '.join(where)}, at some opening. "
            "Another load, or a command changed on purpose, shows it.",
            tone="quiet",
        )


def valve_page(atlas: Atlas, valve: str, units: str = "si") -> SimulatedPage:
    """Every position of one valve, for the screen.

    Parameters
    ----------
    atlas : Atlas
        The answers.
    valve : str
        Its name; "subcooler-bypass" alone means the first outdoor unit's.
    units : str
        "si" or "us".

    Raises
    ------
    InputError
        If the atlas has no such valve.
    """
    page = atlas_page(atlas, units=units)
    full = f"{atlas.system.outdoor[0]}/{valve}" if valve in ("main", "subcooler-bypass") else valve
    if full not in atlas.valves:
        near = nearest(full, atlas.valves)
        known = f"Did you mean {near}?" if near else f"Its valves are {listed(atlas.valves, 12)}."
        raise InputError(f"the plant has no valve {valve[:40]}", known)
    tables = tuple(valve_rows(atlas, atlas.valves.index(full), units))
    return replace(page, title=f"What {short_name(full)} does where it is stuck, simulated", blocks=tables)


def valve_rows(atlas: Atlas, valve: int, units: str = "si") -> Iterator[Table]:
    """Every position of one valve, a table a condition.

    Parameters
    ----------
    atlas : Atlas
        The answers.
    valve : int
        Its place.
    units : str
        "si" or "us".
    """
    sign = difference_sign(units)
    heads = ("Stuck at", f"Suction, {sign}", "Vapour, %", "Liquid, g/s", f"Discharge, {sign}", "Lost, %", "Moves")
    factor = 1.8 if units == "us" else 1.0
    for at, condition in enumerate(atlas.conditions):
        if condition.is_stopped and valve >= len(atlas.system.units):
            continue
        rows = tuple(Row(cells=tuple(_valve_row(atlas, valve, at, one, factor))) for one in range(atlas.positions.size))
        columns = tuple(
            Column(label=head, is_figure=place < len(heads) - 1, share=3.0 if place == len(heads) - 1 else 1.0)
            for place, head in enumerate(heads)
        )
        yield Table(caption=condition.words, columns=columns, rows=rows, does_stack=False)


def _valve_row(atlas: Atlas, valve: int, condition: int, position: int, factor: float) -> Iterator[str]:
    def told(values: Any, scale: float = 1.0, decimals: int = 1) -> str:
        value = float(values[valve, condition, position])
        return number(value * scale, decimals) if isfinite(value) else NOTHING

    yield percent(atlas.positions[position])
    yield told(atlas.suction_superheat_k, factor)
    yield told(atlas.suction_quality, 100.0)
    yield told(atlas.liquid_g_s)
    yield told(atlas.discharge_superheat_k, factor)
    yield told(atlas.lost_frac, 100.0)
    yield moved_words(atlas, valve, condition, position)


def atlas_to_json(atlas: Atlas, other: Atlas | None = None) -> dict[str, Any]:
    """The atlas for other programs: every number in the unit its key ends with; null where there is no steady state.

    Parameters
    ----------
    atlas : Atlas
        The answers.
    other : Atlas, optional
        With another valve curve: only where its liquid begins.
    """
    return {
        "format": "fifthwire/atlas/1",
        "program": __version__,
        "limits": list(LIMITS),
        "refrigerant": atlas.system.plant.refrigerant,
        "mode": atlas.system.plant.mode,
        "closure": atlas.closure,
        "valve_curve": atlas.system.curve_name,
        "conditions": [
            {"load_frac": one.load_frac, "ambient_c": one.ambient_c, "own_unit_stopped": one.is_stopped}
            for one in atlas.conditions
        ],
        "positions_frac": [round(float(one), 4) for one in atlas.positions],
        "valves": [_valve_json(atlas, other, at) for at in range(len(atlas.valves))],
    }


def _valve_json(atlas: Atlas, other: Atlas | None, at: int) -> dict[str, Any]:
    written: dict[str, Any] = {"id": atlas.valves[at]}
    loads = [("full", FULL), *([("part", PART)] if len(atlas.system.units) > 1 else [])]
    for word, load in loads:
        written[f"stands_at_{word}_load_frac"] = _rounded(atlas.healthy_frac[at, atlas.condition(load)])
        written[f"liquid_from_{word}_load_frac"] = _rounded(atlas.liquid_from_frac[at, atlas.condition(load)])
        if other is not None:
            key = f"liquid_from_{word}_load_{other.system.curve_name}_frac"
            written[key] = _rounded(other.liquid_from_frac[at, other.condition(load)])
    written["cases"] = [_condition_json(atlas, at, condition) for condition in range(len(atlas.conditions))]
    return written


def _condition_json(atlas: Atlas, at: int, condition: int) -> dict[str, Any]:
    row: Callable[[Array], list[float | None]] = lambda values: [_rounded(one) for one in values[at, condition]]  # noqa: E731
    return {
        "condition": condition,
        "stands_at_frac": _rounded(atlas.healthy_frac[at, condition]),
        "why_not": [None if one is None else str(one) for one in atlas.why_not[at, condition]],
        "suction_superheat_k": row(atlas.suction_superheat_k),
        "suction_quality": row(atlas.suction_quality),
        "liquid_to_compressor_g_s": row(atlas.liquid_g_s),
        "discharge_superheat_k": row(atlas.discharge_superheat_k),
        "dry_discharge_superheat_k": row(atlas.dry_discharge_superheat_k),
        "lost_capacity_frac": row(atlas.lost_frac),
        "own_lost_capacity_frac": row(atlas.own_lost_frac),
        "moved": [
            [name for name, moved in atlas.moved.items() if moved[at, condition, position]]
            for position in range(atlas.positions.size)
        ],
    }


def _rounded(value: float) -> float | None:
    return round(float(value), 5) + 0.0 if isfinite(value) else None
