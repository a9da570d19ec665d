#!/usr/bin/env python3
"""Builds the core for the web and holds it to the native build: measuring on a corpus of taped spaces, then every question
to the surface about every example.

Places agree to 1 nm (libm differs by an ulp or more between the two; decisions do not), findings, suspects and their
words exactly. Usage: same_as_native.py SOURCE BUILD MEASURE_LINES ANSWER_LINES
"""
import gzip
import json
import math
import os
import re
import shutil
import subprocess
import sys

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from questions import BAD, Native, all_questions, as_line

MODULE_LIMIT_BYTES = 700_000  # gzipped, so that a page on the shop's network opens at once
NANOMETRE_MM = 1e-6
# Statistics are ratios of places and their doubts; a relative 1e-6 is far below what is ever printed of them.
STATISTIC = 1e-6


def run(command, **more):
    done = subprocess.run(command, text=True, capture_output=True, **more)
    if done.returncode:
        sys.exit(f"{' '.join(command)}\n{done.stdout}{done.stderr}")
    return done.stdout


def is_number(word):
    try:
        float(word)
        return True
    except ValueError:
        return False


def compare(native, web):
    lines_native, lines_web = native.splitlines(), web.splitlines()
    if len(lines_native) != len(lines_web):
        sys.exit(f"native says {len(lines_native)} lines, the web {len(lines_web)}")
    worst = 0.0
    for a, b in zip(lines_native, lines_web):
        head_a, _, words_a = a.partition(" : ")
        head_b, _, words_b = b.partition(" : ")
        kind = a.split(" ", 1)[0]
        if words_a != words_b or kind != b.split(" ", 1)[0]:
            sys.exit(f"words differ:\n  native {a}\n  web    {b}")
        pairs = list(zip(head_a.split(), head_b.split()))
        for index, (x, y) in enumerate(pairs):
            if x == y:
                continue
            if kind not in ("point", "tie", "suspect") or not (is_number(x) and is_number(y)):
                sys.exit(f"words differ:\n  native {a}\n  web    {b}")
            off = abs(float(x) - float(y))
            place = kind == "point" and index in (2, 3)
            limit = NANOMETRE_MM if place else STATISTIC * max(1.0, abs(float(x)))
            if off > limit:
                sys.exit(f"off by {off:g}, limit {limit:g}:\n  native {a}\n  web    {b}")
            if place:
                worst = max(worst, off)
    return worst


NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")


def same_text(a, b):
    """Words the same; numbers in them, such as places in a drawing written to 0.0001 mm, to one unit of the last digit."""
    if a == b:
        return True
    if NUMBER.sub("#", a) != NUMBER.sub("#", b):
        return False
    return all(abs(float(x) - float(y)) <= 1.01e-4 for x, y in zip(NUMBER.findall(a), NUMBER.findall(b)))


def compare_answers(a, b, where=""):
    if isinstance(a, dict) and isinstance(b, dict):
        if list(a) != list(b):
            sys.exit(f"{where}: native has {list(a)}, the web {list(b)}")
        for key in a:
            compare_answers(a[key], b[key], f"{where}/{key}")
    elif isinstance(a, list) and isinstance(b, list):
        if len(a) != len(b):
            sys.exit(f"{where}: native has {len(a)}, the web {len(b)}")
        for i, (x, y) in enumerate(zip(a, b)):
            compare_answers(x, y, f"{where}/{i}")
    elif isinstance(a, str) and isinstance(b, str):
        exact = not where.endswith(("/d", "/svg", "/boat", "/net", "/face", "/backing", "/back", "/strip", "/strip_back")) and "/slits/" not in where
        if a != b and (exact or not same_text(a, b)):
            sys.exit(f"{where}: native says {a[:200]}, the web {b[:200]}")
    elif isinstance(a, (int, float)) and isinstance(b, (int, float)) and not isinstance(a, bool):
        # A finding's numbers are shown, never decided on.
        if not math.isclose(a, b, rel_tol=STATISTIC, abs_tol=2e-5):
            sys.exit(f"{where}: native says {a}, the web {b}")
    elif a != b:
        sys.exit(f"{where}: native says {a}, the web {b}")


def compare_surfaces(source, folder, program, environment):
    lines = "".join(as_line(q) + "\n" for q in [*all_questions(source, Native(program)), *(q for q in BAD if isinstance(q.get("do"), str))])
    native = run([program], input=lines).splitlines()
    done = subprocess.run(["node", os.path.join(source, "tests/wasm/answer_lines.mjs"), folder, os.path.join(source, "wasm/spile.mjs")],
                          input=lines, text=True, capture_output=True, env=environment)
    if done.returncode:
        sys.exit(done.stdout[-2000:] + done.stderr[-4000:])
    web = done.stdout.splitlines()
    if len(native) != len(web):
        sys.exit(f"native gives {len(native)} answers, the web {len(web)}")
    for question, a, b in zip(lines.splitlines(), native, web):
        compare_answers(json.loads(a), json.loads(b), question[:60] + " ")
    try:
        compare_answers({"points": [{"x_mm": 1.0}]}, {"points": [{"x_mm": 1.001}]})
    except SystemExit:
        pass
    else:
        sys.exit("a planted difference of 1 um was not seen")
    size = 0
    for name in ("spile_core.wasm", "spile_core.mjs"):
        with open(os.path.join(folder, name), "rb") as f:
            size += len(gzip.compress(f.read()))
    if size > MODULE_LIMIT_BYTES:
        sys.exit(f"the module is {size} bytes gzipped, limit {MODULE_LIMIT_BYTES}")
    print(f"{len(native)} answers the same; the module is {size} bytes gzipped; {done.stderr.strip()}")


def main():
    source, build, native, answers = sys.argv[1:5]
    if not shutil.which("emcmake") or not shutil.which("node"):
        print("SKIPPED: emscripten or node is not installed")
        sys.exit(77)
    environment = dict(os.environ, NODE_PATH=os.environ.get("NODE_PATH", "/usr/share/nodejs"))
    folder = os.path.join(build, "wasm")
    run(["emcmake", "cmake", "-S", os.path.join(source, "wasm"), "-B", folder, "-G", "Ninja"], env=environment)
    run(["ninja", "-C", folder], env=environment)
    with open(os.path.join(source, "tests/wasm/spaces.txt"), encoding="utf-8") as f:
        spaces = f.read()
    output_native = run([native], input=spaces)
    output_web = run(["node", os.path.join(folder, "measure_lines.js")], input=spaces, env=environment)
    suspects = output_native.count("\nsuspect ")
    if suspects == 0:
        sys.exit("the corpus holds misread tapes, but no suspect was named")
    worst = compare(output_native, output_web)
    # The comparison itself must be able to fail.
    try:
        compare(output_native, output_native.replace("point A 0", "point A 0.001", 1))
    except SystemExit:
        pass
    else:
        sys.exit("a planted difference of 1 um was not seen")
    compare_surfaces(source, folder, answers, environment)
    print(f"{spaces.count('end')} spaces, {suspects} suspects the same in words; places agree to {worst:.3g} mm")


main()
