#include "core/shape/applied.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/geom/transform.h"
#include "core/shape/applied_lines.h"
#include "core/shape/survey_lines.h"

namespace spile {
namespace {

constexpr double kPi = 3.14159265358979323846;
/// How often a length is halved upon for the nearest that would do: 2^-40 of it is below what arithmetic keeps.
constexpr int kHalvings = 40;

/// The largest share in [0, 1] that does, when 0 does and 1 does not.
double largest(const std::function<bool(double)>& does) {
    double good = 0, bad = 1;
    for (int i = 0; i < kHalvings; ++i) {
        const double mid = (good + bad) / 2;
        (does(mid) ? good : bad) = mid;
    }
    return good;
}

class Placer {
  public:
    Placer(const Panel& panel, AppliedPlan& applied, const Survey* survey, const FinishSettings& finish,
           Reporter& report)
        : panel_(panel), a_(applied), survey_(survey), finish_(finish), report_(report) {}

    bool place() {
        if (!a_.from.empty()) return strip();
        if (!a_.outline.empty()) return free();
        return pad();
    }

  private:
    bool refuse(const char* code, std::vector<Quantity> numbers, std::string says, std::string to_do) {
        report_.add(code, Severity::stop, "applied", a_.id, std::move(numbers), std::move(says),
                    std::move(to_do));
        return false;
    }

    /// Inside the outer line, and clear of its bound edges other than `own`, and of bound corners.
    bool clear(const Outline& set, int own) const {
        const Outline& outer = panel_.net_line.region.outer;
        if (set.empty() || reaches_beyond(outer, set)) return false;
        for (std::size_t k = 0; k < outer.size(); ++k) {
            if (outer.vertices[k].tag == own) continue;
            const double keep = clear_of_mm(panel_.edges[edge_finished_as(panel_, k)].finish, finish_);
            if (keep <= 0) continue;
            for (std::size_t j = 0; j < set.size(); ++j)
                if (distance_between(outer.edge(k), set.edge(j)) < keep - noise_mm(box_of(outer)))
                    return false;
        }
        return true;
    }

    bool strip() {
        std::size_t i = 0;
        const auto named = [&](const EdgePlan& e) {
            return (e.from == a_.from && e.to == a_.to) || (e.from == a_.to && e.to == a_.from);
        };
        while (i < panel_.edges.size() && !named(panel_.edges[i])) ++i;
        if (i == panel_.edges.size())
            return refuse("applied-edge-missing", {},
                          applied_words(a_, report_) + " lies along the edge " + a_.from + " " + a_.to +
                              ", which the panel no longer has.",
                          "Name one of its edges.");
        const bool forward = panel_.edges[i].from == a_.from;
        double length = 0, tightest = 0;
        const Outline& line = panel_.net_line.unrounded;
        for (std::size_t k = 0; k < line.size(); ++k) {
            if (line.vertices[k].tag != static_cast<int>(i)) continue;
            const Edge e = line.edge(k);
            length += length_of(e);
            if (e.bulge > 0 && (tightest == 0 || radius_of(e) < tightest)) tightest = radius_of(e);
        }
        const double near = a_.from_edge_mm.value_or(clear_of_mm(panel_.edges[i].finish, finish_));
        const double far = near + a_.width_mm;
        a_.from_edge_mm = near;
        if (tightest > 0 && far >= tightest)
            return refuse(
                "applied-curve-too-tight",
                {{"reaches", far, "mm"}, {"limit", tightest, "mm"}, {"workable", tightest - near, "mm"}},
                applied_words(a_, report_) + " reaches " + report_.said(far) + " in from the edge " +
                    a_.from + " " + a_.to + ", which bends about a radius of " + report_.said(tightest) + ".",
                tightest > near ? "Make it narrower than " + report_.said_at_most(tightest - near) + "."
                                : "Lay it nearer to the edge.");
        const auto along = [&](double from, double to) {
            return strip_along(panel_, i, near, far, from, to);
        };
        double from = 0, to = length;
        if (a_.start_mm || a_.length_mm > 0) {
            const double start = a_.start_mm.value_or(0);
            if (start + a_.length_mm > length + noise_mm(length) || start >= length)
                return refuse("applied-too-long",
                              {{"to", start + a_.length_mm, "mm"}, {"limit", length, "mm"}},
                              applied_words(a_, report_) + " ends " + report_.said(start + a_.length_mm) +
                                  " from " + a_.from + "; the edge " + a_.from + " " + a_.to + " is " +
                                  report_.said(length) + " long.",
                              start < length ? "Make it " + report_.said_at_most(length - start) + " or less."
                                             : "Begin it nearer to the corner.");
            const double end = a_.length_mm > 0 ? std::min(length, start + a_.length_mm) : length;
            from = forward ? start : length - end;
            to = forward ? end : length - start;
        }
        const double mid = (from + to) / 2, sliver = (to - from) / 1024;
        const int own = static_cast<int>(i);
        // Ends that were not said reach as far as they are clear.
        const bool first_said = forward ? a_.start_mm.has_value() : a_.length_mm > 0;
        const bool last_said = forward ? a_.length_mm > 0 : a_.start_mm.has_value();
        if (clear(along(mid - sliver, mid + sliver), own)) {
            if (!first_said && !clear(along(from, mid), own))
                from = mid - (mid - from) * largest([&](double s) {
                                 return clear(along(mid - s * (mid - from), mid + sliver), own);
                             });
            if (!last_said && !clear(along(mid, to), own))
                to = mid + (to - mid) * largest([&](double s) {
                               return clear(along(mid - sliver, mid + s * (to - mid)), own);
                           });
        }
        a_.square = a_.set = along(from, to);
        a_.start_mm = forward ? from : length - to;
        a_.length_mm = to - from;
        if (a_.set.empty())
            return refuse("applied-without-room", {{"width", a_.width_mm, "mm"}},
                          applied_words(a_, report_) + " cannot be drawn along the edge " + a_.from + " " +
                              a_.to + ": its sides cross.",
                          "Make it narrower, or end it before the edge bends.");
        return true;
    }

    std::optional<Vec2> point(const std::string& name) {
        if (survey_) return find_point(*survey_, name, applied_words(a_, report_), "applied", a_.id, report_);
        refuse("applied-by-point", {},
               applied_words(a_, report_) + " lies at the point " + name + ", but a plain mat has no points.",
               "Place it by two lengths from its corner: 12 x 18.");
        return std::nullopt;
    }

    bool pad() {
        if (!a_.at.empty()) {
            const auto at = point(a_.at);
            if (!at) return false;
            a_.centre_mm = *at;
        }
        if (a_.diameter_mm > 0) {
            a_.square = a_.set = circle(a_.centre_mm, a_.diameter_mm / 2);
            return true;
        }
        const double most = std::min(a_.length_mm, a_.width_mm) / 2;
        if (a_.radius_mm > most)
            return refuse("applied-corner-without-room",
                          {{"radius", a_.radius_mm, "mm"}, {"largest that fits", most, "mm"}},
                          applied_words(a_, report_) + " is " + report_.said(a_.length_mm) + " by " +
                              report_.said(a_.width_mm) + ": there is no room for corners of " +
                              report_.said(a_.radius_mm) + " radius.",
                          "Round them to " + report_.said_at_most(most) + " or less.");
        Vec2 ahead{std::cos(a_.turn_deg * kPi / 180), std::sin(a_.turn_deg * kPi / 180)};
        if (a_.along.size() == 2) {
            const auto from = point(a_.along[0]), to = point(a_.along[1]);
            if (!from || !to) return false;
            if (!(distance(*from, *to) > 0))
                return refuse("applied-without-direction", {},
                              applied_words(a_, report_) + " runs from " + a_.along[0] + " to " +
                                  a_.along[1] + ", which are one place.",
                              "Name two points that lie apart.");
            ahead = unit(*to - *from);
        }
        const Vec2 half{a_.length_mm / 2, a_.width_mm / 2};
        Outline box = rectangle(-half, half);
        const Rigid boat_from_box{ahead.x, ahead.y, a_.centre_mm};
        a_.square = boat_from_box(box);
        if (a_.radius_mm > 0)
            box =
                fillet(box, {{0, a_.radius_mm}, {1, a_.radius_mm}, {2, a_.radius_mm}, {3, a_.radius_mm}}, -1)
                    .outline;
        a_.set = boat_from_box(box);
        return true;
    }

    bool free() {
        if (!survey_) return false;  // the document's fault, said there
        const std::size_t n = a_.outline.size();
        std::vector<Vec2> at;
        for (const CornerPlan& c : a_.outline)
            if (const auto p = point(c.at)) at.push_back(*p);
        if (at.size() != n) return false;
        Outline line;
        for (std::size_t i = 0; i < n; ++i)
            for (const Edge& e : measured_edge(*survey_, a_.outline[i].at, a_.outline[(i + 1) % n].at, at[i],
                                               at[(i + 1) % n]))
                line.vertices.push_back({e.a, e.bulge, static_cast<int>(i)});
        if (n < 2 || !faults_of(line).empty())
            return refuse("applied-outline", {},
                          applied_words(a_, report_) +
                              " has an outline that crosses or touches itself, or encloses nothing.",
                          "Name its points in the order met going round it, or correct the readings there.");
        std::vector<CornerRadius> wanted;
        for (std::size_t k = 0; k < line.size(); ++k) {
            const int tag = line.vertices[k].tag;
            const double radius = a_.outline[static_cast<std::size_t>(tag)].radius_mm;
            if (tag != line.vertices[(k + line.size() - 1) % line.size()].tag && radius > 0)
                wanted.push_back({k, radius});
        }
        FilletResult rounded = fillet(line, wanted, -1);
        if (!rounded.too_short.empty()) {
            const CornerPlan& c =
                a_.outline[static_cast<std::size_t>(line.vertices[rounded.too_short.front()].tag)];
            const double most = rounded.largest_radius_mm.front();
            return refuse("applied-corner-without-room",
                          {{"radius", c.radius_mm, "mm"}, {"largest that fits", most, "mm"}},
                          "Corner " + c.at + " of " + word_for(a_.kind) + " \"" + a_.id + "\" of panel " +
                              report_.owner() + " has no room for a radius of " + report_.said(c.radius_mm) +
                              ".",
                          "Round it to " + report_.said_at_most(most) + " or less, or leave it square.");
        }
        a_.set = std::move(rounded.outline);
        a_.square = std::move(line);
        if (area_mm2(a_.set) > 0) return true;
        const int last = static_cast<int>(n) - 1;
        for (Outline* o : {&a_.set, &a_.square}) {
            *o = reversed(*o);
            for (Vertex& v : o->vertices)
                if (v.tag >= 0) v.tag = last - v.tag;
        }
        return true;
    }

    const Panel& panel_;
    AppliedPlan& a_;
    const Survey* survey_;
    const FinishSettings& finish_;
    Reporter& report_;
};

}  // namespace

std::string applied_words(const AppliedPlan& a, const Reporter& report) {
    std::string kind = word_for(a.kind);
    kind[0] = static_cast<char>(kind[0] - 'a' + 'A');
    return kind + " \"" + a.id + "\" of panel " + report.owner();
}

double clear_of_mm(Finish finish, const FinishSettings& settings) {
    return finish == Finish::bound ? settings.binding_width_mm / 2 : 0;
}

void place_applied(Panel& panel, const std::vector<AppliedPlan>& wanted, const Survey* survey,
                   const FinishSettings& finish, Reporter& report) {
    for (const AppliedPlan& plan : wanted) {
        AppliedPlan applied = plan;
        if (Placer(panel, applied, survey, finish, report).place())
            panel.applied.push_back(std::move(applied));
    }
    judge_applied(panel, finish, report);
}

}  // namespace spile
