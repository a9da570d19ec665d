#!/bin/bash
# Draws docs/gallery anew: a picture of each paper of the example and the constructions of edging, as the program makes them.
# Needs build/spile and build/spile-bench (./run --build-only) and pdftoppm (poppler-utils).
# Another program and another folder may be named: tools/make_gallery.sh PROGRAM FOLDER
set -euo pipefail
cd "$(dirname "$0")/.."
program=${1:-build/spile}
gallery=${2:-docs/gallery/papers}
papers=$(mktemp -d)
trap 'rm -rf "$papers"' EXIT
"$program" make examples/cockpit.json --out "$papers/out" --sheets \
    ticket roll pieces materials sewing check fitting labels field customer tiles strips >/dev/null
mkdir -p "$gallery"
rm -f "$gallery"/*.png

# The constructions of edging, when the whole gallery is drawn.
if [ $# -eq 0 ]; then
    mkdir -p docs/gallery/edging
    rm -f docs/gallery/edging/*.svg
    build/spile-bench constructions docs/gallery/edging
fi

picture() { # NAME PAPER PAGE DOTS
    pdftoppm -r "${4:-45}" -f "$3" -l "$3" -singlefile -gray -png "$papers/out/$2.pdf" "$gallery/$1"
}
picture ticket ticket 1
picture ticket-pieces ticket 2
picture roll roll 1
picture marking marking-6-aft-port 1
picture marking-drawing marking-3-round-the-post 1
picture marking-steps marking-3-round-the-post 2
picture materials materials 1
picture sewing sewing 1
picture check check 1
picture fitting fitting 1
picture labels labels 1
picture field-open field 1
picture field-cockpit field 2
picture field-odd-shape field 4
picture customer customer 1
picture customer-terms customer 2
picture full-size-map full-size-6-aft-port-letter 1
picture full-size-tile full-size-6-aft-port-letter 2
picture full-size-strip full-size-6-aft-port-strip 1 20
