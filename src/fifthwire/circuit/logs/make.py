"""A plant's log, made: the moving equilibrium, its points with their lags, and what a recorder wrote of them."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from fifthwire.circuit.compressor import CompressorLaw
from fifthwire.circuit.logs.clock import SUMMER_UTC, WINTER_UTC, LogPlan
from fifthwire.circuit.logs.moving import Moving, move
from fifthwire.circuit.logs.points import points
from fifthwire.circuit.logs.recorder import Recorded, recorded
from fifthwire.circuit.logs.written import log_csv, log_map, log_truth
from fifthwire.model.plant import Plant


@dataclass(frozen=True)
class MadeLog:
    """A log with its map and its truth."""

    moving: Moving
    recorded: Recorded
    name: str
    """Of the plant."""

    def table(self) -> bytes:
        """The log as CSV."""
        return log_csv(self.recorded, self.moving)

    def map(self) -> bytes:
        """Its map as TOML."""
        return log_map(self.moving, self.name)

    def truth(self) -> dict[str, Any]:
        """What is really so."""
        return log_truth(self.recorded, self.moving, self.name)


def make_log(plant: Plant, plan: LogPlan, *, name: str, law: CompressorLaw | None = None) -> MadeLog:
    """Make a log.

    Parameters
    ----------
    plant : Plant
        With the faults that shall begin in it.
    plan : LogPlan
        How long, how often, from which seed.
    name : str
        What the plant is called in the map.
    law : CompressorLaw, optional
        Of the compressors, where a map says it.

    Returns
    -------
    MadeLog
        The same bytes for the same plant and plan.

    Raises
    ------
    InputError
        If the plant cannot be simulated.
    """
    if plan.start_utc == SUMMER_UTC and plant.mode == "heating":
        plan = replace(plan, start_utc=WINTER_UTC)
    moving = move(plant, plan, law)
    last = np.random.SeedSequence(plan.seed).spawn(5)[4]
    log = recorded(points(moving), plan, rng=np.random.default_rng(last))
    return MadeLog(moving=moving, recorded=log, name=name)
