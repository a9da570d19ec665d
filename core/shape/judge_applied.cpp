// Applied pieces against everything else of their panel.
#include <algorithm>
#include <cmath>
#include <functional>

#include "core/geom/measure_of.h"
#include "core/shape/applied.h"
#include "core/shape/applied_lines.h"

namespace spile {
namespace {

/// From the middle of a snap to what lies beside it: cap or socket, and the tool (common practice, no source).
constexpr double kSnapReach_mm = 25.4 / 2;
/// An edge of goods nearer to a walked-over edge than this is a lip there (common practice, no source).
constexpr double kLipReach_mm = 25.4;
/// How often a share is halved upon: 2^-12 of a size is finer than a tape reads.
constexpr int kHalvings = 12;

class Judge {
  public:
    Judge(const Panel& panel, const AppliedPlan& applied, const FinishSettings& finish, Reporter& report)
        : panel_(panel), a_(applied), finish_(finish), report_(report) {}

    void run() {
        const Region& net = panel_.net_line.region;
        const bool inside = !outside(net.outer);
        for (const Outline& hole : net.holes) over_opening(hole);
        if (inside) {
            bindings();
            flaps();
            lips();
        }
        for (const Stud& s : panel_.studs) over_snap(s);
        for (const AppliedPlan& other : panel_.applied) {
            if (&other == &a_) break;
            over_other(other);
        }
    }

  private:
    void add(const char* code, Severity severity, std::vector<Quantity> numbers, std::string says,
             std::string to_do) {
        report_.add(code, severity, "applied", a_.id, std::move(numbers),
                    applied_words(a_, report_) + " " + std::move(says), std::move(to_do));
    }

    /// How a piece that meets `does` can be had at its place: narrower for a strip, smaller for others.
    std::pair<double, std::string> smaller(const std::function<bool(const Outline&)>& does) {
        double good = 0, bad = 1;
        const Box box = box_of(a_.set);
        const bool strip = !a_.from.empty();
        const auto at = [&](double share) {
            if (!strip) return scaled(a_.set, 0.5 * (box.min + box.max), share);
            const double near = a_.from_edge_mm.value_or(0);
            std::size_t i = 0;
            while (i + 1 < panel_.edges.size() && !along(panel_.edges[i])) ++i;
            double length = 0;
            for (std::size_t k = 0; k < panel_.net_line.unrounded.size(); ++k)
                if (panel_.net_line.unrounded.vertices[k].tag == static_cast<int>(i))
                    length += length_of(panel_.net_line.unrounded.edge(k));
            const double start = a_.start_mm.value_or(0), end = start + a_.length_mm;
            const bool forward = panel_.edges[i].from == a_.from;
            return strip_along(panel_, i, near, near + share * a_.width_mm, forward ? start : length - end,
                               forward ? end : length - start);
        };
        for (int i = 0; i < kHalvings; ++i) {
            const double mid = (good + bad) / 2;
            const Outline tried = at(mid);
            (!tried.empty() && does(tried) ? good : bad) = mid;
        }
        if (good <= 0) return {0, ""};
        if (strip) return {good * a_.width_mm, report_.said_at_most(good * a_.width_mm) + " wide"};
        if (a_.diameter_mm > 0)
            return {good * a_.diameter_mm, report_.said_at_most(good * a_.diameter_mm) + " across"};
        if (!a_.outline.empty())
            return {good * box.width(), "no more than " + std::to_string(int(good * 100)) + " % of its size"};
        return {good * a_.length_mm,
                report_.said_at_most(good * a_.length_mm) + " x " + report_.said_at_most(good * a_.width_mm)};
    }

    bool along(const EdgePlan& e) const {
        return (e.from == a_.from && e.to == a_.to) || (e.from == a_.to && e.to == a_.from);
    }

    /// Whether it is.
    bool outside(const Outline& outer) {
        const double mm = lies_beyond_mm(outer, a_.set);
        if (mm <= noise_mm(box_of(outer))) return false;
        const auto [workable, words] = smaller([&](const Outline& o) { return !reaches_beyond(outer, o); });
        std::vector<Quantity> numbers{{"outside", mm, "mm"}, {"limit", 0, "mm"}};
        if (workable > 0) numbers.push_back({"workable", workable, "mm"});
        add("applied-outside", Severity::stop, std::move(numbers),
            "reaches " + report_.said(mm) + " past the finished edge.",
            workable > 0 ? "Move it in by that much, or make it " + words + " at its place."
                         : "Move it onto the panel.");
        return true;
    }

    void over_opening(const Outline& hole) {
        const OpeningPlan& o = panel_.openings[static_cast<std::size_t>(-2 - hole.vertices.front().tag)];
        const double mm = lies_beyond_mm(hole, a_.set);
        if (mm > 0) {
            const auto [workable, words] = smaller([&](const Outline& x) { return !share_ground(hole, x); });
            std::vector<Quantity> numbers{{"over", mm, "mm"}, {"limit", 0, "mm"}};
            if (workable > 0) numbers.push_back({"workable", workable, "mm"});
            add("applied-over-opening", Severity::stop, std::move(numbers),
                "lies over the opening \"" + o.id + "\", by " + report_.said(mm) + ".",
                workable > 0 ? "Move it clear of it, or make it " + words + " at its place."
                             : "Move it clear of it.");
            return;
        }
        const double keep = clear_of_mm(o.finish, finish_), gap = distance_between(hole, a_.set);
        if (keep > 0 && gap < keep - noise_mm(keep))
            under_binding(gap, keep, "of the opening \"" + o.id + "\"");
    }

    double gap_to(std::size_t k) const {
        double gap = 1e300;
        for (std::size_t j = 0; j < a_.set.size(); ++j)
            gap = std::min(gap, distance_between(panel_.net_line.region.outer.edge(k), a_.set.edge(j)));
        return gap;
    }

    /// Calls see(edge, gap) once for each edge of the panel, with the least gap to it and to rounded corners that are finished with it.
    void each_edge(const std::function<void(std::size_t, double)>& see) const {
        std::vector<double> gaps(panel_.edges.size(), 1e300);
        const Outline& outer = panel_.net_line.region.outer;
        for (std::size_t k = 0; k < outer.size(); ++k) {
            double& gap = gaps[edge_finished_as(panel_, k)];
            gap = std::min(gap, gap_to(k));
        }
        for (std::size_t i = 0; i < gaps.size(); ++i)
            if (gaps[i] < 1e300) see(i, gaps[i]);
    }

    void under_binding(double gap, double keep, const std::string& of) {
        add("applied-under-binding", Severity::look, {{"gap", gap, "mm"}, {"limit", keep, "mm"}},
            "lies " + report_.said(gap) + " from the finished edge " + of +
                ", under its binding, which takes " + report_.said(keep) + ".",
            "Keep it " + report_.said_at_least(keep) +
                " away, or sew it on first, hold its edge back to the cut line and bind over both.");
    }

    void bindings() {
        each_edge([&](std::size_t i, double gap) {
            const double keep = clear_of_mm(panel_.edges[i].finish, finish_);
            const double noise = noise_mm(box_of(panel_.net_line.region.outer));
            if (keep > 0 && gap < keep - noise) under_binding(gap, keep, edge_name(panel_, i));
        });
    }

    /// On the back, across the end of a turned flap, it rides on a step.
    void flaps() {
        if (!a_.on_back) return;
        const double flap = finish_.turn_mm - finish_.backing_thickness_mm;
        each_edge([&](std::size_t i, double gap) {
            if (panel_.edges[i].finish != Finish::turned || gap >= flap - noise_mm(flap)) return;
            add("applied-over-flap", Severity::look, {{"gap", gap, "mm"}, {"limit", flap, "mm"}},
                "lies " + report_.said(gap) + " from the turned edge " + edge_name(panel_, i) +
                    ", over its flap, which reaches " + report_.said(flap) + " under.",
                "Keep it " + report_.said_at_least(flap) + " away, or see that it lies flat over the step.");
        });
    }

    /// Its own edge stands up where people step.
    void lips() {
        if (a_.on_back) return;
        each_edge([&](std::size_t i, double gap) {
            if (panel_.edges[i].situation != Situation::walked_over || gap >= kLipReach_mm) return;
            add("applied-may-trip", Severity::look, {{"gap", gap, "mm"}, {"limit", kLipReach_mm, "mm"}},
                "lies " + report_.said(gap) + " from the edge " + edge_name(panel_, i) +
                    ", which is walked over: its own edge stands up there.",
                "Keep it " + report_.said_at_least(kLipReach_mm) +
                    " away, or take thin goods with a raw edge, sewn down close to it.");
        });
    }

    void over_snap(const Stud& s) {
        const double gap =
            side_of(a_.set, s.at_mm) == Side::outside ? nearest_on(a_.set, s.at_mm).distance : 0;
        if (gap >= kSnapReach_mm - noise_mm(kSnapReach_mm)) return;
        const auto [workable, words] = smaller([&](const Outline& o) {
            return side_of(o, s.at_mm) == Side::outside && nearest_on(o, s.at_mm).distance >= kSnapReach_mm;
        });
        std::vector<Quantity> numbers{{"gap", gap, "mm"}, {"limit", kSnapReach_mm, "mm"}};
        if (workable > 0) numbers.push_back({"workable", workable, "mm"});
        add("applied-over-snap", Severity::stop, std::move(numbers),
            (gap > 0 ? "lies " + report_.said(gap) + " from the snap " : "lies over the snap ") + s.id +
                ", which needs " + report_.said(kSnapReach_mm) + " round its middle.",
            workable > 0 ? "Move it clear, or make it " + words + " at its place."
                         : "Move it clear of the snap.");
    }

    void over_other(const AppliedPlan& other) {
        if (other.on_back != a_.on_back || !share_ground(other.set, a_.set)) return;
        const double mm = lies_beyond_mm(reversed(other.set), a_.set);
        const auto [workable, words] = smaller([&](const Outline& o) { return !share_ground(other.set, o); });
        std::vector<Quantity> numbers{{"over", mm, "mm"}, {"limit", 0, "mm"}};
        if (workable > 0) numbers.push_back({"workable", workable, "mm"});
        add("applied-over-applied", Severity::stop, std::move(numbers),
            std::string("lies over the ") + word_for(other.kind) + " \"" + other.id + "\", by " +
                report_.said(mm) + ".",
            workable > 0 ? "Move one of them, or make it " + words + " at its place." : "Move one of them.");
    }

    const Panel& panel_;
    const AppliedPlan& a_;
    const FinishSettings& finish_;
    Reporter& report_;
};

}  // namespace

void judge_applied(const Panel& panel, const FinishSettings& finish, Reporter& report) {
    for (const AppliedPlan& applied : panel.applied) Judge(panel, applied, finish, report).run();
}

}  // namespace spile
