// Minutes per operation from the shop's own finished tickets.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "core/takeoff/quote.h"
#include "shop/store.h"

namespace spile::shop {

/// One finished ticket: what was done (counts by operation code, metres for lengths) and how long it took in all.
struct TicketWork {
    Id job = 0;
    std::string title;
    std::map<std::string, double> counts;
    double minutes = 0;
};

struct OddJob {
    Id job = 0;
    std::string title;
    double written_minutes = 0, expected_minutes = 0;
    double times_doubt = 0;  ///< how many standard deviations apart
};

struct Hours {
    WorkTimes times;                ///< every operation, estimated where tickets have it, else the guess
    double ticket_sd_minutes = 0;   ///< how far one ticket scatters about what is expected
    std::vector<OddJob> odd;        ///< more than three and a half standard deviations off, worst first
    std::vector<std::string> says;  ///< one sentence for each operation: how sure, and from what
};

/// Minutes as a sum over operations of count times minutes each, estimated by least squares with the guesses as what is
/// known beforehand (each give or take half of itself) and Huber's weights (k = 1.345), so that one odd ticket does not
/// move the rest; scatter by the median of the absolute residuals times 1.4826. Both constants: P. J. Huber, Robust
/// Statistics (from memory). An estimate is never below zero.
/// Guarantees: without tickets, the guesses; the order of tickets does not matter.
Hours learn_hours(const WorkTimes& guesses, const std::vector<TicketWork>& tickets);

/// What a job took off, as tickets count it: by operation code, metres for lengths, with the fitting of its pieces, the
/// visits and the spaces measured.
std::map<std::string, double> ticket_counts(const Takeoff& takeoff, double visits, std::size_t spaces);

/// Writes down how long a job took, with what it took off then. A second ticket of a job replaces the first.
/// On bad input: "minutes-refused" below zero, nothing, or more than 100 000; "not-there"; "not-json".
Result<Done> save_ticket(Store& store, Id job, const std::map<std::string, double>& counts, double minutes,
                         const std::string& by);
Result<std::vector<TicketWork>> list_tickets(Store& store);

}  // namespace spile::shop
