"""The lines of a file for machines in the order in which a knife meets them, and whether it works from inside out.

Reads DXF by ezdxf, SVG as XML, HP-GL by itself. A closed line that is cut through sets loose what it holds: nothing within it may
be cut later. Prints "knife lines N loose M late L": L counts pairs of a loose line and a later one that begins within it.
"""
import math
import sys


def of_dxf(path):
    import ezdxf
    from ezdxf import path as paths

    for entity in ezdxf.readfile(path).modelspace():
        if entity.dxftype() in ("LWPOLYLINE", "POLYLINE"):
            closed = entity.closed if entity.dxftype() == "LWPOLYLINE" else entity.is_closed
            yield entity.dxf.layer, closed, [(p.x, p.y) for p in paths.make_path(entity).flattening(0.05)]


def of_svg(path):
    import xml.etree.ElementTree as xml

    import read_svg

    for group in xml.parse(path).getroot().iter(read_svg.SVG + "g"):
        for line in group.iter(read_svg.SVG + "path"):
            points, closed, _ = read_svg.points_of(line.get("d"))
            yield group.get("id"), closed, points


def of_hpgl(path):
    pens = {3: "STITCH", 4: "SLITS", 5: "BACKING_ONLY", 6: "CUT_THROUGH"}
    text = open(path).read()
    pen, at, chain, i = 0, (0.0, 0.0), None, 0

    def ended():
        if chain and len(chain) > 1:
            yield pens.get(pen, "OTHER"), math.dist(chain[0], chain[-1]) < 2, chain

    while i < len(text):
        if text[i] in ";\n":
            i += 1
            continue
        command = text[i:i + 2]
        end = text.index("\x03" if command == "LB" else ";", i)
        words = text[i + 2:end]
        i = end + 1
        if command in ("LB", "IN", "PA", "SI", "LO"):
            continue
        numbers = [float(n) for n in words.split(",")] if words else []
        if command in ("SP", "PU"):
            yield from ended()
            chain = None
            if command == "SP":
                pen = int(numbers[0])
            elif numbers:
                at = tuple(numbers)
        elif command == "PD":
            chain = chain or [at]
            for k in range(0, len(numbers), 2):
                at = numbers[k], numbers[k + 1]
                chain.append(at)
        elif command == "AA":
            x, y, sweep = numbers[:3]
            from_angle, radius = math.atan2(at[1] - y, at[0] - x), math.dist(at, (x, y))
            for k in range(1, 65):
                angle = from_angle + math.radians(sweep) * k / 64
                chain.append((x + radius * math.cos(angle), y + radius * math.sin(angle)))
            at = chain[-1]
        else:
            raise ValueError(command)
    yield from ended()


def holds(around, point):
    inside = False
    for (ax, ay), (bx, by) in zip(around, around[1:] + around[:1]):
        if (ay > point[1]) != (by > point[1]) and point[0] < ax + (point[1] - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside


def main():
    reader = {"dxf": of_dxf, "svg": of_svg, "plt": of_hpgl}[sys.argv[1].rsplit(".", 1)[1]]
    lines = [line for line in reader(sys.argv[1]) if line[0] in ("SLITS", "BACKING_ONLY", "CUT_THROUGH")]
    loose = [(i, points) for i, (layer, closed, points) in enumerate(lines) if closed and layer == "CUT_THROUGH"]
    late = sum(holds(around, points[0]) for i, around in loose for _, _, points in lines[i + 1:])
    print("knife lines", len(lines), "loose", len(loose), "late", late)


main()
