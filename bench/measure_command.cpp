// spile-bench measure: how often measuring finds the slip, on thousands of invented spaces. Ends with 1 when a bar is missed.
#include <algorithm>
#include <cstdio>
#include <functional>
#include <map>
#include <set>

#include "bench/commands.h"
#include "tests/measure/invented.h"

namespace spile {
namespace {

using namespace simulated;

/// Slips as people make them, and slips of any size.
struct SlipKind {
    const char* name;
    std::function<double(Random&)> size_mm;  ///< without its sign
};
const SlipKind kSlipKinds[] = {
    {"1/2 to 1 in", [](Random& r) { return r.between(12.7, 25.4); }},
    {"1 to 3 in", [](Random& r) { return r.between(25.4, 76.2); }},
    {"3 to 24 in", [](Random& r) { return r.between(76.2, 609.6); }},
    {"1 in", [](Random&) { return 25.4; }},
    {"10 in or 1 ft", [](Random& r) { return r.below(2) ? 254 : 304.8; }},
};

struct Share {
    int good = 0, all = 0;
    void add(bool yes) {
        good += yes;
        ++all;
    }
    double percent() const { return all ? 100.0 * good / all : 0; }
};

/// Misreads one tie; long or short, but never shorter than a hand's breadth.
void misread(Random& random, Space& s, std::size_t tie, double size_mm) {
    const double sixteenth = 25.4 / 16;
    const double slip = std::round(size_mm / sixteenth) * sixteenth;
    const bool shorter = random.below(2) && s.reads_mm[tie] - slip > 100;
    s.reads_mm[tie] += shorter ? -slip : slip;
}

bool is(const Space& s, std::size_t tie, const std::string& from, const std::string& to) {
    return name_of(s.pairs[tie].first) == from && name_of(s.pairs[tie].second) == to;
}
bool named(const Space& s, std::size_t tie, const Suspect& suspect) {
    return is(s, tie, suspect.from, suspect.to);
}
bool named_or_alike(const Space& s, std::size_t tie, const Suspect& suspect) {
    return named(s, tie, suspect) ||
           std::any_of(suspect.alike.begin(), suspect.alike.end(),
                       [&](const TieName& other) { return is(s, tie, other.from, other.to); });
}

class Trial {
  public:
    Trial(int runs, std::uint64_t seed, std::string only)
        : runs_(runs), seed_(seed), only_(std::move(only)) {}

    int run() {
        std::printf("%d runs a bar, seed %llu; tape class II, read to 1/16 in, ends placed to 0.7 mm\n\n",
                    runs_, static_cast<unsigned long long>(seed_));
        part("one", [this] { one_slip(); });
        part("two", [this] { two_slips(); });
        part("clean", [this] { clean(); });
        part("rough", [this] { rough(); });
        part("points", [this] { other_points(); });
        part("ellipses", [this] { ellipses(); });
        part("order", [this] { order(); });
        return missed_ ? 1 : 0;
    }

  private:
    void part(const char* name, const std::function<void()>& run) {
        if (only_.empty() || only_ == name) run();
    }

    void bar(const char* what, double percent, double least, double most, int runs) {
        const bool met = percent >= least && percent <= most;
        missed_ = missed_ || !met;
        if (most >= 100)
            std::printf("%-58s %7.2f %%  bar: at least %g %%  %6d runs  %s\n", what, percent, least, runs,
                        met ? "met" : "MISSED");
        else
            std::printf("%-58s %7.2f %%  bar: %g to %g %%  %6d runs  %s\n", what, percent, least, most, runs,
                        met ? "met" : "MISSED");
        std::fflush(stdout);
    }
    static void line(const char* what, const Share& share) {
        std::printf("    %-54s %7.2f %%  %30d runs\n", what, share.percent(), share.all);
        std::fflush(stdout);
    }

    void one_slip() {
        Random random(seed_ + 1);
        Share seen, first;
        std::map<std::string, Share> seen_by, first_by;
        for (int run = 0; run < runs_; ++run) {
            Space s = fair_space(random);
            tape_all(random, s);
            const SlipKind& kind = kSlipKinds[run % std::size(kSlipKinds)];
            const auto tie = static_cast<std::size_t>(random.below(static_cast<int>(s.pairs.size())));
            misread(random, s, tie, kind.size_mm(random));
            const Result<Survey> survey = measure(input_of(s), RunContext{});
            const bool any = survey && !survey->suspects.empty();
            const bool right = any && named(s, tie, survey->suspects[0]);
            seen.add(any);
            first.add(right);
            seen_by[kind.name].add(any);
            first_by[kind.name].add(right);
        }
        bar("fair, one slip of 1/2 in or more: seen", seen.percent(), 99, 100, seen.all);
        for (const SlipKind& kind : kSlipKinds) line(kind.name, seen_by[kind.name]);
        bar("fair, one slip of 1/2 in or more: right tie first", first.percent(), 98, 100, first.all);
        for (const SlipKind& kind : kSlipKinds) line(kind.name, first_by[kind.name]);
    }

    void two_slips() {
        Random random(seed_ + 2);
        Share both, alike;
        for (int run = 0; run < runs_; ++run) {
            Space s = fair_space(random, 8);
            tape_all(random, s);
            const int count = static_cast<int>(s.pairs.size());
            const int one = random.below(count);
            int other = random.below(count - 1);
            other += other >= one;
            for (const int tie : {one, other})
                misread(random, s, static_cast<std::size_t>(tie), kSlipKinds[1 + run % 4].size_mm(random));
            const Result<Survey> survey = measure(input_of(s), RunContext{});
            int names = 0, nearly = 0;
            if (survey) {
                for (const int tie : {one, other}) {
                    const auto t = static_cast<std::size_t>(tie);
                    const auto& list = survey->suspects;
                    names += std::any_of(list.begin(), list.end(),
                                         [&](const Suspect& x) { return named(s, t, x); });
                    nearly += std::any_of(list.begin(), list.end(),
                                          [&](const Suspect& x) { return named_or_alike(s, t, x); });
                }
            }
            both.add(names == 2);
            alike.add(nearly == 2);
        }
        bar("fair, 8 to spare, two slips of 1 in or more: both named", both.percent(), 90, 100, both.all);
        line("named or among the alike", alike);
    }

    void clean() {
        Random random(seed_ + 3);
        Share fair_alarm, rough_alarm;
        for (int run = 0; run < runs_; ++run) {
            for (Share* share : {&fair_alarm, &rough_alarm}) {
                Space s = share == &fair_alarm ? fair_space(random) : rough_space(random);
                tape_all(random, s);
                const Result<Survey> survey = measure(input_of(s), RunContext{});
                share->add(survey && !survey->suspects.empty());
            }
        }
        bar("fair, clean: any suspect at all", fair_alarm.percent(), 0, 2, fair_alarm.all);
        bar("rough, clean: any suspect at all", rough_alarm.percent(), 0, 2, rough_alarm.all);
    }

    /// Slips that a tie can show at all: larger than its smallest slip. What no tie checks nothing can name.
    void rough() {
        Random random(seed_ + 4);
        Share named_ones, shown, every;
        std::map<std::string, Share> by;
        std::map<int, Share> by_spare;
        for (int run = 0; run < runs_; ++run) {
            Space s = rough_space(random);
            tape_all(random, s);
            const Eigen::MatrixXd r = residual_former(s);
            const auto tie = static_cast<std::size_t>(random.below(static_cast<int>(s.pairs.size())));
            const SlipKind& kind = kSlipKinds[run % std::size(kSlipKinds)];
            const double before = s.reads_mm[tie];
            misread(random, s, tie, kind.size_mm(random));
            const double share = r(static_cast<Eigen::Index>(tie), static_cast<Eigen::Index>(tie));
            const bool shows = std::fabs(s.reads_mm[tie] - before) * std::sqrt(std::max(0.0, share)) >=
                               4.13 * distance_sd_mm(tape(), before);
            const Result<Survey> survey = measure(input_of(s), RunContext{});
            const bool any = survey && !survey->suspects.empty();
            const bool right = any && named_or_alike(s, tie, survey->suspects[0]);
            every.add(right);
            if (any) named_ones.add(right);
            if (!shows) continue;
            shown.add(right);
            by[kind.name].add(right);
            by_spare[std::min(6, spare_of(s))].add(right);
        }
        bar("rough, a slip that shows: right tie first or alike", shown.percent(), 95, 100, shown.all);
        for (const SlipKind& kind : kSlipKinds) line(kind.name, by[kind.name]);
        for (const auto& [spare, share] : by_spare)
            line(((spare == 6 ? "6 or more" : std::to_string(spare)) + " to spare").c_str(), share);
        line("of all runs in which something was suspected", named_ones);
        line("of all runs, shown or not", every);
    }

    /// A tie written between other points than it was taped; the issue names no bar.
    void other_points() {
        Random random(seed_ + 7);
        Share seen, first, offered;
        for (int run = 0; run < runs_; ++run) {
            Space s = fair_space(random);
            tape_all(random, s);
            const std::optional<Mistaken> mistaken = mistake_points(random, s);
            if (!mistaken) continue;
            const Result<Survey> survey = measure(input_of(s), RunContext{});
            const bool any = survey && !survey->suspects.empty();
            const bool right = any && named(s, mistaken->tie, survey->suspects[0]);
            seen.add(any);
            first.add(right);
            offered.add(right && mistaken->is_offered_by(survey->suspects[0].proposed));
        }
        std::printf("%-58s\n", "fair, a tie written between other points than taped");
        line("seen", seen);
        line("the right tie first", first);
        line("and the points it was taped between offered", offered);
    }

    void ellipses() {
        Random random(seed_ + 5);
        Share inside;
        for (int run = 0; run < runs_; ++run) {
            Space s = run % 2 ? fair_space(random) : rough_space(random);
            tape_all(random, s);
            const Result<Survey> survey = measure(input_of(s), RunContext{});
            if (!survey || !survey->fixed) continue;
            const Vec2 o = s.corners[0], u = unit(s.corners[1] - o);
            for (std::size_t p = 2; p < s.corners.size(); ++p) {
                const SurveyPoint& point = survey->points.at(name_of(static_cast<int>(p)));
                const Vec2 d = point.boat_mm - Vec2{dot(u, s.corners[p] - o), cross(u, s.corners[p] - o)};
                const Cov2& c = point.cov_mm2;
                const double det = c.xx * c.yy - c.xy * c.xy;
                // 5.9915 = -2 ln .05: chi-square of two degrees of freedom, 95 %.
                inside.add((c.yy * d.x * d.x - 2 * c.xy * d.x * d.y + c.xx * d.y * d.y) / det < 5.9915);
            }
        }
        bar("95 % ellipses hold the truth (points)", inside.percent(), 93, 97, inside.all);
    }

    void order() {
        Random random(seed_ + 6);
        Share same, fair_same, rough_same, sure_same;
        double worst_mm = 0;
        for (int run = 0; run < runs_; ++run) {
            Space s = run % 2 ? fair_space(random) : rough_space(random);
            tape_all(random, s);
            if (run % 3) misread(random, s, 0, kSlipKinds[run % std::size(kSlipKinds)].size_mm(random));
            const SpaceInput in = input_of(s);
            const SpaceInput mixed = otherwise(random, in);
            const Result<Survey> one = measure(in, RunContext{}), other = measure(mixed, RunContext{});
            if (!one || !other) {
                same.add(false);
                continue;
            }
            bool equal =
                one->suspects.size() == other->suspects.size() && one->points.size() == other->points.size();
            for (std::size_t i = 0; equal && i < one->suspects.size(); ++i) {
                equal = one->suspects[i].id == other->suspects[i].id &&
                        one->suspects[i].guess.empty() == other->suspects[i].guess.empty() &&
                        one->suspects[i].alike.size() == other->suspects[i].alike.size();
            }
            double furthest_mm = 0;
            for (const auto& [name, point] : one->points) {
                const auto there = other->points.find(renamed(name));
                if (there == other->points.end())
                    equal = false;
                else
                    furthest_mm = std::max(furthest_mm, distance(point.boat_mm, there->second.boat_mm));
            }
            worst_mm = std::max(worst_mm, furthest_mm);
            const bool good = equal && furthest_mm <= 1e-6;
            same.add(good);
            (run % 2 ? fair_same : rough_same).add(good);
            const bool stopped = std::any_of(one.findings.begin(), one.findings.end(),
                                             [](const Finding& f) { return f.severity == Severity::stop; });
            if (!stopped) sure_same.add(good);
        }
        bar("shuffled and renamed: same suspects, same shape to 1 nm", same.percent(), 100, 100, same.all);
        line("fair", fair_same);
        line("rough", rough_same);
        line("where no finding stops the knife", sure_same);
        std::printf("    largest difference %.2g mm\n", worst_mm);
    }

    int runs_;
    std::uint64_t seed_;
    std::string only_;
    bool missed_ = false;
};

}  // namespace

int measure_command(const std::vector<std::string>& words) {
    int runs = 4000;
    unsigned long long seed = 1;
    std::string only;
    for (std::size_t i = 0; i + 1 < words.size(); i += 2) {
        if (words[i] == "--runs")
            runs = std::atoi(words[i + 1].c_str());
        else if (words[i] == "--seed")
            seed = std::strtoull(words[i + 1].c_str(), nullptr, 10);
        else if (words[i] == "--only")
            only = words[i + 1];
        else
            return 2;
    }
    static const std::set<std::string> parts = {"",      "one",    "two",      "clean",
                                                "rough", "points", "ellipses", "order"};
    if (words.size() % 2 || runs < 1 || parts.count(only) == 0) return 2;
    return Trial(runs, seed, only).run();
}

}  // namespace spile
