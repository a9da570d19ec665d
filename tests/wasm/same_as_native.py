#!/usr/bin/env python3
"""Builds core/{base,num,geom,measure} for the web and holds it to the native build on a corpus of taped spaces.

Places agree to 1 nm (libm differs by an ulp or more between the two; decisions do not), findings, suspects and their
words exactly. Usage: same_as_native.py SOURCE BUILD NATIVE_PROGRAM
"""
import os
import shutil
import subprocess
import sys

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


def main():
    source, build, native = sys.argv[1:4]
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
    print(f"{spaces.count('end')} spaces, {suspects} suspects the same in words; places agree to {worst:.3g} mm")


main()
