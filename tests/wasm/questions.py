"""Questions to the surface about every example and every bad job: each question that there is, well and badly put."""
import glob
import json
import os
import subprocess


def read(path):
    with open(path, encoding="utf-8", errors="surrogateescape") as f:
        return f.read()


def job_questions(answer, text):
    """About one job; `answer` asks the native program."""
    opened = answer({"do": "open", "text": text})
    yield {"do": "open", "text": text}
    if not opened["ok"]:
        return
    job = opened["job"]
    title = opened["said"].get("title")
    edit = {"target": "", "field": "title", "new": "another"}
    if title is not None:
        edit["old"] = title
    other = {**edit, "new": "a third"}
    one, two = (answer({"do": "apply", "job": job, "edits": [e]}) for e in (edit, other))
    yield {"do": "apply", "job": job, "edits": [edit]}
    yield {"do": "apply", "job": job, "edits": [{"target": "/panels/none", "field": "name", "new": "x"}]}
    yield {"do": "measure_typed", "job": job, "edits": [edit]}
    if one["ok"] and two["ok"]:
        yield {"do": "between", "from": job, "to": one["job"]}
        merge = {"do": "merge", "base": job, "ours": one["job"], "theirs": two["job"]}
        yield merge
        merged = answer(merge)
        for said_twice in merged["said"].get("unsettled", [])[:1]:
            for take_other in (True, False):
                yield {"do": "settle", "job": merged["job"], "id": said_twice["id"], "take_other": take_other}
            yield {"do": "derive", "job": merged["job"]}
    yield {"do": "free_id", "job": job, "list": "/panels", "prefix": "p", "salt": "-x"}
    yield {"do": "derive", "job": job}
    derived = answer({"do": "derive", "job": job})
    # A layout in one long row: legal where the goods are.
    x, placements = 100.0, []
    for piece in derived["pieces"]:
        placements.append({"piece": piece["id"], "x_um": int(x * 1000), "y_um": 10000})
        x += piece["along"]["mm"] + 100
    layout = {"placements": placements, "rounds": 3}
    for name in ("derive", "check_layout", "keep_layout", "sheets"):
        yield {"do": name, "job": job, "layout": layout}
    filler = {"piece": "filler/coaster/1", "x_um": 10000, "y_um": 10000, "turns": 0}
    yield {"do": "derive", "job": job, "layout": layout, "fillers": [filler]}
    yield {"do": "check_layout", "job": job}
    # Dragged onto its neighbour, off the goods, and not at all.
    for piece in placements[:1]:
        for dx, dy in ((400_000, 0), (-900_000, -900_000), (0, 0)):
            yield {"do": "slide_piece", "job": job, "layout": layout, "piece": piece["piece"],
                   "x_um": piece["x_um"] + dx, "y_um": piece["y_um"] + dy}
    for finding in derived["findings"]:
        if finding["severity"] == "stop":
            yield {"do": "let_pass", "job": job, "code": finding["code"], "subject": finding["subject"]["id"], "reason": "tried"}
            break
    for panel in derived["panels"][:1]:
        yield {"do": "propose_joints", "job": job, "panel": panel["id"]}
    for sheet in answer({"do": "sheets", "job": job, "layout": layout})["sheets"]:
        for page in range(len(sheet["pages"])):
            yield {"do": "page", "job": job, "layout": layout, "stem": sheet["stem"], "page": page + 1}


def others():
    for units in ("in", "mm"):
        for text in ("48 1/4", "4' 0 1/4\"", "1226 mm", "3.10.1", "", "x", "5' 14\"", "-3"):
            yield {"do": "read_length", "text": text, "units": units}
        yield {"do": "print_lengths", "mm": [0, 1226, -6.35, 25.4, 1e5, 0.1], "units": units}
        for line in ("A B 48", "A B", "P on A B at 34 off 12 left", "A B rise 4 out", "A B through Q", "K over 2 up 3"):
            yield {"do": "read_reading", "line": line, "units": units}
    yield {"do": "print_lengths", "mm": [3.3], "units": "in", "denominator": 32}
    yield {"do": "print_lengths", "mm": [3.3], "units": "mm", "mm_step": 0.1}


# Put badly: each must be refused in words.
BAD = [
    {}, {"do": "nothing"}, {"do": 5}, {"do": "open"}, {"do": "open", "text": 5}, {"do": "open", "text": "{"},
    {"do": "derive", "job": "{}"}, {"do": "derive"}, {"do": "apply", "job": "{\"spile\":1,\"units\":\"in\"}", "edits": 5},
    {"do": "apply", "job": "{\"spile\":1,\"units\":\"in\"}", "edits": [{"target": 5}]},
    {"do": "derive", "job": "{\"spile\":1,\"units\":\"in\"}", "layout": {"placements": [{"piece": "1", "x_um": 0.5, "y_um": 0}]}},
    {"do": "derive", "job": "{\"spile\":1,\"units\":\"in\"}", "layout": 5},
    {"do": "print_lengths", "mm": [1e300], "units": "in"}, {"do": "print_lengths", "mm": ["x"], "units": "in"},
    {"do": "print_lengths", "mm": [1], "units": "ft"}, {"do": "print_lengths", "mm": [1], "units": "in", "denominator": 3},
    {"do": "page", "job": "{\"spile\":1,\"units\":\"in\"}", "stem": "ticket", "page": 99},
    {"do": "page", "job": "{\"spile\":1,\"units\":\"in\"}", "stem": "ticket", "page": 1e300},
    {"do": "settle", "job": "{\"spile\":1,\"units\":\"in\"}", "id": "u1", "take_other": True},
    {"do": "let_pass", "job": "{\"spile\":1,\"units\":\"in\"}", "code": "x", "subject": "", "reason": "y"},
    {"do": "keep_layout", "job": "{\"spile\":1,\"units\":\"in\"}"},
]


def all_questions(source, answer):
    paths = [p for folder in ("examples", "tests/job/good", "tests/bad")
             for p in sorted(glob.glob(os.path.join(source, folder, "*.json")))]
    for path in paths:
        yield from job_questions(answer, read(path))
    yield from others()


def as_line(question):
    return json.dumps(question, ensure_ascii=True)


class Native:
    def __init__(self, program):
        self.process = subprocess.Popen([program], stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def __call__(self, question):
        self.process.stdin.write(as_line(question).encode() + b"\n")
        self.process.stdin.flush()
        return json.loads(self.process.stdout.readline())
