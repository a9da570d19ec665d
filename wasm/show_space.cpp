// A space as it was taped: points with their doubt, readings with what they are off, suspects, what to tape next.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "core/geom/measure_of.h"
#include "wasm/request.h"
#include "wasm/show.h"

namespace spile::surface {
namespace {

constexpr double degrees_per_radian = 180 / 3.14159265358979323846;

/// The ellipse of one standard deviation, in drawing space: its half axes and by how much the long one is turned,
/// clockwise as seen, from the x axis (as SVG turns).
Json doubt(const Cov2& cov) {
    const double middle = (cov.xx + cov.yy) / 2, half = (cov.xx - cov.yy) / 2;
    const double root = std::sqrt(half * half + cov.xy * cov.xy);
    const double turned_rad = std::atan2(2 * cov.xy, cov.xx - cov.yy) / 2;
    return {{"long_mm", std::sqrt(std::max(0.0, middle + root))},
            {"short_mm", std::sqrt(std::max(0.0, middle - root))},
            {"turned_deg", -turned_rad * degrees_per_radian}};
}

const char* kind_of(const Reading& reading) {
    struct Kinds {
        const char* operator()(const Tie&) const { return "tie"; }
        const char* operator()(const BaselineOffset&) const { return "offset"; }
        const char* operator()(const Rise&) const { return "rise"; }
        const char* operator()(const Through&) const { return "through"; }
        const char* operator()(const OverUp&) const { return "over and up"; }
        const char* operator()(const Running&) const { return "running"; }
        const char* operator()(const Square&) const { return "square"; }
        const char* operator()(const Diameter&) const { return "diameter"; }
        const char* operator()(const Rim&) const { return "rim"; }
        const char* operator()(const CornerRound&) const { return "round"; }
        const char* operator()(const Height&) const { return "height"; }
    };
    return std::visit(Kinds{}, reading.what);
}

/// "1 1/16 long", "1/16 short", "right on" below half the smallest mark.
std::string off_words(double mm, const LengthStyle& style) {
    const PrintedLength printed = print_length(std::fabs(mm), style);
    if (printed.printed_mm == 0) return "right on";
    return printed.text + (mm > 0 ? " long" : " short");
}

Json shown_part(const TieReport& t, const LengthStyle& style) {
    Json part = {{"part", t.part},
                 {"points", t.points},
                 {"reads_mm", t.reads_mm},
                 {"sd_mm", t.sd_mm},
                 {"off_mm", t.residual_mm},
                 {"off", off_words(t.residual_mm, style)},
                 {"redundancy", t.redundancy},
                 {"w", t.w},
                 {"smallest_slip_mm", nullptr},
                 {"smallest_slip", nullptr},
                 {"unseen_moves_mm", t.unseen_moves_mm},
                 {"unseen_point", t.unseen_point}};
    if (t.smallest_slip_mm) {
        part["smallest_slip_mm"] = *t.smallest_slip_mm;
        part["smallest_slip"] = print_length(*t.smallest_slip_mm, style).text;
    }
    return part;
}

Json shown_suspect(const Suspect& s, const LengthStyle& style) {
    return {{"id", s.id},
            {"line", s.line},
            {"part", s.part},
            {"from", s.from},
            {"to", s.to},
            {"slip_mm", s.slip_mm},
            {"slip", off_words(s.slip_mm, style)},
            {"sd_mm", s.sd_mm},
            {"guess", s.guess},
            {"proposed", s.proposed},
            {"alike", list_of(s.alike, [](const TieName& t) {
                 return Json{{"id", t.id}, {"line", t.line}, {"from", t.from}, {"to", t.to}};
             })}};
}

/// Sides of the walk and ties that can be drawn, each with the reading it came from where it came from one.
Json strokes(const SpaceInput& space, const Survey& survey, Box& all) {
    const auto at = [&survey](const std::string& name) -> std::optional<Vec2> {
        const auto firm = survey.points.find(name);
        if (firm != survey.points.end()) return firm->second.boat_mm;
        const auto loose = survey.loose.find(name);
        if (loose != survey.loose.end()) return loose->second;
        return std::nullopt;
    };
    Json list = Json::array();
    const auto add = [&](const char* kind, const std::string& reading, const std::string& from,
                         const std::string& to, const Path& path) {
        list.push_back(
            {{"kind", kind}, {"reading", reading}, {"from", from}, {"to", to}, {"d", path_data(path)}});
    };
    const auto straight = [](Vec2 a, Vec2 b) { return Path{{{a, 0, 0}, {b, 0, 0}}}; };
    for (const SurveyCurve& curve : survey.curves) {
        Path path;
        for (const Edge& e : curve.edges) {
            path.vertices.push_back({e.a, e.bulge, 0});
            all.add(box_of(e));
        }
        if (!curve.edges.empty()) path.vertices.push_back({curve.edges.back().b, 0, 0});
        add("curve", "", curve.from, curve.to, path);
    }
    // A side may be taped as several curves, from mark to mark between its two corners.
    const auto is_curved = [&](const std::string& p, const std::string& q) {
        std::set<std::string> reached{p};
        const auto goes_on = [&](const std::string& name) {
            const bool corner = std::find(space.walk.begin(), space.walk.end(), name) != space.walk.end();
            return reached.count(name) > 0 && (name == p || !corner);
        };
        for (std::size_t before = 0; before != reached.size();) {
            before = reached.size();
            for (const SurveyCurve& c : survey.curves) {
                if (goes_on(c.from)) reached.insert(c.to);
                if (goes_on(c.to)) reached.insert(c.from);
            }
        }
        return reached.count(q) > 0;
    };
    for (std::size_t i = 0; i < space.walk.size(); ++i) {
        const std::string &p = space.walk[i], &q = space.walk[(i + 1) % space.walk.size()];
        const auto a = at(p), b = at(q);
        if (a && b && !is_curved(p, q)) add("side", "", p, q, straight(*a, *b));
    }
    for (const Reading& r : space.readings) {
        if (const Tie* tie = std::get_if<Tie>(&r.what)) {
            const auto a = at(tie->from), b = at(tie->to);
            if (a && b) add("tie", r.id, tie->from, tie->to, straight(*a, *b));
        } else if (const BaselineOffset* off = std::get_if<BaselineOffset>(&r.what)) {
            const auto a = at(off->base_from), b = at(off->base_to), p = at(off->point);
            if (!a || !b || !p || *a == *b) continue;
            const Vec2 foot = *a + dot(*p - *a, *b - *a) / norm2(*b - *a) * (*b - *a);
            add("baseline", r.id, off->base_from, off->base_to, straight(*a, foot));
            add("offset", r.id, off->base_from, off->point, straight(foot, *p));
        }
    }
    return list;
}

struct Sizes {
    std::vector<const TypedLength*> operator()(const Tie& t) const { return {&t.distance}; }
    std::vector<const TypedLength*> operator()(const BaselineOffset& b) const {
        return {&b.station, &b.offset};
    }
    std::vector<const TypedLength*> operator()(const Rise& r) const { return {&r.rise}; }
    std::vector<const TypedLength*> operator()(const Through&) const { return {}; }
    std::vector<const TypedLength*> operator()(const OverUp& o) const { return {&o.over, &o.up}; }
    std::vector<const TypedLength*> operator()(const Running& r) const {
        std::vector<const TypedLength*> sizes;
        for (const Running::Stop& stop : r.stops) sizes.push_back(&stop.station);
        return sizes;
    }
    std::vector<const TypedLength*> operator()(const Square&) const { return {}; }
    std::vector<const TypedLength*> operator()(const Diameter& d) const { return {&d.diameter}; }
    std::vector<const TypedLength*> operator()(const Rim&) const { return {}; }
    std::vector<const TypedLength*> operator()(const CornerRound& c) const {
        if (!c.tangent.empty()) return {};
        return {&c.radius};
    }
    std::vector<const TypedLength*> operator()(const Height& h) const { return {&h.height}; }
};

}  // namespace

Json shown_reading(const Reading& reading, const LengthStyle& style) {
    return {{"kind", kind_of(reading)},
            {"line", reading.line},
            {"points", points_named(reading)},
            {"lengths", list_of(std::visit(Sizes{}, reading.what),
                                [&style](const TypedLength* t) { return length(t->mm(), style); })}};
}

Json shown_space(const SpaceInput& space, const Survey* survey, const LengthStyle& job_style) {
    LengthStyle style = job_style;
    style.unit = space.unit;
    std::map<std::string, std::vector<const TieReport*>> reports;
    if (survey) {
        for (const TieReport& t : survey->ties) reports[t.id].push_back(&t);
    }
    Json readings = list_of(space.readings, [&](const Reading& r) {
        return Json{{"id", r.id},
                    {"line", r.line},
                    {"kind", kind_of(r)},
                    {"parts",
                     list_of(reports[r.id], [&style](const TieReport* t) { return shown_part(*t, style); })}};
    });
    Json out = {{"id", space.id},
                {"units", unit_name(space.unit)},
                {"walk", space.walk},
                {"bow", space.bow},
                {"readings", std::move(readings)}};
    if (!survey) {
        out["survey"] = nullptr;
        return out;
    }
    Box all;
    Json points = Json::array(), loose = Json::array();
    for (const auto& [name, p] : survey->points) {
        all.add(p.boat_mm);
        points.push_back({{"name", name},
                          {"x_mm", p.boat_mm.x},
                          {"y_mm", p.boat_mm.y},
                          {"at", place(p.boat_mm)},
                          {"doubt", doubt(p.cov_mm2)}});
    }
    for (const auto& [name, p] : survey->loose) {
        all.add(p);
        loose.push_back({{"name", name}, {"at", place(p)}});
    }
    Json drawn = strokes(space, *survey, all);
    out["survey"] = {
        {"fixed", survey->fixed},
        {"verdict", survey->verdict},
        {"spare", survey->spare},
        {"variance_factor", survey->variance_factor},
        {"points", std::move(points)},
        {"loose", std::move(loose)},
        {"strokes", std::move(drawn)},
        {"suspects", list_of(survey->suspects, [&](const Suspect& s) { return shown_suspect(s, style); })},
        {"advice", survey->advice},
        {"missing", survey->missing},
        {"box", box(all)}};
    return out;
}

}  // namespace spile::surface
