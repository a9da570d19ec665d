#include "core/job/json_faults.h"

#include <algorithm>

#include "core/base/stop.h"
#include "core/base/text.h"
#include "core/job/json_with_lines.h"

namespace spile {
namespace {

struct Meaning {
    const char* sign;  ///< what stands in the parser's complaint
    const char* says;
    const char* to_do;
};

// The first that fits counts, so the particular ones stand above the general ones.
constexpr Meaning meanings[] = {
    {"missing closing quote", "a text begins here and never ends",
     "Close it with a double quote. An inch mark inside a text is written \\\" or left out."},
    {"control character U+000A", "a text runs over the end of its line",
     "Close it with a double quote on the same line. An inch mark inside a text is written \\\" or left "
     "out."},
    {"control character U+000D", "a text runs over the end of its line",
     "Close it with a double quote on the same line. An inch mark inside a text is written \\\" or left "
     "out."},
    {"control character", "a text holds a control character", "Type a space instead."},
    {"forbidden character after backslash", "a backslash stands before a character it does not belong to",
     "Write \\\\ for a backslash and \\\" for an inch mark."},
    {"must be followed by 4 hex digits", "\\u is not followed by four hexadecimal digits",
     "Write the character itself."},
    {"surrogate", "a \\u escape is half of a character", "Write the character itself."},
    {"missing closing '*/'", "a comment begins with /* and never ends", "End it with */."},
    {"invalid comment", "a single slash stands outside a text",
     "Begin a comment with // or /*, or put a fraction in quotes."},
    {"invalid number", "a number breaks off", "Write it out, or put it in quotes as a text."},
    {"number overflow", "a number is too large to be anything here", "Look at it again."},
    {"invalid literal", "a word stands outside quotes",
     "Put it in double quotes. A length with a fraction or a unit is a text too: \"48 1/4\"."},
    {"unexpected end of input", "the file ends before its brackets are closed",
     "Look for a missing } or ] further up; was the file saved whole?"},
    {"expected end of input", "something stands behind the end of the job",
     "Delete what follows the last closing brace."},
    {"unexpected '}'; expected string literal", "a comma stands before a closing brace",
     "Delete that comma."},
    {"unexpected ']'; expected '[', '{', or a literal", "a comma stands before a closing bracket",
     "Delete that comma."},
    {"object key", "a key is wanted here: a word in double quotes",
     "Write \"key\": value, with the key in double quotes."},
    {"object separator", "a colon is missing behind a key", "Write \"key\": value."},
    {"unexpected ']'; expected '}'", "a brace was opened and a bracket closes it", "Close it with }."},
    {"unexpected '}'; expected ']'", "a bracket was opened and a brace closes it", "Close it with ]."},
    {"; expected '}'", "a comma or a closing brace is missing before this",
     "Put a comma between the two. An inch mark inside a text is written \\\" or left out."},
    {"; expected ']'", "a comma or a closing bracket is missing before this",
     "Put a comma between the two. An inch mark inside a text is written \\\" or left out."},
    {"while parsing value", "a value is wanted here",
     "Write a text in double quotes, a number, a list or a group in braces."},
};

Finding document_stop(const char* code, std::string says, std::string to_do, std::string where) {
    Finding f = stop_finding(code, std::move(says), std::move(to_do), {"job", ""});
    f.where = std::move(where);
    return f;
}

bool begins_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
}

}  // namespace

Finding unreadable_json(std::string_view text, std::size_t read, std::string_view token,
                        std::string_view complaint) {
    const bool at_end = complaint.find("unexpected end of input") != std::string_view::npos ||
                        complaint.find("missing closing '*/'") != std::string_view::npos;
    std::size_t at = at_end || read == 0 ? std::min(read, text.size()) : read - 1;
    // A text or number begins further left; behind a number one character more has been read. For other tokens the
    // parser's last words reach back beyond them.
    const bool known_start = complaint.find("unexpected string literal") != std::string_view::npos ||
                             complaint.find("unexpected number literal") != std::string_view::npos ||
                             complaint.find("missing closing quote") != std::string_view::npos ||
                             complaint.find("number overflow") != std::string_view::npos;
    for (const std::size_t behind : {std::size_t{0}, std::size_t{1}}) {
        const std::size_t back = token.size() + behind;
        if (!known_start || token.empty() || back > read || text.substr(read - back, token.size()) != token)
            continue;
        at = read - back;
        break;
    }
    const std::string_view before = text.substr(0, at);
    const int line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n'));
    const std::size_t line_start = before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
    const auto column = 1 + std::count_if(before.begin() + static_cast<std::ptrdiff_t>(line_start),
                                          before.end(), begins_character);
    const std::string place = "line " + std::to_string(line) + ", column " + std::to_string(column);

    if (complaint.find("ill-formed UTF-8") != std::string_view::npos ||
        complaint.find("invalid BOM") != std::string_view::npos)
        return document_stop("not-utf8",
                             "The file holds a byte at " + place + " that is no character in UTF-8.",
                             "Save the file as UTF-8 and type that character again.", place);
    if (trimmed(text).empty())
        return document_stop("not-json", "The file is empty.",
                             "Begin with { \"spile\": 1, \"units\": \"in\" } and see docs/job-format.md.",
                             place);
    Meaning meaning{"", "something here is not JSON", "See docs/job-format.md for how a job is written."};
    for (const Meaning& m : meanings) {
        if (complaint.find(m.sign) == std::string_view::npos) continue;
        meaning = m;
        break;
    }
    return document_stop("not-json", "The file cannot be read at " + place + ": " + meaning.says + ".",
                         meaning.to_do, place);
}

Finding duplicate_key(const std::string& key, int line, int first_line, const std::string& pointer) {
    Finding f =
        document_stop("duplicate-key",
                      in_quotes(key) + " is given twice, on line " + std::to_string(first_line) +
                          (line == first_line ? std::string() : " and on line " + std::to_string(line)) + ".",
                      "Keep the one that is meant and delete the other.", where_text(line, pointer));
    f.numbers = {{"first on line", static_cast<double>(first_line), ""}};
    return f;
}

Finding file_too_large(std::size_t bytes, std::size_t limit) {
    Finding f = document_stop(
        "file-too-large",
        "The file has " + std::to_string(bytes) + " bytes; a job has at most " + std::to_string(limit) + ".",
        "Is this the right file? Split a very large job into several.", "/");
    f.numbers = {{"bytes", static_cast<double>(bytes), ""}, {"limit", static_cast<double>(limit), ""}};
    return f;
}

Finding json_limit(const char* code, int line, const char* says, const char* what, double limit) {
    Finding f =
        document_stop(code, std::string(says) + ", beyond the limit of " + fixed(limit, 0) + " " + what + ".",
                      "Is this the right file? See docs/job-format.md for how a job is built.",
                      "line " + std::to_string(line));
    f.numbers = {{"limit", limit, ""}};
    return f;
}

std::optional<Finding> not_utf8(std::string_view text) {
    const std::string_view start = text.substr(0, 4);
    const bool utf16 = start.substr(0, 2) == "\xFF\xFE" || start.substr(0, 2) == "\xFE\xFF";
    if (!utf16 && start.find('\0') == std::string_view::npos) return std::nullopt;
    return document_stop("not-utf8",
                         "The file is not text in UTF-8: it begins with bytes that no such text has.",
                         "Save it as UTF-8 from the editor, or choose the right file.", "line 1, column 1");
}

std::string printable(std::string_view text) {
    constexpr std::size_t longest = 60;
    std::string out;
    std::size_t characters = 0;
    for (const char c : text) {
        if (begins_character(c) && ++characters > longest) return out + "...";
        const auto byte = static_cast<unsigned char>(c);
        out += byte < 0x20 || byte == 0x7F ? '.' : c;
    }
    return out;
}

std::string in_quotes(std::string_view text) {
    return "\"" + printable(text) + "\"";
}

}  // namespace spile
