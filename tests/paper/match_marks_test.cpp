// Match marks as drawn on the marking sheets: chalked there, cut and laid in the boat, those of two neighbours are one line.
#include <gtest/gtest.h>

#include <algorithm>
#include <complex>

#include "core/paper/sheets.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

using Complex = std::complex<double>;

constexpr double kStroke_mm =
    0.6;  ///< width in which match marks are drawn, and nothing else on a marking sheet
constexpr double kMicron = 1e-3;

/// As seen: y up.
Complex seen(Vec2 page) {
    return {page.x, -page.y};
}

/// Boat from what is seen on a page: turned, enlarged, moved; as it is or mirrored.
struct BoatFromPage {
    bool mirrored = false;
    Complex grow, move;
    double worst_mm = HUGE_VAL;

    Complex operator()(Complex at) const { return grow * (mirrored ? std::conj(at) : at) + move; }
};

/// Least squares over pairs of points in the order given.
BoatFromPage fitted(std::vector<Complex> page, const std::vector<Complex>& boat, bool mirrored) {
    if (mirrored)
        for (Complex& p : page) p = std::conj(p);
    Complex page_middle, boat_middle, top;
    double below = 0;
    for (std::size_t i = 0; i < page.size(); ++i) {
        page_middle += page[i] / static_cast<double>(page.size());
        boat_middle += boat[i] / static_cast<double>(page.size());
    }
    for (std::size_t i = 0; i < page.size(); ++i) {
        top += (boat[i] - boat_middle) * std::conj(page[i] - page_middle);
        below += std::norm(page[i] - page_middle);
    }
    BoatFromPage fit{mirrored, top / below, boat_middle - top / below * page_middle, 0};
    for (std::size_t i = 0; i < page.size(); ++i)
        fit.worst_mm = std::max(fit.worst_mm, std::abs(fit.grow * page[i] + fit.move - boat[i]));
    return fit;
}

/// What lays the cut line drawn on a page onto that of the piece in the boat; either hand.
BoatFromPage laid(const Page& page, const Piece& piece, bool mirrored) {
    std::vector<Complex> boat;
    for (const Vertex& v : inverse(piece.piece_from_boat)(piece.cut.face.outer).vertices)
        boat.push_back({v.p.x, v.p.y});
    BoatFromPage best;
    for (const Item& item : page.items) {
        const Shape* shape = std::get_if<Shape>(&item);
        if (!shape) continue;
        for (const Outline& drawn : shape->closed) {
            if (drawn.size() != boat.size()) continue;
            std::vector<Complex> corners;
            for (const Vertex& v : drawn.vertices) corners.push_back(seen(v.p));
            for (const bool back : {false, true}) {
                if (back) std::reverse(corners.begin(), corners.end());
                for (std::size_t i = 0; i < corners.size(); ++i) {
                    const BoatFromPage fit = fitted(corners, boat, mirrored);
                    if (fit.worst_mm < best.worst_mm) best = fit;
                    std::rotate(corners.begin(), corners.begin() + 1, corners.end());
                }
            }
        }
    }
    return best;
}

/// Both ends of every match mark on a page, the one at the cut line first.
std::vector<std::pair<Complex, Complex>> marks_on(const Page& page) {
    std::vector<std::pair<Complex, Complex>> marks;
    for (const Item& item : page.items) {
        const Shape* shape = std::get_if<Shape>(&item);
        if (!shape || !shape->stroked || shape->stroke.width_mm != kStroke_mm) continue;
        for (const Path& path : shape->open)
            marks.push_back({seen(path.vertices.front().p), seen(path.vertices.back().p)});
    }
    return marks;
}

/// Two panels either side of a slanting joint, no side as long as another.
std::vector<Panel> neighbours() {
    const Survey survey = survey_of({{"A", {0, 0}},
                                     {"B", {900, 0}},
                                     {"C", {2000, 130}},
                                     {"D", {1900, 1700}},
                                     {"E", {980, 1800}},
                                     {"F", {60, 1500}}});
    std::vector<PanelInput> two{panel_of({"A", "B", "E", "F"}, Finish::turned, 4),
                                panel_of({"B", "C", "D", "E"}, Finish::bound, 4)};
    two[1].id = "2";
    for (PanelInput& p : two)
        for (EdgePlan& e : p.edges) {
            if (e.from + e.to != "BE" && e.from + e.to != "EB") continue;
            e.situation = Situation::joint;
            e.clearance_mm = 0.8;
        }
    return *shaped(two, survey);
}

TEST(MatchMarksOnPaper, DrawnForTheBackTheyMeetInTheBoatOnlyWhenItIsMirrored) {
    const std::vector<Panel> panels = neighbours();
    const FinishSettings finish;
    const Goods goods;
    const auto pieces = edge_pieces(panels, finish, RunContext{});
    ASSERT_TRUE(pieces && pieces->size() == 2) << codes(pieces.findings);
    for (const bool on_back : {true, false}) {
        PaperInput in;
        in.lengths = {Unit::mm};
        in.bench_paper = a4();
        in.mark_on_back = on_back;
        in.goods = &goods;
        in.finish = &finish;
        in.panels = &panels;
        in.pieces = &*pieces;
        const std::vector<MatchMark>& lines = panels[0].match_marks;
        ASSERT_EQ(lines.size(), 2u);
        for (const Piece& piece : *pieces) {
            const Page page = marking_sheet(in, piece).pages.front();
            const BoatFromPage boat = laid(page, piece, on_back);
            ASSERT_LT(boat.worst_mm, kMicron) << piece.id;
            EXPECT_GT(laid(page, piece, !on_back).worst_mm, 10) << "either hand would do";
            const auto marks = marks_on(page);
            ASSERT_EQ(marks.size(), lines.size());
            for (std::size_t i = 0; i < marks.size(); ++i) {
                // Both panels' marks lie on the line square to the joint that the panels share.
                double nearest = HUGE_VAL;
                for (const MatchMark& line : lines) {
                    double off = 0;
                    for (const Complex at : {boat(marks[i].first), boat(marks[i].second)})
                        off = std::fmax(
                            off, std::fabs(cross(line.inward, Vec2{at.real(), at.imag()} - line.at_mm)));
                    nearest = std::fmin(nearest, off);
                }
                EXPECT_LT(nearest, kMicron) << piece.id << (on_back ? " back" : " face");
                EXPECT_GT(std::abs(boat(marks[i].second) - boat(marks[i].first)), 10);
            }
        }
    }
}

}  // namespace
}  // namespace spile
