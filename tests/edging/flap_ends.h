// What the end of a flap leaves bare beside an edge that is not turned, by place, for the folding oracle.
#pragma once

#include "tests/edging/folding.h"
#include "tests/edging/polygons.h"

namespace spile::testing_folds {

struct Corner {
    P at, back, ahead;            // unit, along the edge before it and the edge after it
    double cosine = 0, turn = 0;  // of the angle between back and ahead; sine of the turn
};

struct FlapEndAt {
    const Corner& corner;
    const Side &fold, &beside;
    bool starts = false;  // the fold starts at the corner, else it ends there

    P along() const { return starts ? corner.ahead : corner.back; }
    P out() const { return starts ? right(corner.ahead) : right(-1.0 * corner.back); }
    /// `far` along the fold from the corner, `in` square to it in the panel.
    P inside(double far, double in) const {
        const double share = far / fold.length(), t = starts ? share : 1 - share;
        return fold.at(t) - in * fold.out(t);
    }
};

/// An end clear of the edge beside it at an inside corner: it leads away from it, and the knife needs room at the cut.
inline Poly clear_of_inside(const FlapEndAt& end, double cot, const FoldWants& w) {
    const double far = (w.least_mm + w.thick_mm) * cot + w.trim_mm * std::sqrt(1 + cot * cot) + 0.1;
    return {end.inside(0, 0), end.inside(far, 0), end.inside(far, w.least_mm), end.inside(0, w.least_mm)};
}

/// T of a flap lies round the edge of the backing: its end lies T cot(a) short of where the edge beside a sharp corner is cut,
/// which for a bound one is g inside the net line.
inline Poly short_of_sharp(const FlapEndAt& end, double cot, bool bound, const FoldWants& w) {
    const double far = w.thick_mm * cot + (bound ? w.growth_mm / end.corner.turn : 0) + 0.1;
    return {end.inside(0, 0), end.inside(far, 0), end.inside(far + w.least_mm * cot, w.least_mm),
            end.inside(0, w.least_mm)};
}

/// The cut of a bound edge meets the net line of a turned one g / sin(a) short of the corner: the flap ends there.
inline Poly beside_bound(const FlapEndAt& end, const FoldWants& w) {
    const P at = end.corner.at, to = at + (1.1 * w.growth_mm / end.corner.turn + 0.3) * end.along(),
            in = -w.least_mm * end.out();
    return {at, to, to + in, at + in};
}

/// Beside a straight edge a flap ends along that edge prolonged, where this takes no more than a facet of it at its cut: at
/// a depth of s it is s tan(a - 90 degrees) short of the end of its edge.
inline Poly beside_prolonged(const FlapEndAt& end, const FoldWants& w) {
    const double slope = -end.corner.cosine / end.corner.turn;
    if (slope <= 0 || slope * w.turn_mm > w.facet_mm) return {};
    const double curve = end.fold.bulge == 0 ? 0 : (end.fold.bulge < 0 ? 1 : -1) / end.fold.radius;
    Poly poly;
    constexpr int steps = 8;
    for (int i = 0; i <= steps; ++i) {
        // What lies s outside an arc is folded to the same ray.
        const double in = w.least_mm * i / steps, deep = in + w.thick_mm;
        poly.push_back(end.inside(deep * slope / std::max(0.1, 1 - deep * curve) + 0.05, in));
    }
    poly.push_back(end.inside(0, w.least_mm));
    poly.push_back(end.inside(0, 0));
    return poly;
}

/// The end of a flap is straight: it runs as an inside curve beside it begins, not along the curve.
inline Poly beside_hollow(const FlapEndAt& end, const FoldWants& w) {
    if (end.beside.bulge >= 0 || end.corner.cosine <= 0) return {};
    const double x = 1.1 * w.least_mm / end.corner.turn;
    Poly poly{end.corner.at + x * (end.starts ? end.corner.back : end.corner.ahead)};
    constexpr int steps = 8;
    for (int i = steps; i >= 0; --i) {
        const double share = x * i / steps / end.beside.length();
        poly.push_back(end.beside.at(end.starts ? 1 - share : share));
    }
    return poly;
}

/// What may be bare at a corner.
inline std::vector<Poly> bare_at_corner(const FlapEndAt& end, bool bound, const FoldWants& w) {
    const double cosine = end.corner.cosine;
    const double cot = cosine > 0 ? cosine / std::sqrt(1 - cosine * cosine) : 0;
    if (end.corner.turn < 0) return {clear_of_inside(end, cot, w)};
    std::vector<Poly> all;
    if (cot > 0 && w.thick_mm > 0) all.push_back(short_of_sharp(end, cot, bound, w));
    if (bound) all.push_back(beside_bound(end, w));
    Poly straight = end.beside.bulge == 0 ? beside_prolonged(end, w) : beside_hollow(end, w);
    if (!straight.empty()) all.push_back(std::move(straight));
    return all;
}

/// The cut of a bound inside curve of radius R, moved in by g, meets the net line of a turned edge that runs on into it
/// sqrt((R + g)^2 - R^2) short of where the curve begins: the flap ends there.
inline std::vector<Poly> bare_run_on(const FlapEndAt& end, bool bound, const FoldWants& w) {
    if (!bound || end.beside.bulge >= 0) return {};
    const double x = std::sqrt((2 * end.beside.radius + w.growth_mm) * w.growth_mm) + 0.1;
    const P at = end.corner.at, to = at + x * end.along(), in = -w.least_mm * end.out();
    return {{at, to, to + in, at + in}};
}

}  // namespace spile::testing_folds
