"""Reads a JSON list of pieces (rings of each part and of each bridge, mm) and prints what two libraries say of each.

Distances and unions: Shapely (Debian package python3-shapely). Least spanning tree and connected
parts: NetworkX (Hagberg, Schult, Swart; Debian package python3-networkx).
"""

import itertools
import json
import sys

import networkx
from shapely.geometry import Polygon
from shapely.ops import unary_union


def polygon(rings):
    return Polygon(rings[0], rings[1:])


def report(piece):
    parts = [polygon(rings) for rings in piece["parts"]]
    bridges = [Polygon(ring) for ring in piece["bridges"]]
    apart = networkx.Graph()
    apart.add_nodes_from(range(len(parts)))
    for a, b in itertools.combinations(range(len(parts)), 2):
        apart.add_edge(a, b, weight=parts[a].distance(parts[b]))
    tree = networkx.minimum_spanning_tree(apart)
    held = networkx.MultiGraph()
    held.add_nodes_from(range(len(parts)))
    touched = []
    for bridge in bridges:
        ends = [i for i, part in enumerate(parts) if part.intersects(bridge)]
        touched.append(len(ends))
        held.add_edges_from(itertools.combinations(ends, 2))
    whole = unary_union(parts + bridges)
    return {
        "parts": len(parts),
        "least": tree.size(weight="weight"),
        "groups": networkx.number_connected_components(held),
        "touched": touched,
        "left": 1 if whole.geom_type == "Polygon" else len(whole.geoms),
        "valid": all(part.is_valid for part in parts),
    }


with open(sys.argv[1], encoding="utf-8") as file:
    print(json.dumps([report(piece) for piece in json.load(file)]))
