"""Validates documents against a JSON Schema: SCHEMA DOCUMENTS, where DOCUMENTS is a JSON list of texts, each a document.

Prints one line for each: "valid", or "refused: " and the first complaint. A document in which a key stands twice is told
apart by the reader alone; JSON Schema knows nothing of it.
"""
import json
import sys

import jsonschema

schema = json.load(open(sys.argv[1], encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
for text in json.load(open(sys.argv[2], encoding="utf-8")):
    complaint = next(iter(validator.iter_errors(json.loads(text))), None)
    if complaint is None:
        print("valid")
    else:
        print("refused:", " ".join(complaint.message.split())[:200])
