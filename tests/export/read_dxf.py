"""Opens a DXF with ezdxf, audits it, and prints what is in it; areas by ezdxf's own flattening of bulges.

"version V", "header NAME VALUE", "fault TEXT", "layer NAME", and for every entity
"polyline LAYER closed|open COUNT BULGES AREA MINX MINY MAXX MAXY" or "text LAYER X Y HEIGHT STRING".
"""
import sys

import ezdxf
from ezdxf import path as paths
from ezdxf.lldxf.encoding import decode_dxf_unicode

document = ezdxf.readfile(sys.argv[1])
print("version", document.dxfversion)
for name in ("$INSUNITS", "$MEASUREMENT"):
    if name in document.header:
        print("header", name, document.header[name])
auditor = document.audit()
for fault in list(auditor.errors) + list(auditor.fixes):
    print("fault", fault.message)
for layer in document.layers:
    print("layer", layer.dxf.name)
for entity in document.modelspace():
    kind = entity.dxftype()
    if kind in ("LWPOLYLINE", "POLYLINE"):
        lw = kind == "LWPOLYLINE"
        closed = entity.closed if lw else entity.is_closed
        bulges = [p[4] for p in entity] if lw else [v.dxf.bulge for v in entity.vertices]
        points = [(p.x, p.y) for p in paths.make_path(entity).flattening(0.001)]
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:] + points[:1])) / 2
        print("polyline", entity.dxf.layer, "closed" if closed else "open", len(bulges),
              sum(1 for b in bulges if b), area, min(xs), min(ys), max(xs), max(ys))
    elif kind == "TEXT":
        at = entity.dxf.align_point
        print("text", entity.dxf.layer, at.x, at.y, entity.dxf.height, decode_dxf_unicode(entity.plain_text()))
    else:
        print("unexpected", kind)
