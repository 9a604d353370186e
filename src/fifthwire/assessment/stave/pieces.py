"""What a line of the drawing is set from: pieces that hang on rails, and the heights that all pieces share."""

from typing import Final

from fifthwire.model.record import record

RAIL_TOP: Final = 24.0
RAIL_STEP: Final = 20.0
PORT_BAND: Final = 104.0
"""Height of the valves that a branch unit has for each of its ports.  [px]"""


@record(kw_only=False)
class Rail:
    """A main, or a pipe that goes on from a branch unit."""

    key: str
    """"gas", "liquid", "hot", "suction", or one of these after a branch unit's name and a slash."""
    name: str
    y: float
    ink: str = "d-ink"

    @property
    def service(self) -> str:
        """What flows in it."""
        return self.key.rpartition("/")[2]


@record
class Drop:
    """A pipe from a rail down into a piece."""

    rail: str
    x: float
    """In the piece."""
    to_y: float
    also_crossed: tuple[float, ...] = ()
    """Heights of pipes inside the piece that it crosses."""
    is_source: bool = False
    """Of an outdoor unit, or of a branch unit into its own rails: it flows the other way than at a consumer."""


@record(kw_only=False)
class Enclosure:
    """The boundary of a branch unit; pieces of one name that stand side by side share it."""

    name: str
    top: float
    bottom: float


@record
class Piece:
    """An outdoor, branch or indoor unit, drawn from its left edge, with the pipes that it hangs on."""

    width: float
    bottom: float
    svg: str
    drops: tuple[Drop, ...]
    name: str
    enclosure: Enclosure | None = None
    can_stretch: bool = False


@record
class Heights:
    """Where things stand in every line of a drawing, from its top. [px]"""

    rails: tuple[Rail, ...]
    """The mains."""
    main_end: float
    """The lowest main."""
    end: float
    """The lowest rail, those of branch units included."""
    has_ports: bool

    @property
    def is_heat_recovery(self) -> bool:
        """Whether there are three mains."""
        return len(self.rails) == 3

    @property
    def valve_y(self) -> float:
        """Middle of the valves at the branch units and at the ports."""
        return self.end + 36.0

    @property
    def unit_valve_y(self) -> float:
        """Middle of the indoor units' valves."""
        return self.valve_y + (PORT_BAND if self.has_ports else 0.0)


def heights(*, is_heat_recovery: bool, has_branch_rails: bool, has_ports: bool) -> Heights:
    """The heights of a system.

    Parameters
    ----------
    is_heat_recovery : bool
        Three mains instead of two.
    has_branch_rails : bool
        Whether pipes go on from a branch unit to its indoor units.
    has_ports : bool
        Whether a branch unit has valves for each of its ports.
    """
    kinds = (
        [("hot", "hot gas", "d-cycle"), ("suction", "suction", "d-cycle"), ("liquid", "liquid", "d-ink")]
        if is_heat_recovery
        else [("gas", "gas", "d-cycle"), ("liquid", "liquid", "d-ink")]
    )
    rails = tuple(Rail(key, name, RAIL_TOP + RAIL_STEP * at, ink) for at, (key, name, ink) in enumerate(kinds))
    main_end = rails[-1].y
    end = main_end + (2 * RAIL_STEP + 6 if has_branch_rails else 0.0)
    return Heights(rails=rails, main_end=main_end, end=end, has_ports=has_ports)


def branch_rails(name: str, at: Heights) -> tuple[Rail, Rail]:
    """The two pipes that go on from a branch unit."""
    gas_y = at.main_end + RAIL_STEP + 6
    return (
        Rail(f"{name}/gas", f"{name} gas", gas_y, "d-cycle"),
        Rail(f"{name}/liquid", f"{name} liquid", gas_y + RAIL_STEP, "d-ink"),
    )
