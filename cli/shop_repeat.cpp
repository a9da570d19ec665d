// spile shop repeat, ballpark: the next set for the same boat or her sister, and a range by telephone.
#include "cli/shop_call.h"

namespace spile::cli {
namespace {

Result<Said> repeat_find(const Call& call) {
    shop::JobQuery query;
    query.text = call.text("TEXT");
    query.as_fitted = true;
    query.limit = static_cast<std::size_t>(call.whole("limit", 50));
    return say(shop::find_jobs(*call.store, query), "jobs");
}

Result<Said> repeat_start(const Call& call) {
    shop::NewRepeat repeat;
    repeat.job = call.whole("JOB");
    repeat.goods = call.whole("goods");
    repeat.customer = call.whole("customer");
    repeat.boat = call.whole("boat");
    repeat.sister = call.has("sister");
    repeat.promised = call.text("promised");
    repeat.by = call.by;
    return say(shop::start_repeat(*call.store, repeat));
}

Result<Said> repeat_sizes(const Call& call) {
    const auto revision = shop::read_revision(*call.store, call.whole("JOB"));
    if (!revision) return {std::nullopt, revision.findings};
    const Result<Job> job = read_job(revision->document);
    if (!job) return {std::nullopt, job.findings};
    return say(shop::check_sizes(*job), "sizes");
}

Result<Said> repeat_check(const Call& call) {
    return say(shop::check_repeat(*call.store, call.whole("JOB"), call.all("SIZE"), call.by));
}

Result<Said> ballpark(const Call& call) {
    shop::Enquiry enquiry;
    enquiry.boat_length_mm = static_cast<double>(call.um("length")) / 1000;
    enquiry.kind = call.text("kind");
    enquiry.panels = static_cast<int>(std::min<shop::Id>(call.whole("panels"), 1'000'000));
    enquiry.day = call.day;
    return say(shop::ballpark(*call.store, enquiry));
}

}  // namespace

std::vector<Verb> repeat_verbs() {
    return {
        {"repeat find [TEXT] [--limit COUNT]",
         "Jobs with a pattern as fitted, by boat, make, model or title.", repeat_find},
        {"repeat start JOB [--goods GOODS] [--customer CUSTOMER] [--boat BOAT] [--sister] [--promised DAY]",
         "A new job from the pattern as fitted. For another boat (--boat, --sister) nothing is cut before "
         "its check sizes "
         "agree.",
         repeat_start},
        {"repeat sizes JOB", "The few sizes to tape aboard again, and what they should read.", repeat_sizes},
        {"repeat check JOB [SIZE]...",
         "Sizes as taped, like \"A C 111 1/4\"; when all agree the job may be cut.", repeat_check},
        {"ballpark --panels COUNT [--length LENGTH] [--kind TEXT]",
         "A range by telephone with its reasons. --length: of the boat.", ballpark},
    };
}

}  // namespace spile::cli
