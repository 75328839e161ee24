"""Reads a JSON list of pairs of graphs and prints what a graph library says of each pair.

Library: NetworkX (Hagberg, Schult, Swart), Debian package python3-networkx.
"""

import json
import sys

import networkx


def weighted(graph):
    """A simple graph whose lines carry how many run between the same two points."""
    found = networkx.Graph()
    found.add_nodes_from(range(graph["vertices"]))
    for a, b in graph["lines"]:
        many = found.edges[a, b]["many"] if found.has_edge(a, b) else 0
        found.add_edge(a, b, many=many + 1)
    return found


def report(pair):
    first, second = map(weighted, pair)
    same = networkx.algorithms.isomorphism.categorical_edge_match("many", 0)
    return {
        "isomorphic": networkx.is_isomorphic(first, second, edge_match=same),
        "planar": networkx.check_planarity(second)[0],
    }


with open(sys.argv[1], encoding="utf-8") as file:
    print(json.dumps([report(pair) for pair in json.load(file)]))
