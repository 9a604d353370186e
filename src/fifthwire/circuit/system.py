"""A plant with its sizes worked out: what the equations of the circuit need to know of it."""

from dataclasses import dataclass

from fifthwire.model.plant import Plant


@dataclass(frozen=True)
class CircuitSystem:
    """A plant ready to be solved; its arrays are in the order of `units` and `outdoor`."""

    plant: Plant
    units: tuple[str, ...]
    """Ids of the indoor units."""
    outdoor: tuple[str, ...]
    """Ids of the outdoor units."""
    valves: tuple[str, ...]
    """Indoor units' valves by the unit's id, then OU1/main and so on, then OU1/subcooler-bypass where there is one."""
    curve_name: str
    """concave, linear or table."""

    def valve(self, name: str) -> int:
        """The place of a valve in `valves`; `main` and `subcooler-bypass` alone mean the first outdoor unit's."""
        full = f"{self.outdoor[0]}/{name}" if name in ("main", "subcooler-bypass") else name
        return self.valves.index(full)
