"""What ezdxf reads in a DXF file, as JSON: audit, header, and figures for each layer.

Usage: dxf_report.py FILE

Lengths and areas are exact for arcs: theta = 4 atan(bulge), radius = chord / 2 / sin(theta / 2),
area = shoelace + sum of radius^2 (theta - sin theta) / 2.
"""

import json
import math
import sys

import ezdxf


def vertices_of(entity):
    """Points as (x, y, bulge), and whether the line is closed."""
    kind = entity.dxftype()
    if kind == "LWPOLYLINE":
        return list(entity.get_points("xyb")), bool(entity.closed)
    if kind == "POLYLINE":
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in entity.vertices]
        return points, bool(entity.is_closed)
    if kind == "LINE":
        start, end = entity.dxf.start, entity.dxf.end
        return [(start.x, start.y, 0.0), (end.x, end.y, 0.0)], False
    if kind == "ARC":
        sweep = math.radians((entity.dxf.end_angle - entity.dxf.start_angle) % 360)
        start, end = entity.start_point, entity.end_point
        return [(start.x, start.y, math.tan(sweep / 4)), (end.x, end.y, 0.0)], False
    raise SystemExit(f"unexpected entity {kind}")


def measure(points, closed):
    length = area = 0.0
    count = len(points) if closed else len(points) - 1
    for i in range(count):
        (x0, y0, bulge), (x1, y1, _) = points[i], points[(i + 1) % len(points)]
        chord = math.hypot(x1 - x0, y1 - y0)
        area += (x0 * y1 - y0 * x1) / 2
        if bulge == 0 or chord == 0:
            length += chord
            continue
        theta = 4 * math.atan(bulge)
        radius = chord / 2 / math.sin(theta / 2)
        length += abs(radius * theta)
        area += radius * radius * (theta - math.sin(theta)) / 2
    return length, area if closed else 0.0


def main(path):
    document = ezdxf.readfile(path)
    auditor = document.audit()
    finite = True
    layers = {}
    order = []
    block_record = document.modelspace().block_record_handle
    owned = True
    for entity in document.modelspace():
        layer = entity.dxf.layer
        if not order or order[-1] != layer:
            order.append(layer)
        figures = layers.setdefault(layer, {"closed": 0, "open": 0, "lengths": [], "areas": [], "kinds": {}})
        points, closed = vertices_of(entity)
        finite = finite and all(math.isfinite(number) for point in points for number in point)
        owned = owned and entity.dxf.owner == block_record
        length, area = measure(points, closed)
        figures["closed" if closed else "open"] += 1
        figures["lengths"].append(length)
        figures["areas"].append(area)
        kind = entity.dxftype()
        figures["kinds"][kind] = figures["kinds"].get(kind, 0) + 1
    header = document.header
    print(
        json.dumps(
            {
                "errors": [error.message for error in auditor.errors],
                "fixes": [fix.message for fix in auditor.fixes],
                "version": document.dxfversion,
                "units": header.get("$INSUNITS"),
                "metric": header.get("$MEASUREMENT", None),
                "extents": [list(header.get(name, ())) for name in ("$EXTMIN", "$EXTMAX")],
                "table": {
                    layer.dxf.name: {"colour": layer.dxf.color, "lineType": layer.dxf.linetype}
                    for layer in document.layers
                },
                "order": order,
                "owned": owned,
                "finite": finite,
                "layers": layers,
            }
        )
    )


if __name__ == "__main__":
    main(sys.argv[1])
