"""The indoor units of a visit's moments: what each coil holds, from the moment that shows it best."""

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from fifthwire.assessment.running_moments import (
    bubble_c,
    evaporating_c,
    fluid_of,
    glide_k,
    is_usable,
    outdoor_of,
    share_of_stroke,
    valve_of_unit,
)
from fifthwire.diagnosis.running.units import Around, UnitSeen, ranked, unit_seen
from fifthwire.model.assessment import Reason
from fifthwire.model.running import Snapshot, UnitReadings
from fifthwire.model.visit import Visit


def units_of(visit: Visit, moments: Sequence[Snapshot], warnings: list[Reason]) -> tuple[UnitSeen, ...]:
    """The indoor units, in the order of the file.

    Parameters
    ----------
    visit : Visit
        Holds refrigerant and mode.
    moments : sequence of Snapshot
        In order of time.
    warnings : list of Reason
        Added to: a valve that is named in two units, a command beyond the stroke.

    Returns
    -------
    tuple of UnitSeen
        Each from the last steady moment that shows what it holds; a unit that no moment shows has no figures.
    """
    found: dict[str, UnitSeen] = {}
    for one in (*(of for of in moments if not is_usable(of)), *(of for of in moments if is_usable(of))):
        warnings += [*_valves_of_two(one), *_beyond_stroke(visit, one)]
        for seen in _units(visit, one):
            if seen.held_k is not None or seen.id not in found:
                found[seen.id] = seen
    order = dict.fromkeys(name for one in moments for name in one.units)
    return tuple(found[name] for name in order)


def _units(visit: Visit, snapshot: Snapshot) -> tuple[UnitSeen, ...]:
    mode, around = snapshot.mode or visit.system.mode, around_of(visit, snapshot)
    return ranked([_commanded(visit, name, of, runs_as(of, mode), around) for name, of in snapshot.units.items()])


def _commanded(visit: Visit, name: str, of: UnitReadings, runs: str, around: Around) -> UnitSeen:
    frac, pulses = share_of_stroke(visit, valve_of_unit(visit, name, of), of.opening)
    return replace(unit_seen(name, of, runs, around), command_frac=frac, command_pulses=pulses)


def runs_as(of: UnitReadings, mode: str | None) -> str:
    """cooling, heating or off; empty where neither the unit nor the system says.

    Parameters
    ----------
    of : UnitReadings
        The unit.
    mode : str or None
        Of the system.
    """
    if of.on is False or mode == "off":
        return "off"
    own = of.mode if mode in ("mixed", None) else mode
    return own if own in ("cooling", "heating", "off") else ""


def around_of(visit: Visit, snapshot: Snapshot) -> Around:
    """Saturation temperatures of a moment: the middle ones of several outdoor units.

    Parameters
    ----------
    visit : Visit
        Holds the refrigerant.
    snapshot : Snapshot
        Holds the pressures.
    """
    fluid, outdoor = fluid_of(visit), list(outdoor_of(visit, snapshot).values())
    dews = [c for one in outdoor if (c := evaporating_c(fluid, one)) is not None]
    bubbles = [c for one in outdoor if (c := bubble_c(fluid, one)) is not None]
    glides = [c for one in outdoor if (c := glide_k(fluid, one)) is not None]
    return Around(
        dew_c=median(dews) if dews else None,
        bubble_c=median(bubbles) if bubbles else None,
        glide_k=median(glides) if glides else 0.0,
        model_u_k=0.0 if fluid is None else fluid.model_u_k,
    )


def _valves_of_two(snapshot: Snapshot) -> list[Reason]:
    by_valve: dict[str, list[str]] = {}
    for name, of in snapshot.units.items():
        if of.valve is not None:
            by_valve.setdefault(of.valve, []).append(name)
    return [
        Reason(code="running.valve-of-two", values={"valve": valve, "units": names})
        for valve, names in by_valve.items()
        if len(names) > 1
    ]


def _beyond_stroke(visit: Visit, snapshot: Snapshot) -> list[Reason]:
    """Commands of more pulses than the manual gives the valve."""
    listed = {one.id: one for one in visit.valves if not one.is_void}
    commands = [(valve_of_unit(visit, name, of), of.opening) for name, of in snapshot.units.items()]
    commands += [(listed.get(name), of.opening) for name, of in snapshot.valves.items()]
    warnings = []
    for valve, opening in commands:
        share, pulses = share_of_stroke(visit, valve, opening)
        if valve is not None and share is not None and pulses is not None and share > 1.0:
            values = {"valve": valve.id, "opening": pulses, "full": round(pulses / share)}
            warnings.append(Reason(code="running.beyond-stroke", values=values))
    return warnings
