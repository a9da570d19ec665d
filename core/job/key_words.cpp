#include "core/job/key_words.h"

#include <algorithm>
#include <utility>

namespace spile {
namespace {

/// Those that are not their own words.
constexpr std::pair<std::string_view, std::string_view> kOwnWords[] = {
    {"across", "repeat across"},
    {"along", "line that it runs along"},
    {"at", "place"},
    {"because", "reason"},
    {"binder_passes", "thickness that passes the binder"},
    {"bow", "direction to the bow"},
    {"carried", "choice whether the pattern is carried"},
    {"cut_by", "list of joints at its end"},
    {"ends_sd_mm", "doubt of the tape's ends"},
    {"far", "far side"},
    {"finished", "panel that is made already"},
    {"from", "beginning"},
    {"id", "name"},
    {"keep", "side that is kept"},
    {"line", "line"},
    {"line_sd_mm", "doubt of a line"},
    {"mark_on", "side that is marked"},
    {"mat", "size of the plain mat"},
    {"measured", "word for what was measured"},
    {"near", "near side"},
    {"new_studs", "rule for new snaps"},
    {"one_strip", "wish for one strip"},
    {"reads_to", "step the tape is read to"},
    {"situation", "word for what an edge meets"},
    {"spile", "version of the format"},
    {"square_sd_deg", "doubt of a square corner"},
    {"through", "list of points"},
    {"ties", "list of readings"},
    {"to", "end"},
    {"triangle_sd_deg", "doubt of a corner by 3-4-5"},
    {"turns", "number of quarter turns"},
    {"twin_about", "line between the two hands"},
    {"twin_checked", "mark of a checked twin"},
    {"twin_of", "original of the twin"},
    {"units", "unit"},
    {"x_um", "place along the roll"},
    {"y_um", "place across the roll"},
};

}  // namespace

std::string key_words(std::string_view key) {
    for (const auto& [own, words] : kOwnWords)
        if (own == key) return std::string(words);
    std::string words(key);
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
}

std::string said_key(std::string_view key, const Subject& subject) {
    const bool of_repeat = key == "along" && subject.kind == "goods";
    std::string said = "The " + (of_repeat ? "repeat along" : key_words(key));
    if (!subject.id.empty() && subject.kind != "job" && subject.kind != "goods")
        said += " of " + subject.kind + ' ' + subject.id;
    return said;
}

std::string in_a_file(const std::string& example) {
    return "In a job file: " + example + ".";
}

}  // namespace spile
