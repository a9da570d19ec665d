#include "shop/hours.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/num/normal_equations.h"
#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr double kHuber = 1.345, kMadToSd = 1.4826;  // from memory, see the header
constexpr double kOdd = 3.5;
constexpr double kPriorShare = 0.5;     // of a guess: how far off we think our own guesses may be
constexpr double kLeastSd_minutes = 5;  // nobody writes a ticket to the minute
constexpr int kRounds = 50;
constexpr double kSettled_minutes =
    1e-9;  // far below what is said of a minute: the weights have come to rest

double median(std::vector<double> values) {
    if (values.empty()) return 0;
    std::sort(values.begin(), values.end());
    const std::size_t n = values.size();
    return n % 2 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

class Learner {
  public:
    Learner(const WorkTimes& guesses, std::vector<TicketWork> tickets) : tickets_(std::move(tickets)) {
        std::sort(tickets_.begin(), tickets_.end(), [](const TicketWork& a, const TicketWork& b) {
            return a.job != b.job ? a.job < b.job : a.minutes < b.minutes;
        });
        for (const auto& [code, time] : guesses) {
            index_[code] = static_cast<int>(codes_.size());
            codes_.push_back(code);
            guess_.push_back(time.minutes);
        }
        x_ = guess_;
        weights_.assign(tickets_.size(), 1.0);
        for (std::size_t t = 0; t < tickets_.size(); ++t) {
            for (const auto& [code, count] : tickets_[t].counts)
                if (index_.count(code) && count > 0) shape_.add(index_.at(code), count);
            shape_.end_row();
        }
        for (int i = 0; i < static_cast<int>(x_.size()); ++i) {
            shape_.add(i, 1);
            shape_.end_row();
        }
    }

    Hours learn() {
        Hours hours;
        NormalEquations equations(x_.size(), shape_);
        for (int round = 0; round < kRounds && !tickets_.empty(); ++round) {
            weigh();
            const std::vector<double> before = x_;
            solve(equations);
            double moved = 0;
            for (std::size_t i = 0; i < x_.size(); ++i) moved = std::max(moved, std::fabs(x_[i] - before[i]));
            if (moved < kSettled_minutes) break;
        }
        weigh();
        hours.ticket_sd_minutes = tickets_.empty() ? 0 : sd_;
        if (!tickets_.empty()) {
            solve(equations);
            equations.invert_within_pattern();
        }
        for (std::size_t i = 0; i < codes_.size(); ++i)
            hours.times[codes_[i]] = time_of(i, equations, hours.says);
        for (std::size_t t = 0; t < tickets_.size(); ++t) {
            const double off = std::fabs(residual(t)) / sd_;
            if (off > kOdd)
                hours.odd.push_back({tickets_[t].job, tickets_[t].title, tickets_[t].minutes,
                                     tickets_[t].minutes - residual(t), off});
        }
        std::stable_sort(hours.odd.begin(), hours.odd.end(),
                         [](const OddJob& a, const OddJob& b) { return a.times_doubt > b.times_doubt; });
        return hours;
    }

  private:
    double residual(std::size_t t) const {
        double expected = 0;
        for (std::size_t k = shape_.start[t]; k < shape_.start[t + 1]; ++k)
            expected += shape_.value[k] * x_[static_cast<std::size_t>(shape_.column[k])];
        return tickets_[t].minutes - expected;
    }

    void weigh() {
        std::vector<double> sizes;
        for (std::size_t t = 0; t < tickets_.size(); ++t) sizes.push_back(std::fabs(residual(t)));
        sd_ = std::max(kLeastSd_minutes, kMadToSd * median(sizes));
        for (std::size_t t = 0; t < tickets_.size(); ++t)
            weights_[t] = sizes[t] <= kHuber * sd_ ? 1.0 : kHuber * sd_ / sizes[t];
    }

    void solve(NormalEquations& equations) {
        SparseRows rows = shape_;
        std::vector<double> right(rows.rows());
        for (std::size_t r = 0; r < rows.rows(); ++r) {
            const std::size_t i = r - std::min(r, tickets_.size());
            const bool ticket = r < tickets_.size();
            const double scale =
                ticket ? std::sqrt(weights_[r]) / sd_ : 1 / (kPriorShare * std::max(guess_[i], 0.1));
            for (std::size_t k = rows.start[r]; k < rows.start[r + 1]; ++k) rows.value[k] *= scale;
            right[r] = scale * (ticket ? tickets_[r].minutes : guess_[i]);
        }
        equations.form(rows);
        SPILE_CHECK(equations.factor());  // every operation has its guess: always determined
        x_ = equations.solve(transposed_times(rows, right, x_.size()));
        for (double& minutes : x_) minutes = std::max(minutes, 0.0);
    }

    WorkTime time_of(std::size_t i, const NormalEquations& equations, std::vector<std::string>& says) const {
        WorkTime time{guess_[i], 0, 0};
        for (std::size_t t = 0; t < tickets_.size(); ++t)
            for (std::size_t k = shape_.start[t]; k < shape_.start[t + 1]; ++k)
                if (shape_.column[k] == static_cast<int>(i)) ++time.jobs;
        const std::string unit = per_metre(codes_[i]) ? " min a metre" : " min";
        if (time.jobs == 0) {
            says.push_back(codes_[i] + ": " + fixed(time.minutes, 1) + unit +
                           ", a guess: no ticket has it yet.");
            return time;
        }
        const int column = static_cast<int>(i);
        time.minutes = x_[i];
        time.sd_minutes = std::sqrt(equations.inverse(column, column));
        const double prior = kPriorShare * std::max(guess_[i], 0.1);
        const bool hardly = time.sd_minutes > 0.7 * prior;
        says.push_back(codes_[i] + ": " + fixed(time.minutes, 1) + unit + ", give or take " +
                       fixed(time.sd_minutes, 1) + ", from " +
                       count_of(static_cast<std::size_t>(time.jobs), "ticket", "tickets") +
                       (hardly ? "; still mostly the guess of " + fixed(guess_[i], 1) + "." : "."));
        return time;
    }

    std::vector<TicketWork> tickets_;
    std::map<std::string, int> index_;
    std::vector<std::string> codes_;
    std::vector<double> guess_, x_, weights_;
    SparseRows shape_;  ///< counts of the tickets, then one row for each guess
    double sd_ = kLeastSd_minutes;
};

}  // namespace

Hours learn_hours(const WorkTimes& guesses, const std::vector<TicketWork>& tickets) {
    return Learner(guesses, tickets).learn();
}

std::map<std::string, double> ticket_counts(const Takeoff& takeoff, double visits, std::size_t spaces) {
    std::map<std::string, double> counts;
    for (const QuantityLine& line : takeoff.work)
        counts[line.code] += per_metre(line.code) ? line.amount / 1000 : line.amount;
    counts["fit"] = counts["piece"];
    counts["visit"] = visits;
    counts["space"] = static_cast<double>(spaces);
    return counts;
}

Result<Done> save_ticket(Store& store, Id job, const std::map<std::string, double>& counts, double minutes,
                         const std::string& by) {
    return writing(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        check_text(by, "the name of who did it");
        if (!(minutes > 0 && minutes <= 100'000))
            refuse("minutes-refused",
                   fixed(std::isfinite(minutes) ? minutes : 0, 1) +
                       " minutes cannot be: a ticket takes more than none and at most 100 000.",
                   "Write the whole working time of the job in minutes.", {"job", std::to_string(job)});
        nlohmann::ordered_json json = nlohmann::ordered_json::object();
        for (const auto& [code, count] : counts) json[code] = count;
        Statement(database,
                  "INSERT INTO ticket VALUES(?,?,?,?,?) ON CONFLICT(job) DO UPDATE SET at=excluded.at,"
                  " by=excluded.by, counts=excluded.counts, minutes=excluded.minutes")
            .with(job, database.now(), by, json.dump(), minutes)
            .run();
        return Done{};
    });
}

Result<std::vector<TicketWork>> list_tickets(Store& store) {
    return reading(store, [&](Database& database) {
        Statement rows(database,
                       "SELECT ticket.job, job.title, ticket.counts, ticket.minutes FROM ticket JOIN job ON"
                       " job.id=ticket.job ORDER BY ticket.job");
        std::vector<TicketWork> list;
        while (rows.next()) {
            TicketWork ticket{rows.whole(0), rows.text(1), {}, rows.number(3)};
            const auto json = nlohmann::json::parse(rows.text(2), nullptr, false);
            for (const auto& [code, count] : json.items())
                if (count.is_number()) ticket.counts[code] = count.get<double>();
            list.push_back(std::move(ticket));
        }
        return list;
    });
}

}  // namespace spile::shop
