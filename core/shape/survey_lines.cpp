#include "core/shape/survey_lines.h"

#include <algorithm>

namespace spile {

std::optional<Vec2> find_point(const Survey& survey, const std::string& name, const std::string& asker,
                               const char* kind, const std::string& part, Reporter& report) {
    const auto it = survey.points.find(name);
    if (it != survey.points.end()) return it->second.boat_mm;
    if (survey.fixed) {
        report.add(
            "unknown-point", Severity::stop, kind, part, {},
            asker + " uses the point \"" + name + "\", but no reading of \"" + survey.space + "\" names it.",
            "Correct the name, or add the readings that place " + name + ".");
    } else {
        report.add("point-not-placed", Severity::stop, kind, part, {},
                   asker + " uses the point \"" + name + "\", but the readings of \"" + survey.space +
                       "\" do not place it.",
                   "Add the readings that place " + name + ".");
    }
    return std::nullopt;
}

std::vector<Edge> measured_edge(const Survey& survey, const std::string& from, const std::string& to, Vec2 a,
                                Vec2 b) {
    for (const SurveyCurve& curve : survey.curves) {
        const bool against = curve.from == to && curve.to == from;
        if (curve.edges.empty() || (!against && (curve.from != from || curve.to != to))) continue;
        std::vector<Edge> edges = curve.edges;
        if (against) {
            std::reverse(edges.begin(), edges.end());
            for (Edge& e : edges) e = reversed(e);
        }
        edges.front().a = a;  // a curve ends in its points exactly, whatever arithmetic left between them
        edges.back().b = b;
        return edges;
    }
    return {Edge{a, b, 0, 0}};
}

std::optional<std::vector<Edge>> line_through(const Survey& survey, const std::vector<std::string>& names,
                                              const std::string& asker, Reporter& report) {
    std::vector<Vec2> at;
    for (const std::string& name : names) {
        const auto place = find_point(survey, name, asker, "panel", "", report);
        if (place) at.push_back(*place);
    }
    if (at.size() != names.size()) return std::nullopt;
    std::vector<Edge> line;
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
        const std::vector<Edge> part = measured_edge(survey, names[i], names[i + 1], at[i], at[i + 1]);
        line.insert(line.end(), part.begin(), part.end());
    }
    return line;
}

}  // namespace spile
