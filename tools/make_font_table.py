#!/usr/bin/python3
"""Writes core/paper/font_table.cpp from assets/fonts: what core needs to lay text out without a shaper.

    tools/make_font_table.py [--out FILE]

Needs Debian's python3-fonttools. Run again after the fonts in assets/fonts change; tests/paper compares the file
that is committed with what this program writes.
"""

import argparse
import os

from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

HOME = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
WEIGHTS = [("regular", "Inter-Regular.otf"), ("semibold", "Inter-SemiBold.otf")]
# Unicode blocks a paper may need; characters the font lacks are left out.
RANGES = [
    (0x0020, 0x007E), (0x00A0, 0x024F), (0x02C6, 0x02DD),  # Latin
    (0x0370, 0x03FF), (0x0400, 0x04FF),                    # Greek, Cyrillic
    (0x1E00, 0x1EFF),                                      # more Latin with accents
    (0x2000, 0x200A), (0x2010, 0x2027), (0x202F, 0x205E),  # spaces, punctuation, primes, the fraction slash
    (0x2070, 0x209C), (0x20A0, 0x20BF), (0x2100, 0x218B),  # raised and lowered figures, currency, ready fractions
    (0x2190, 0x21FF), (0x2200, 0x22FF), (0x2300, 0x23FF),  # arrows, mathematics, technical
    (0x2500, 0x27BF),                                      # shapes, ticks, crosses
]
FRACTION_SLASH = 0x2044
# The heights clear every letter of these; only capitals with two accents one above the other stand out further.
HEIGHT_RANGES = [(0x0020, 0x017F), (0x0218, 0x021B), (0x0370, 0x03FF), (0x0400, 0x04FF)]


def lookups(table, tag):
    """The lookups of a feature, each a list of plain subtables."""
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == tag:
            for i in record.Feature.LookupListIndex:
                yield [getattr(s, "ExtSubTable", s) for s in table.LookupList.Lookup[i].SubTable]
            return


def single_substitution(font, tag):
    mapping = {}
    for subtables in lookups(font["GSUB"].table, tag):
        for s in subtables:
            mapping.update(s.mapping)
    return mapping


def pair_kerning(font):
    """(left glyph, right glyph) -> font units, as the first subtable that covers the left glyph decides (OpenType, GPOS 2)."""
    readers = []
    for subtables in lookups(font["GPOS"].table, "kern"):
        for s in subtables:
            order = {g: i for i, g in enumerate(s.Coverage.glyphs)}
            if s.Format == 1:
                pairs = {
                    (left, p.SecondGlyph): p.Value1.XAdvance
                    for left, i in order.items() for p in s.PairSet[i].PairValueRecord
                }
                readers.append(lambda l, r, pairs=pairs: pairs.get((l, r)))
            else:
                def by_class(l, r, s=s, order=order):
                    if l not in order:
                        return None
                    record = s.Class1Record[s.ClassDef1.classDefs.get(l, 0)]
                    value = record.Class2Record[s.ClassDef2.classDefs.get(r, 0)].Value1
                    return value.XAdvance if value else 0
                readers.append(by_class)

    def kern(left, right):
        for read in readers:
            value = read(left, right)
            if value is not None:
                return value
        return 0
    return kern


def bounds(glyphs, glyph):
    """(left, lowest, right, highest) in font units; None for a space."""
    pen = BoundsPen(glyphs)
    glyphs[glyph].draw(pen)
    return pen.bounds


def classes(rows):
    """Equal rows share a class; class 0 is the row of zeros."""
    numbers = {tuple([0] * len(rows[0])): 0}
    return [numbers.setdefault(row, len(numbers)) for row in rows], list(numbers)


def wrapped(items, width=118):
    lines, line = [], ""
    for item in items:
        if line and len(line) + len(item) + 1 > width:
            lines.append(line)
            line = ""
        line += item + ","
    return "\n".join(lines + [line])


def table_of(name, font):
    cmap = font.getBestCmap()
    glyph_id = font.getGlyphID
    outlines = font.getGlyphSet()
    tabular = single_substitution(font, "tnum")
    numerator = single_substitution(font, "numr")
    denominator = single_substitution(font, "dnom")
    digits = [cmap[c] for c in range(ord("0"), ord("9") + 1)]

    figures_set = {tabular[d] for d in digits}
    widest = max(font["hmtx"][g][0] for g in figures_set)  # SemiBold's differ among themselves by a few units

    def advance(glyph):
        return widest if glyph in figures_set else font["hmtx"][glyph][0]

    codes = [c for first, last in RANGES for c in range(first, last + 1) if c in cmap]
    # Figures are always tabular, so that columns of sizes stand under one another.
    glyphs = [tabular[cmap[c]] if cmap[c] in digits else cmap[c] for c in codes]
    kern_of_font = pair_kerning(font)

    def kern(left, right):  # figures would lose their columns
        return 0 if left in figures_set and right in figures_set else kern_of_font(left, right)

    distinct = sorted(set(glyphs))
    rows = {left: tuple(kern(left, right) for right in distinct) for left in distinct}
    left_class, left_rows = classes([rows[g] for g in glyphs])
    columns = list(zip(*left_rows))
    of_glyph = dict(zip(distinct, columns))
    right_class, right_columns = classes([of_glyph[g] for g in glyphs])
    assert len(left_rows) < 256 and len(right_columns) < 256
    pairs = [(l, r, right_columns[r][l]) for l in range(len(left_rows)) for r in range(len(right_columns))
             if right_columns[r][l]]

    def figures(mapping):
        return ",".join("{%d,%d}" % (glyph_id(mapping[d]), advance(mapping[d])) for d in digits)

    # The font hangs denominators below the baseline; a fraction stands better between baseline and capital height.
    four = cmap[ord("4")]
    lower, upper = (bounds(outlines, mapping[four]) for mapping in (denominator, numerator))
    rises = (font["OS/2"].sCapHeight - upper[3], -lower[1])
    slash = cmap[FRACTION_SLASH]
    os2, hhea = font["OS/2"], font["hhea"]
    boxes = [bounds(outlines, cmap[c]) for first, last in HEIGHT_RANGES for c in range(first, last + 1) if c in cmap]
    ascender = max([hhea.ascent] + [box[3] for box in boxes if box])
    descender = min([hhea.descent] + [box[1] for box in boxes if box])
    characters = ["{%d,%d,%d,%d,%d}" % (c, glyph_id(g), advance(g), l, r)
                  for c, g, l, r in zip(codes, glyphs, left_class, right_class)]
    text = f"constexpr FontCharacter {name}_characters[] = {{\n{wrapped(characters)}\n}};\n"
    text += f"constexpr KernPair {name}_kerning[] = {{\n{wrapped(['{%d,%d,%d}' % p for p in pairs])}\n}};\n"
    text += (f"constexpr FontTable {name}_table = {{\n"
             f"    {font['head'].unitsPerEm}, {ascender}, {descender}, {os2.sCapHeight}, {os2.sxHeight},\n"
             f"    {{0, {advance('.notdef')}}},\n"
             f"    {{{figures(numerator)}}},\n    {{{glyph_id(slash)}, {advance(slash)}}},\n"
             f"    {{{figures(denominator)}}},\n    {rises[0]}, {rises[1]},\n"
             f"    {name}_characters, {len(codes)}, {name}_kerning, {len(pairs)}}};\n")
    return text


def main():
    parser = argparse.ArgumentParser(description="Writes core/paper/font_table.cpp from assets/fonts.")
    parser.add_argument("--out", default=os.path.join(HOME, "core/paper/font_table.cpp"))
    out = parser.parse_args().out
    text = ("// generated by tools/make_font_table.py from assets/fonts (SIL Open Font License 1.1); do not edit.\n"
            "// clang-format off\n"
            '#include "core/paper/font_table.h"\n\n'
            "namespace spile {\nnamespace {\n\n")
    for name, file in WEIGHTS:
        text += table_of(name, TTFont(os.path.join(HOME, "assets/fonts", file))) + "\n"
    text += ("}  // namespace\n\n"
             "const FontTable& font_table(Weight weight) {\n"
             "    return weight == Weight::semibold ? semibold_table : regular_table;\n"
             "}\n\n}  // namespace spile\n")
    with open(out, "w", encoding="ascii", newline="\n") as file:
        file.write(text)


if __name__ == "__main__":
    main()
