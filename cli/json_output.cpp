#include "cli/json_output.h"

#include <cmath>

namespace spile::cli {
namespace {

using Json = nlohmann::ordered_json;

template <class Items, class ToJson>
Json list_of(const Items& items, const ToJson& to_json) {
    Json list = Json::array();
    for (const auto& item : items) list.push_back(to_json(item));
    return list;
}

Json finding_json(const Finding& f) {
    return {{"code", f.code},
            {"severity", severity_name(f.severity)},
            {"subject", {{"kind", f.subject.kind}, {"id", f.subject.id}}},
            {"numbers", list_of(f.numbers,
                                [](const Quantity& q) {
                                    return Json{{"name", q.name}, {"value", q.value}, {"unit", q.unit}};
                                })},
            {"says", f.says},
            {"to_do", f.to_do},
            {"where", f.where}};
}

/// What a part of a line is called; ties are whole lines and have none.
void add_part(Json& json, const std::string& part) {
    if (!part.empty()) json["part"] = part;
}

Json tie_json(const TieReport& tie) {
    Json json = {{"text", tie.line},
                 {"from", tie.points.empty() ? "" : tie.points[0]},
                 {"to", tie.points.size() < 2 ? "" : tie.points[1]},
                 {"reads_mm", tie.reads_mm},
                 {"residual_mm", tie.residual_mm},
                 {"redundancy", tie.redundancy},
                 {"w", tie.w},
                 {"smallest_slip_mm", tie.smallest_slip_mm ? Json(*tie.smallest_slip_mm) : Json(nullptr)}};
    add_part(json, tie.part);
    return json;
}

Json suspect_json(const Suspect& suspect) {
    Json json = {{"id", suspect.id},
                 {"text", suspect.line},
                 {"from", suspect.from},
                 {"to", suspect.to},
                 {"slip_mm", suspect.slip_mm},
                 {"sd_mm", suspect.sd_mm},
                 {"guess", suspect.guess},
                 {"proposed", suspect.proposed},
                 {"alike", list_of(suspect.alike, [](const TieName& tie) {
                      return Json{{"from", tie.from}, {"to", tie.to}};
                  })}};
    add_part(json, suspect.part);
    return json;
}

Json points_json(const Survey& survey) {
    Json points = Json::object();
    for (const auto& [name, point] : survey.points) {
        points[name] = {{"x_mm", point.boat_mm.x},
                        {"y_mm", point.boat_mm.y},
                        {"sd_x_mm", std::sqrt(point.cov_mm2.xx)},
                        {"sd_y_mm", std::sqrt(point.cov_mm2.yy)},
                        {"cov_xy_mm2", point.cov_mm2.xy}};
    }
    return points;
}

Json fit_json(const PanelFit& panel) {
    return {{"panel", panel.panel},
            {"worst", panel.fit.worst},
            {"edges", list_of(panel.fit.edges, [](const EdgeFit& edge) {
                 return Json{{"from", edge.from},
                             {"to", edge.to},
                             {"clearance_mm", edge.clearance_mm},
                             {"touches", edge.touches},
                             {"wanted_mm", edge.wanted_mm}};
             })}};
}

Json survey_json(const Survey& survey, const std::vector<PanelFit>& fits) {
    std::vector<PanelFit> own;
    for (const PanelFit& fit : fits)
        if (fit.space == survey.space) own.push_back(fit);
    return {{"id", survey.space},
            {"verdict", survey.verdict},
            {"points", points_json(survey)},
            {"ties", list_of(survey.ties, tie_json)},
            {"suspects", list_of(survey.suspects, suspect_json)},
            {"advice", survey.advice},
            {"missing", survey.missing},
            {"spare", survey.spare},
            {"variance_factor", survey.variance_factor},
            {"fit", list_of(own, fit_json)}};
}

/// A space that could not be worked out at all.
Survey no_survey(const SpaceInput& space, const std::vector<Finding>& findings) {
    Survey survey;
    survey.space = space.id;
    survey.verdict = "The shape could not be worked out.";
    for (const Finding& f : findings) {
        const bool of_this = f.subject.id == space.id || f.subject.id.rfind(space.id + "/", 0) == 0;
        if (f.severity == Severity::stop && of_this) survey.missing.push_back(f.says);
    }
    return survey;
}

Json quantity_json(const QuantityLine& line) {
    return {{"what", line.what},
            {"amount", line.amount},
            {"unit", line.unit},
            {"to_buy", line.to_buy},
            {"because", line.because}};
}

Json quantities_json(const std::optional<Takeoff>& takeoff) {
    const Takeoff none;
    const Takeoff& shown = takeoff ? *takeoff : none;
    return {{"materials", list_of(shown.materials, quantity_json)},
            {"work", list_of(shown.work, quantity_json)}};
}

}  // namespace

std::string document_text(const Json& json) {
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string findings_json(const std::vector<Finding>& findings) {
    return document_text({{"findings", list_of(findings, finding_json)}});
}

std::string surveys_json(const Job& job, const Derived& derived) {
    Json spaces = Json::array();
    for (const SpaceInput& space : job.spaces) {
        const auto survey = derived.surveys.find(space.id);
        spaces.push_back(
            survey_json(survey != derived.surveys.end() ? survey->second : no_survey(space, derived.findings),
                        derived.fits));
    }
    return document_text({{"spaces", spaces}});
}

std::string layout_json(const std::optional<Layout>& layout) {
    if (!layout) return document_text({{"placements", Json::array()}});
    const auto placed = [](const Placement& p) {
        const Vec2 at = p.move_mm();
        return Json{{"piece", p.piece},
                    {"x_mm", at.x},
                    {"y_mm", at.y},
                    {"quarter_turns", p.turns},
                    {"stretch", p.stretch}};
    };
    Json json{
        {"placements", list_of(layout->placements, placed)},
        {"stretches", list_of(layout->stretches,
                              [](const Stretch& s) {
                                  return Json{{"name", s.name}, {"lot", s.lot}, {"length_mm", s.length_mm}};
                              })},
        {"used_mm", layout->used_mm},
        {"bought_mm", layout->bought_mm},
        {"least_order", layout->least_order},
        {"bound_mm", layout->bound_mm},
        {"bound_reason", layout->bound_reason},
        {"goods_share", layout->goods_share},
        {"rounds", layout->rounds}};
    if (!layout->fillers.empty()) json["fillers"] = list_of(layout->fillers, placed);
    return document_text(json);
}

std::string takeoff_json(const std::optional<Takeoff>& takeoff) {
    return document_text(quantities_json(takeoff));
}

std::string priced_json(const std::optional<Takeoff>& takeoff, const nlohmann::ordered_json& priced) {
    Json json = quantities_json(takeoff);
    json["priced"] = priced;
    return document_text(json);
}

}  // namespace spile::cli
