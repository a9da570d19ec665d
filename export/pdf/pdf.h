// A sheet as a PDF file.
#pragma once

#include <string>

#include "core/base/result.h"
#include "core/paper/display_list.h"

namespace spile {

/// Longest side of a PDF page: 14400 units of 1/72 in (ISO 32000-1:2008, annex C.2, as Acrobat reads it).
inline constexpr double longest_pdf_page_mm = 14400 * 25.4 / 72;

/// What becomes of pages longer than that.
enum class LongPages {
    refused,
    by_unit,  ///< the page says how large its unit is (UserUnit, PDF 1.6), a whole number of 1/72 in; programs that do not
    ///< know it print such a page smaller by that number
};

/// Guarantees: pages at true size; text can be selected and searched; same sheet, same bytes (no clock, no
/// locale, no file). A look comes with the bytes when texts hold characters the font lacks. On bad input: a
/// stop "page-too-large" for each page beyond `longest_pdf_page_mm` that is refused, and no bytes. Requires: at least one
/// page; sizes finite and > 0.
Result<std::string> pdf_bytes(const Sheet& sheet, LongPages long_pages = LongPages::refused);

}  // namespace spile
