"""The network solver against networkx's resistance distance on random networks."""

import random
from itertools import combinations
from math import inf

import networkx
import pytest
from pytest import approx

from fifthwire.physics.network import Resistor, effective_matrix


def random_resistors(rng, n_nodes, n_resistors):
    resistors = []
    for _ in range(n_resistors):
        a, b = rng.sample(range(n_nodes), 2)
        resistors.append(Resistor(str(a), str(b), 10 ** rng.uniform(-2, 4)))
    return resistors


def as_graph(resistors, nodes):
    graph = networkx.MultiGraph()
    graph.add_nodes_from(nodes)
    for r in resistors:
        graph.add_edge(r.node_a, r.node_b, ohm=r.ohm)
    return graph


@pytest.mark.parametrize("seed", range(60))
def test_every_pair_of_a_random_network_reads_what_networkx_says(seed):
    rng = random.Random(seed)
    nodes = [str(node) for node in range(rng.randint(2, 9))]
    resistors = random_resistors(rng, len(nodes), rng.randint(1, 14))
    graph = as_graph(resistors, nodes)

    matrix = effective_matrix(resistors, nodes)

    for a, b in combinations(nodes, 2):
        if networkx.has_path(graph, a, b):
            part = graph.subgraph(networkx.node_connected_component(graph, a))
            expected = networkx.resistance_distance(part, a, b, weight="ohm", invert_weight=True)
            assert matrix[a, b] == approx(expected, rel=1e-6)
        else:
            assert matrix[a, b] == inf
