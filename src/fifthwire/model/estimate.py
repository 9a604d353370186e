"""A value with its standard uncertainty."""

from dataclasses import dataclass
from math import inf


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value, its standard uncertainty (one sigma) and its degrees of freedom, as JCGM 100 speaks of them."""

    value: float
    u: float
    dof: float = inf
