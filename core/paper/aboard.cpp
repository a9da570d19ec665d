#include "core/paper/aboard.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/paper/page_frame.h"

namespace spile::paper {

std::string left_long_words(const Piece& piece, const LengthStyle& lengths) {
    constexpr std::size_t most = 12;  // of more a person reads the drawing
    std::vector<std::string> words;
    std::size_t count = 0;
    for (const EdgeReport& e : piece.edges) {
        if (e.plan.left_long_mm <= 0 || ++count > most) continue;
        words.push_back(joined(e.from, "\u2013", e.to) + " " + length_words(e.plan.left_long_mm, lengths));
    }
    if (count > most) words.push_back(count_of(count - most, "more edge", "more edges"));
    return words.empty() ? "" : list_words(words);
}

std::string square_corners_words(const Piece& piece) {
    const Outline& net = piece.net.outer;
    const std::size_t n = net.size();
    const auto left_long = [&](std::size_t k) {
        const int tag = net.vertices[k % n].tag;
        return tag >= 0 && piece.edges[static_cast<std::size_t>(tag)].plan.left_long_mm > 0;
    };
    for (std::size_t k = 0; k < n; ++k) {
        const Vertex& v = net.vertices[k];
        if (v.tag < 0 && v.bulge > 0 && (left_long(k + n - 1) || left_long(k + 1)))
            return "Corners there are cut square: round them once trimmed.";
    }
    return "";
}

bool is_dry_fitted(const PaperInput& in, const Piece& piece) {
    return in.settings.dry_fit || std::any_of(piece.edges.begin(), piece.edges.end(),
                                              [](const EdgeReport& e) { return e.plan.left_long_mm > 0; });
}

bool any_dry_fitted(const PaperInput& in) {
    return in.settings.dry_fit || std::any_of(in.pieces->begin(), in.pieces->end(),
                                              [&](const Piece& p) { return is_dry_fitted(in, p); });
}

std::string aboard_words(const PaperInput& in, const Piece& piece) {
    if (!is_dry_fitted(in, piece)) return "";
    const std::string left = left_long_words(piece, in.lengths);
    const std::string square = square_corners_words(piece);
    return strong("Dry fit before edging.") +
           (left.empty() ? "" : " Left long, trimmed aboard: " + strong(left) + ".") +
           (square.empty() ? "" : " " + square);
}

std::string aboard_words(const PaperInput& in) {
    if (!any_dry_fitted(in)) return "";
    std::vector<std::string> fitted, left;
    for (const Piece& p : *in.pieces) {
        if (!is_dry_fitted(in, p)) continue;
        const std::string number = called(p), words = left_long_words(p, in.lengths);
        fitted.push_back(number);
        if (!words.empty()) left.push_back(number + ": " + words);
    }
    std::string out = strong("Dry fit before edging") + (fitted.size() == in.pieces->size()
                                                             ? std::string(": every piece.")
                                                             : ": " + list_words(fitted) + ".");
    if (!left.empty()) {
        out += " Left long, trimmed aboard: ";
        for (std::size_t i = 0; i < left.size(); ++i) out += (i ? "; " : "") + strong(left[i]);
        out += ".";
    }
    return out;
}

std::string dry_fit_bar(bool dry_fitted) {
    return dry_fitted ? "dry fit before edging" : "";
}

std::vector<std::string> stud_names(const Piece& piece, bool by_rule) {
    std::vector<std::string> names;
    for (const Stud& s : piece.studs)
        if (s.by_rule == by_rule) names.push_back(s.id);
    return names;
}

std::string post_words(const PaperInput& in, const Piece& piece) {
    if (piece.studs.empty() || !in.goods || !(in.goods->thickness_mm > 0)) return "";
    const double goods = in.goods->thickness_mm;
    // The turn is the face alone; of unknown thickness it is no more than the goods.
    const double face = in.finish && in.finish->face_thickness_mm > 0 ? in.finish->face_thickness_mm : goods;
    LengthStyle fine = in.lengths;
    fine.inch_denominator = std::max(fine.inch_denominator, 32);
    fine.mm_step = std::min(fine.mm_step, 0.5);
    std::string words;
    for (int flaps = 0; flaps <= 4; ++flaps) {
        std::vector<std::string> names;
        for (const Stud& s : piece.studs)
            if (std::min(s.flaps, 4) == flaps) names.push_back(s.id);
        if (names.empty()) continue;
        words += (words.empty() ? "Posts of " : "; of ") + list_words(names) + " through " +
                 strong(length_words(goods + flaps * face, fine)) +
                 (flaps == 0   ? ""
                  : flaps == 1 ? ", a turn lies under"
                               : ", " + std::to_string(flaps) + " turns lie under");
    }
    return words + ".";
}

const char* side_chalked(bool on_back) {
    return on_back ? "THIS SIDE DOWN" : "THIS SIDE UP";
}

}  // namespace spile::paper
