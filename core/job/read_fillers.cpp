// Small saleable pieces a shop lists, to be cut from what is left of the goods.
#include <algorithm>

#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/limits.h"
#include "core/job/two_lengths.h"

namespace spile {
namespace {

constexpr LengthRule filler_size{0, true, 5'000};
constexpr Choice<bool> any_way_words[] = {{"held", false}, {"none", true}};

}  // namespace

void JobReader::read_fillers(Section& goods) {
    const auto list = goods.list("fillers", limits::fillers);
    if (!list) return;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section section(faults_, at, filler_keys, {"goods", ""});
        if (!at->is(JsonValue::Kind::object)) continue;
        const std::size_t faults_before = faults_.count();
        Filler filler;
        if (section.need("name", "\"name\": \"coaster\"")) section.text("name", filler.name, TextRule::id);
        const std::vector<Filler>& others = job_.goods.fillers;
        if (std::any_of(others.begin(), others.end(), [&](const Filler& o) { return o.name == filler.name; }))
            section.stop("id-twice", at, "Two fillers have the name " + in_quotes(filler.name) + ".",
                         "Give each filler a name of its own.");
        if (!section.has("diameter")) section.need("size", "\"size\": \"24 x 18\", or \"diameter\": 4");
        if (section.has("size") && section.has("diameter"))
            section.stop("filler-two-sizes", at,
                         "Filler " + in_quotes(filler.name) + " has a size and a diameter.",
                         "Give its cut size along by across, or of a round one its diameter.");
        section.length("diameter", job_.units, filler.diameter_mm, filler_size);
        if (const auto size = section.find("size")) {
            const auto text = read_text(faults_, *size, section.subject(), "size", TextRule::line);
            const auto both = text ? read_two_lengths(faults_, *size, section.subject(), "size", *text,
                                                      job_.units, filler_size)
                                   : std::nullopt;
            if (both) {
                filler.along_mm = both->first;
                filler.across_mm = both->second;
            }
        }
        double most = 1;
        if (section.number("most", most, 1, kMostFillers, "", "Write a whole number in that range."))
            filler.most = static_cast<int>(most);
        if (filler.most != most)
            section.stop(
                "filler-most", *section.find("most"),
                "Of filler " + in_quotes(filler.name) + " no more than " + shortest(most) + " are wanted.",
                "Write a whole number.");
        section.choice("direction", filler.any_way, any_way_words);
        if (faults_.count() == faults_before) job_.goods.fillers.push_back(std::move(filler));
    }
}

}  // namespace spile
