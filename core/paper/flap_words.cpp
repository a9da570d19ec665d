#include "core/paper/flap_words.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/paper/page_frame.h"

namespace spile::paper {
namespace {

using Kind = FlapCut::Kind;

/// Where cuts of a kind are, each place once, in order.
std::vector<std::string> places(const Piece& piece, Kind kind) {
    std::vector<std::string> out;
    for (const FlapCut& cut : piece.flap_cuts)
        if (cut.kind == kind && std::find(out.begin(), out.end(), cut.at) == out.end()) out.push_back(cut.at);
    return out;
}

std::size_t count_at(const Piece& piece, Kind kind, const std::string& at) {
    return static_cast<std::size_t>(
        std::count_if(piece.flap_cuts.begin(), piece.flap_cuts.end(),
                      [&](const FlapCut& c) { return c.kind == kind && c.at == at; }));
}

/// The edge of a piece by the name a flap cut carries; null for a corner.
const EdgeReport* edge_of(const Piece& piece, const std::string& at) {
    for (const EdgeReport& e : piece.edges)
        if (e.from + " " + e.to == at || e.to + " " + e.from == at) return &e;
    return nullptr;
}

/// What lies beyond the stitches of the widest flap, where that is more than lies before them twice over; else 0.
double loose_mm(const PaperInput& in, const Piece& piece) {
    if (!in.finish) return 0;
    double widest = 0;
    for (const EdgeReport& e : piece.edges) widest = std::max(widest, e.turn_mm);
    const double stitch = in.finish->stitch_from_edge_mm;
    const double loose = widest - in.finish->backing_thickness_mm - stitch;
    return loose > 2 * stitch ? loose : 0;
}

}  // namespace

std::string flap_cut_words(const PaperInput& in, const Piece& piece) {
    std::vector<std::string> parts;
    const auto corners = [&](Kind kind, const char* one, const char* more) {
        const std::vector<std::string> at = places(piece, kind);
        if (!at.empty()) parts.push_back((at.size() == 1 ? one : more) + strong(list_words(at)));
    };
    corners(Kind::corner_notch, "notch corner ", "notch corners ");
    corners(Kind::corner_slit, "slit inside corner ", "slit inside corners ");
    for (const Kind kind : {Kind::notch, Kind::slit})
        for (const std::string& at : places(piece, kind)) {
            const std::size_t n = count_at(piece, kind, at);
            const EdgeReport* edge = edge_of(piece, at);
            std::string words =
                kind == Kind::notch ? count_of(n, "notch", "notches") : count_of(n, "slit", "slits");
            words += (edge ? " along " : " round ") + strong(at);
            if (edge && n > 1 && edge->relief_pitch_mm > 0)
                words += ", about " + length_words(edge->relief_pitch_mm, in.lengths) + " apart";
            parts.push_back(words);
        }
    std::string all;
    for (const std::string& part : parts) all += (all.empty() ? "" : "; ") + part;
    return all;
}

std::string finished_words(const HoleReport& hole, const LengthStyle& lengths) {
    if (hole.round) return length_words(hole.net_diameter_mm, lengths) + " across";
    return length_words(hole.along_mm, lengths) + " x " + length_words(hole.across_mm, lengths);
}

std::vector<std::string> turning_steps(const PaperInput& in, const Piece& piece) {
    std::vector<std::string> rounds;
    for (const EdgeReport& e : piece.edges) {
        if (e.plan.finish != Finish::turned) continue;
        const auto round = static_cast<std::size_t>(std::max(1, e.turn_round));
        if (rounds.size() < round) rounds.resize(round);
        std::string& words = rounds[round - 1];
        words += (words.empty() ? "" : ", ") + joined(e.from, "\u2013", e.to);
    }
    if (rounds.empty()) return {};
    std::vector<std::string> steps;
    const std::string cuts = flap_cut_words(in, piece);
    std::string order;
    for (const std::string& words : rounds) {
        if (words.empty()) continue;
        order += (order.empty() ? "Turned: tape, fold and sew " : "; then ") + strong(words);
    }
    if (rounds.size() > 1 && !piece.flap_cuts.empty())
        order += ". Each corner is notched before its second edge is folded";
    steps.push_back(order + ".");
    if (!cuts.empty())
        steps.push_back("In the flaps: " + cuts + ". Each cut stops " +
                        strong(length_words(piece.cut_margin_mm, in.lengths)) + " outside the fold.");
    if (piece.tape_from_edge_mm > 0)
        steps.push_back("Tape under the flaps " + strong(length_words(piece.tape_from_edge_mm, in.lengths)) +
                        " from the finished edge. Stitches start and end inside the notches, reversed.");
    const double loose = loose_mm(in, piece);
    if (loose > 0)
        steps.push_back("Beyond the stitches " + strong(length_words(loose, in.lengths)) +
                        " of flap hangs loose but for the tape: press it down all along, or sew a second "
                        "seam near its end.");
    return steps;
}

}  // namespace spile::paper
