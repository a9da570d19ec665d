"""Reads an SVG as a general XML document and measures its paths by the arc formulae of SVG 1.1, appendix F.6.5.

Prints one line each: "size W H unit", "viewBox x y w h", "group ID" and, for every path,
"path GROUP NAME closed|open points AREA MINX MINY MAXX MAXY TURN", areas and turns as seen (y up, counter-clockwise > 0);
TURN is the cross product of the first two stretches. "text X Y FONT STRING" for every stretch of text.
"""
import math
import re
import sys
import xml.etree.ElementTree as xml

SVG = "{http://www.w3.org/2000/svg}"
STEPS = 200


def arc(x1, y1, r, sweep, x2, y2):
    """Centre form of a circular arc with large-arc flag 0."""
    dx, dy = (x1 - x2) / 2, (y1 - y2) / 2
    half = math.hypot(dx, dy)
    r = max(r, half)
    root = math.sqrt(max(0, r * r - half * half)) / half
    sign = 1 if sweep else -1
    # F.6.5.2 with rx = ry and no rotation: (cx', cy') = sign * root * (y1', -x1'), sign + when the flags differ
    cx, cy = (x1 + x2) / 2 + sign * root * dy, (y1 + y2) / 2 - sign * root * dx
    start = math.atan2(y1 - cy, x1 - cx)
    turn = math.atan2(y2 - cy, x2 - cx) - start
    if sweep and turn < 0:
        turn += 2 * math.pi
    if not sweep and turn > 0:
        turn -= 2 * math.pi
    return [(cx + r * math.cos(start + turn * i / STEPS), cy + r * math.sin(start + turn * i / STEPS))
            for i in range(1, STEPS + 1)]


def points_of(d):
    tokens = re.findall(r"[MLAZ]|-?[0-9.]+", d)
    points, i, closed, arcs = [], 0, False, 0
    while i < len(tokens):
        command = tokens[i]
        if command == "Z":
            closed, i = True, i + 1
            continue
        if command == "A":
            n = list(map(float, tokens[i + 1:i + 8]))
            assert n[0] == n[1] and n[2] == 0 and n[3] == 0 and n[4] in (0, 1)
            points += arc(*points[-1], n[0], n[4] == 1, n[5], n[6])
            arcs, i = arcs + 1, i + 8
        else:
            points.append((float(tokens[i + 1]), float(tokens[i + 2])))
            i += 3
    return points, closed, arcs


def main():
    root = xml.parse(sys.argv[1]).getroot()
    assert root.tag == SVG + "svg"
    width, height = root.get("width"), root.get("height")
    assert width.endswith("mm") and height.endswith("mm")
    print("size", width[:-2], height[:-2], "mm")
    print("viewBox", root.get("viewBox"))
    for group in root.iter(SVG + "g"):
        if not group.get("id"):
            continue
        print("group", group.get("id"))
        for path in group.iter(SVG + "path"):
            points, closed, arcs = points_of(path.get("d"))
            up = [(x, -y) for x, y in points]
            area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(up, up[1:] + up[:1])) / 2
            xs, ys = [p[0] for p in points], [p[1] for p in points]
            turn = 0
            if len(up) > 2:
                turn = ((up[1][0] - up[0][0]) * (up[2][1] - up[1][1]) -
                        (up[1][1] - up[0][1]) * (up[2][0] - up[1][0]))
            print("path", group.get("id"), path.get("data-name").replace(" ", "_"), "closed" if closed else "open",
                  arcs, area, min(xs), min(ys), max(xs), max(ys), turn)
    for text in root.iter(SVG + "text"):
        spans = list(text.iter(SVG + "tspan")) or [text]
        print("text", spans[0].get("x").split()[0], spans[0].get("y"), text.get("font-size"),
              "".join(text.itertext()).strip())


if __name__ == "__main__":
    main()
