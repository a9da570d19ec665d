#include "cli/terminal.h"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>

#include "core/base/text.h"
#include "core/base/utf8.h"

namespace spile::cli {

int terminal_width() {
    winsize size{};
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return 100;
    return std::clamp<int>(size.ws_col, 40, 120);
}

bool stderr_is_watched() {
    return isatty(STDERR_FILENO) == 1;
}

std::string harmless(const std::string& text) {
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        const Utf8Character c = utf8_character(text, i);
        const bool commands = c.code < 0x20 || (c.code >= 0x7F && c.code < 0xA0);
        if (!c.well_formed || commands) {
            out += c.code == '\n' || c.code == '\t' ? ' ' : '?';
        } else {
            out.append(text, i, c.bytes);
        }
        i += c.bytes;
    }
    return out;
}

std::size_t width_of(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string padded(const std::string& text, std::size_t width) {
    const std::size_t taken = width_of(text);
    return taken < width ? text + std::string(width - taken, ' ') : text;
}

std::string padded_left(const std::string& text, std::size_t width) {
    const std::size_t taken = width_of(text);
    return taken < width ? std::string(width - taken, ' ') + text : text;
}

std::string wrapped(const std::string& first, const std::string& text, std::size_t indent, int width) {
    std::string out = padded(first, indent);
    std::size_t column = indent;
    bool starts = true;
    for (const std::string& word : split_words(text)) {
        const std::size_t length = width_of(word);
        if (!starts && column + 1 + length > static_cast<std::size_t>(width)) {
            out += '\n' + std::string(indent, ' ');
            column = indent;
            starts = true;
        }
        if (!starts) {
            out += ' ';
            ++column;
        }
        out += word;
        column += length;
        starts = false;
    }
    return out + '\n';
}

std::string findings_text(const std::vector<Finding>& findings, int width) {
    std::vector<Finding> sorted = findings;
    sort_worst_first(sorted);
    constexpr std::size_t indent = 6;
    const std::string margin(indent, ' ');
    std::string out;
    for (const Finding& f : sorted) {
        std::string word = severity_name(f.severity);
        if (f.severity == Severity::stop) word = "STOP";
        out += wrapped(word, harmless(f.says), indent, width);
        if (!f.to_do.empty()) out += wrapped(margin, harmless(f.to_do), indent, width);
        if (!f.where.empty()) out += wrapped(margin, "In " + harmless(f.where) + ".", indent, width);
        if (f.severity == Severity::stop) {
            const std::string subject = f.subject.id.empty() ? "" : ", subject \"" + f.subject.id + "\"";
            out += wrapped(margin, "[code \"" + f.code + "\"" + harmless(subject) + "]", indent, width);
        }
        out += '\n';
    }
    return out;
}

std::string findings_count(const std::vector<Finding>& findings) {
    const auto how_many = [&](Severity severity) {
        return static_cast<std::size_t>(std::count_if(
            findings.begin(), findings.end(), [&](const Finding& f) { return f.severity == severity; }));
    };
    std::vector<std::string> parts;
    if (const std::size_t n = how_many(Severity::stop)) parts.push_back(count_of(n, "stop", "stops"));
    if (const std::size_t n = how_many(Severity::look))
        parts.push_back(count_of(n, "thing to look at", "things to look at"));
    if (const std::size_t n = how_many(Severity::note)) parts.push_back(count_of(n, "note", "notes"));
    return parts.empty() ? "Nothing to see to." : list_words(parts) + ".";
}

std::string table_text(const std::vector<std::vector<std::string>>& rows) {
    std::vector<std::size_t> widths;
    for (const auto& row : rows) {
        widths.resize(std::max(widths.size(), row.size()));
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(row[i]));
    }
    std::string out;
    for (const auto& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i)
            line += "  " + (i == 0 ? padded(row[i], widths[i]) : padded_left(row[i], widths[i]));
        line.erase(line.find_last_not_of(' ') + 1);
        out += line + '\n';
    }
    return out;
}

bool print(const std::string& text) {
    return std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
}

void complain(const std::string& text) {
    std::fwrite(text.data(), 1, text.size(), stderr);
    std::fflush(stderr);
}

}  // namespace spile::cli
