#!/usr/bin/python3
"""Holds answers of the server to its description: api_check.py OPENAPI EXCHANGES

Every exchange must be described; every operation described must have been answered well at least once, streams apart.
"""
import json
import re
import sys

import jsonschema


def main():
    with open(sys.argv[1], encoding="utf-8") as f:
        api = json.load(f)
    with open(sys.argv[2], encoding="utf-8") as f:
        exchanges = json.load(f)
    components = {"components": api["components"]}
    forms = [(path, re.compile("^" + re.sub(r"\{[^}]+\}", "[^/]+", path) + "$")) for path in api["paths"]]
    answered = set()
    for e in exchanges:
        found = [path for path, form in forms if form.match(e["path"])]
        if not found:
            sys.exit(f"{e['path']} is not described")
        path = min(found, key=lambda p: p.count("{"))
        method = e["method"].lower()
        operation = api["paths"][path].get(method)
        if not operation:
            sys.exit(f"{e['method']} {path} is not described")
        good = 200 <= e["status"] < 300
        response = operation["responses"].get(str(e["status"]))
        if good and not response:
            sys.exit(f"{e['method']} {path}: status {e['status']} is not described")
        if good:
            answered.add((path, method))
        if e["type"] != "application/json":
            continue
        content = (response if good else operation["responses"]["default"])["content"]
        schema = content.get("application/json", {}).get("schema", {})
        errors = list(jsonschema.Draft202012Validator({**components, **schema}).iter_errors(e["body"]))
        if errors:
            sys.exit(f"{e['method']} {e['path']} {e['status']}: {errors[0].message[:400]}")
    for path, operations in api["paths"].items():
        for method, operation in operations.items():
            stream = "text/event-stream" in operation["responses"].get("200", {}).get("content", {})
            by_pairing = path == "/api/pair"  # TLS; tests/server/lan_test.cpp
            if (path, method) not in answered and not stream and not by_pairing:
                sys.exit(f"{method} {path} was never answered well")
    # The check itself must be able to fail.
    schema = {**components, "$ref": "#/components/schemas/Refused"}
    if not list(jsonschema.Draft202012Validator(schema).iter_errors({"ok": True})):
        sys.exit("a planted fault was not seen")


main()
