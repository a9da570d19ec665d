// The flaps of turned edges: how wide each is, how its ends lie at the corners, and in which order they are folded.
#pragma once

#include <vector>

#include "core/shape/panel.h"

namespace spile {

/// How a flap ends at a corner. At depth s outside its fold the end lies `trim_mm + s * cot` short of the corner, measured
/// back along the fold; folded, it lies as much short of it inside.
struct FlapEnd {
    double cot = 0;
    double trim_mm = 0;
};

struct Flap {
    double turn_mm = 0;  ///< 0: the edge is not turned
    int round = 0;       ///< 1, 2, ...: in which it is folded; 0 when it is not turned
    FlapEnd start, end;
};

/// A vertex of the net outline, between edge `after` - 1 and edge `after`.
struct FlapCorner {
    std::size_t before = 0, after = 0;
    Vec2 at;
    Vec2 back, ahead;            ///< unit, from the corner along the edge before it and the edge after it
    Vec2 out_before, out_after;  ///< unit, square to the two edges, away from the panel
    double cos_corner = 0;       ///< of the angle between back and ahead
    bool inside = false;         ///< the panel has more than half a turn there
    bool runs_on = false;        ///< the two edges turn so little that one fold serves both

    Vec2 outward() const;     ///< unit, half-way between the two edges
    double cos_half() const;  ///< of half the angle between back and ahead
    double sin_half() const;
};

struct FlapPlan {
    std::vector<Flap> flaps;          ///< by edge of the net outline
    std::vector<FlapCorner> corners;  ///< by the edge after it
    std::vector<Finish> finishes;
    std::vector<bool> aboard;  ///< edges left long: they are trimmed and folded aboard

    bool both_turned(const FlapCorner& corner) const {
        return flaps[corner.before].turn_mm > 0 && flaps[corner.after].turn_mm > 0;
    }
};

/// Goods at the root of a slit stretch by 2 m / (R - m). A post hole of common practice (R 1 1/4 in, m 1/4 in) takes 1/2.
inline constexpr double most_stretch = 0.6;

/// Longest stretch of a fold of this radius between two relief cuts: the chord w stands off its arc by w^2 / 8 R.
double relief_pitch_mm(double radius_mm, double facet_mm);

/// The direction, away from a corner, of the fold beside it as the angle at which its flap ends must see it. The first tab of an
/// outside curve, half a pitch long, folds on its chord: an end at e to the curve comes back at e + 2 (curve to chord) to it, as
/// if the edge began by so much nearer the one beside it.
Vec2 along_first_tab(const Edge& fold, bool from_start, const FinishSettings& settings);

/// Flap that a stitch needs to hold: as much beyond it as before it.
double least_flap_mm(const FinishSettings& settings);

/// How far the face is cut outside each edge of a net outline for its flap; 0 where it is not turned. An outside curve whose
/// radius R is not larger than the turn takes half of it, so that half of the flap is left between its notches, but no
/// less than a stitch needs while that is within R.
std::vector<double> turns_along(const Outline& net, const std::vector<Finish>& finishes,
                                const FinishSettings& settings);

/// Flaps of a net outline with tags as in Panel. The ends of a flap are such that, folded, it lies inside the two edges
/// beside it: at a corner of angle a its end runs at min(a, 90 degrees) to the fold, or a/2 where mitred; at an inside
/// corner both flaps share the goods outside it by halves. Sides between corners are folded by turns, first every second
/// one beginning with the longest; where their number is odd the last lies over both its neighbours.
FlapPlan plan_flaps(const Outline& net, const std::vector<EdgePlan>& edges, const FinishSettings& settings);

}  // namespace spile
