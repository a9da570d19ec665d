#!/usr/bin/python3
"""Holds every answer of the surface to docs/surface.schema.json, and the committed types to the schemas.

Usage: surface_check.py SOURCE BUILD ANSWER_LINES
The schema is read by Debian's python3-jsonschema, which knows nothing of our code.
"""
import filecmp
import json
import os
import subprocess
import sys

import jsonschema

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from questions import BAD, Native, all_questions, as_line


def types_are_current(source, build):
    made = os.path.join(build, "types")
    subprocess.run(["/usr/bin/python3", os.path.join(source, "tools/make_types.py"), "--out", made], check=True)
    for name in ("job.d.ts", "surface.d.ts"):
        if not filecmp.cmp(os.path.join(made, name), os.path.join(source, "wasm/types", name), shallow=False):
            sys.exit(f"wasm/types/{name} is not what the schemas give: run tools/make_types.py")


def main():
    source, build, program = sys.argv[1:4]
    types_are_current(source, build)
    with open(os.path.join(source, "docs/surface.schema.json"), encoding="utf-8") as f:
        schema = json.load(f)
    defs = {"$defs": schema["$defs"]}

    def check(value, rule, what):
        errors = sorted(jsonschema.Draft202012Validator({**defs, **rule}).iter_errors(value), key=str)
        if errors:
            e = errors[0]
            sys.exit(f"{what}: at {'/'.join(map(str, e.absolute_path))}: {e.message[:300]}")

    native = Native(program)
    asked, refused = {}, 0
    for question in all_questions(source, native):
        name = question["do"]
        rule = schema["questions"][name]
        more = {k: v for k, v in question.items() if k != "do"}
        check(more, {"type": "object", "additionalProperties": False, "required": list(rule["needs"]),
                     "properties": {**rule["needs"], **rule.get("may", {})}}, f"question {name}")
        answer = native(question)
        wanted = rule["answer"] if answer["ok"] else "Refused"
        refused += not answer["ok"]
        check(answer, {"$ref": f"#/$defs/{wanted}"}, f"answer to {as_line(question)[:200]}")
        asked[name] = asked.get(name, 0) + answer["ok"]
    silent = [name for name in schema["questions"] if not asked.get(name)]
    if silent:
        sys.exit(f"never answered: {silent}")
    for question in BAD:
        answer = native(question)
        if answer["ok"]:
            sys.exit(f"answered what cannot be answered: {question}")
        check(answer, {"$ref": "#/$defs/Refused"}, f"answer to {question}")
    for line in ("", "nonsense", "[]", "5", "[" * 1000, "{\"do\": \"open\", \"do\": \"open\"}"):
        native.process.stdin.write(line.encode() + b"\n")
        native.process.stdin.flush()
        check(json.loads(native.process.stdout.readline()), {"$ref": "#/$defs/Refused"}, f"answer to {line[:20]}")
    # What was worked out for one question must not show in the answer to the next.
    kept = {}
    for turn in range(2):
        for name in ("cockpit.json", "cabin-mm.json"):
            path = os.path.join(source, "examples", name)
            with open(path, encoding="utf-8") as f:
                job = native({"do": "open", "text": f.read()})["job"]
            answers = [native({"do": "derive", "job": job}), native({"do": "sheets", "job": job}),
                       native({"do": "derive", "job": job, "layout": {"placements": []}}), native({"do": "derive", "job": job})]
            typed = native({"do": "measure_typed", "job": job, "edits": []})
            if typed["spaces"] != answers[0]["spaces"]:
                sys.exit(f"{name}: what is typed is measured in another way than what is entered")
            if answers[0] != answers[3] or kept.setdefault(name, answers) != answers:
                sys.exit(f"{name}: the answer depends on what was asked before")
    # The check itself must be able to fail.
    try:
        check({"ok": True, "id": 5}, {"$ref": "#/$defs/FreeId"}, "planted")
    except SystemExit:
        pass
    else:
        sys.exit("a planted fault was not seen")
    print(f"{sum(asked.values())} answers as described, {refused} refused in words")


main()
