"""What an ohmmeter reads between two wires of a head: effective resistance of a resistor network.

Windings, poor contacts and bridges are resistors between nodes; an open winding is one that is not there. Solved by
nodal analysis, so any fault and any number of them together can be written down.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import inf

from fifthwire.model.errors import InputError

_Edge = tuple[str, str, float]
"""Two nodes and the conductance between them. [S]"""


@dataclass(frozen=True, slots=True)
class Resistor:
    """A resistor between two nodes. Zero ohms joins them; infinity is not there. [Ω]"""

    node_a: str
    node_b: str
    ohm: float

    def __post_init__(self) -> None:
        if not self.ohm >= 0.0:
            raise InputError(f"{self.ohm} ohm between {self.node_a} and {self.node_b} is no resistance")


def effective_ohm(resistors: Iterable[Resistor], wire_a: str, wire_b: str) -> float:
    """Resistance a meter shows between two nodes of a network.

    Parameters
    ----------
    resistors : iterable of Resistor
        The whole network.
    wire_a, wire_b : str
        The nodes that the probes touch; a node without a resistor is connected to nothing.

    Returns
    -------
    float
        Infinity where no path joins them. [Ω]

    Examples
    --------
    A star of 46 Ω windings with 100 Ω between the ends A and B:

    >>> star = [Resistor("COM", wire, 46.0) for wire in "ABCD"]
    >>> round(effective_ohm([*star, Resistor("A", "B", 100.0)], "A", "B"), 3)
    47.917
    """
    return 0.0 if wire_a == wire_b else effective_matrix(resistors, (wire_a, wire_b))[wire_a, wire_b]


def effective_matrix(resistors: Iterable[Resistor], wires: Sequence[str]) -> dict[tuple[str, str], float]:
    """Resistance between every two of the wires, in the order given.

    Parameters
    ----------
    resistors : iterable of Resistor
        The whole network; it may have nodes that are no wires.
    wires : sequence of str
        What the probes can reach.

    Returns
    -------
    dict
        For every pair (earlier wire, later wire), infinity where no path joins them. [Ω]
    """
    present = [resistor for resistor in resistors if resistor.ohm < inf]
    joined = _Joined(present)
    edges = [(joined.node(r.node_a), joined.node(r.node_b), 1.0 / r.ohm) for r in present if r.ohm > 0.0]
    edges = [edge for edge in edges if edge[0] != edge[1]]
    volt_per_amp = _transfer_ohm(edges)
    matrix: dict[tuple[str, str], float] = {}
    for pair in combinations(wires, 2):
        a, b = joined.node(pair[0]), joined.node(pair[1])
        if a == b:
            matrix[pair] = 0.0
        elif (a, b) in volt_per_amp:
            matrix[pair] = volt_per_amp[a, a] + volt_per_amp[b, b] - 2.0 * volt_per_amp[a, b]
        else:
            matrix[pair] = inf
    return matrix


class _Joined:
    """Nodes that zero ohms make one."""

    def __init__(self, resistors: Iterable[Resistor]) -> None:
        self._parent: dict[str, str] = {}
        for resistor in resistors:
            a, b = self.node(resistor.node_a), self.node(resistor.node_b)
            if resistor.ohm == 0.0 and a != b:
                self._parent[a] = b

    def node(self, name: str) -> str:
        """The one node that stands for all that are joined."""
        while name in self._parent:
            name = self._parent[name]
        return name


def _transfer_ohm(edges: Sequence[_Edge]) -> dict[tuple[str, str], float]:
    """Voltage at one node for an ampere put in at another, each component's first node being its ground."""
    transfer: dict[tuple[str, str], float] = {}
    for ground, *nodes in _components(edges):
        inverse = _inverse(_conductance(edges, nodes))
        transfer.update({(ground, node): 0.0 for node in (ground, *nodes)})
        transfer.update({(node, ground): 0.0 for node in nodes})
        transfer.update({(a, b): inverse[i][j] for i, a in enumerate(nodes) for j, b in enumerate(nodes)})
    return transfer


def _components(edges: Sequence[_Edge]) -> list[list[str]]:
    """Nodes that a path joins, a list each."""
    component_of: dict[str, list[str]] = {}
    for a, b, _ in edges:
        first, second = component_of.setdefault(a, [a]), component_of.setdefault(b, [b])
        if first is not second:
            first.extend(second)
            component_of.update(dict.fromkeys(second, first))
    return list({id(nodes): nodes for nodes in component_of.values()}.values())


def _conductance(edges: Sequence[_Edge], nodes: Sequence[str]) -> list[list[float]]:
    """Conductance matrix of one component without its ground."""
    row_of = {node: row for row, node in enumerate(nodes)}
    matrix = [[0.0] * len(nodes) for _ in nodes]
    for a, b, conductance in edges:
        for node, other in ((a, b), (b, a)):
            if node in row_of:
                matrix[row_of[node]][row_of[node]] += conductance
                if other in row_of:
                    matrix[row_of[node]][row_of[other]] -= conductance
    return matrix


def _inverse(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """By Gauss and Jordan; symmetric and positive definite, so the diagonal serves as pivot."""
    size = len(matrix)
    rows = [[*row, *(float(i == j) for j in range(size))] for i, row in enumerate(matrix)]
    for pivot in range(size):
        scale = rows[pivot][pivot]
        rows[pivot] = [value / scale for value in rows[pivot]]
        for i, row in enumerate(rows):
            if i != pivot and row[pivot] != 0.0:
                rows[i] = [value - row[pivot] * above for value, above in zip(row, rows[pivot], strict=True)]
    return [row[size:] for row in rows]
