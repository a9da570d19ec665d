// HP-GL replayed by a reader of its own, which knows no drawing and draws arcs by turning about the centre.
#include "export/hpgl/hpgl.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <sstream>

#include "core/geom/measure_of.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

using ::testing::Contains;
using ::testing::Each;
using ::testing::HasSubstr;
using ::testing::SizeIs;

struct Stroke {
    int pen = 0;
    std::vector<Vec2> points;  ///< mm
};

struct Replay {
    std::vector<Stroke> strokes;
    std::vector<std::string> labels;
    long long largest = 0;  ///< coordinate
    int arcs = 0;
};

Replay replay(const std::string& hpgl, Vec2 origin = {0, 0}) {
    Replay out;
    int pen = 0;
    bool down = false;
    Vec2 at;  // units
    const auto mm = [&](Vec2 units) { return origin + units / 40; };
    const auto go = [&](Vec2 to) {
        if (down) out.strokes.back().points.push_back(mm(to));
        at = to;
        out.largest = std::max({out.largest, std::llabs(std::llround(to.x)), std::llabs(std::llround(to.y))});
    };
    for (std::size_t i = 0; i < hpgl.size();) {
        if (hpgl[i] == '\n' || hpgl[i] == ';') {
            ++i;
            continue;
        }
        const std::string command = hpgl.substr(i, 2);
        const std::size_t end = hpgl.find(command == "LB" ? '\x03' : ';', i);
        std::string arguments = hpgl.substr(i + 2, end - i - 2);
        i = end + 1;
        if (command == "LB") {
            out.labels.push_back(arguments);
            continue;
        }
        std::vector<double> n;
        std::istringstream in(arguments);
        for (std::string word; std::getline(in, word, ',');) n.push_back(std::stod(word));
        if (command == "SP") {
            pen = static_cast<int>(n.at(0));
        } else if (command == "PU" || command == "PD") {
            const bool now = command == "PD";
            if (now && !down) out.strokes.push_back({pen, {mm(at)}});
            down = now;
            for (std::size_t k = 0; k + 1 < n.size(); k += 2) go({n[k], n[k + 1]});
        } else if (command == "AA") {
            ++out.arcs;
            const Vec2 centre = {n.at(0), n.at(1)};
            out.largest = std::max(
                {out.largest, std::llabs(std::llround(centre.x)), std::llabs(std::llround(centre.y))});
            const Vec2 spoke = at - centre;
            const int chords = static_cast<int>(std::ceil(std::fabs(n.at(2)) / n.at(3)));
            for (int k = 1; k <= chords; ++k) {
                const double turn = n[2] * M_PI / 180 * k / chords;
                go(centre + Vec2{std::cos(turn) * spoke.x - std::sin(turn) * spoke.y,
                                 std::sin(turn) * spoke.x + std::cos(turn) * spoke.y});
            }
        } else {
            EXPECT_THAT((std::vector<std::string>{"IN", "PA", "SI", "LO"}), Contains(command));
        }
    }
    return out;
}

double area(const std::vector<Vec2>& points) {
    double twice = 0;
    for (std::size_t i = 0; i < points.size(); ++i)
        twice += cross(points[i], points[(i + 1) % points.size()]);
    return twice / 2;
}

std::vector<Stroke> of_pen(const Replay& replay, int pen) {
    std::vector<Stroke> strokes;
    for (const Stroke& s : replay.strokes)
        if (s.pen == pen) strokes.push_back(s);
    return strokes;
}

/// Largest distance of a stroke's points and their chords' middles from an outline.
double farthest(const Stroke& stroke, const Outline& outline) {
    double worst = 0;
    for (std::size_t i = 0; i < stroke.points.size(); ++i) {
        worst = std::max(worst, nearest_on(outline, stroke.points[i]).distance);
        if (i > 0)
            worst = std::max(worst,
                             nearest_on(outline, lerp(stroke.points[i - 1], stroke.points[i], 0.5)).distance);
    }
    return worst;
}

TEST(Hpgl, DrawsThePieceWithinTheBound) {
    const Piece piece = sample::piece();
    const auto strips = *hpgl_strips(machine_drawing(piece, SeenFrom::face), HpglRange::wide);
    ASSERT_THAT(strips, SizeIs(1));
    for (const char c : strips[0]) ASSERT_TRUE(c == '\n' || c == '\x03' || (c >= ' ' && c < 0x7F));
    const Replay seen = replay(strips[0]);
    EXPECT_GT(seen.arcs, 3);
    const auto cuts = of_pen(seen, 6);
    ASSERT_THAT(cuts, SizeIs(2));
    EXPECT_LE(farthest(cuts[0], piece.cut.face.holes[0]), hpgl_error_mm);
    EXPECT_LE(farthest(cuts[1], piece.cut.face.outer), hpgl_error_mm);
    EXPECT_NEAR(area(cuts[1].points), area_mm2(piece.cut.face.outer),
                hpgl_error_mm * length_mm(piece.cut.face.outer));
    EXPECT_LT(distance(cuts[1].points.front(), cuts[1].points.back()), 1e-9);
    EXPECT_THAT(of_pen(seen, 4), SizeIs(8));  // slits
    EXPECT_THAT(seen.labels, Contains("round the post"));
    EXPECT_THAT(seen.labels, Contains("FACE"));
}

TEST(Hpgl, ShowsTheSideItNames) {
    const auto turn = [](SeenFrom side) {
        const Replay seen =
            replay((*hpgl_strips(machine_drawing(sample::piece(), side), HpglRange::wide))[0]);
        return area(of_pen(seen, 2)[0].points);  // from flag to head
    };
    EXPECT_GT(turn(SeenFrom::face), 0);
    EXPECT_LT(turn(SeenFrom::back), 0);
}

TEST(Hpgl, StripsForSixteenBitsFitAndJoin) {
    const Piece piece = sample::piece();
    const MachineDrawing drawing = machine_drawing(piece, SeenFrom::face);
    const auto strips = *hpgl_strips(drawing, HpglRange::sixteen_bit);
    ASSERT_THAT(strips, SizeIs(2));  // 850 mm
    double length = 0;
    for (std::size_t k = 0; k < strips.size(); ++k) {
        const Replay seen = replay(strips[k], {static_cast<double>(k) * hpgl_strip_mm, 0});
        EXPECT_LE(seen.largest, 32767);
        for (const Stroke& s : of_pen(seen, 6)) {
            const double off =
                std::min(farthest(s, piece.cut.face.outer), farthest(s, piece.cut.face.holes[0]));
            EXPECT_LE(off, hpgl_error_mm);
            for (std::size_t i = 1; i < s.points.size(); ++i)
                length += distance(s.points[i - 1], s.points[i]);
        }
    }
    EXPECT_NEAR(length, length_mm(piece.cut.face.outer) + length_mm(piece.cut.face.holes[0]), 0.5);
}

TEST(Hpgl, AnArcAcrossSeveralStripsStaysWhole) {
    MachineDrawing drawing;
    const Outline wheel = circle({1500, 400}, 390);
    const Edge sweep = {{0, 100}, {3000, 100}, -0.1, 0};  // centre far out of range
    drawing.lines = {{Purpose::cut_through, "1", "wheel", true, wheel.vertices},
                     {Purpose::slits, "1", "sweep", false, {{sweep.a, sweep.bulge, 0}, {sweep.b, 0, 0}}}};
    drawing.box.add(Vec2{0, 0});
    drawing.box.add(Vec2{3000, 800});
    const auto strips = *hpgl_strips(drawing, HpglRange::sixteen_bit);
    ASSERT_THAT(strips, SizeIs(4));
    double around = 0, along = 0;
    for (std::size_t k = 0; k < strips.size(); ++k) {
        const Replay seen = replay(strips[k], {static_cast<double>(k) * hpgl_strip_mm, 0});
        EXPECT_LE(seen.largest, 32767);
        for (const Stroke& s : seen.strokes)
            for (std::size_t i = 1; i < s.points.size(); ++i)
                (s.pen == 6 ? around : along) += distance(s.points[i - 1], s.points[i]);
        for (const Stroke& s : of_pen(seen, 6)) EXPECT_LE(farthest(s, wheel), hpgl_error_mm);
    }
    EXPECT_NEAR(around, 2 * M_PI * 390, 0.5);
    EXPECT_NEAR(along, length_of(sweep), 0.5);
}

TEST(Hpgl, TooWideForSixteenBitsIsSaid) {
    MachineDrawing drawing;
    drawing.title = "roll, 2 pieces, face";
    drawing.box.add(Vec2{0, 0});
    drawing.box.add(Vec2{3000, 1800});
    const auto result = hpgl_strips(drawing, HpglRange::sixteen_bit);
    ASSERT_FALSE(result);
    EXPECT_EQ(result.findings.at(0).code, "too-wide-for-plotter");
    EXPECT_THAT(result.findings.at(0).says, HasSubstr("1800 mm wide"));
    EXPECT_TRUE(hpgl_strips(drawing, HpglRange::wide));
}

}  // namespace
}  // namespace spile
