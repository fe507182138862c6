"""Says what ezdxf, an independent reader, finds in a DXF file: errors, fixes and unit, then each curve's layer with its
area (of a line: its length). An arc's area comes from its bulge by the sector's closed form."""
import math
import sys

import ezdxf


def polyline_area(entity):
    corners = [(x, y, bulge) for x, y, bulge in entity.get_points("xyb")]
    area = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(corners, corners[1:] + corners[:1]):
        area += (x0 * y1 - x1 * y0) / 2
        if bulge:
            sweep = 4 * math.atan(bulge)
            radius = math.hypot(x1 - x0, y1 - y0) / (2 * math.sin(abs(sweep) / 2))
            area += math.copysign(radius**2 * (abs(sweep) - math.sin(abs(sweep))) / 2, sweep)
    return area


document = ezdxf.readfile(sys.argv[1])
audit = document.audit()
print(len(audit.errors), len(audit.fixes), document.units)
for entity in document.modelspace():
    layer = entity.dxf.layer
    assert layer in document.layers, layer
    if entity.dxftype() == "CIRCLE":
        print(layer, repr(math.pi * entity.dxf.radius**2))
    elif entity.dxftype() == "LWPOLYLINE":
        assert entity.closed
        print(layer, repr(polyline_area(entity)))
    elif entity.dxftype() == "LINE":
        print(layer, repr(entity.dxf.start.distance(entity.dxf.end)))
    else:
        sys.exit("unexpected " + entity.dxftype())
