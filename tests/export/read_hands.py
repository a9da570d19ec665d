"""The hands of a PDF's arrows, read by poppler, each held against the words that speak for it.

An arrow is a stroke of three points with a square bend, from the flag to the tail and on to the bow: its second leg 3.15 times
as long as the first on papers, 4 times on drawings for machines. Where it stands in a frame that holds words of a side, those
speak for it; else those of its page in capitals do, or where there are none the others. MIRRORED says that it turns right as
seen; FACE and "above" that it turns left.

Prints one line an arrow: "page N turns T says S", T and S "right" or "left", S "nothing" or "both" where the words do not settle it.
"""
import re
import subprocess
import sys

NUMBER = r"(-?[0-9.]+)"
CHAIN = re.compile(r'<path style="fill:none;stroke-width:([0-9.]+);[^"]*" d="M %s %s L %s %s L %s %s "' % ((NUMBER,) * 6))
FRAME = re.compile(r'<path style="fill:none;[^"]*" d="M %s %s L %s %s L %s %s L %s %s Z' % ((NUMBER,) * 8))
WORD = re.compile(r'<word xMin="%s" yMin="%s" xMax="%s" yMax="%s">([^<]*)</word>' % ((NUMBER,) * 4))
KINDS = ((3.15, 0.6 * 1.1), (4.0, 0.5))  # second leg by first, thinnest stroke in mm
SIDES = {"MIRRORED": "right", "FACE": "left", "ABOVE": "left", "above": "left"}


def arrows(svg):
    for found in CHAIN.finditer(svg):
        width, *xy = map(float, found.groups())
        points = list(zip(xy[0::2], xy[1::2]))
        ax, ay = points[1][0] - points[0][0], points[1][1] - points[0][1]
        bx, by = points[2][0] - points[1][0], points[2][1] - points[1][1]
        a, b = (ax * ax + ay * ay) ** 0.5, (bx * bx + by * by) ** 0.5
        if a == 0 or abs(ax * bx + ay * by) > 1e-3 * a * b:
            continue
        if any(abs(b / a - ratio) < 0.02 and width > 0.99 * thinnest * 72 / 25.4 for ratio, thinnest in KINDS):
            yield points, "right" if ax * by - ay * bx > 0 else "left"  # y is down


def frames(svg):
    for found in FRAME.finditer(svg):
        xy = list(map(float, found.groups()))
        box = min(xy[0::2]), min(xy[1::2]), max(xy[0::2]), max(xy[1::2])
        if all(min(x - box[0], box[2] - x) < 0.01 and min(y - box[1], box[3] - y) < 0.01
               for x, y in zip(xy[0::2], xy[1::2])):
            yield box


def holds(box, point):
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]


def words_of_sides(bbox):
    for found in WORD.finditer(bbox):
        word = re.sub(r"\W", "", found[5])
        if word in SIDES:
            left, top, right, bottom = map(float, found.groups()[:4])
            yield ((left + right) / 2, (top + bottom) / 2), SIDES[word], word.isupper()


def run(*command):
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def read(path):
    pages = int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", path))[1])
    for page in range(1, pages + 1):
        one = ["-f", str(page), "-l", str(page), path, "-"]
        svg = run("pdftocairo", "-svg", *one)
        words = list(words_of_sides(run("pdftotext", "-bbox", *one)))
        around = sorted(frames(svg), key=lambda box: (box[2] - box[0]) * (box[3] - box[1]))
        for points, turns in arrows(svg):
            says = {side for _, side, loud in words if loud} or {side for _, side, _ in words}
            for box in around:
                inside = {side for at, side, _ in words if holds(box, at)}
                if inside and all(holds(box, point) for point in points):
                    says = inside
                    break
            print("page", page, "turns", turns, "says", says.pop() if len(says) == 1 else "both" if says else "nothing")


read(sys.argv[1])
