#!/usr/bin/python3
"""Adds a shop's year up anew from its export: year_check.py FOLDER

FOLDER holds book/shop.spile, open/ (the export) and totals.json (what the program says). Standard library alone; money in
whole coins, shares as exact fractions.
"""
import csv
import json
import sqlite3
import sys
from collections import defaultdict
from fractions import Fraction
from pathlib import Path

QUOTE, ORDER, INVOICE, CARE, CREDIT = range(5)
RECEIVED, CUT, TAKEN_BACK, COUNTED = range(4)
TAX, MARGIN, RUSH, STEP = Fraction("0.0825"), Fraction("0.35"), Fraction("0.20"), 500  # examples/shop/prices.json


def need(truth, *what):
    if not truth:
        sys.exit("year_check: " + " ".join(str(w) for w in what))


def rounded(value):
    """To the nearest whole, the half away from zero; for values of zero and more."""
    return int(value + Fraction(1, 2))


def rows(folder, table):
    with open(folder / "open" / f"{table}.csv", encoding="utf-8", newline="") as f:
        return list(csv.DictReader(f))


def check_file(path):
    book = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    need(book.execute("PRAGMA integrity_check").fetchall() == [("ok",)], "SQLite finds the file damaged")
    need(not book.execute("PRAGMA foreign_key_check").fetchall(), "a reference leads nowhere")
    book.close()


def check_quote(paper):
    """Every line, sum, margin, rush and tax from the basis alone."""
    priced = json.loads(paper["basis"])[0]
    sums = defaultdict(int)
    for line in priced["lines"]:
        sums[line["group"]] += line["cost"]["coins"]
    cost = sum(sums.values())
    price = rounded(Fraction(cost) / (1 - MARGIN))
    rush = rounded(price * RUSH) if priced["rush_wanted"] else 0
    net = -(-(price + rush) // STEP) * STEP
    tax = rounded(net * TAX)
    said = {key: priced[key]["coins"] for key in ("material", "labour", "travel", "cost", "price", "rush", "net", "tax", "total")}
    mine = {"material": sums["material"], "labour": sums["labour"], "travel": sums["travel"], "cost": cost, "price": price,
            "rush": rush, "net": net, "tax": tax, "total": net + tax}
    need(said == mine, paper["number"], said, mine)
    need((int(paper["net"]), int(paper["tax"]), int(paper["total"])) == (net, tax, net + tax), paper["number"])
    july = paper["number"] in check_quote.july
    need(priced["prices_since"] == ("2026-07-01" if july else "2026-01-01"), paper["number"], "has the prices of another day")


def main():
    folder = Path(sys.argv[1])
    check_file(folder / "book" / "shop.spile")
    jobs, papers, payments = rows(folder, "job"), rows(folder, "paper"), rows(folder, "payment")
    need(len(jobs) == 200, len(jobs), "jobs")

    # Papers: numbered without gaps, each kind for itself.
    by_kind = defaultdict(list)
    for p in papers:
        by_kind[int(p["kind"])].append(p)
    for kind, letter in enumerate("QOICN"):
        numbers = [p["number"] for p in by_kind[kind]]
        need(numbers == [f"{letter}-{i + 1:04d}" for i in range(len(numbers))], letter, "has gaps")
    first_of_july = 1782864000  # 2026-07-01 00:00 UTC
    check_quote.july = {p["number"] for p in by_kind[QUOTE] if int(p["at"]) >= first_of_july}
    need(0 < len(check_quote.july) < len(by_kind[QUOTE]), "no quotes on both sides of July")
    for p in by_kind[QUOTE]:
        check_quote(p)

    # Money: what is owed is nothing where a job is paid.
    owed, asked = defaultdict(int), {}
    for p in papers:
        kind = int(p["kind"])
        if kind == QUOTE:
            asked[p["job"]] = int(p["total"])
        if kind == INVOICE:
            need(int(p["total"]) == asked[p["job"]], p["number"], "asks what no quote asked")
            owed[p["job"]] += int(p["total"])
        if kind == CREDIT:
            owed[p["job"]] -= int(p["total"])
    for p in payments:
        owed[p["job"]] -= int(p["cents"])
    states = ["enquiry", "quoted", "ordered", "in work", "fitted", "paid", "not taken"]
    for j in jobs:
        if states[int(j["state"])] == "paid":
            need(owed[j["id"]] == 0, "job", j["id"], "is paid and owes", owed[j["id"]])

    # Stock: each roll is the sum of its movements; what layouts that stand took is what was cut.
    moved, cut = defaultdict(int), defaultdict(int)
    received = 0
    for m in rows(folder, "movement"):
        kind, um = int(m["kind"]), int(m["um"])
        if m["roll"]:
            moved[m["roll"]] += um
        if kind == RECEIVED:
            received += um
        if kind in (CUT, TAKEN_BACK):
            cut[m["roll"]] -= um
    standing = defaultdict(int)
    layouts = rows(folder, "layout")
    for l in layouts:
        if l["taken_back"] == "0" and l["roll"]:
            standing[l["roll"]] += int(l["used_um"])
    for r in rows(folder, "roll"):
        need(int(r["left_um"]) == moved[r["id"]] >= 0, "roll", r["id"], r["left_um"], moved[r["id"]])
        need(cut[r["id"]] == standing[r["id"]], "roll", r["id"], "cut", cut[r["id"]], "standing", standing[r["id"]])
        need(int(r["received_um"]) - standing[r["id"]] == int(r["left_um"]), "roll", r["id"])

    cut_jobs = {l["job"] for l in layouts if l["taken_back"] == "0"}
    need(not cut_jobs & {r["job"] for r in rows(folder, "reservation")}, "a job that is cut holds goods of a roll")

    # Offcuts: each used one stands in one layout; what it left is smaller than it was, and is in the rack, used or gone.
    def area(outline):
        points = [(Fraction(x), Fraction(y)) for x, y, _ in json.loads(outline)]
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))) / 2

    offcuts, left, used_by = {o["id"]: o for o in rows(folder, "offcut")}, defaultdict(list), defaultdict(int)
    for o in offcuts.values():
        left[o["layout"]].append(o)
    from_offcuts = [l for l in layouts if l["taken_back"] == "0" and l["offcut"]]
    for l in from_offcuts:
        used_by[l["offcut"]] += 1
        before = area(offcuts[l["offcut"]]["outline"])
        after = sum(area(o["outline"]) for o in left[l["id"]])
        need(after < before, "layout", l["id"], "leaves more than the offcut was")
        need(all(o["lot"] == offcuts[l["offcut"]]["lot"] for o in left[l["id"]]), "layout", l["id"], "changes the lot")
    need(len(from_offcuts) >= 10, len(from_offcuts), "jobs cut from offcuts")
    need(any(left[l["id"]] for l in from_offcuts), "no cut offcut left anything")
    for o in offcuts.values():
        need(used_by[o["id"]] == (1 if o["state"] == "1" else 0), "offcut", o["id"], "is used", used_by[o["id"]], "times")
        need(abs(area(o["outline"]) - Fraction(o["area_mm2"])) < 1, "offcut", o["id"], "has another area than its outline")

    # History: revisions count on from 1, and each state follows the one before.
    revisions = defaultdict(list)
    for r in rows(folder, "job_revision"):
        revisions[r["job"]].append(int(r["rev"]))
    last = {}
    for s in rows(folder, "job_state"):
        need(s["was"] == last.get(s["job"], "0"), "job", s["job"], "jumps from state", s["was"])
        last[s["job"]] = s["became"]
    for j in jobs:
        need(sorted(revisions[j["id"]]) == list(range(1, int(j["rev"]) + 1)), "job", j["id"], "misses a revision")
        need(last.get(j["id"], "0") == j["state"], "job", j["id"], "is in another state than its history says")

    # The program's own totals.
    said = json.load(open(folder / "totals.json", encoding="utf-8"))
    money = said["money"][0]
    sign = {INVOICE: 1, CREDIT: -1}
    for key, column in (("net", "net"), ("tax", "tax"), ("invoiced", "total")):
        mine = sum(sign.get(int(p["kind"]), 0) * int(p[column]) for p in papers)
        need(money[key]["coins"] == mine, key, money[key], mine)
    need(money["paid"]["coins"] == sum(int(p["cents"]) for p in payments), "paid")
    need(money["quoted"]["coins"] == sum(int(p["total"]) for p in by_kind[QUOTE]), "quoted")
    need(round(said["received_mm"] * 1000) == received, "received")
    need(round(said["cut_mm"] * 1000) == sum(cut.values()), "cut")
    need(said["jobs"] == {w: n for i, w in enumerate(states) if (n := sum(int(j["state"]) == i for j in jobs))}, "jobs by state")
    need(abs(said["minutes"] - sum(float(t["minutes"]) for t in rows(folder, "ticket"))) < 1e-6, "minutes")


main()
