"""Reads a CSV strictly by RFC 4180 with python's reader; prints the fields of each row separated by tabs."""
import csv
import sys

with open(sys.argv[1], encoding="utf-8", newline="") as file:
    text = file.read()
assert text.endswith("\r\n") and text.count("\n") - text.count("\r\n") <= int(sys.argv[2]), "line ends"
for row in csv.reader(text.splitlines(keepends=True), strict=True):
    assert len(row) == 9, row
    print("\t".join(field.replace("\n", "\\n") for field in row))
