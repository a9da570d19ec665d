// Placing labels so that no text touches another or leaves its area.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "core/geom/outline.h"
#include "core/paper/display_list.h"

namespace spile::paper {

bool overlap(const Box& a, const Box& b);  ///< they share more than an edge
bool within(const Box& inner, const Box& outer);
Box grown(const Box& box, double by);
/// The straight stretch a-b passes through the inside of the box.
bool crosses(Vec2 a, Vec2 b, const Box& box);

/// Remembers what stands where in one area of a page, and finds room.
/// Guarantees: a box it gives away lies within the area and overlaps no box kept off or given before, and crosses no
/// line kept off; leaders it gives cross no such box. When there is no such room it says so (the caller then leaves
/// the text to a table). Deterministic: ties go to the earlier candidate.
class LabelField {
  public:
    explicit LabelField(const Box& area) : area_(area) {}

    void keep_off(const Box& box) { boxes_.push_back(box); }
    void keep_off(Vec2 a, Vec2 b) { lines_.push_back({a, b, 0}); }
    /// A chain in page space, in straight stretches within 0.3 mm.
    void keep_off(const Outline& chain);
    void keep_off(const Path& chain);
    /// Text may cross it, at a cost in mm of distance.
    void disturb(Vec2 a, Vec2 b, double cost) { lines_.push_back({a, b, cost}); }

    struct Ask {
        double width = 0, height = 0;               ///< of the box
        Vec2 at;                                    ///< what it names
        Vec2 prefer{0, -1};                         ///< direction it would rather stand in, unit
        double near_mm = 1.5;                       ///< gap between `at` and the box
        double reach_mm = 30;                       ///< largest gap
        double leader_from_mm = 4;                  ///< a leader is drawn when the gap is larger
        std::function<bool(const Box&)> allowed{};  ///< further condition; may be empty
        double stop_mm = 0;  ///< gaps count, and leaders end, this far from `at`: the radius of a hole
    };
    struct Placed {
        Box box;
        bool leader = false;
        Vec2 from, to;  ///< leader: from the box to the thing
    };
    /// The cheapest place among rings of candidates about `at`; kept off from then on, with its leader.
    std::optional<Placed> place(const Ask& ask);

    /// The cheapest place for a box (distance of its centre from `wanted`, and what it disturbs), on a grid of
    /// `step_mm` as far as `reach_mm`.
    std::optional<Box> place_near(double width, double height, Vec2 wanted, double step_mm,
                                  const std::function<bool(const Box&)>& allowed, double reach_mm = 1e9);

    bool free(const Box& box)
        const;  ///< within the area, off every box and line kept off, with `clear_mm` between boxes
    static constexpr double clear_mm = 0.5;
    const Box& area() const { return area_; }

  private:
    struct Line {
        Vec2 a, b;
        double cost;  ///< 0: never crossed
    };
    double cost_of(const Box& box) const;
    bool leader_free(Vec2 a, Vec2 b) const;

    Box area_;
    std::vector<Box> boxes_;
    std::vector<Line> lines_;
};

/// Places intervals of the given sizes in a row, in order, each as near to its wanted middle as the others allow (least
/// squares), `gap` apart, within [low, high]. Empty when they do not fit.
struct Interval {
    double wanted = 0;  ///< middle; ascending
    double size = 0;
};
std::optional<std::vector<double>> spread(const std::vector<Interval>& intervals, double gap, double low,
                                          double high);

/// Faults of a finished page: texts that overlap one another or leave the page. Empty for every page of this room.
struct TextFault {
    std::string text, other;  ///< `other` empty: `text` leaves the page
};
std::vector<TextFault> text_faults(const Page& page);

}  // namespace spile::paper
