# Prints what a general-purpose DXF library says of each file named: one line of JSON a
# file, with the errors of its audit and, of every line, its layer, kind, exact area
# and how many arcs it has.
import json, math, sys
import ezdxf
from ezdxf import bbox
from ezdxf.math import bulge_to_arc

for name in sys.argv[1:]:
    doc = ezdxf.readfile(name)
    auditor = doc.audit()
    lines = []
    for e in doc.modelspace():
        if e.dxftype() == "CIRCLE":
            lines.append({"layer": e.dxf.layer, "kind": "circle", "area": math.pi * e.dxf.radius**2, "arcs": 1})
            continue
        pts = list(e.get_points("xyb"))
        area, arcs = 0.0, 0
        for (x0, y0, b), (x1, y1, _) in zip(pts, pts[1:] + pts[:1]):
            area += (x0 * y1 - x1 * y0) / 2
            if b:
                arcs += 1
                _, a0, a1, r = bulge_to_arc((x0, y0), (x1, y1), b)
                sweep = (a1 - a0) % (2 * math.pi)
                area += math.copysign(r * r / 2 * (sweep - math.sin(sweep)), b)
        kind = e.dxftype().lower() if e.closed else "open"
        lines.append({"layer": e.dxf.layer, "kind": kind, "area": abs(area), "arcs": arcs})
    box = bbox.extents(doc.modelspace())
    print(json.dumps({
        "errors": [str(e.message) for e in auditor.errors] + ["fixed: " + str(e.message) for e in auditor.fixes],
        "version": doc.dxfversion, "units": doc.units, "layers": sorted(l.dxf.name for l in doc.layers),
        "box": [box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y], "lines": lines}))
