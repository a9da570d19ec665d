// What a person reads in the terminal: sentences wrapped to its width, findings worst first.
#pragma once

#include <string>
#include <vector>

#include "core/base/finding.h"

namespace spile::cli {

/// Columns of the terminal on stdout, between 40 and 120; 100 where stdout is no terminal.
int terminal_width();

/// Whether a person watches stderr, so that progress is worth showing.
bool stderr_is_watched();

/// The text without bytes that would command the terminal.
std::string harmless(const std::string& text);

/// How many characters wide a text is.
std::size_t width_of(const std::string& text);

/// `text`, then spaces up to `width` characters.
std::string padded(const std::string& text, std::size_t width);
std::string padded_left(const std::string& text, std::size_t width);

/// Words of `text` in lines of `width` characters, every line but the first behind `indent` spaces; ends in a newline.
/// `first` stands before the first line and counts `indent` characters.
std::string wrapped(const std::string& first, const std::string& text, std::size_t indent, int width);

/// One paragraph for each finding, worst first: severity, sentence, what to do, place, and for a stop its name.
std::string findings_text(const std::vector<Finding>& findings, int width);

/// "2 stops, 1 thing to look at and 3 notes."; "Nothing to see to." when empty.
std::string findings_count(const std::vector<Finding>& findings);

/// Rows of cells in columns; the first column to the left, the others to the right.
std::string table_text(const std::vector<std::vector<std::string>>& rows);

/// To stdout and to stderr, at once. False when stdout takes no more (a full disk).
bool print(const std::string& text);
void complain(const std::string& text);

}  // namespace spile::cli
