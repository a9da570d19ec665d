#include "shop/tickets.h"

#include "shop/jobs.h"

namespace spile::shop {

Result<TicketWork> finish_ticket(Store& store, Id id, double minutes, int visits, const SolverFor& solver,
                                 const std::string& by) {
    const Result<Revision> revision = read_revision(store, id);
    if (!revision) return {std::nullopt, revision.findings};
    const Result<Job> job = read_job(revision->document);
    if (!job) return {std::nullopt, job.findings};
    const Derived derived = run_job(*job, solver(*job), {});
    if (!derived.takeoff) return {std::nullopt, derived.findings};
    TicketWork ticket{id, job->title, ticket_counts(*derived.takeoff, visits, job->spaces.size()), minutes};
    const Result<Done> done = save_ticket(store, id, ticket.counts, minutes, by);
    if (!done) return {std::nullopt, done.findings};
    return Result<TicketWork>::ok(std::move(ticket));
}

}  // namespace spile::shop
