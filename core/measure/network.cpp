#include "core/measure/network.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/measure/say.h"
#include "core/measure/tape.h"

namespace spile::survey {
namespace {

constexpr double kLongest_mm = 30000;  // a tape is at most 30 m (common practice)

/// Reads lines one by one into observations.
class Reader {
  public:
    Reader(const SpaceInput& space, std::vector<Finding>& findings) : space_(space), say_(space, findings) {}

    Network read() {
        diameters();
        for (std::size_t i = 0; i < space_.readings.size(); ++i) {
            index_ = static_cast<int>(i);
            reading_ = &space_.readings[i];
            std::visit([this](const auto& what) { line(what); }, reading_->what);
        }
        lonely_frame();
        net_.on_curve.resize(net_.names.size(), false);
        net_.of_point.resize(net_.names.size());
        for (std::size_t i = 0; i < net_.observations.size(); ++i) {
            const Observation& o = net_.observations[i];
            for (int k = 0; k < o.point_count(); ++k)
                net_.of_point[o.point(k)].push_back(static_cast<int>(i));
        }
        curves();
        walk_and_bow();
        return std::move(net_);
    }

  private:
    int number(const std::string& name) {
        const auto [at, fresh] = by_name_.try_emplace(name, net_.points());
        if (fresh) net_.names.push_back(name);
        return at->second;
    }

    void observe(Kind kind, int p, int a, int b, double value_mm, double sd_mm, const char* part) {
        net_.observations.push_back({kind, p, a, b, value_mm, sd_mm, index_, part});
        net_.observations.back().written = static_cast<int>(net_.observations.size()) - 1;
    }

    bool usable(const TypedLength& length, const char* what, bool zero_allowed) {
        const double mm = length.mm();
        const std::string who = spoken(*reading_) + (*what == '\0' ? "" : " ") + what;
        if (!std::isfinite(mm)) {
            say_.about_reading("reading-not-a-number", Severity::stop, *reading_, {},
                               who + " is not a number.", "Write the length again.");
            return false;
        }
        if (std::fabs(mm) > kLongest_mm) {
            say_.about_reading("reading-too-long", Severity::stop, *reading_,
                               {{"reads", mm, "mm"}, {"limit", kLongest_mm, "mm"}},
                               who + " reads " + say_.size(mm) + "; no tape here is longer than " +
                                   say_.size(kLongest_mm) + ".",
                               "Look whether the unit is right, and write the reading again.");
            return false;
        }
        if (!zero_allowed && mm == 0) {
            say_.about_reading("reading-zero", Severity::stop, *reading_, {{"reads", 0, "mm"}},
                               who + " reads 0.",
                               "Two points that are one need one name; otherwise write the reading again.");
            return false;
        }
        return true;
    }

    bool different(const std::string& a, const std::string& b) {
        if (a != b) return true;
        say_.about_reading("tie-to-itself", Severity::stop, *reading_, {},
                           "\"" + reading_->line + "\" runs from " + a + " to itself.",
                           "Write the two points it was taped between.");
        return false;
    }

    /// Round things first: ties to their sides need them.
    void diameters() {
        for (const Reading& reading : space_.readings) {
            const Diameter* d = std::get_if<Diameter>(&reading.what);
            if (d == nullptr) continue;
            reading_ = &reading;
            if (!usable(d->diameter, "diameter", false)) continue;
            if (!diameter_mm_.emplace(d->point, d->diameter.mm()).second) {
                say_.about_reading(
                    "diameter-twice", Severity::look, reading, {},
                    "The diameter about " + d->point + " is given twice; the first line is used.",
                    "Keep one of the two lines.");
            }
        }
    }

    void line(const Tie& t) {
        if (!different(t.from, t.to) || !usable(t.distance, "", false)) return;
        const double mm = t.distance.mm();
        double sd = distance_sd_mm(space_.tape, mm), half = 0;
        if (t.touches != Tie::To::point) {
            const auto round = diameter_mm_.find(t.to);
            if (round == diameter_mm_.end()) {
                say_.about_reading("diameter-missing", Severity::stop, *reading_, {},
                                   spoken(*reading_) + " is taped to the side of something round about " +
                                       t.to + ", whose diameter no line gives.",
                                   "Add its diameter: " + t.to + " diameter 2 1/2");
                return;
            }
            half = round->second / 2;
            sd = std::hypot(sd, distance_sd_mm(space_.tape, round->second) / 2);
            if (t.touches == Tie::To::far_side) half = -half;
        }
        if (!(mm + half > 0)) {
            say_.about_reading("far-side-short", Severity::stop, *reading_, {{"reads", mm, "mm"}},
                               spoken(*reading_) + " to the far side is shorter than half the thing is wide.",
                               "Tape it again, or write near.");
            return;
        }
        // Numbered one after the other: in which order arguments are worked out is each compiler's own choice, and the
        // numbers decide between equals.
        const int to = number(t.to), from = number(t.from);
        observe(Kind::distance, from, to, -1, mm + half, sd, "");
        net_.observations.back().to_centre_mm = half;
    }

    void line(const Running& r) {
        if (!different(r.from, r.to)) return;
        for (const Running::Stop& s : r.stops) {
            if (!different(s.point, r.from) || !usable(s.station, s.point.c_str(), true)) continue;
            const double at = s.station.mm();
            const int p = number(s.point), a = number(r.from);
            if (s.point == r.to) {
                if (at > 0) observe(Kind::distance, a, p, -1, at, distance_sd_mm(space_.tape, at), "at");
                continue;
            }
            const int b = number(r.to);
            observe(Kind::along, p, a, b, at, distance_sd_mm(space_.tape, at), "at");
            observe(Kind::across, p, a, b, 0, space_.tape.line_sd_mm, "line");
        }
    }

    void line(const Square& s) {
        const bool apart = different(s.corner, s.one_arm) && different(s.corner, s.other_arm) &&
                           different(s.one_arm, s.other_arm);
        if (!apart) return;
        const double sd = s.by_triangle ? space_.tape.triangle_sd_rad : space_.tape.square_sd_rad;
        const int corner = number(s.corner), one = number(s.one_arm), other = number(s.other_arm);
        observe(Kind::square, corner, one, other, 0, 1000 * sd, "square");
    }

    void line(const Rim& r) {
        const auto round = diameter_mm_.find(r.point);
        for (const std::string& name : r.on_rim) {
            if (!different(name, r.point)) return;
        }
        if (round != diameter_mm_.end()) {
            for (const std::string& name : r.on_rim) {
                const int rim = number(name), centre = number(r.point);
                observe(Kind::distance, rim, centre, -1, round->second / 2,
                        std::hypot(space_.tape.line_sd_mm, distance_sd_mm(space_.tape, round->second) / 2),
                        "rim");
            }
            return;
        }
        for (std::size_t i = 1; i < r.on_rim.size(); ++i) {
            if (!different(r.on_rim[0], r.on_rim[i])) continue;
            const int centre = number(r.point), one = number(r.on_rim[0]), other = number(r.on_rim[i]);
            observe(Kind::equal, centre, one, other, 0, space_.tape.line_sd_mm, "rim");
        }
    }

    void line(const Diameter&) {}
    void line(const Height& h) { usable(h.height, "height", true); }
    void line(const CornerRound& c) {
        if (c.tangent.empty()) usable(c.radius, "radius", false);
    }

    void line(const BaselineOffset& b) {
        const bool apart = different(b.base_from, b.base_to) && different(b.point, b.base_from) &&
                           different(b.point, b.base_to);
        if (!apart) return;
        if (b.only_in_line) {
            const int point = number(b.point), from = number(b.base_from), to = number(b.base_to);
            observe(Kind::across, point, from, to, 0, space_.tape.line_sd_mm, "line");
            return;
        }
        const bool along_fits = usable(b.station, "\"at\"", true);
        const bool off_fits = usable(b.offset, "\"off\"", true);
        if (!along_fits || !off_fits) return;
        const int p = number(b.point), a = number(b.base_from), c = number(b.base_to);
        const double at = b.station.mm(), off = b.offset.mm();
        const bool on_line = off == 0;
        // A square held a little off right angles carries the foot of the offset along the line.
        const double along_sd =
            std::hypot(distance_sd_mm(space_.tape, std::fabs(at)), off * space_.tape.square_sd_rad);
        observe(Kind::along, p, a, c, at, along_sd, "at");
        observe(Kind::across, p, a, c, b.left ? off : -off,
                on_line ? space_.tape.line_sd_mm : distance_sd_mm(space_.tape, off),
                on_line ? "line" : "off");
        if (!on_line) net_.oriented = true;
    }

    void line(const Rise& r) {
        if (!different(r.from, r.to)) return;
        usable(r.rise, "rise", true);
    }

    void line(const Through& t) { different(t.from, t.to); }

    void line(const OverUp& o) {
        const bool over_fits = usable(o.over, "\"over\"", true);
        const bool up_fits = usable(o.up, "\"up\"", true);
        if (!over_fits || !up_fits) return;
        const int p = number(o.point);
        observe(Kind::over, p, -1, -1, o.over.mm(), distance_sd_mm(space_.tape, std::fabs(o.over.mm())),
                "over");
        observe(Kind::up, p, -1, -1, o.up.mm(), distance_sd_mm(space_.tape, std::fabs(o.up.mm())), "up");
        net_.has_frame = true;
        net_.oriented = true;
    }

    /// One point read from the square lines says where the lines are, nothing about the shape.
    void lonely_frame() {
        int point = -1;
        bool others = false;
        for (const Observation& o : net_.observations) {
            if (!o.framed()) {
                others = true;
            } else if (point >= 0 && o.p != point) {
                return;
            } else {
                point = o.p;
            }
        }
        if (point < 0 || !others) return;
        say_.about_point("square-lines-alone", Severity::look, net_.names[point],
                         "Only " + net_.names[point] +
                             " is read from the square lines; that says nothing about the shape.",
                         "Read at least two points from the square lines, or take the line out.");
        net_.has_frame = net_.oriented = false;
        std::vector<Observation> kept;
        for (const Observation& o : net_.observations) {
            if (o.framed()) continue;
            kept.push_back(o);
            net_.oriented = net_.oriented || o.oriented();
        }
        net_.observations = std::move(kept);
    }

    bool known(const std::string& name, const Reading& reading) {
        if (by_name_.count(name) != 0) return true;
        say_.about_reading("point-unknown", Severity::stop, reading, {},
                           "\"" + reading.line + "\" names " + name + ", which no reading places.",
                           "Tie " + name + " to at least two other points, or correct the name.");
        return false;
    }

    /// Curved edges, round things and heights name points that other lines place.
    void curves() {
        for (const Reading& reading : space_.readings) {
            if (const Rise* r = std::get_if<Rise>(&reading.what)) {
                const bool from = known(r->from, reading), to = known(r->to, reading);
                if (from && to) net_.on_curve[by_name_[r->from]] = net_.on_curve[by_name_[r->to]] = true;
            } else if (const Through* t = std::get_if<Through>(&reading.what)) {
                known(t->from, reading);
                known(t->to, reading);
                for (const std::string& name : t->points) {
                    if (known(name, reading)) net_.on_curve[by_name_[name]] = true;
                }
            } else if (std::holds_alternative<Diameter>(reading.what) ||
                       std::holds_alternative<CornerRound>(reading.what) ||
                       std::holds_alternative<Height>(reading.what)) {
                for (const std::string& name : points_named(reading)) known(name, reading);
            }
        }
    }

    void walk_and_bow() {
        for (const std::string& name : space_.walk) {
            const auto at = by_name_.find(name);
            if (at == by_name_.end()) {
                say_.about_point("walk-unknown", Severity::stop, name,
                                 "The walk goes by " + name + ", which no reading places.",
                                 "Tie " + name + " to at least two other points, or correct the walk.");
            } else if (net_.in_walk(at->second)) {
                say_.about_point("walk-twice", Severity::stop, name, "The walk meets " + name + " twice.",
                                 "Name every corner once, in the order met walking round.");
            } else {
                net_.walk.push_back(at->second);
            }
        }
        if (space_.bow.empty()) return;
        if (space_.bow.size() != 2 || space_.bow[0] == space_.bow[1]) {
            say_.about_space("bow-two-points", Severity::stop,
                             "The direction to the bow needs two different points; it has " + list_words(space_.bow) + ".",
                             "Name two points: the direction to the bow is from the first to the second.");
            return;
        }
        int found[2] = {-1, -1};
        for (int i = 0; i < 2; ++i) {
            const auto at = by_name_.find(space_.bow[i]);
            if (at == by_name_.end()) {
                say_.about_point("bow-unknown", Severity::stop, space_.bow[i],
                                 "The direction to the bow names " + space_.bow[i] + ", which no reading places.",
                                 "Tie " + space_.bow[i] + " to at least two other points, or name another.");
            } else {
                found[i] = at->second;
            }
        }
        if (found[0] >= 0 && found[1] >= 0) {
            net_.bow_from = found[0];
            net_.bow_to = found[1];
        }
    }

    const SpaceInput& space_;
    Say say_;
    Network net_;
    std::map<std::string, int> by_name_;
    std::map<std::string, double> diameter_mm_;  // of round things, by centre
    int index_ = 0;
    const Reading* reading_ = nullptr;
};

}  // namespace

bool Network::in_walk(int p) const {
    return std::find(walk.begin(), walk.end(), p) != walk.end();
}

double misfit_mm(const Observation& o, const std::vector<Vec2>& at, const Pose& pose) {
    switch (o.kind) {
        case Kind::distance:
            return distance(at[o.p], at[o.a]) - o.value_mm;
        case Kind::along:
        case Kind::across: {
            const Vec2 base = at[o.b] - at[o.a];
            const double length = norm(base);
            if (!(length > 0)) return -o.value_mm;
            const Vec2 d = at[o.p] - at[o.a];
            return (o.kind == Kind::along ? dot(base, d) : cross(base, d)) / length - o.value_mm;
        }
        case Kind::over:
        case Kind::up: {
            const double c = std::cos(pose.turn_rad), s = std::sin(pose.turn_rad);
            const Vec2 d = at[o.p] - pose.corner;
            return (o.kind == Kind::over ? c * d.x + s * d.y : c * d.y - s * d.x) - o.value_mm;
        }
        case Kind::square: {
            const Vec2 one = at[o.a] - at[o.p], other = at[o.b] - at[o.p];
            const double lengths = norm(one) * norm(other);
            return lengths > 0 ? 1000 * dot(one, other) / lengths : 1000;
        }
        case Kind::equal:
            return distance(at[o.p], at[o.a]) - distance(at[o.p], at[o.b]);
    }
    return 0;
}

Network read_network(const SpaceInput& space, std::vector<Finding>& findings) {
    return Reader(space, findings).read();
}

}  // namespace spile::survey
