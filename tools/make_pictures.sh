#!/bin/bash
# Makes the pictures of the README from the papers of the example: docs/pictures/roll.png and marking.png.
# Needs build/spile (./run --build-only) and pdftoppm (poppler-utils). Another program may be named: tools/make_pictures.sh PROGRAM
set -euo pipefail
cd "$(dirname "$0")/.."
program=${1:-build/spile}
papers=$(mktemp -d)
trap 'rm -rf "$papers"' EXIT
"$program" make examples/cockpit.json --out "$papers/out" >/dev/null

picture() { # PAPER TARGET DOTS: the first page
    pdftoppm -r "$3" -f 1 -l 1 -singlefile -png "$papers/out/$1.pdf" "$2"
}
picture roll docs/pictures/roll 75
picture marking-3-round-the-post docs/pictures/marking 75
