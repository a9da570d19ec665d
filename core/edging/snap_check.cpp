#include "core/edging/snap_check.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "core/base/text.h"
#include "core/edging/trace.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

double away(const Box& box, Vec2 p) {
    return std::max(std::max(box.min.x - p.x, p.x - box.max.x), std::max(box.min.y - p.y, p.y - box.max.y));
}

/// Edges with their boxes; most are ruled out by them.
struct Lines {
    std::vector<Edge> edges;
    std::vector<Box> boxes;

    void add(const Edge& e) {
        edges.push_back(e);
        boxes.push_back(box_of(e));
    }
    void add(const Path& path) {
        for (std::size_t i = 0; i < path.edge_count(); ++i) add(path.edge(i));
    }
    /// Calls for every edge nearer to p than `reach`.
    void near(Vec2 p, double reach, const std::function<void(std::size_t, const Nearest&)>& with) const {
        for (std::size_t i = 0; i < edges.size(); ++i) {
            if (away(boxes[i], p) >= reach) continue;
            const Nearest at = nearest_on(edges[i], p);
            if (at.distance < reach) with(i, at);
        }
    }
};

class SnapCheck {
  public:
    SnapCheck(const Panel& panel, const FinishSettings& finish, Piece& piece, Reporter& report)
        : panel_(panel), finish_(finish), piece_(piece), report_(report) {
        for (const Seam& seam : piece.seams) stitches_.add(seam.path);
        const Outline& outer = piece.net.outer;
        const std::vector<Finish> finishes = finishes_along(outer, panel.edges);
        for (std::size_t k = 0; k < outer.size(); ++k) {
            net_.add(outer.edge(k));
            net_finish_.push_back(finishes[k]);
        }
        for (const Outline& hole : piece.net.holes) {
            const auto of = static_cast<std::size_t>(-2 - hole.vertices.front().tag);
            for (std::size_t k = 0; k < hole.size(); ++k) {
                net_.add(hole.edge(k));
                net_finish_.push_back(panel.openings[of].finish);
            }
        }
        for (const FlapCut& cut : piece.flap_cuts)
            if (cut.kind == FlapCut::Kind::notch || cut.kind == FlapCut::Kind::slit) cuts_.add(cut.path);
        for (const Path& slit : piece.slits) cuts_.add(slit);
    }

    void run() {
        for (Stud& stud : piece_.studs) stud.flaps = flaps_under(stud.at_mm);
        say("snap-on-stitches", "on a stitch line",
            "Set them farther in or nearer to the edge, or sew round them.",
            [&](Vec2 p) { return least(stitches_, p); });
        say("snap-on-binding-edge", "on the inner edge of the binding", "Set them farther in.",
            [&](Vec2 p) { return from_binding(p); });
        say("snap-on-relief-cut", "on a cut in the folded goods",
            "Set them between two cuts, or patch the cut under them.", [&](Vec2 p) { return from_cuts(p); });
        say("snap-on-snap", "on another snap", "Leave one of them out.", [&](Vec2 p) {
            double least = HUGE_VAL;
            for (const Stud& other : piece_.studs)
                if (!(other.at_mm == p)) least = std::min(least, distance(other.at_mm, p) - snap_half_mm);
            return least;
        });
    }

  private:
    double flap_mm() const { return finish_.turn_mm - finish_.backing_thickness_mm; }

    static double least(const Lines& lines, Vec2 p) {
        double mm = HUGE_VAL;
        lines.near(p, snap_half_mm, [&](std::size_t, const Nearest& at) { mm = std::min(mm, at.distance); });
        return mm;
    }

    /// One flap for each edge of the panel or rim, however many arcs draw it.
    int flaps_under(Vec2 p) const {
        std::vector<int> tags;
        net_.near(p, flap_mm() + snap_half_mm, [&](std::size_t i, const Nearest&) {
            const int tag = net_.edges[i].tag;
            if (net_finish_[i] == Finish::turned && std::find(tags.begin(), tags.end(), tag) == tags.end())
                tags.push_back(tag);
        });
        return static_cast<int>(tags.size());
    }

    double from_binding(Vec2 p) const {
        const double inner = finish_.binding_width_mm / 2;
        double mm = HUGE_VAL;
        net_.near(p, inner + snap_half_mm, [&](std::size_t i, const Nearest& at) {
            if (net_finish_[i] == Finish::bound) mm = std::min(mm, std::fabs(at.distance - inner));
        });
        return mm;
    }

    /// A cut folded: reflected over the nearest turned edge, as the snap is brought out of the panel instead.
    double from_cuts(Vec2 p) const {
        double mm = HUGE_VAL;
        if (cuts_.edges.empty()) return mm;
        net_.near(p, flap_mm() + snap_half_mm, [&](std::size_t i, const Nearest& at) {
            if (net_finish_[i] != Finish::turned) return;
            mm = std::min(mm, least(cuts_, at.at + (at.at - p)));
        });
        return mm;
    }

    void say(const char* code, const std::string& where, const std::string& to_do,
             const std::function<double(Vec2)>& distance_of) {
        std::vector<std::string> names;
        double worst = snap_half_mm;
        for (const Stud& stud : piece_.studs) {
            const double mm = distance_of(stud.at_mm);
            if (!(mm < snap_half_mm)) continue;
            names.push_back(stud.id);
            worst = std::min(worst, mm);
        }
        if (names.empty()) return;
        worst = std::max(0.0, worst);
        constexpr std::size_t most = 12;
        const std::size_t count = names.size();
        if (count > most) {
            names.resize(most);
            names.push_back(count_of(count - most, "more", "more"));
        }
        report_.add(code, Severity::look, "panel", "",
                    {{"snaps", static_cast<double>(count), ""},
                     {"distance", worst, "mm"},
                     {"least", snap_half_mm, "mm"}},
                    "On panel " + panel_.id + (count == 1 ? " snap " : " snaps ") + list_words(names) +
                        (count == 1 ? " stands " : " stand ") + where + ": " + report_.said(worst) +
                        " from the middle, and its base takes " + report_.said(snap_half_mm) + ".",
                    to_do);
    }

    const Panel& panel_;
    const FinishSettings& finish_;
    Piece& piece_;
    Reporter& report_;
    Lines stitches_, net_, cuts_;
    std::vector<Finish> net_finish_;
};

}  // namespace

void judge_snaps(const Panel& panel, const FinishSettings& finish, Piece& piece, Reporter& report) {
    if (!piece.studs.empty()) SnapCheck(panel, finish, piece, report).run();
}

}  // namespace spile
