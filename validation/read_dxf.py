"""Reads rimproof's drawing for the machine with an outside reader and compares it with sizes known from the survey.

Usage: read_dxf.py DRAWING.dxf EXPECTED.json

The JSON gives what a survey states and what plain geometry makes of it: places and radii in mm, with the rim edge at
y = 0 and the middle of the rim at x = 0. Every arc is formed here anew from the polyline's bulges. Exit code 0 when
everything agrees, 1 when something differs, 3 when a package is missing.
"""

import json
import math
import sys

try:
    import ezdxf
    from ezdxf.lldxf.encoding import decode_dxf_unicode
except ImportError as missing:
    print(f"read_dxf.py: {missing}; install validation/requirements.txt", file=sys.stderr)
    sys.exit(3)

CLOSE = 1e-6  # mm: the file has more digits than that
OUTLINE = "FINISHED_OUTLINE"
faults = []


def close(what, found, expected):
    if not abs(found - expected) <= CLOSE:
        faults.append(f"{what}: {found}, expected {expected}")


def arcs_of(polyline):
    """Centre, radius and the two ends of every arc, from the bulge alone: tan of a quarter of the turn."""
    points = list(polyline.get_points("xyb"))
    for (x0, y0, bulge), (x1, y1, _) in zip(points, points[1:]):
        if bulge:
            half, chord = 2.0 * math.atan(bulge), math.hypot(x1 - x0, y1 - y0)
            radius = 0.5 * chord / math.sin(half)
            along = radius * math.cos(half)
            nx, ny = -(y1 - y0) / chord, (x1 - x0) / chord
            centre = (0.5 * (x0 + x1) + along * nx, 0.5 * (y0 + y1) + along * ny)
            yield centre, abs(radius), ((x0, y0), (x1, y1))


def main():
    document = ezdxf.readfile(sys.argv[1])
    with open(sys.argv[2], encoding="utf-8") as file:
        expected = json.load(file)
    for error in document.audit().errors:
        faults.append(f"audit: {error.message}")
    if document.header["$INSUNITS"] != 4:
        faults.append(f"units: {document.header['$INSUNITS']}, 4 (mm) expected")
    space = document.modelspace()
    layers = {entity.dxf.layer for entity in space}
    missing = set(expected["layers"]) - layers
    if missing or "0" in layers:
        faults.append(f"layers {sorted(layers)}: {sorted(missing)} are missing")
    for name in layers:
        if name not in document.layers:
            faults.append(f"layer {name} is not in the table")
    outlines = space.query(f'LWPOLYLINE[layer=="{OUTLINE}"]')
    if len(outlines) != 1 or outlines[0].closed:
        faults.append(f"{len(outlines)} outlines, one open one expected")
    outline = outlines[0]
    points = list(outline.get_points("xy"))
    close("left end", points[0][0], -expected["half_width"])
    close("right end", points[-1][0], expected["half_width"])
    close("rim edge", points[0][1], 0.0)
    close("rim edge", points[-1][1], 0.0)
    close("lowest iron", min(y for _, y in points), -expected["tool_depth"])
    arcs = list(arcs_of(outline))
    for middle in expected["middles"]:
        seats = [a for a in arcs if abs(a[1] - expected["seat_radius"]) <= CLOSE and abs(a[0][0] - middle) < 1.0]
        if len(seats) != 2:
            faults.append(f"groove at {middle}: {len(seats)} arcs of the seat, 2 expected")
            continue
        inner = []
        for centre, radius, ends in seats:
            close(f"groove at {middle}: seat's middle", centre[0], middle)
            close(f"groove at {middle}: seat's bottom", centre[1] - radius, -expected["seat_depth"])
            inner.append(min(ends, key=lambda end: abs(end[0] - middle))[0] - middle)
        close(f"groove at {middle}: slot's width", max(inner) - min(inner), expected["slot_width"])
        corners = [a for a in arcs if abs(a[1] - expected["corner_radius"]) <= CLOSE and abs(a[0][0] - middle) < 8.0]
        if len(corners) != 2:
            faults.append(f"groove at {middle}: {len(corners)} corners of the slot, 2 expected")
    ropes = sorted(space.query('CIRCLE[layer=="ROPES"]'), key=lambda rope: rope.dxf.center.x)
    for rope, middle in zip(ropes, expected["middles"], strict=True):
        close("rope's middle", rope.dxf.center.x, middle)
        close("rope's radius", rope.dxf.radius, expected["rope_radius"])
        close("rope on its seat", rope.dxf.center.y - rope.dxf.radius, -expected["seat_depth"])
    words = [decode_dxf_unicode(text.dxf.text) for text in space.query("TEXT")]
    for text in expected["words"]:
        if not any(text in line for line in words):
            faults.append(f"no note says {text!r}: {words}")
    for fault in faults[:20]:
        print(f"MISMATCH {fault}", file=sys.stderr)
    sys.exit(1 if faults else 0)


main()
