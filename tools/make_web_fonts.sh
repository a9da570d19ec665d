#!/bin/bash
# The fonts of the screens, made from assets/fonts: the letters of western Europe, fractions and arrows, as WOFF2.
# Run by hand after the fonts changed; needs python3-fonttools and python3-brotli.
set -euo pipefail
cd "$(dirname "$0")/.."
for weight in Regular SemiBold; do
    /usr/bin/python3 -m fontTools.subset "assets/fonts/Inter-$weight.otf" --flavor=woff2 --output-file="web/src/style/inter-$weight.woff2" \
        --unicodes="U+20-7E,U+A0-17F,U+2010-2015,U+2018-201E,U+2022,U+2026,U+2032,U+2033,U+2044,U+20AC,U+2190-2193,U+2212,U+2713,U+00D7" \
        --layout-features="kern,liga,frac,numr,dnom,tnum,calt,ccmp,mark,case"
done
