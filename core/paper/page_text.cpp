// Breaking and fitting text.
#include <algorithm>

#include "core/paper/page_frame.h"

namespace spile::paper {
namespace {

constexpr char kStrong = '\x02';
const std::string kEllipsis = "\u2026";

constexpr double kHair = 0.02;  ///< between runs without a space, so that their boxes do not share a line

struct Word {
    std::vector<Run> runs;  ///< x_mm unused
    double width = 0;
};

bool ends_in_figure(const std::string& s) {
    return !s.empty() && s.back() >= '0' && s.back() <= '9';
}
bool starts_with_figure(const std::string& s) {
    return !s.empty() && s.front() >= '0' && s.front() <= '9';
}
std::string plain_of(const std::vector<Run>& runs) {
    std::string out;
    for (const Run& r : runs) out += r.utf8;
    return out;
}

/// "56" before "15⁄16", "3" before "in": read as one.
bool stay_together(const Word& before, const Word& after) {
    const std::string a = plain_of(before.runs), b = plain_of(after.runs);
    if (!ends_in_figure(a)) return false;
    if (starts_with_figure(b) && b.find("\u2044") != std::string::npos) return true;
    const std::string unit = b.substr(0, b.find_first_of(" ,.;:"));
    return unit == "in" || unit == "mm" || unit == "yd" || unit == "m" || unit == "ft" || unit == "min";
}

double width_of(const std::vector<Run>& runs, double size) {
    double w = 0;
    for (const Run& r : runs) w += text_width_mm(r.utf8, size, r.weight);
    return w;
}

/// Bytes of the UTF-8 character at `at`.
std::size_t character_bytes(const std::string& s, std::size_t at) {
    std::size_t n = 1;
    while (at + n < s.size() && (static_cast<unsigned char>(s[at + n]) & 0xC0) == 0x80) ++n;
    return n;
}

/// Words of a marked text, those that stay together joined by their space.
std::vector<Word> words_of(const std::string& text, double size, Weight weight) {
    std::vector<Word> words;
    bool bold = false, open = false;
    const auto current = [&] { return bold ? Weight::semibold : weight; };
    for (std::size_t i = 0; i < text.size();) {
        if (text[i] == kStrong) {
            bold = !bold;
            ++i;
        } else if (text[i] == ' ' || text[i] == '\n' || text[i] == '\t') {
            open = false;
            ++i;
        } else {
            if (!open) words.push_back({});
            open = true;
            Word& w = words.back();
            if (w.runs.empty() || w.runs.back().weight != current()) w.runs.push_back({"", current(), 0});
            const std::size_t n = character_bytes(text, i);
            w.runs.back().utf8.append(text, i, n);
            i += n;
        }
    }
    std::vector<Word> out;
    for (Word& w : words) {
        if (!out.empty() && stay_together(out.back(), w)) {
            Word& last = out.back();
            last.runs.back().utf8 += ' ';
            for (Run& r : w.runs) {
                if (last.runs.back().weight == r.weight)
                    last.runs.back().utf8 += r.utf8;
                else
                    last.runs.push_back(r);
            }
        } else {
            out.push_back(w);
        }
    }
    for (Word& w : out) w.width = width_of(w.runs, size);
    return out;
}

/// A word wider than the line, in parts that fit.
std::vector<Word> broken(const Word& word, double width, double size) {
    std::vector<Word> parts(1);
    for (const Run& run : word.runs) {
        for (std::size_t i = 0; i < run.utf8.size();) {
            const std::size_t n = character_bytes(run.utf8, i);
            Word grown = parts.back();
            if (grown.runs.empty() || grown.runs.back().weight != run.weight)
                grown.runs.push_back({"", run.weight, 0});
            grown.runs.back().utf8.append(run.utf8, i, n);
            grown.width = width_of(grown.runs, size);
            if (grown.width > width && !parts.back().runs.empty()) {
                Word rest{{{run.utf8.substr(i, n), run.weight, 0}}, 0};
                // After the last dash of the line, so that no figure is cut in two.
                Run& last = parts.back().runs.back();
                const std::size_t dash = last.utf8.rfind('-');
                if (dash != std::string::npos && dash + 1 < last.utf8.size() && last.weight == run.weight) {
                    rest.runs[0].utf8.insert(0, last.utf8, dash + 1, std::string::npos);
                    last.utf8.erase(dash + 1);
                    parts.back().width = width_of(parts.back().runs, size);
                }
                rest.width = width_of(rest.runs, size);
                parts.push_back(std::move(rest));
            } else {
                parts.back() = grown;
            }
            i += n;
        }
    }
    return parts;
}

TextLine line_of(const std::vector<Word>& words, double size, double space) {
    // Neighbours of one weight become one run; between weights the gap is a space of white.
    TextLine line;
    for (std::size_t i = 0; i < words.size(); ++i)
        for (std::size_t k = 0; k < words[i].runs.size(); ++k) {
            const Run& run = words[i].runs[k];
            const bool gap = k == 0 && i > 0;
            if (!line.runs.empty() && line.runs.back().weight == run.weight) {
                line.runs.back().utf8 += (gap ? " " : "") + run.utf8;
                const Run& r = line.runs.back();
                line.width_mm = r.x_mm + text_width_mm(r.utf8, size, r.weight);
            } else {
                const double x = line.runs.empty() ? 0 : line.width_mm + (gap ? space : kHair);
                line.runs.push_back({run.utf8, run.weight, x});
                line.width_mm = x + text_width_mm(run.utf8, size, run.weight);
            }
        }
    return line;
}

std::string shortened(std::string text, double width, double size, Weight weight) {
    while (!text.empty() && text_width_mm(text + kEllipsis, size, weight) > width) {
        std::size_t last = text.size() - 1;
        while (last > 0 && (static_cast<unsigned char>(text[last]) & 0xC0) == 0x80) --last;
        text.erase(last);
    }
    while (!text.empty() && text.back() == ' ') text.pop_back();
    return text + kEllipsis;
}

}  // namespace

std::string strong(const std::string& text) {
    return kStrong + text + kStrong;
}

std::vector<TextLine> wrapped(const std::string& text, double width_mm, double size_mm, Weight weight) {
    const double space = text_width_mm(" ", size_mm, weight);
    std::vector<TextLine> lines;
    std::vector<Word> line;
    const auto take = [&](const Word& word) {
        std::vector<Word> longer = line;
        longer.push_back(word);
        if (!line.empty() && line_of(longer, size_mm, space).width_mm > width_mm) {
            lines.push_back(line_of(line, size_mm, space));
            line = {word};
        } else {
            line = longer;
        }
    };
    for (const Word& word : words_of(text, size_mm, weight)) {
        if (word.width <= width_mm) {
            take(word);
        } else {
            for (const Word& part : broken(word, width_mm, size_mm)) take(part);
        }
    }
    lines.push_back(line_of(line, size_mm, space));
    return lines;
}

std::vector<TextLine> wrapped_at_most(const std::string& text, double width_mm, double size_mm,
                                      std::size_t most, Weight weight) {
    std::vector<TextLine> lines = wrapped(text, width_mm, size_mm, weight);
    if (lines.size() <= most) return lines;
    lines.resize(most);
    Run& last = lines.back().runs.back();
    last.utf8 = shortened(last.utf8, width_mm - last.x_mm, size_mm, last.weight);
    lines.back().width_mm = last.x_mm + text_width_mm(last.utf8, size_mm, last.weight);
    return lines;
}

Fitted fitted(const std::string& text, double width_mm, double size_mm, Weight weight, double least_mm) {
    const double width = text_width_mm(text, size_mm, weight);
    if (width <= width_mm) return {text, size_mm};
    const double wanted = size_mm * width_mm / width;
    // Whole hundredths, downwards: no rounding can make it stand out.
    if (wanted >= least_mm) return {text, std::floor(wanted * 100) / 100};
    return {shortened(text, width_mm, least_mm, weight), least_mm};
}

double draw_lines(Canvas& canvas, Vec2 baseline, const std::vector<TextLine>& lines, double size_mm) {
    for (const TextLine& line : lines) {
        for (const Run& run : line.runs)
            canvas.text({baseline.x + run.x_mm, baseline.y}, run.utf8, size_mm, run.weight);
        baseline.y += size_mm * type::line;
    }
    return baseline.y;
}

Box draw_fitted(Canvas& canvas, Vec2 at, const std::string& text, double width_mm, double size_mm,
                Weight weight, Anchor anchor, Ink colour) {
    const Fitted f = fitted(text, width_mm, size_mm, weight);
    return canvas.text(at, f.utf8, f.size_mm, weight, anchor, colour);
}

}  // namespace spile::paper
