"""The hands of a PDF's arrows, read by poppler: a stroke of three points with a square bend, from the flag to the tail and on to
the bow, its second leg 3.5 times less half a head as long as the first.

Prints one line a page: "page N right R left L mirrored M above A face F", where R and L count the arrows that turn right and
left as seen, and M, A, F the words MIRRORED, "above" (in any case) and FACE.
"""
import re
import subprocess
import sys

NUMBER = r"(-?[0-9.]+)"
PATH = re.compile(r'<path style="fill:none;stroke-width:([0-9.]+);[^"]*" d="M %s %s L %s %s L %s %s "' % ((NUMBER,) * 6))


def turns(svg):
    out = []
    for found in PATH.finditer(svg):
        width, *xy = map(float, found.groups())
        if width < 0.6 * 1.1 * 72 / 25.4 * 0.99:  # the thinnest arrow
            continue
        ax, ay = xy[2] - xy[0], xy[3] - xy[1]
        bx, by = xy[4] - xy[2], xy[5] - xy[3]
        a, b = (ax * ax + ay * ay) ** 0.5, (bx * bx + by * by) ** 0.5
        if a == 0 or abs(ax * bx + ay * by) > 1e-3 * a * b or abs(b / a - 3.15) > 0.02:
            continue
        out.append(ax * by - ay * bx)  # y is down: positive turns right
    return out


def read(path):
    pages = int(re.search(r"Pages:\s+(\d+)", subprocess.run(["pdfinfo", path], capture_output=True, text=True).stdout)[1])
    for page in range(1, pages + 1):
        one = ["-f", str(page), "-l", str(page), path, "-"]
        svg = subprocess.run(["pdftocairo", "-svg", *one], capture_output=True, text=True, check=True).stdout
        words = subprocess.run(["pdftotext", *one], capture_output=True, text=True, check=True).stdout
        seen = turns(svg)
        print("page", page, "right", sum(t > 0 for t in seen), "left", sum(t < 0 for t in seen), "mirrored",
              words.count("MIRRORED"), "above", words.lower().count("above"), "face", words.count("FACE"))


read(sys.argv[1])
