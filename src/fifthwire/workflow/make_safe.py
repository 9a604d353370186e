"""The order in which a system is made safe before the first head comes off."""

from typing import Final

from fifthwire.model.cautions import MAKE_SAFE
from fifthwire.model.visit import Visit

CONFIRMED_BY: Final[dict[str, tuple[str, ...]]] = {
    "safe.stop": ("compressors-stopped",),
    "safe.open-all": ("valves-open-for-service",),
    "safe.lock-out": ("locked-out", "proved-dead"),
    "safe.dc-bus": ("bus-measured",),
}
"""The confirmations of a visit file that together say a step is done."""
BEFORE_THE_FIRST_HEAD: Final = MAKE_SAFE[: MAKE_SAFE.index("safe.unplug") + 1]


def make_safe_steps(visit: Visit | None = None) -> tuple[str, ...]:
    """Codes of the steps still to be told before the first head, in order; steps that the visit confirms are left out.

    Parameters
    ----------
    visit : Visit or None
        The visit; None where there is none.
    """
    done = {of.what for of in visit.confirmations if not of.is_void} if visit is not None else set()
    return tuple(code for code in BEFORE_THE_FIRST_HEAD if not done.issuperset(CONFIRMED_BY.get(code, ("never",))))
