// PDF read by poppler's tools: what is seen, how large it is, what can be searched.
#include "export/pdf/pdf.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/paper/text_layout.h"
#include "tests/export/picture.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

using sample::rasterised;
using ::testing::Contains;
using ::testing::ElementsAreArray;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

Sheet sheet_of(std::vector<Page> pages) {
    Sheet sheet;
    sheet.file_stem = "sample";
    sheet.title = "Łódź, piece 3";
    sheet.purpose = "a test";
    sheet.pages = std::move(pages);
    return sheet;
}

// The rule of the trade's papers: 200 mm, within 0.2 mm. One dot is 0.04 mm here.
TEST(Pdf, ARuleOf200MillimetresIs200Millimetres) {
    Page page{210, 60, {}};
    Shape rule;
    rule.open = {{{{{5, 40}, 0, 0}, {{205, 40}, 0, 0}}}};
    page.items.emplace_back(rule);
    const Box seen = rasterised(*pdf_bytes(sheet_of({page})), 600).dark_box_mm(0, 297);
    EXPECT_NEAR(seen.width(), 200, 0.1);
    EXPECT_NEAR(seen.min.x, 5, 0.1);
    EXPECT_NEAR(seen.min.y + seen.height() / 2, 40, 0.1);
}

TEST(Pdf, AnArcIsAsHighAsItsRise) {
    Page page{210, 100, {}};
    Shape shape;
    shape.stroked = false;
    shape.filled = true;
    // Chord 160, bulge -0.5: rise 40. Where y is down a bulge < 0 turns counter-clockwise as seen, so from left to right
    // the arc hangs below its chord.
    shape.closed = {{{{{20, 50}, -0.5, 0}, {{180, 50}, 0, 0}}}};
    page.items.emplace_back(shape);
    const Box seen = rasterised(*pdf_bytes(sheet_of({page})), 600).dark_box_mm(0, 297);
    EXPECT_NEAR(seen.min.x, 20, 0.1);
    EXPECT_NEAR(seen.max.x, 180, 0.1);
    EXPECT_NEAR(seen.min.y, 50, 0.1);
    EXPECT_NEAR(seen.max.y, 90, 0.1);
}

TEST(Pdf, TextStandsInTheBoxItWasPromised) {
    for (const double angle : {0.0, 90.0, 180.0, 270.0, 37.0}) {
        Page page{90, 90, {}};
        Text text{{45, 45}, "48 1\u20444 Ågp", 10, Weight::semibold, Anchor::middle, angle};
        page.items.emplace_back(text);
        const Box seen = rasterised(*pdf_bytes(sheet_of({page})), 300).dark_box_mm(0, 297);
        const Box promised = text_box_mm(text);
        const double dot = 25.4 / 300;
        EXPECT_GE(seen.min.x, promised.min.x - dot) << angle;
        EXPECT_GE(seen.min.y, promised.min.y - dot) << angle;
        EXPECT_LE(seen.max.x, promised.max.x + dot) << angle;
        EXPECT_LE(seen.max.y, promised.max.y + dot) << angle;
        if (angle == 0) {
            EXPECT_NEAR(seen.width(), promised.width(), 0.15 * text.size_mm);
        }
    }
}

std::vector<std::string> found_in(const std::string& pdf, const std::string& option = "") {
    const std::string path = sample::written("text.pdf", pdf);
    std::vector<std::string> lines =
        sample::lines_of(sample::output_of("pdftotext " + option + " '" + path + "' -"));
    while (!lines.empty() && lines.back().find_first_not_of("\f") == std::string::npos) lines.pop_back();
    return lines;
}

TEST(Pdf, TextIsFoundAsItWasGiven) {
    const std::string pdf = *pdf_bytes(sheet_of({sample::page()}));
    for (const std::string option : {"", "-raw", "-layout"}) {
        std::vector<std::string> found = found_in(pdf, option);
        for (std::string& line : found) line.erase(0, line.find_first_not_of(' '));
        EXPECT_THAT(found, Contains("48 1\u20444 by 120 15\u204416 in")) << option;
        EXPECT_THAT(found, Contains("Łódź & Ærø <back, mirrored>")) << option;
        if (option != "-raw") {  // which knows no turned lines
            EXPECT_THAT(found, Contains("5\u2032 3 1\u20442\u2033")) << option;
        }
    }
}

TEST(Pdf, EveryLetterIsFoundAgain) {
    Page page;
    page.width_mm = 400;
    page.height_mm = 400;
    std::vector<std::string> given;
    for (unsigned first = 0xC0; first < 0x500; first += 16) {
        std::string line;
        for (unsigned code = first; code < first + 16; ++code) {
            if (code >= 0x2B0 && code < 0x388)
                continue;  // signs that combine with letters are put in other places
            const std::string letter = {static_cast<char>(0xC0 | (code >> 6)),
                                        static_cast<char>(0x80 | (code & 0x3F))};
            if (lay_out(letter, Weight::regular).unknown.empty()) line += letter;
        }
        if (line.empty()) continue;
        given.push_back(line);
        page.items.emplace_back(Text{{10, 6.0 + 5 * static_cast<double>(given.size())}, line, 4});
    }
    EXPECT_GT(given.size(), 40u);
    EXPECT_THAT(found_in(*pdf_bytes(sheet_of({page})), "-raw"), ElementsAreArray(given));
}

TEST(Pdf, PagesKeepTheirOwnSizes) {
    Page a4;
    Page strip;
    strip.width_mm = 5080;
    strip.height_mm = 914.4;
    const std::string path = sample::written("sizes.pdf", *pdf_bytes(sheet_of({a4, strip})));
    const std::string info = sample::output_of("pdfinfo -f 1 -l 2 '" + path + "'");
    EXPECT_THAT(info, HasSubstr("Page    1 size:  595.276 x 841.89 pts"));  // 210 x 297 mm
    EXPECT_THAT(info, HasSubstr("Page    2 size:  14400 x 2592 pts"));      // 200 x 36 in
    EXPECT_THAT(info, HasSubstr("Title:           Łódź, piece 3"));
    EXPECT_THAT(info, Not(HasSubstr("CreationDate")));
}

TEST(Pdf, PagesNoReaderOpensAreRefusedAllAtOnce) {
    Page long_page;
    long_page.width_mm = 5081;
    const Result<std::string> result = pdf_bytes(sheet_of({long_page, Page{}, long_page}));
    EXPECT_FALSE(result);
    ASSERT_EQ(result.findings.size(), 2u);
    EXPECT_EQ(result.findings[0].code, "page-too-large");
    EXPECT_EQ(result.findings[0].severity, Severity::stop);
    EXPECT_THAT(result.findings[1].says, HasSubstr("Page 3"));
    EXPECT_THAT(result.findings[1].says, HasSubstr("5081 mm"));
    EXPECT_THAT(result.findings[1].says, HasSubstr("5080 mm"));
}

// A page of 12 m by its own unit: read by poppler, it is as long as asked for, and what is drawn lies where it should.
TEST(Pdf, ALongerPageByItsUnit) {
    Page page;
    page.width_mm = 900, page.height_mm = 12000;
    page.items.emplace_back(Text{{100, 11000}, "eleven metres down", 50});
    const Sheet sheet = sheet_of({Page{}, page});
    const Result<std::string> bytes = pdf_bytes(sheet, LongPages::by_unit);
    ASSERT_TRUE(bytes);
    EXPECT_EQ(*bytes, *pdf_bytes(sheet, LongPages::by_unit));
    const std::string path = sample::written("unit.pdf", *bytes);
    // 12000 mm are 34015.7 units of 1/72 in, three times 11338.6.
    const std::string said = sample::output_of("strings '" + path + "'");
    EXPECT_THAT(said, HasSubstr("/UserUnit 3"));
    EXPECT_THAT(said, HasSubstr("%PDF-1.6"));
    const std::string info = sample::output_of("pdfinfo -f 1 -l 2 '" + path + "'");
    EXPECT_THAT(info, HasSubstr("Page    1 size:  595.276 x 841.89 pts"));
    EXPECT_THAT(info, HasSubstr("Page    2 size:  850.394 x 11338.6 pts"));
    EXPECT_THAT(sample::output_of("pdftotext -f 2 -l 2 '" + path + "' -"), HasSubstr("eleven metres down"));
}

TEST(Pdf, WhatTheFontLacksIsSaid) {
    Page page;
    page.items.emplace_back(Text{{10, 10}, "漢 and 字 and 漢", 4});
    const Result<std::string> result = pdf_bytes(sheet_of({page}));
    ASSERT_TRUE(result);
    ASSERT_EQ(result.findings.size(), 1u);
    EXPECT_EQ(result.findings[0].severity, Severity::look);
    EXPECT_THAT(result.findings[0].says, HasSubstr("漢 and 字"));
    EXPECT_THAT(pdf_bytes(sheet_of({sample::page()})).findings, IsEmpty());
}

TEST(Pdf, TextThatIsNoTextDoesNoHarm) {
    Page page;
    page.items.emplace_back(Text{{10, 10}, "\xFF\xC0 ok \x01", 4});
    page.items.emplace_back(Text{{10, 20}, "", 4});
    page.items.emplace_back(Text{{10, 30}, "size nought", 0});
    page.items.emplace_back(Shape{});
    Sheet sheet = sheet_of({page});
    sheet.title = "bad \xFE title";
    EXPECT_TRUE(pdf_bytes(sheet));
}

}  // namespace
}  // namespace spile
