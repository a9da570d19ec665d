// From readings to a survey: the order of the steps.
#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "core/base/text.h"
#include "core/measure/advice.h"
#include "core/measure/curves.h"
#include "core/measure/own_order.h"
#include "core/measure/quality.h"
#include "core/measure/report.h"
#include "core/measure/settle.h"
#include "core/measure/sides.h"
#include "core/measure/slips.h"
#include "core/measure/swing.h"
#include "core/measure/things.h"

namespace spile {
namespace survey {
namespace {

constexpr std::size_t kMostPins = 12;

class Measuring {
  public:
    Measuring(const SpaceInput& space, std::vector<Finding>& findings)
        : space_(space), findings_(findings), say_(space, findings), report_(space, net_, say_) {}

    std::optional<Survey> run() {
        if (space_.readings.empty()) {
            say_.about_space("no-readings", Severity::stop, "Nothing has been taped yet.",
                             "Write the ties, one a line, such as: A B 96 1/4");
            return std::nullopt;
        }
        net_ = read_network(space_, findings_);
        check_readings(space_, net_, findings_);
        net_ = in_own_order(net_);
        if (net_.observations.empty() || !bearable()) return std::nullopt;

        Survey survey;
        survey.space = space_.id;
        Settled settled = settle(net_);
        Places places = settled.places;
        Datum datum = settled.datum;
        const Swing swing = find_swing(net_, datum, places, kMostPins);
        std::vector<bool> firm;
        for (const bool loose : swing.loose) firm.push_back(!loose);
        survey.fixed = !swing.any();
        if (swing.any()) {
            report_.swinging(swing, places, survey);
            places = adjust(Equations(net_, datum, firm), places).places;
        }
        if (std::count(firm.begin(), firm.end(), true) >= 3)
            settle_sides(net_, datum, firm, settled.rivals, places, say_);
        datum = bow_datum(datum, firm, places);

        const Equations equations(net_, datum, firm);
        Adjusted adjusted = adjust(equations, places);
        std::optional<Quality> view;
        view.emplace(equations, adjusted.places, neighbours(firm));
        if (!view->fixed()) {
            // A wrong reading can bend a shape until it holds nothing; so it is looked at with the odd readings silent.
            adjusted = adjust_robustly(net_, datum, places, firm);
            view.emplace(equations, adjusted.places, neighbours(firm));
            adjusted.sum = 0;
            for (const double v : view->residual()) adjusted.sum += v * v;
        }
        const Quality& quality = *view;
        if (!quality.fixed()) {
            // Too weak for the arithmetic although no point swings far: say so rather than print noise.
            survey.fixed = false;
            survey.verdict = "Not fixed: the readings do not hold the shape.";
            say_.about_space("shape-not-fixed", Severity::stop, "The readings do not fix the shape.",
                             "Add ties between corners that have none between them yet.");
            report_.missing(nullptr, survey);
            return survey;
        }
        if (swing.any()) {
            for (int p = 0; p < net_.points(); ++p) {
                if (!firm[p]) survey.loose[net_.names[p]] = adjusted.places.at[p];
            }
        }
        report_.fill(quality, adjusted, survey);
        pairs(quality, firm, survey);
        report_.judge(quality, find_slips(space_, equations, adjusted.places, places), adjusted.places,
                      survey);
        report_.missing(&quality, survey);
        if (survey.points.size() <= kMostDense) {
            dense(quality, survey);
            if (survey.fixed) {
                std::vector<int> points;
                for (int p = 0; p < net_.points(); ++p) points.push_back(p);
                survey.advice =
                    next_ties(quality, adjusted.places, space_.tape, quality.covariance(points), say_);
            }
        }
        survey.curves = curves_of(space_, survey.points, say_);
        things_of(space_, say_, survey);
        return survey;
    }

  private:
    /// Readings between everything and everything make a net that takes minutes; no tape book is like that.
    bool bearable() const {
        constexpr double kMostWork = 2e8;
        SparseRows rows;
        for (const Observation& o : net_.observations) {
            for (int k = 0; k < o.point_count(); ++k) rows.add(o.point(k), 1);
            rows.end_row();
        }
        // One parameter here stands for two coordinates: eight times the work.
        if (8 * NormalEquations(net_.names.size(), rows).work() <= kMostWork) return true;
        say_.about_space("too-many-readings", Severity::stop,
                         count_of(net_.observations.size(), "reading", "readings") + " between " +
                             count_of(net_.names.size(), "point", "points") +
                             " are too many to be worked out together.",
                         "Split the space into several that share a few points.");
        return false;
    }

    /// The datum of the result: the bow line; without one, the square lines or the first side of the walk.
    Datum bow_datum(const Datum& settled, const std::vector<bool>& firm, const Places& places) const {
        constexpr double kShort_mm = 50;
        if (net_.bow_from >= 0) {
            if (!firm[net_.bow_from] || !firm[net_.bow_to]) return settled;
            if (distance(places.at[net_.bow_from], places.at[net_.bow_to]) >= kShort_mm) {
                return {net_.bow_from, net_.bow_to};
            }
            say_.about_space("bow-short", Severity::stop,
                             "The two points that say where the bow is lie " +
                                 say_.size(distance(places.at[net_.bow_from], places.at[net_.bow_to])) +
                                 " apart: too near to give a direction.",
                             "Name two points further apart.");
            return settled;
        }
        if (!space_.bow.empty()) return settled;  // said already
        if (net_.has_frame) {
            say_.about_space(
                "bow-missing", Severity::look,
                "Nothing says where the bow is; \"over\" is taken to run towards it.",
                "Name two points: from the first to the second is towards the bow.");
            return Datum{};
        }
        say_.about_space("bow-missing", Severity::stop, "Nothing says where the bow is.",
                         "Name two points: from the first to the second is towards the bow.");
        std::vector<int> corners;
        for (const int p : net_.walk) {
            if (firm[p]) corners.push_back(p);
        }
        return corners.size() >= 2 ? Datum{corners[0], corners[1]} : settled;
    }

    /// Sides of the walk and ties: the pairs along which a doubt is asked for later.
    std::vector<std::pair<int, int>> neighbours(const std::vector<bool>& firm) const {
        std::vector<std::pair<int, int>> out;
        const auto add = [&](int p, int q) {
            if (p != q && firm[p] && firm[q]) out.push_back({p, q});
        };
        for (std::size_t i = 0; i < net_.walk.size(); ++i)
            add(net_.walk[i], net_.walk[(i + 1) % net_.walk.size()]);
        for (const Observation& o : net_.observations) {
            if (o.kind == Kind::distance) add(o.p, o.a);
        }
        return out;
    }

    void dense(const Quality& quality, Survey& survey) const {
        std::map<std::string, int> by_name;
        for (int p = 0; p < net_.points(); ++p) by_name[net_.names[p]] = p;
        std::vector<int> points;
        for (const auto& [name, point] : survey.points) points.push_back(by_name[name]);
        survey.covariance_mm2 = quality.covariance(points);
    }

    void pairs(const Quality& quality, const std::vector<bool>& firm, Survey& survey) const {
        std::set<std::pair<int, int>> seen;
        for (const auto& [p, q] : neighbours(firm)) {
            if (!seen.insert({std::min(p, q), std::max(p, q)}).second) continue;
            const std::array<double, 4> c = quality.covariance(p, q);
            survey.pairs.push_back({net_.names[p], net_.names[q], c[0], c[1], c[2], c[3]});
        }
    }

    const SpaceInput& space_;
    std::vector<Finding>& findings_;
    Network net_;
    Say say_;
    Report report_;
};

}  // namespace
}  // namespace survey

Ellipse ellipse_95(const Cov2& c) {
    constexpr double kScale = 2.4477468306808166;  // sqrt(-2 ln .05)
    const double half = 0.5 * (c.xx + c.yy);
    const double spread = std::sqrt(0.25 * (c.xx - c.yy) * (c.xx - c.yy) + c.xy * c.xy);
    return {kScale * std::sqrt(std::max(0.0, half + spread)),
            kScale * std::sqrt(std::max(0.0, half - spread)), 0.5 * std::atan2(2 * c.xy, c.xx - c.yy)};
}

Result<Survey> measure(const SpaceInput& space, const RunContext&) {
    Result<Survey> result;
    result.value = survey::Measuring(space, result.findings).run();
    return result;
}

}  // namespace spile
