#include "core/edging/flap_cuts.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kMostTurnRad = kPi / 4;  ///< between two relief cuts: eight round a circle, as of a hole
/// Below this angle of a corner even goods folded twice stand out at its tip: 72 degrees, cosine.
constexpr double kSharpCos = 0.30901699437494745;

/// Beyond this many turns from its root a cut has left its own flap: ends of flaps at arcs lean a little.
constexpr double kReach = 1.25;

class Cutter {
  public:
    Cutter(const Panel& panel, const FlapPlan& plan, const Outline& face, const FinishSettings& settings,
           Reporter& report)
        : panel_(panel),
          net_(panel.net_line.region.outer),
          plan_(plan),
          settings_(settings),
          report_(report),
          margin_(cut_margin_mm(settings)) {
        for (std::size_t k = 0; k < face.size(); ++k) add_rim(face.edge(k), 0);
    }

    FlapCuts all() {
        for (const FlapCorner& c : plan_.corners) {
            if (!plan_.both_turned(c) || c.runs_on || aboard(c.before) || aboard(c.after)) continue;
            if (c.inside)
                slit_corner(c);
            else
                notch_corner(c);
        }
        curves();
        return std::move(out_);
    }

  private:
    bool aboard(std::size_t k) const { return plan_.aboard[k]; }
    double turn(std::size_t k) const { return plan_.flaps[k].turn_mm; }

    /// The name of the corner in front of edge k.
    std::string corner_name(std::size_t k) const {
        const int tag = net_.vertices[k].tag;
        return tag < 0 ? net_edge_name(panel_, k) : panel_.corners[static_cast<std::size_t>(tag)].at;
    }

    /// Its box is made `wider`, so that what touches it to within noise is not missed.
    void add_rim(const Edge& e, double wider) {
        Box box = box_of(e);
        box.min = box.min - Vec2{wider, wider};
        box.max = box.max + Vec2{wider, wider};
        rims_.push_back(e);
        boxes_.push_back(box);
    }

    /// Where a ray first comes to the face cut or to the slit of an inside corner, beyond which lies the goods of another
    /// flap; `most` as a multiple of `direction`.
    std::optional<Vec2> rim(Vec2 from, Vec2 direction, double most) const {
        const Edge ray{from, from + most * direction, 0, 0};
        std::optional<Vec2> at;
        double nearest = std::numeric_limits<double>::max();
        const Box box = box_of(ray);
        for (std::size_t k = 0; k < rims_.size(); ++k) {
            const Box& b = boxes_[k];
            if (box.max.x < b.min.x || b.max.x < box.min.x || box.max.y < b.min.y || b.max.y < box.min.y)
                continue;
            for (const Meeting& m : meet(ray, rims_[k]))
                if (m.t_a < nearest) nearest = m.t_a, at = m.at;
        }
        return at;
    }

    /// Both rims of a notch with its root between them; nothing where either is not within reach of its own flap. The
    /// directions lead one out for one along.
    bool add_notch(FlapCut::Kind kind, const std::string& at, Vec2 to_before, Vec2 to_after,
                   const std::vector<Vec2>& root) {
        const double most = kReach * settings_.turn_mm;
        const auto before = rim(root.front(), to_before, most), after = rim(root.back(), to_after, most);
        if (!before || !after) return false;
        FlapCut cut{kind, {}, at};
        cut.path.vertices.push_back({*before, 0, 0});
        for (const Vec2 p : root) cut.path.vertices.push_back({p, 0, 0});
        cut.path.vertices.push_back({*after, 0, 0});
        out_.cuts.push_back(std::move(cut));
        return true;
    }

    bool add_slit(FlapCut::Kind kind, const std::string& at, Vec2 from, Vec2 direction, double most) {
        const auto to = rim(from, direction, most);
        if (!to) return false;
        out_.cuts.push_back({kind, {{{*to, 0, 0}, {from, 0, 0}}}, at});
        if (kind == FlapCut::Kind::corner_slit) add_rim(out_.cuts.back().path.edge(0), margin_);
        return true;
    }

    void notch_corner(const FlapCorner& c) {
        const std::string name = corner_name(c.after);
        const FlapEnd &end = plan_.flaps[c.before].end, &start = plan_.flaps[c.after].start;
        const Vec2 along_before = end.cot * c.back + c.out_before;
        const Vec2 along_after = start.cot * c.ahead + c.out_after;
        const Vec2 p = c.at + end.trim_mm * c.back + margin_ * along_before;
        const Vec2 q = c.at + start.trim_mm * c.ahead + margin_ * along_after;
        std::vector<Vec2> root{p, q};
        const Vec2 out = c.outward();
        if (dot(lerp(p, q, 0.5) - c.at, out) < margin_ / 2)
            root.insert(root.begin() + 1, c.at + margin_ * out);
        const bool room = margin_ < std::min(turn(c.before), turn(c.after)) &&
                          add_notch(FlapCut::Kind::corner_notch, name, along_before, along_after, root);
        if (!room) no_room(name);
        if (c.cos_corner > kSharpCos) {
            const double degrees = std::acos(std::min(1.0, c.cos_corner)) * 180 / kPi;
            report_.add(
                "sharp-corner-turned", Severity::look, "corner", name,
                {{"angle", degrees, "deg"}, {"least", 72, "deg"}},
                "Corner " + name + " of panel " + report_.owner() + " is " +
                    std::to_string(static_cast<int>(std::lround(degrees))) +
                    " degrees sharp; below 72 degrees the goods at the tip of a turned corner do not "
                    "lie under it.",
                "Fold the tip in first and hammer it flat, round the corner, or bind one of its edges.");
        }
    }

    void slit_corner(const FlapCorner& c) {
        const std::string name = corner_name(c.after);
        const Vec2 out = c.outward();
        const bool room = margin_ < std::min(turn(c.before), turn(c.after)) &&
                          add_slit(FlapCut::Kind::corner_slit, name, c.at + margin_ / c.sin_half() * out, out,
                                   kReach * settings_.turn_mm / c.sin_half());
        if (!room) no_room(name);
        const double least = std::min(least_flap_mm(settings_), std::min(turn(c.before), turn(c.after)) -
                                                                    settings_.backing_thickness_mm);
        const double bare = (least + settings_.backing_thickness_mm) * c.cos_half() / c.sin_half();
        if (bare <= settings_.facet_mm) return;
        report_.add(
            "inside-corner-bare", Severity::look, "corner", name,
            {{"bare", bare, "mm"}, {"flap", least, "mm"}},
            "At inside corner " + name + " of panel " + report_.owner() +
                " the two flaps open when they are folded: up to " + report_.said(bare) +
                " from it there is less than " + report_.said(least) + " of flap behind the edge.",
            "Glue a patch of face behind the corner before sewing, round it, or bind one of its edges.");
    }

    void no_room(const std::string& name) {
        report_.add("flap-too-narrow-to-cut", Severity::look, "corner", name,
                    {{"margin", margin_, "mm"}, {"turn", settings_.turn_mm, "mm"}},
                    "At " + name + " of panel " + report_.owner() +
                        " the flaps have no room for their cut outside the " + report_.said(margin_) +
                        " that cuts keep clear of the fold: none is drawn there.",
                    "Cut it by hand when the first flap is folded; or turn more, or set slit_short to less.");
    }

    /// Arcs of turned edges that run on into one another with one sense.
    struct Stretch {
        std::size_t first = 0, count = 0;
        bool closed = false;
    };

    bool curved(std::size_t k) const { return turn(k) > 0 && !aboard(k) && !net_.edge(k).straight(); }

    bool goes_on(std::size_t k) const {
        const std::size_t before = plan_.corners[k].before;
        return curved(k) && curved(before) && plan_.corners[k].runs_on &&
               (net_.vertices[k].bulge > 0) == (net_.vertices[before].bulge > 0);
    }

    std::vector<Stretch> stretches() const {
        const std::size_t n = net_.size();
        std::vector<Stretch> found;
        for (std::size_t k = 0; k < n; ++k) {
            if (!curved(k) || goes_on(k)) continue;
            Stretch s{k, 1, false};
            while (s.count < n && goes_on((k + s.count) % n)) ++s.count;
            found.push_back(s);
        }
        if (found.empty() && n > 0 && curved(0)) found.push_back({0, n, true});
        return found;
    }

    double pitch(std::size_t k) const { return relief_pitch_mm(radius_of(net_.edge(k)), settings_.facet_mm); }

    void curves() {
        for (const Stretch& s : stretches()) {
            double tabs = 0, turned = 0;
            for (std::size_t i = 0; i < s.count; ++i) {
                const std::size_t k = (s.first + i) % net_.size();
                const double length = length_of(net_.edge(k));
                tabs += length / pitch(k);
                turned += length / radius_of(net_.edge(k));
            }
            if (2 * settings_.turn_mm * turned <= settings_.facet_mm) continue;
            const double count = std::max(std::ceil(tabs), std::ceil(turned / kMostTurnRad));
            const double share = tabs / count;  // of a tab of the allowed pitch
            double before = 0;
            int next = 0;
            bool room = true;
            for (std::size_t i = 0; i < s.count; ++i) {
                const std::size_t k = (s.first + i) % net_.size();
                const double here = length_of(net_.edge(k)) / pitch(k);
                Relief relief{net_.vertices[k].tag, 0, share * pitch(k)};
                for (; next < count && (next + 0.5) * share <= before + here; ++next) {
                    const double t = std::min(1.0, ((next + 0.5) * share - before) / here);
                    if (cut_curve(k, t, share * pitch(k)))
                        ++relief.cuts;
                    else
                        room = room && turn(k) <= margin_;  // a narrowed flap has a finding of its own
                }
                before += here;
                if (relief.cuts > 0) add_relief(relief);
            }
            if (!room) no_room(net_edge_name(panel_, s.first));
            judge_curve(s);
        }
    }

    void add_relief(const Relief& relief) {
        for (Relief& r : out_.reliefs) {
            if (r.tag != relief.tag || r.tag < 0) continue;
            r.cuts += relief.cuts;
            r.pitch_mm = std::min(r.pitch_mm, relief.pitch_mm);
            return;
        }
        out_.reliefs.push_back(relief);
    }

    bool cut_curve(std::size_t k, double t, double pitch_mm) {
        const Edge e = net_.edge(k);
        if (turn(k) <= margin_) return false;
        const Vec2 fold = point_at(e, t), along = direction_at(e, t), out = -left_of(along);
        const std::string name = net_edge_name(panel_, k);
        const double angle = pitch_mm / radius_of(e);
        if (e.bulge < 0 || 2 * turn(k) * angle <= settings_.end_trim_mm) {
            const auto kind = e.bulge < 0 ? FlapCut::Kind::slit : FlapCut::Kind::notch;
            return add_slit(kind, name, fold + margin_ * out, out, kReach * turn(k));
        }
        const Vec2 to_before = out - angle * along, to_after = out + angle * along;
        // The sides meet half the backing outside the fold: its edge takes T of the flap straight.
        const Vec2 at = fold + settings_.backing_thickness_mm / 2 * out;
        const double from_there = margin_ - settings_.backing_thickness_mm / 2;
        return add_notch(FlapCut::Kind::notch, name, to_before, to_after,
                         {at + from_there * to_before, at + from_there * to_after});
    }

    void judge_curve(const Stretch& s) {
        double tightest = std::numeric_limits<double>::max();
        std::size_t at = s.first;
        for (std::size_t i = 0; i < s.count; ++i) {
            const std::size_t k = (s.first + i) % net_.size();
            if (radius_of(net_.edge(k)) < tightest) tightest = radius_of(net_.edge(k)), at = k;
        }
        const std::string name = net_edge_name(panel_, at),
                          kind = net_.vertices[at].tag < 0 ? "corner" : "edge";
        if (net_.vertices[at].bulge > 0) {
            if (tightest > settings_.turn_mm) return;
            const bool held = turn(at) - settings_.backing_thickness_mm >=
                              std::min(least_flap_mm(settings_), settings_.turn_mm);
            report_.add(
                "turn-narrowed", held ? Severity::note : Severity::look, kind, name,
                {{"radius", tightest, "mm"},
                 {"turn", turn(at), "mm"},
                 {"least radius", settings_.turn_mm, "mm"}},
                "Panel " + report_.owner() + " is turned round a radius of " + report_.said(tightest) +
                    " at " + name + ", no larger than the turn of " + report_.said(settings_.turn_mm) +
                    ": the flap is cut to " + report_.said(turn(at)) + " there" +
                    (held ? "." : ", less than its stitch needs."),
                held ? "Nothing; a radius above " + report_.said(settings_.turn_mm) + " keeps the whole flap."
                     : "Leave the corner square, round it to " + report_.said(2 * least_flap_mm(settings_)) +
                           " or more, or bind it.");
            return;
        }
        const double stretch = tightest > margin_ ? 2 * margin_ / (tightest - margin_) : 1e9;
        if (stretch <= most_stretch) return;
        const double least = margin_ * (1 + 2 / most_stretch);
        report_.add("fold-stretches", Severity::look, kind, name,
                    {{"radius", tightest, "mm"}, {"margin", margin_, "mm"}, {"least radius", least, "mm"}},
                    "Panel " + report_.owner() + " is turned round an inside curve of " +
                        report_.said(tightest) + " at " + name + ": the " + report_.said(margin_) +
                        " between fold and slits must stretch by more than " +
                        std::to_string(static_cast<int>(std::lround(100 * most_stretch))) + " in 100.",
                    "Round it to " + report_.said(least) + " or more, set slit_short to less, or bind it.");
    }

    const Panel& panel_;
    const Outline& net_;
    const FlapPlan& plan_;
    const FinishSettings& settings_;
    Reporter& report_;
    double margin_;
    std::vector<Edge> rims_;  ///< of the face, and slits of inside corners
    std::vector<Box> boxes_;
    FlapCuts out_;
};

}  // namespace

std::string net_edge_name(const Panel& panel, std::size_t k) {
    const Outline& net = panel.net_line.region.outer;
    const std::size_t n = net.size();
    if (net.vertices[k].tag >= 0) return edge_name(panel, static_cast<std::size_t>(net.vertices[k].tag));
    for (std::size_t i = 1; i <= n; ++i) {
        const int after = net.vertices[(k + i) % n].tag;
        if (after >= 0) return panel.corners[static_cast<std::size_t>(after)].at;
    }
    return "";
}

FlapCuts flap_cuts(const Panel& panel, const FlapPlan& plan, const Outline& face,
                   const FinishSettings& settings, Reporter& report) {
    return Cutter(panel, plan, face, settings, report).all();
}

}  // namespace spile
