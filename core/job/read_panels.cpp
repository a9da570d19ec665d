// Panels as a whole: corners of a space, or a plain mat by its size.
#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"
#include "core/job/two_lengths.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr LengthRule mat_size{0, true, 20'000};

}  // namespace

void JobReader::read_panels(Section& root) {
    const auto list = root.list("panels", limits::panels);
    if (!list) return;
    job_.panels_said = (*list)->items.size();
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) read_panel(list->item(i));
}

/// A panel with a fault is left out, so that no later stage judges half of it.
void JobReader::read_panel(const Place& at) {
    const std::size_t faults_before = faults_.count();
    Section section(faults_, at, panel_keys, {"panel", ""});
    if (!at->is(Kind::object)) return;
    PanelInput panel;
    panel.where = at.where();
    if (section.need("id", "\"id\": \"1\"") && section.text("id", panel.id, TextRule::id)) {
        section.set_subject({"panel", panel.id});
        if (!panel_ids_.insert(panel.id).second) {
            section.stop("id-twice", *section.find("id"),
                         "Two panels have the id " + in_quotes(panel.id) + ".",
                         "Give each panel an id of its own.");
        }
    }
    section.text("name", panel.name, TextRule::line);

    PanelDefaults defaults = defaults_;
    read_own_defaults(section, defaults);
    if (const auto clearances = section.find("clearances")) {
        Section own(faults_, *clearances, panel_clearances_keys, section.subject());
        own.length("wall", job_.units, defaults.wall_clearance_mm, {0, false, 1'000});
        own.length("lid", job_.units, defaults.lid_clearance_mm, {0, false, 1'000});
    }

    if (section.has("twin_of")) {
        read_twin(section, panel);
    } else if (section.has("mat")) {
        read_mat(section, defaults, panel);
    } else if (section.need("corners",
                            "\"corners\": [\"A\", \"B\", \"C\"], or \"mat\": \"24 x 36, turned\"")) {
        panel.space = read_space_of(section);
        read_corners(section, defaults, panel);
        read_cuts(section, defaults, panel);
        read_edges(section, defaults, panel);
    }
    if (!section.has("twin_of")) {
        read_openings(section, panel);
        if (!section.has("mat")) read_studs(section, panel);
        read_stud_rule(section, panel);
        read_applied(section, panel);
    }
    if (faults_.count() == faults_before) job_.panels.push_back(std::move(panel));
}

std::string JobReader::read_space_of(Section& section) {
    std::string id;
    if (!section.has("space")) {
        if (job_.spaces.size() == 1) return job_.spaces.front().id;
        section.need("space", "\"space\": \"cockpit\"");
        return id;
    }
    if (!section.text("space", id, TextRule::id) || points_.count(id) > 0) return id;
    std::vector<std::string> known;
    for (const auto& [name, points] : points_) known.push_back(name);
    section.stop("missing-space", *section.find("space"),
                 "The panel lies in the space " + in_quotes(id) + ", which is not in the job.",
                 did_you_mean(id, known) + (known.empty() ? "Add the space with its readings."
                                                          : "Spaces here: " + list_some(known) + "."));
    return id;
}

void JobReader::read_twin(Section& section, PanelInput& panel) {
    for (const char* key : {"mat", "space", "corners", "corner_radius", "finish", "measured", "situation",
                            "clearances", "cut_by", "edges", "openings", "studs", "new_studs", "applied"}) {
        if (!section.has(key)) continue;
        section.stop(
            "key-not-for-twins", *section.find(key),
            "A mirror twin is all that its original is and has no " + key_words(key) + " of its own.",
            "Leave it out, or give the panel corners of its own instead of an original.");
    }
    section.text("twin_of", panel.twin_of, TextRule::id);
    section.flag("twin_checked", panel.twin_checked);
    std::string about;
    if (!section.text("twin_about", about, TextRule::line)) return;
    panel.twin_about = split_words(about);
    if (panel.twin_about.size() != 2)
        section.stop("twin-about-two-points", *section.find("twin_about"),
                     "The line between the two hands is named by " +
                         count_of(panel.twin_about.size(), "point", "points") + "; it takes two.",
                     "Name two points of the original's space on it, toward the bow, as F G.",
                     {{"points", static_cast<double>(panel.twin_about.size()), ""}, {"limit", 2, ""}});
}

void JobReader::read_stud_rule(Section& section, PanelInput& panel) {
    const auto at = section.find("new_studs");
    if (!at) return;
    Section own(faults_, *at, stud_rule_keys, section.subject());
    if (!(*at)->is(Kind::object)) return;
    StudRule rule{
        25.4 * 15,
        25.4 * 7 / 8};  // middle of common practice, no source: 12-18 in apart, 3/4-1 in from the edge
    own.length("pitch", job_.units, rule.pitch_mm, {0, false, 10'000});
    own.length("from_edge", job_.units, rule.from_edge_mm, {0, true, 1'000});
    panel.stud_rule = rule;
}

void JobReader::read_mat(Section& section, const PanelDefaults& defaults, PanelInput& panel) {
    for (const char* key :
         {"space", "corners", "measured", "situation", "clearances", "cut_by", "edges", "studs"}) {
        if (!section.has(key)) continue;
        section.stop("key-not-for-mats", *section.find(key),
                     "A plain mat is given by its finished size and has no " + key_words(key) + ".",
                     "Leave it out, or give the panel corners instead of a size.");
    }
    panel.mat_finish = defaults.finish;
    panel.corner_radius_mm = defaults.corner_radius_mm;
    const auto at = section.find("mat");
    const auto text = read_text(faults_, *at, section.subject(), "mat", TextRule::line);
    if (!text) return;

    // "24 x 36, turned": a finish is the word behind the last comma; a comma before digits is a decimal one.
    std::string size = *text;
    const std::size_t comma = text->rfind(',');
    const std::string word(comma == text->npos ? std::string_view()
                                               : trimmed(std::string_view(*text).substr(comma + 1)));
    if (!word.empty() && !(word[0] >= '0' && word[0] <= '9')) {
        size = text->substr(0, comma);
        std::vector<std::string> words;
        bool known = false;
        for (const Choice<Finish>& c : finish_words) {
            words.push_back(c.word);
            if (word != c.word) continue;
            panel.mat_finish = c.value;
            known = true;
        }
        if (!known) {
            section.stop("unknown-word", *at, "The mat is " + in_quotes(word) + ", which is no finish.",
                         did_you_mean(word, words) + "Write bound, turned or sealed behind the comma.");
        }
    }
    const auto both = read_two_lengths(faults_, *at, section.subject(), "mat", size, job_.units, mat_size);
    if (!both) return;
    panel.size_x_mm = both->first;
    panel.size_y_mm = both->second;
}

}  // namespace spile
