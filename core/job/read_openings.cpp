// Openings of a panel: round, boxes, slots and free outlines, and the slit from one to an edge.
#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"
#include "core/job/two_lengths.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;
using Form = OpeningPlan::Form;

constexpr LengthRule size_rule{0, true, 10'000};
constexpr LengthRule ease_rule{0, false, 1'000};
constexpr LengthRule gap_rule{0, true, 100};

/// The keys that give a form, and those that go with one alone.
struct FormKey {
    const char* key;
    Form form;
};
constexpr FormKey form_keys[] = {{"diameter", Form::round},
                                 {"size", Form::box},
                                 {"slot", Form::slot},
                                 {"outline", Form::free},
                                 {"lid", Form::lid}};
constexpr FormKey going_with[] = {{"radius", Form::box},
                                  {"along", Form::box},
                                  {"turn", Form::box},
                                  {"width", Form::slot},
                                  {"gap", Form::lid}};

const char* key_of(Form form) {
    for (const FormKey& k : form_keys)
        if (k.form == form) return k.key;
    return "";
}

}  // namespace

std::vector<std::string> JobReader::read_two_points(Section& own, const char* key, const PanelInput& panel,
                                                    const std::string& whose) {
    std::string text;
    if (!own.text(key, text, TextRule::line)) return {};
    const std::vector<std::string> names = split_words(text);
    const Place at = *own.find(key);
    if (names.size() != 2) {
        own.stop("two-points", at,
                 whose + " of panel " + in_quotes(panel.id) + " has the " + key_words(key) + " " +
                     in_quotes(text) + "; it is two points.",
                 "Name two points. " + in_a_file(std::string("\"") + key + "\": \"P Q\""));
        return {};
    }
    for (const std::string& name : names) known_point(at, own.subject(), panel, whose, name);
    return names;
}

std::vector<CornerPlan> JobReader::read_outline(Section& own, const PanelInput& panel, bool mat,
                                                const std::string& whose) {
    std::vector<CornerPlan> corners;
    const auto list = own.list("outline", limits::corners);
    for (std::size_t i = 0; list && i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        CornerPlan corner;
        if (at->is(Kind::object)) {
            Section one(faults_, at, corner_keys, own.subject());
            one.need("at", "{ \"at\": \"C\", \"radius\": 2 }");
            one.text("at", corner.at, TextRule::id);
            one.length("radius", job_.units, corner.radius_mm, {0, false, 10'000});
        } else if (const auto name = read_text(faults_, at, own.subject(), "corner", TextRule::id)) {
            corner.at = *name;
        }
        if (corner.at.empty()) continue;
        if (!mat) known_point(at, own.subject(), panel, whose, corner.at);
        corners.push_back(std::move(corner));
    }
    return corners;
}

/// What passes: one of the four forms, and the keys that go with it.
void JobReader::read_form(Section& own, const PanelInput& panel, bool mat, OpeningPlan& opening) {
    const char* said = nullptr;
    for (const FormKey& k : form_keys) {
        if (!own.has(k.key)) continue;
        if (said) {
            own.stop(
                "opening-form", *own.find(k.key),
                "Opening " + in_quotes(opening.id) + " of panel " + in_quotes(panel.id) +
                    " is given both by its " + key_words(said) + " and by its " + key_words(k.key) + ".",
                "Keep one: a diameter when it is round, a size for a box, a slot for one with round ends, a "
                "lid for a panel that lifts out, an outline for any other.");
            return;
        }
        said = k.key;
        opening.form = k.form;
    }
    for (const FormKey& k : going_with) {
        if (!own.has(k.key) || k.form == opening.form) continue;
        own.stop("opening-form", *own.find(k.key),
                 "Opening " + in_quotes(opening.id) + " of panel " + in_quotes(panel.id) + " has a " +
                     in_quotes(k.key) + ", which goes with " + in_quotes(key_of(k.form)) + " alone.",
                 "Leave it out, or give the opening by its " + in_quotes(key_of(k.form)) + ".");
    }
    switch (opening.form) {
        case Form::round:
            own.need("diameter", "\"diameter\": 2");
            own.length("diameter", job_.units, opening.diameter_mm, size_rule);
            return;
        case Form::box: {
            std::string text;
            if (own.text("size", text, TextRule::line)) {
                const auto both = read_two_lengths(faults_, *own.find("size"), own.subject(), "size", text,
                                                   job_.units, size_rule);
                if (both) opening.length_mm = both->first, opening.width_mm = both->second;
            }
            own.length("radius", job_.units, opening.radius_mm, {0, false, 10'000});
            own.number("turn", opening.turn_deg, -360, 360, "deg");
            if (own.has("along") && !mat)
                opening.along = read_two_points(own, "along", panel, "Opening " + in_quotes(opening.id));
            return;
        }
        case Form::slot:
            if (!mat) opening.along = read_two_points(own, "slot", panel, "Opening " + in_quotes(opening.id));
            own.need("width", "\"width\": 2");
            own.length("width", job_.units, opening.width_mm, size_rule);
            return;
        case Form::lid:
            own.text("lid", opening.lid, TextRule::id);
            opening.ease_mm = job_.clearances.reveal_mm;
            own.length("gap", job_.units, opening.ease_mm, ease_rule);
            return;
        case Form::free:
            opening.outline = read_outline(own, panel, mat, "Opening " + in_quotes(opening.id));
            return;
    }
}

void JobReader::read_slit(Section& own, const PanelInput& panel, bool mat, OpeningPlan& opening) {
    if (!own.has("slit")) {
        for (const char* key : {"slit_gap", "slit_finish"})
            if (own.has(key))
                own.stop("slit-missing", *own.find(key),
                         "Opening " + in_quotes(opening.id) + " of panel " + in_quotes(panel.id) + " has a " +
                             key_words(key) + " but no slit.",
                         "Say to which edge it runs, or where it is least seen; or leave this out. " +
                             in_a_file("\"slit\": \"least seen\""));
        return;
    }
    SlitPlan slit;
    std::string to;
    own.text("slit", to, TextRule::line);
    if (to != "least seen") {
        const std::vector<std::string> ends = split_words(to);
        const auto is_edge = [&](const EdgePlan& e) {
            return (e.from == ends[0] && e.to == ends[1]) || (e.from == ends[1] && e.to == ends[0]);
        };
        std::vector<std::string> names;
        bool known = mat && ends.size() == 2;
        for (const EdgePlan& e : panel.edges) names.push_back(e.from + " " + e.to);
        for (const JointCut& cut : panel.cuts) names.push_back(cut.edge.from + " " + cut.edge.to);
        if (ends.size() == 2) {
            for (const EdgePlan& e : panel.edges) known = known || is_edge(e);
            for (const JointCut& cut : panel.cuts) known = known || is_edge(cut.edge);
            slit.from = ends[0];
            slit.to = ends[1];
        }
        if (!known && !to.empty())
            own.stop("missing-edge", *own.find("slit"),
                     "The slit of opening " + in_quotes(opening.id) + " of panel " + in_quotes(panel.id) +
                         " runs to " + in_quotes(to) + ", which is no edge of it.",
                     "Write \"least seen\", or an edge: " + list_some(names) + ".");
    }
    slit.gap_mm = job_.clearances.reveal_mm;
    slit.finish = opening.finish == Finish::turned ? Finish::bound : opening.finish;
    own.length("slit_gap", job_.units, slit.gap_mm, gap_rule);
    own.choice("slit_finish", slit.finish, finish_words);
    opening.slit = slit;
}

void JobReader::read_openings(Section& section, PanelInput& panel) {
    const auto list = section.list("openings", limits::openings);
    if (!list) return;
    const bool mat = section.has("mat");
    std::set<std::string> ids;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section own(faults_, at, opening_keys, {"opening", panel.id + "/" + std::to_string(i + 1)});
        if (!at->is(Kind::object)) continue;
        OpeningPlan opening;
        if (own.need("id", "\"id\": \"table post\"") && own.text("id", opening.id, TextRule::id)) {
            own.set_subject({"opening", panel.id + "/" + opening.id});
            if (!ids.insert(opening.id).second) {
                own.stop("id-twice", *own.find("id"),
                         "Two openings of panel " + in_quotes(panel.id) + " have the id " +
                             in_quotes(opening.id) + ".",
                         "Give each opening an id of its own.");
            }
        }
        opening.ease_mm = job_.finish.post_ease_mm;
        read_form(own, panel, mat, opening);
        const bool by_points =
            opening.form == Form::slot || opening.form == Form::free || opening.form == Form::lid;
        if (by_points && (mat || own.has("at"))) {
            own.stop("opening-form", mat ? *own.find(key_of(opening.form)) : *own.find("at"),
                     "Opening " + in_quotes(opening.id) + " of panel " + in_quotes(panel.id) +
                         (mat ? " is given by points or another panel, and a plain mat has none."
                              : " is placed by its " + key_words(key_of(opening.form)) +
                                    " and stands at a point too."),
                     mat ? "Give it by its diameter or its size." : "Leave the point out.");
        } else if (!by_points) {
            std::string place;
            const bool placed = own.need("at", mat ? "\"at\": \"12 x 18\"" : "\"at\": \"P\"") &&
                                own.text("at", place, mat ? TextRule::line : TextRule::id);
            if (placed && mat) {
                const auto both = read_two_lengths(faults_, *own.find("at"), own.subject(), "at", place,
                                                   job_.units, any_length);
                if (both) opening.centre_mm = {both->first, both->second};
            } else if (placed) {
                known_point(*own.find("at"), own.subject(), panel, "Opening " + in_quotes(opening.id), place);
                opening.at = place;
            }
        }
        if (opening.form == Form::lid && own.has("ease")) {
            own.stop("opening-form", *own.find("ease"),
                     "Opening " + in_quotes(opening.id) + " of panel " + in_quotes(panel.id) +
                         " is for a lid and has an ease; what lies between the two is its gap.",
                     "Give the gap instead: net edge to net edge.");
        } else {
            own.length("ease", job_.units, opening.ease_mm, ease_rule);
        }
        own.choice("finish", opening.finish, finish_words);
        read_slit(own, panel, mat, opening);
        panel.openings.push_back(std::move(opening));
    }
}

}  // namespace spile
