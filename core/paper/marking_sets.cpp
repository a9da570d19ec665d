// Where applied pieces are set, in the running sizes of the piece they go on.
#include "core/paper/marking_plan.h"

namespace spile::paper {
namespace {

/// Places that fix the line: its corners as if they were square; on a curve its middle as well. Of a round one its middle.
std::vector<Vec2> places_of(const Outline& square) {
    std::vector<Vec2> out;
    for (std::size_t k = 0; k < square.size(); ++k) {
        const Edge e = square.edge(k);
        out.push_back(e.a);
        if (!e.straight()) out.push_back(midpoint_of(e));
    }
    return out;
}

}  // namespace

void plan_sets(MarkingPlan& plan, const MarkingOptions& options) {
    plan.sets.clear();
    for (const AppliedPiece* of : options.applied) {
        const AppliedPiece& a = *of;
        const auto to_mark = [&](const Outline& on_piece) {
            return plan.mark_from_side(plan.on_back ? BackFromFace{0}(on_piece) : on_piece);
        };
        PlanSet set;
        set.name = called(a.piece);
        set.words = word_for(a.plan.kind);
        set.on_marked_side = a.plan.on_back == plan.on_back;
        set.line = to_mark(a.set);
        const bool round = a.plan.diameter_mm > 0;
        const auto printed = [&](double mm) { return print_length(mm, plan.lengths); };
        std::vector<Vec2> places = places_of(to_mark(a.square));
        if (round) {
            const Box box = box_of(set.line);
            places = {0.5 * (box.min + box.max)};
            set.radius = printed(box.width() / 2);
        }
        for (std::size_t i = 0; i < places.size(); ++i)
            set.marks.push_back({a.piece.letter + std::to_string(i + 1), places[i], printed(places[i].x),
                                 printed(places[i].y)});
        plan.sets.push_back(std::move(set));
    }
}

}  // namespace spile::paper
