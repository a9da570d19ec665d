#include "core/measure/report.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/base/text.h"
#include "core/measure/advice.h"
#include "core/measure/causes.h"

namespace spile::survey {
namespace {

/// A suspected slip stops cutting when chance is out of the question and it would show in a panel; else a person looks.
constexpr double kCertain_w = 4.417;      // normal, 1 in 100 000 two-sided
constexpr double kShows_mm = 25.4 / 8;    // 1/8 in: half the usual clearance to a wall (common practice)
constexpr double kFlatCrossing_deg = 30;  // tapes that cross flatter hold a point badly (common practice)

constexpr std::size_t kMostNames = 6;  // a sentence with more is not read
constexpr double kFlat = 0.03;         // breadth over length of points that count as in one line

/// Breadth over length of a scatter, by the roots of its 2 x 2 matrix.
double breadth(const std::vector<Vec2>& at) {
    Vec2 middle;
    for (const Vec2 p : at) middle = middle + p / static_cast<double>(at.size());
    Cov2 c;
    for (const Vec2 p : at) {
        const Vec2 d = p - middle;
        c = {c.xx + d.x * d.x, c.xy + d.x * d.y, c.yy + d.y * d.y};
    }
    const double large = largest_sd(c);
    const double small = std::sqrt(std::max(0.0, c.xx + c.yy - large * large));
    return large > 0 ? small / large : 0;
}

}  // namespace

TieName Report::tie_name(int observation) const {
    const Observation& o = net_.observations[observation];
    const Reading& reading = space_.readings[o.reading];
    TieName name{reading.id, reading.line, net_.names[o.from()], {}};
    if (o.to() >= 0) name.to = net_.names[o.to()];
    return name;
}

void Report::fill(const Quality& quality, const Adjusted& adjusted, Survey& survey) const {
    for (int p = 0; p < net_.points(); ++p) {
        if (quality.equations().takes_part(p)) {
            survey.points[net_.names[p]] = {adjusted.places.at[p], quality.covariance(p)};
        }
    }
    survey.spare = static_cast<int>(quality.rows()) - static_cast<int>(quality.equations().parameters());
    survey.variance_factor = survey.spare > 0 ? adjusted.sum / survey.spare : 1;
    std::vector<std::size_t> as_written(quality.rows());
    std::iota(as_written.begin(), as_written.end(), std::size_t{0});
    std::sort(as_written.begin(), as_written.end(), [&](std::size_t a, std::size_t b) {
        return net_.observations[quality.observation(a)].written <
               net_.observations[quality.observation(b)].written;
    });
    for (const std::size_t r : as_written) {
        const Observation& o = net_.observations[quality.observation(r)];
        const Reading& reading = space_.readings[o.reading];
        TieReport t;
        t.id = reading.id;
        t.line = reading.line;
        t.part = o.part;
        for (int k = 0; k < o.point_count(); ++k) t.points.push_back(net_.names[o.point(k)]);
        if (o.turned) std::swap(t.points[0], t.points[1]);
        t.reads_mm = o.value_mm - o.to_centre_mm;
        t.sd_mm = o.sd_mm;
        t.residual_mm = quality.residual()[r] * o.sd_mm;
        t.redundancy = quality.redundancy(r);
        t.w = quality.w(r);
        if (quality.checked(r)) {
            t.smallest_slip_mm = kDelta0 * o.sd_mm / std::sqrt(t.redundancy);
            // A slip of that size in this reading alone moves the points by its response.
            const std::vector<double> response = quality.response(r);
            const double shift = *t.smallest_slip_mm / o.sd_mm;
            for (int p = 0; p < net_.points(); ++p) {
                const int x = quality.equations().column_x(p), y = quality.equations().column_y(p);
                const double moves = shift * std::hypot(x < 0 ? 0 : response[x], y < 0 ? 0 : response[y]);
                if (moves <= t.unseen_moves_mm * (1 + 1e-9)) continue;
                t.unseen_moves_mm = moves;
                t.unseen_point = net_.names[p];
            }
        }
        survey.ties.push_back(std::move(t));
    }
}

void Report::swinging(const Swing& swing, const Places& places, Survey& survey) const {
    if (net_.points() >= 3 && breadth(places.at) < kFlat) {
        say_.about_space("points-in-line", Severity::stop,
                         "All " + count_of(net_.names.size(), "point lies", "points lie") +
                             " in about one line: nothing fixes the breadth.",
                         "Tape to at least one corner that lies well off that line.");
        return;
    }
    for (const Pin& pin : swing.pins) {
        const std::string& name = net_.names[pin.point];
        std::vector<std::string> from;
        for (const int i : net_.of_point[pin.point]) {
            const Observation& o = net_.observations[i];
            if (o.kind == Kind::distance) from.push_back(net_.names[o.p == pin.point ? o.a : o.p]);
        }
        std::string says = name + " can still swing";
        if (from.size() == 1 && net_.of_point[pin.point].size() == 1) {
            says += ": it has one tie only, to " + from[0];
        } else if (!from.empty()) {
            says += ": its ties to " + list_words(from) + " do not hold it";
        }
        std::string to_do = "Tie it to two more points that lie apart.";
        if (pin.to >= 0) {
            to_do = "Tie " + name + " to " + net_.names[pin.to];
            if (from.size() == 1) {
                to_do += " (about " + say_.size(distance(places.at[pin.point], places.at[pin.to])) +
                         " as it is drawn now)";
            }
            to_do += pin.more_needed ? "; one more tie is needed after that." : ".";
            survey.advice.push_back(name + " can still swing; tie " + name + " to " + net_.names[pin.to] +
                                    ".");
        }
        say_.about_point("point-swings", Severity::stop, name, says + ".", to_do);
    }
}

void Report::suspects(const Quality& quality, const SlipReport& slips, Survey& survey) const {
    for (const Slip& slip : slips.slips) {
        const Observation& o = net_.observations[slip.observation];
        const Reading& reading = space_.readings[o.reading];
        const TieName own = tie_name(slip.observation);
        const double slip_mm = spoken_slip_mm(o, slip.slip_mm);
        Guess guess = guess_cause(space_, net_, o, slip.slip_mm, slip.sd_mm, slips.without);
        Suspect s{own.id, own.line, o.part, own.from, own.to, slip_mm, slip.sd_mm, {}, {}, {}};
        if (!guess.words.empty()) s.guess = "Likeliest: " + guess.words + ".";
        s.proposed = std::move(guess.proposed);
        const std::string what = told_apart(slip.observation);
        std::vector<std::string> others, all = {what};
        for (const int other : slip.alike) {
            s.alike.push_back(tie_name(other));
            others.push_back(told_apart(other));
            all.push_back(others.back());
        }
        const std::size_t rest = quality.rows() - slips.slips.size();
        std::string says = what;
        if (*o.part != '\0') says += std::string(" (\"") + o.part + "\")";
        says += " reads " + say_.little(std::fabs(slip_mm)) + (slip_mm > 0 ? " long" : " short") +
                " against the other " + std::to_string(rest) + ".";
        if (!s.guess.empty()) says += " " + s.guess;
        if (!others.empty()) {
            says += " It cannot be told from " + list_words(others) + ": one of these is wrong.";
        }
        std::string to_do = "Tape " + list_words(all) + " again.";
        if (!s.proposed.empty()) to_do += " If so, write \u201C" + s.proposed + "\u201D.";
        const bool certain = std::fabs(slip.w) > kCertain_w && std::fabs(slip.slip_mm) > kShows_mm;
        say_.about_reading("tie-suspect", certain ? Severity::stop : Severity::look, reading,
                           {{"slip", slip_mm, "mm"}, {"w", slip.w, ""}}, std::move(says), std::move(to_do));
        survey.suspects.push_back(std::move(s));
    }
}

/// "A–C"; where the two points were taped more than once, the line itself.
std::string Report::told_apart(int observation) const {
    const Observation& o = net_.observations[observation];
    const Reading& reading = space_.readings[o.reading];
    const auto same = [&](int i) {
        const Observation& other = net_.observations[i];
        return i != observation && other.kind == o.kind && other.p == o.p && other.a == o.a && other.b == o.b;
    };
    const std::vector<int>& list = net_.of_point[o.p];
    return std::any_of(list.begin(), list.end(), same) ? "\u201C" + reading.line + "\u201D" : spoken(reading);
}

/// The best angle at which two tapes cross in a point that tapes alone hold; 90 for any other.
double Report::best_crossing_deg(int point, const Places& places) const {
    std::vector<Vec2> along;
    for (const int i : net_.of_point[point]) {
        const Observation& o = net_.observations[i];
        if (o.kind != Kind::distance) return 90;
        const Vec2 d = places.at[o.p == point ? o.a : o.p] - places.at[point];
        if (norm(d) > 0) along.push_back(unit(d));
    }
    double best = 0;
    for (std::size_t i = 0; i < along.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j)
            best = std::max(
                best, std::atan2(std::fabs(cross(along[i], along[j])), std::fabs(dot(along[i], along[j]))));
    }
    return best * 180 / 3.14159265358979323846;
}

void Report::weak_points(const Survey& survey, const Places& places) const {
    for (int p = 0; p < net_.points(); ++p) {
        const std::string& name = net_.names[p];
        const auto point = survey.points.find(name);
        if (point == survey.points.end()) continue;
        const double sd = largest_sd(point->second.cov_mm2);
        const double crossing = best_crossing_deg(p, places);
        if (sd <= kWeak_mm && crossing >= kFlatCrossing_deg) continue;
        const std::string cross = "cross at " + fixed(crossing, 0) + " degrees, flatter than 30.";
        const std::string says = sd <= kWeak_mm ? "The tapes to " + name + " " + cross
                                 : crossing < kFlatCrossing_deg
                                     ? how_sure(name, sd, say_) + ": its tapes " + cross
                                     : how_sure(name, sd, say_) + ".";
        say_.about("point-weak", Severity::look, "point", name,
                   {{"standard deviation", sd, "mm"}, {"crossing", crossing, "deg"}}, says,
                   "Tie " + name + " to a point that lies square to the ties it has.");
    }
}

void Report::missing(const Quality* quality, Survey& survey) const {
    std::vector<std::string>& out = survey.missing;
    if (!survey.fixed) {
        std::vector<std::string> names;
        for (const auto& [name, at] : survey.loose) names.push_back(name);
        if (names.size() > kMostNames) {
            const std::size_t others = names.size() - kMostNames;
            names.resize(kMostNames);
            names.push_back(count_of(others, "other point", "other points"));
        }
        out.push_back("shape: " +
                      (names.empty() ? "it can still move." : list_words(names) + " can still swing."));
    }
    for (const Suspect& s : survey.suspects) {
        out.push_back("slip " + s.from + (s.to.empty() ? "" : " " + s.to) + ": \u201C" + s.line +
                      "\u201D reads " + say_.little(std::fabs(s.slip_mm)) +
                      (s.slip_mm > 0 ? " long" : " short") + "; tape it again.");
    }
    for (std::size_t r = 0; quality != nullptr && r < quality->rows(); ++r) {
        const Observation& o = net_.observations[quality->observation(r)];
        if (o.kind != Kind::distance || quality->checked(r)) continue;
        const std::string pair = net_.names[o.from()] + " " + net_.names[o.to()];
        out.push_back("check " + pair + ": nothing would show a slip in it.");
    }
    if (space_.bow.empty()) out.push_back("direction: nothing says where the bow is.");
    diagonals(out);
}

/// Ties between corners that are no neighbours on the walk: two at least, from four corners on (one fixes a four-sided
/// figure, the other checks it).
void Report::diagonals(std::vector<std::string>& out) const {
    const std::size_t n = net_.walk.size();
    if (n < 4) return;
    std::vector<int> place(net_.names.size(), -1);
    for (std::size_t i = 0; i < n; ++i) place[net_.walk[i]] = static_cast<int>(i);
    int across = 0;
    for (const Observation& o : net_.observations) {
        if (o.kind != Kind::distance || place[o.p] < 0 || place[o.a] < 0) continue;
        const int apart = std::abs(place[o.p] - place[o.a]);
        across += apart > 1 && apart < static_cast<int>(n) - 1;
    }
    if (across >= 2) return;
    out.push_back("diagonals: " +
                  (across == 0 ? std::string("no corner is") : std::string("only one pair of corners is")) +
                  " tied straight across the space; two are wanted.");
}

void Report::judge(const Quality& quality, const SlipReport& slips, const Places& places,
                   Survey& survey) const {
    suspects(quality, slips, survey);
    const double factor = survey.variance_factor;
    if (slips.slips.empty() && !slips.closes) {
        say_.about(
            "does-not-close", Severity::look, "space", "",
            {{"misclosure against the tape's own doubt", factor, ""}},
            "The readings do not close: together they are off by " + fixed(std::sqrt(factor), 1) +
                " times what the tape allows, and no single one stands out.",
            "Look at the readings with the largest residuals, and whether the tape's settings are right.");
    } else if (!slips.explained) {
        say_.about_space("does-not-close", Severity::look,
                         "With the suspected readings taken out the rest still does not close.",
                         "Tape the suspected readings again first, then look once more.");
    }
    if (survey.fixed) weak_points(survey, places);

    if (!survey.fixed) {
        survey.verdict = "Not fixed: a point can still swing.";
    } else if (!survey.suspects.empty()) {
        survey.verdict = survey.suspects.size() == 1
                             ? "One reading does not agree with the others."
                             : count_of(survey.suspects.size(), "reading does", "readings do") +
                                   " not agree with the others.";
    } else if (!slips.closes) {
        survey.verdict = "Does not close, and no single reading stands out.";
    } else if (survey.spare == 0) {
        survey.verdict = "Fixed, but nothing checks it.";
        say_.about_space(
            "nothing-checks", Severity::look,
            "The shape is fixed by exactly as many readings as it needs: a wrong one would not show.",
            "Take at least one more tie, across the space.");
    } else {
        survey.verdict = "Fixed, and closes with " +
                         count_of(static_cast<std::size_t>(survey.spare), "reading", "readings") +
                         " to spare.";
    }
}

}  // namespace spile::survey
