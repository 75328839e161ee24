"""Reads a JSON list of polygons (an outline and holes, points as [x, y]) and prints what a geometry library says of each.

Library: Shapely over GEOS (JTS family), Debian package python3-shapely.
"""

import json
import sys

from shapely.geometry import Polygon
from shapely.strtree import STRtree

with open(sys.argv[1], encoding="utf-8") as file:
    polygons = [Polygon(shape["outline"], shape["holes"]) for shape in json.load(file)]

tree = STRtree(polygons)
overlaps = []
for i, polygon in enumerate(polygons):
    for found in tree.query(polygon):
        # Older versions answer with the polygon, newer ones with its number.
        j = next(k for k, p in enumerate(polygons) if p is found) if isinstance(found, Polygon) else int(found)
        if j > i and polygon.intersection(polygons[j]).area > 1e-9:
            overlaps.append([i, j])

print(
    json.dumps(
        {
            "valid": [polygon.is_valid for polygon in polygons],
            "areas": [polygon.area for polygon in polygons],
            "overlaps": overlaps,
        }
    )
)
