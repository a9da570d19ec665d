// Spaces: the tape, the walk, the bow and the lines of the tape book.
#include <algorithm>

#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr double radians_per_degree = 3.14159265358979323846 / 180;

constexpr Choice<TapeClass> class_words[] = {
    {"I", TapeClass::I}, {"II", TapeClass::II}, {"III", TapeClass::III}};

}  // namespace

void JobReader::read_spaces(Section& root) {
    const auto list = root.list("spaces", limits::spaces);
    if (!list) return;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) read_space(list->item(i), i);
}

void JobReader::read_space(const Place& at, std::size_t index) {
    Section section(faults_, at, space_keys, {"space", std::to_string(index + 1)});
    if (!at->is(Kind::object)) return;
    SpaceInput space;
    if (section.need("id", "\"id\": \"cockpit\"") && section.text("id", space.id, TextRule::id)) {
        section.set_subject({"space", space.id});
        if (points_.count(space.id) > 0) {
            section.stop("id-twice", *section.find("id"),
                         "Two spaces are called " + in_quotes(space.id) + ".",
                         "Give each space a name of its own.");
            return;
        }
    } else {
        return;
    }
    space.unit = job_.units;
    section.choice("units", space.unit, unit_words);
    if (space.unit == Unit::mm) space.tape.reads_to_mm = 1;
    read_tape(section, space);
    SpacePoints& points = points_[space.id];
    read_readings(section, space, points);
    read_walk_and_bow(section, space, points);
    read_joints(section, space, points);
    read_leaving(section, space);
    job_.spaces.push_back(std::move(space));
}

void JobReader::read_tape(Section& section, SpaceInput& space) {
    const auto at = section.find("tape");
    if (!at) return;
    Section tape(faults_, *at, tape_keys, section.subject());
    tape.choice("class", space.tape.tape_class, class_words);
    tape.flag("hook", space.tape.hook);
    tape.length("reads_to", space.unit, space.tape.reads_to_mm, {0, true, 50});
    tape.number("ends_sd_mm", space.tape.ends_sd_mm, 0, 50, "mm");
    tape.number("line_sd_mm", space.tape.line_sd_mm, 0, 50, "mm");
    tape.length("case", space.unit, space.tape.case_mm, {0, false, 300});
    double degrees = 0;
    if (tape.number("square_sd_deg", degrees, 0, 30, "degrees"))
        space.tape.square_sd_rad = degrees * radians_per_degree;
    if (tape.number("triangle_sd_deg", degrees, 0, 30, "degrees"))
        space.tape.triangle_sd_rad = degrees * radians_per_degree;
}

/// Lines of the ready-to-leave list that are answered: "not aboard", or why they stay open.
void JobReader::read_leaving(Section& section, SpaceInput& space) {
    const auto list = section.list("leaving", limits::leaving);
    for (std::size_t i = 0; list && i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section own(faults_, at, leaving_keys, section.subject());
        if (!at->is(Kind::object)) continue;
        LeavingAnswer answer;
        const bool named = own.need("line", "\"line\": \"studs\", as the list calls it") &&
                           own.text("line", answer.line, TextRule::line);
        const bool reasoned =
            own.need("because", "\"because\": \"not aboard\"; it is printed on the papers") &&
            own.text("because", answer.because, TextRule::line);
        if (reasoned && trimmed(answer.because).empty()) {
            own.stop("leaving-without-reason", *own.find("because"),
                     "A line of the list is answered with nothing.",
                     "Write \"not aboard\", or why it is left open.");
        } else if (named && reasoned) {
            space.leaving.push_back(std::move(answer));
        }
    }
}

void JobReader::read_readings(Section& section, SpaceInput& space, SpacePoints& points) {
    const auto list = section.list("ties", limits::readings);
    if (!list) return;
    std::set<std::string> ids;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        if (!at->is(Kind::object)) {
            section.stop("wrong-type", at,
                         "Reading " + std::to_string(i + 1) + " of " + in_quotes(space.id) + " is " +
                             kind_word(at->kind) + " instead of a line of the tape book.",
                         "Write it as a text: \"A B 96 1/4\".");
            continue;
        }
        Section tie(faults_, at, tie_keys, {"tie", space.id + "/" + std::to_string(i + 1)});
        std::string id, line;
        if (tie.text("id", id, TextRule::id) && !ids.insert(id).second) {
            tie.stop("id-twice", *tie.find("id"),
                     "Two readings of " + in_quotes(space.id) + " have the id " + in_quotes(id) + ".",
                     "Give one of them another id, or leave its id out and it gets a free one.");
        }
        if (!tie.need("line", "\"line\": \"A B 96 1/4\"") || !tie.text("line", line, TextRule::line))
            continue;
        Result<Reading> reading = parse_reading_line(line, space.unit);
        for (Finding& f : reading.findings) {
            f.subject = {"tie", space.id + "/" + id};
            f.where = at.where();
            faults_.add(std::move(f));
        }
        if (!reading) {
            for (std::string& word : split_words(line)) points.perhaps.insert(std::move(word));
            continue;
        }
        reading->id = std::move(id);
        reading->where = at.where();
        for (std::string& name : points_named(*reading)) points.named.insert(std::move(name));
        space.readings.push_back(std::move(*reading));
    }
}

/// A name with a fault is left out, so that measuring does not find the same fault again.
bool JobReader::read_names(Section& section, const char* key, const std::string& space,
                           const SpacePoints& points, std::vector<std::string>& names) {
    const auto list = section.list(key, limits::walk);
    if (!list) return false;
    const std::vector<std::string> candidates(points.named.begin(), points.named.end());
    const std::size_t faults_before = faults_.count();
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        const auto name = read_text(faults_, at, section.subject(), key, TextRule::id);
        if (!name) continue;
        if (points.named.count(*name) == 0 && points.perhaps.count(*name) == 0) {
            section.stop(
                "missing-point", at,
                "The " + key_words(key) + " of " + in_quotes(space) + " names the point " + in_quotes(*name) +
                    ", which no reading knows.",
                did_you_mean(*name, candidates) + "Correct the name, or add the readings that place it.");
        } else if (std::find(names.begin(), names.end(), *name) != names.end()) {
            section.stop("point-twice", at,
                         "The " + key_words(key) + " of " + in_quotes(space) + " names the point " +
                             in_quotes(*name) + " twice.",
                         "Name each point once; the way round closes by itself.");
        } else {
            names.push_back(*name);
        }
    }
    return faults_.count() == faults_before;
}

void JobReader::read_walk_and_bow(Section& section, SpaceInput& space, const SpacePoints& points) {
    read_names(section, "walk", space.id, points, space.walk);
    const bool sound = read_names(section, "bow", space.id, points, space.bow);
    if (sound && space.bow.size() != 2) {
        section.stop("bow-two-points", *section.find("bow"),
                     "The direction to the bow of " + in_quotes(space.id) + " names " +
                         count_of(space.bow.size(), "point", "points") + "; it takes two.",
                     "Write two points: from the first to the second is towards the bow.",
                     {{"points", static_cast<double>(space.bow.size()), ""}, {"limit", 2, ""}});
    }
    if (space.bow.size() != 2) space.bow.clear();
}

}  // namespace spile
