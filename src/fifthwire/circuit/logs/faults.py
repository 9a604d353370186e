"""Faults that begin at a time: the cases of a log before and after each of them."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.random import Generator

from fifthwire.circuit.logs.clock import DAY_S, Array, LogPlan
from fifthwire.circuit.scenario import Scenarios, scenarios_of
from fifthwire.model.plant import Fault, Plant

EARLIEST_SHARE, LATEST_SHARE = 0.25, 0.6
"""Between these shares of a log a fault begins where nothing says when.  [1]  Our choice."""


@dataclass(frozen=True)
class Begun:
    """A fault and when it began."""

    fault: Fault
    begins_s: float
    """From the start of the log.  [s]"""


def begun_faults(plant: Plant, plan: LogPlan, *, rng: Generator) -> tuple[Begun, ...]:
    """When each fault of a plant begins.

    Parameters
    ----------
    plant : Plant
        With its faults.
    plan : LogPlan
        May say when.
    rng : Generator
        The log's own; a fault draws its time even where the plan says one, so that the rest of the log stays the same.
    """
    drawn = rng.uniform(EARLIEST_SHARE, LATEST_SHARE, len(plant.faults)) * plan.days * DAY_S
    said = None if plan.begins_days is None else plan.begins_days * DAY_S
    return tuple(
        Begun(fault, float(one) if said is None else said) for fault, one in zip(plant.faults, drawn, strict=True)
    )


def healthy(plant: Plant) -> Plant:
    """The plant with nothing wrong."""
    return replace(plant, faults=())


def cases_in_time(plant: Plant, begun: Sequence[Begun], time_s: Array) -> Scenarios:
    """The case of every moment, as far as the faults go: what a fault changes, it changes from its beginning on.

    Parameters
    ----------
    plant : Plant
        As read.
    begun : sequence of Begun
        Its faults.
    time_s : array
        From the start.  [s]
    """
    sound = scenarios_of(healthy(plant))
    cases = sound.repeated(time_s.size)
    arrays = {of.name: getattr(cases, of.name).copy() for of in fields(Scenarios)}
    for one in begun:
        alone = scenarios_of(replace(plant, faults=(one.fault,)))
        after = time_s >= one.begins_s
        for name, values in arrays.items():
            was, becomes = getattr(sound, name)[0], getattr(alone, name)[0]
            differs = np.atleast_1d((was != becomes) & ~((was != was) & (becomes != becomes)))  # NaN is not itself
            if differs.any():
                values[after] = np.where(differs, becomes, values[after])
    return Scenarios(**arrays)


def _is_nan(values: Array) -> Array:
    return (
        np.isnan(values) if np.issubdtype(np.asarray(values).dtype, np.floating) else np.zeros_like(values, dtype=bool)
    )
