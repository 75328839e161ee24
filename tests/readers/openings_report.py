"""Reads a JSON list of polygons (an outline and holes, points as [x, y]) with radii and prints the area that a disc covers inside each.

Library: Shapely over GEOS (JTS family), Debian package python3-shapely.
"""

import json
import sys

from shapely.geometry import Polygon

# Chords for a quarter circle: of a radius of 3 mm they stray by 3 (1 - cos(pi / 512)), under 1e-4 mm.
QUARTER = 128

with open(sys.argv[1], encoding="utf-8") as file:
    cases = json.load(file)

areas = []
for case in cases:
    polygon = Polygon(case["outline"], case["holes"])
    radius = case["radius"]
    areas.append(polygon.buffer(-radius, QUARTER).buffer(radius, QUARTER).area)

print(json.dumps({"areas": areas}))
