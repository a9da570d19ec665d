#include "core/shape/opening_lines.h"

#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/geom/transform.h"
#include "core/shape/survey_lines.h"

namespace spile {
namespace {

constexpr double kPi = 3.14159265358979323846;
/// A quarter of a circle: tan(90 degrees / 4).
constexpr double kQuarter = 0.41421356237309503;

using Form = OpeningPlan::Form;

class Placer {
  public:
    Placer(const Survey* survey, OpeningPlan& opening, Reporter& report)
        : survey_(survey), o_(opening), report_(report) {}

    bool place() {
        if (o_.form == Form::lid) return true;  // once the lid has its net line
        if (!measures_sound() || !shaped()) return false;
        return rim();
    }

    /// Middle and rim of what passes.
    bool rim() {
        if (o_.form != Form::round) {
            const Box box = box_of(o_.passes);
            o_.centre_mm = 0.5 * (box.min + box.max);
        }
        o_.rim = rim_with_ease(o_, o_.ease_mm);
        if (!o_.rim.empty()) {
            finished();
            return true;
        }
        report_.add("opening-closes-up", Severity::stop, "opening", o_.id, {{"ease", o_.ease_mm, "mm"}},
                    who() + " closes up when " + report_.said(o_.ease_mm) + " is given all round it.",
                    "Give less ease, or take its outline round the narrow place.");
        return false;
    }

  private:
    std::string who() const { return "Opening \"" + o_.id + "\" of panel " + report_.owner(); }

    void finished() {
        const double ease = 2 * o_.ease_mm;
        if (o_.form == Form::box) {
            o_.finished_along_mm = o_.length_mm + ease;
            o_.finished_across_mm = o_.width_mm + ease;
        } else if (o_.form == Form::slot) {
            o_.finished_along_mm =
                distance(o_.passes.vertices[0].p, o_.passes.vertices[1].p) + o_.width_mm + ease;
            o_.finished_across_mm = o_.width_mm + ease;
        } else if (o_.form == Form::free || o_.form == Form::lid) {
            const Box box = box_of(o_.rim);
            o_.finished_along_mm = box.width();
            o_.finished_across_mm = box.height();
        }
    }

    bool measures_sound() {
        const auto size = [](double mm) { return std::isfinite(mm) && mm > 0; };
        bool sound = std::isfinite(o_.ease_mm) && o_.ease_mm >= 0;
        if (o_.form == Form::round) sound = sound && size(o_.diameter_mm);
        if (o_.form == Form::slot) sound = sound && size(o_.width_mm) && o_.along.size() == 2;
        if (o_.form == Form::box)
            sound = sound && size(o_.length_mm) && size(o_.width_mm) && std::isfinite(o_.turn_deg);
        if (!sound) {
            report_.add(
                "opening-size", Severity::stop, "opening", o_.id, {{"limit", 0, "mm"}},
                who() + " has no size: what passes through it is more than 0 each way, an ease 0 or more.",
                "Give the size of what passes through, and the ease all round it.");
            return false;
        }
        const double most = std::min(o_.length_mm, o_.width_mm) / 2;
        if (o_.form != Form::box || (o_.radius_mm >= 0 && o_.radius_mm <= most)) return true;
        report_.add("opening-corner-without-room", Severity::stop, "opening", o_.id,
                    {{"radius", o_.radius_mm, "mm"}, {"largest that fits", most, "mm"}},
                    who() + " is " + report_.said(o_.length_mm) + " by " + report_.said(o_.width_mm) +
                        ": there is no room for corners of " + report_.said(o_.radius_mm) + " radius.",
                    "Round them to " + report_.said_at_most(most) + " or less.");
        return false;
    }

    std::optional<Vec2> point(const std::string& name) {
        if (survey_) return find_point(*survey_, name, who(), "opening", o_.id, report_);
        report_.add("opening-by-point", Severity::stop, "opening", o_.id, {},
                    who() + " lies at the point " + name + ", but a plain mat has no points.",
                    "Place it by two lengths from its corner: 12 x 18.");
        return std::nullopt;
    }

    bool shaped() {
        if (!o_.at.empty()) {
            const auto at = point(o_.at);
            if (!at) return false;
            o_.centre_mm = *at;
        }
        switch (o_.form) {
            case Form::round:
                o_.passes = circle(o_.centre_mm, o_.diameter_mm / 2);
                return true;
            case Form::box:
                return box();
            case Form::slot:
                return slot();
            case Form::free:
                return free();
            case Form::lid:
                return false;
        }
        return false;
    }

    /// Unit, from the first point of `along` to the second; else by the turn from the bow.
    std::optional<Vec2> direction(double& length_mm, Vec2& from) {
        if (o_.along.size() != 2) {
            const double turn = o_.turn_deg * kPi / 180;
            return Vec2{std::cos(turn), std::sin(turn)};
        }
        const auto a = point(o_.along[0]), b = point(o_.along[1]);
        if (!a || !b) return std::nullopt;
        length_mm = distance(*a, *b);
        from = *a;
        if (length_mm > 0) return unit(*b - *a);
        report_.add("opening-without-direction", Severity::stop, "opening", o_.id, {},
                    who() + " runs from " + o_.along[0] + " to " + o_.along[1] + ", which are one place.",
                    "Name two points that lie apart, or check the readings that place them.");
        return std::nullopt;
    }

    bool box() {
        double apart = 0;
        Vec2 from;
        const auto d = direction(apart, from);
        if (!d) return false;
        const Rigid turn{d->x, d->y, o_.centre_mm};
        const double x = o_.length_mm / 2, y = o_.width_mm / 2, r = o_.radius_mm;
        Outline& out = o_.passes;
        // From the lower left corner round; sides of no length are left out.
        const Vec2 corners[] = {{-x, -y}, {x, -y}, {x, y}, {-x, y}};
        const Vec2 ahead[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
        for (int i = 0; i < 4; ++i) {
            const Vec2 next = corners[(i + 1) % 4];
            const Vec2 a = corners[i] + r * ahead[i], b = next - r * ahead[i];
            if (dot(b - a, ahead[i]) > 0) out.vertices.push_back({turn(a), 0, i});
            if (r > 0) out.vertices.push_back({turn(b), kQuarter, -1});
        }
        return true;
    }

    bool slot() {
        double length = 0;
        Vec2 from;
        const auto d = direction(length, from);
        if (!d) return false;
        const double r = o_.width_mm / 2;
        const Rigid turn{d->x, d->y, from};
        const auto add = [&](Vec2 p, double bulge, int tag) {
            o_.passes.vertices.push_back({turn(p), bulge, tag});
        };
        add({0, -r}, 0, 0);
        add({length, -r}, kQuarter, 1);
        add({length + r, 0}, kQuarter, 1);
        add({length, r}, 0, 2);
        add({0, r}, kQuarter, 3);
        add({-r, 0}, kQuarter, 3);
        return true;
    }

    bool free() {
        std::vector<Vec2> at;
        for (const CornerPlan& corner : o_.outline)
            if (const auto place = point(corner.at)) at.push_back(*place);
        const std::size_t n = o_.outline.size();
        if (at.size() != n || !survey_) return false;
        Outline line;
        for (std::size_t i = 0; i < n; ++i) {
            const std::size_t next = (i + 1) % n;
            for (const Edge& e :
                 measured_edge(*survey_, o_.outline[i].at, o_.outline[next].at, at[i], at[next]))
                line.vertices.push_back({e.a, e.bulge, static_cast<int>(i)});
        }
        const std::vector<OutlineFault> faults = faults_of(line);
        if (n < 2 || !faults.empty()) {
            const bool placed = !faults.empty() && n >= 2;
            report_.add("opening-outline", Severity::stop, "opening", o_.id, {},
                        who() + " has an outline that crosses or touches itself, or encloses nothing" +
                            (placed ? ": look " + report_.said(faults[0].at.x) + " toward the bow and " +
                                          report_.said(faults[0].at.y) + " to port of the datum."
                                    : "."),
                        "Name its points in the order met going round it, or correct the readings there.");
            return false;
        }
        if (area_mm2(line) < 0) {
            line = reversed(line);
            std::vector<CornerPlan> turned;
            for (std::size_t i = 0; i < n; ++i) turned.push_back(o_.outline[(n - i) % n]);
            for (Vertex& v : line.vertices) v.tag = static_cast<int>(n) - 1 - v.tag;
            o_.outline = std::move(turned);
        }
        return rounded(line);
    }

    bool rounded(const Outline& line) {
        std::vector<CornerRadius> wanted;
        const std::size_t n = line.size();
        for (std::size_t k = 0; k < n; ++k) {
            if (line.vertices[k].tag == line.vertices[(k + n - 1) % n].tag) continue;
            const double radius = o_.outline[static_cast<std::size_t>(line.vertices[k].tag)].radius_mm;
            if (radius > 0) wanted.push_back({k, radius});
        }
        FilletResult result = fillet(line, wanted, -1);
        if (!result.too_short.empty()) {
            const std::size_t k = result.too_short.front();
            const CornerPlan& corner = o_.outline[static_cast<std::size_t>(line.vertices[k].tag)];
            const double most = result.largest_radius_mm.front();
            report_.add(
                "opening-corner-without-room", Severity::stop, "opening", o_.id,
                {{"radius", corner.radius_mm, "mm"}, {"largest that fits", most, "mm"}},
                "Corner " + corner.at + " of opening \"" + o_.id + "\" of panel " + report_.owner() +
                    " has no room for a radius of " + report_.said(corner.radius_mm) + ".",
                most > 0 ? "Round it to " + report_.said_at_most(most) + " or less." : "Leave it square.");
            return false;
        }
        o_.passes = std::move(result.outline);
        return true;
    }

    const Survey* survey_;
    OpeningPlan& o_;
    Reporter& report_;
};

}  // namespace

bool place_opening(const Survey* survey, OpeningPlan& opening, Reporter& report) {
    return Placer(survey, opening, report).place();
}

void place_lids(Panel& panel, const std::map<std::string, const Panel*>& made, Reporter& report) {
    for (OpeningPlan& o : panel.openings) {
        if (o.form != Form::lid) continue;
        const auto lid = made.find(o.lid);
        const bool known = lid != made.end();
        if (!known || lid->second->space != panel.space || o.lid == panel.id) {
            report.add("lid-missing", Severity::stop, "opening", o.id, {},
                       "Opening \"" + o.id + "\" of panel " + panel.id + " is for the lid " + o.lid +
                           (o.lid == panel.id ? ", which is the panel itself."
                            : known           ? ", which lies in another space."
                                              : ", which is no panel that could be made."),
                       "Name the panel that lifts out of this one, and see to its own stops first.");
            continue;
        }
        o.passes = lid->second->net_line.region.outer;
        // Its corners are those of the lid.
        o.outline = lid->second->corners;
        Placer(nullptr, o, report).rim();
    }
}

Outline rim_with_ease(const OpeningPlan& opening, double ease_mm) {
    if (opening.form == Form::round)
        return reversed(circle(opening.centre_mm, opening.diameter_mm / 2 + ease_mm));
    if (ease_mm == 0) return reversed(opening.passes);
    const std::vector<Outline> parts = offset(opening.passes, ease_mm);
    return parts.size() == 1 ? reversed(parts.front()) : Outline{};
}

std::string finished_size(const OpeningPlan& opening, const Reporter& report) {
    if (opening.form == Form::round)
        return report.said(opening.diameter_mm + 2 * opening.ease_mm) + " across";
    return report.said(opening.finished_along_mm) + " x " + report.said(opening.finished_across_mm);
}

}  // namespace spile
