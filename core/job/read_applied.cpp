// Applied pieces of a panel: strips along an edge, pads and patches about a point or by their outline.
#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"
#include "core/job/two_lengths.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr LengthRule size_rule{0, true, 10'000};
constexpr LengthRule along_rule{0, false, 20'000};
constexpr LengthRule turn_rule{3, false, 100};

constexpr Choice<AppliedPlan::Kind> kind_words[] = {{"facing strip", AppliedPlan::Kind::facing_strip},
                                                    {"heel pad", AppliedPlan::Kind::heel_pad},
                                                    {"non-slip patch", AppliedPlan::Kind::non_slip_patch},
                                                    {"hook-and-loop", AppliedPlan::Kind::hook_and_loop}};
constexpr Choice<bool> side_words[] = {{"face", false}, {"back", true}};
constexpr Choice<bool> held_words[] = {{"sewn", false}, {"stuck", true}};
constexpr Choice<bool> half_words[] = {{"hook", false}, {"loop", true}};
constexpr Choice<bool> direction_words[] = {{"held", false}, {"none", true}};
constexpr Choice<Finish> applied_finish_words[] = {
    {"raw", Finish::sealed}, {"bound", Finish::bound}, {"turned", Finish::turned}};

/// A place is given in one of four ways; each key goes with some of them.
struct PlaceKey {
    const char* key;
    bool edge, round, box, outline;
};
constexpr PlaceKey place_keys[] = {
    {"from_edge", true, false, false, false}, {"start", true, false, false, false},
    {"length", true, false, false, false},    {"width", true, false, false, false},
    {"at", false, true, true, false},         {"radius", false, false, true, false},
    {"along", false, false, true, false},     {"turn", false, false, true, false},
};

std::string whose(const AppliedPlan& applied) {
    return "Applied piece " + in_quotes(applied.id);
}

}  // namespace

void JobReader::read_place(Section& own, const PanelInput& panel, bool mat, AppliedPlan& applied) {
    const char* said = nullptr;
    for (const char* key : {"edge", "diameter", "size", "outline"}) {
        if (!own.has(key)) continue;
        if (!said) {
            said = key;
            continue;
        }
        own.stop(
            "applied-place", *own.find(key),
            whose(applied) + " of panel " + in_quotes(panel.id) + " is given both by its " + key_words(said) +
                " and by its " + key_words(key) + ".",
            "Keep one: an edge for a strip along it, a diameter when it is round, a size for a box, an outline "
            "for any other.");
        return;
    }
    if (!said) {
        own.need("edge", "\"edge\": \"A B\" for a strip along it, or \"size\", \"diameter\" or \"outline\"");
        return;
    }
    const std::string by = said;
    for (const PlaceKey& k : place_keys) {
        const bool goes = by == "edge"       ? k.edge
                          : by == "diameter" ? k.round
                          : by == "size"     ? k.box
                                             : k.outline;
        if (goes || !own.has(k.key)) continue;
        own.stop("applied-place", *own.find(k.key),
                 whose(applied) + " of panel " + in_quotes(panel.id) + " is given by its " + in_quotes(by) +
                     ", with which " + in_quotes(k.key) + " does not go.",
                 "Leave it out, or give the piece in another way.");
    }
    const Unit unit = job_.units;
    if (by == "edge") {
        std::string edge;
        if (own.text("edge", edge, TextRule::line)) {
            const std::vector<std::string> ends = split_words(edge);
            std::vector<std::string> names;
            const auto is_edge = [&](const std::string& a, const std::string& b) {
                names.push_back(a + " " + b);
                return ends.size() == 2 && ((a == ends[0] && b == ends[1]) || (a == ends[1] && b == ends[0]));
            };
            bool known = false;
            for (const EdgePlan& e : panel.edges) known = is_edge(e.from, e.to) || known;
            for (const JointCut& cut : panel.cuts) known = is_edge(cut.edge.from, cut.edge.to) || known;
            const char* corners = "ABCDA";
            for (int i = 0; mat && i < 4; ++i)
                known = is_edge(std::string(1, corners[i]), std::string(1, corners[i + 1])) || known;
            if (known)
                applied.from = ends[0], applied.to = ends[1];
            else
                own.stop("missing-edge", *own.find("edge"),
                         whose(applied) + " of panel " + in_quotes(panel.id) + " lies along " +
                             in_quotes(edge) + ", which is no edge of it.",
                         "Its edges: " + list_some(names) + ".");
        }
        double mm = 0;
        if (own.length("from_edge", unit, mm, along_rule)) applied.from_edge_mm = mm;
        if (own.length("start", unit, mm, along_rule)) applied.start_mm = mm;
        own.length("length", unit, applied.length_mm, {0, true, 20'000});
        own.need("width", "\"width\": 2");
        own.length("width", unit, applied.width_mm, size_rule);
        return;
    }
    if (by == "outline") {
        if (mat) {
            own.stop("applied-place", *own.find("outline"),
                     whose(applied) + " of panel " + in_quotes(panel.id) +
                         " is given by points, and a plain mat has none.",
                     "Give it by an edge, a size or a diameter.");
            return;
        }
        applied.outline = read_outline(own, panel, mat, whose(applied));
        return;
    }
    if (by == "diameter") {
        own.length("diameter", unit, applied.diameter_mm, size_rule);
    } else {
        std::string text;
        if (own.text("size", text, TextRule::line)) {
            const auto both =
                read_two_lengths(faults_, *own.find("size"), own.subject(), "size", text, unit, size_rule);
            if (both) applied.length_mm = both->first, applied.width_mm = both->second;
        }
        own.length("radius", unit, applied.radius_mm, {0, false, 10'000});
        own.number("turn", applied.turn_deg, -360, 360, "deg");
        if (own.has("along") && !mat) applied.along = read_two_points(own, "along", panel, whose(applied));
    }
    std::string place;
    if (!own.need("at", mat ? "\"at\": \"12 x 18\"" : "\"at\": \"P\"") ||
        !own.text("at", place, mat ? TextRule::line : TextRule::id))
        return;
    if (mat) {
        const auto both =
            read_two_lengths(faults_, *own.find("at"), own.subject(), "at", place, unit, any_length);
        if (both) applied.centre_mm = {both->first, both->second};
        return;
    }
    known_point(*own.find("at"), own.subject(), panel, whose(applied), place);
    applied.at = place;
}

void JobReader::read_applied_goods(Section& own, const PanelInput& panel, AppliedPlan& applied) {
    bool own_goods = applied.kind != AppliedPlan::Kind::hook_and_loop && !own.has("goods");
    for (const char* key : {"goods_width", "goods_thickness", "direction"})
        own_goods = own_goods && !own.has(key);
    if (own_goods) return;
    applied.any_way = applied.kind == AppliedPlan::Kind::hook_and_loop;
    if (own.need("goods", "\"goods\": \"rubber mat\", \"goods_width\": 48") &&
        own.text("goods", applied.goods, TextRule::line) && trimmed(applied.goods).empty())
        own.stop("applied-goods", *own.find("goods"),
                 whose(applied) + " of panel " + in_quotes(panel.id) + " has goods without a name.",
                 "Name them, or leave them out: then it is cut from the panel's.");
    own.need("goods_width", "\"goods_width\": 48, of the roll or tape it is cut from");
    own.length("goods_width", job_.units, applied.goods_width_mm, {5, false, 10'000});
    own.length("goods_thickness", job_.units, applied.goods_thickness_mm, {0, false, 100});
    own.choice("direction", applied.any_way, direction_words);
}

void JobReader::read_applied(Section& section, PanelInput& panel) {
    const auto list = section.list("applied", limits::applied);
    if (!list) return;
    const bool mat = section.has("mat");
    std::set<std::string> ids;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section own(faults_, at, applied_keys, {"applied", panel.id + "/" + std::to_string(i + 1)});
        if (!at->is(Kind::object)) continue;
        AppliedPlan applied;
        if (own.need("id", "\"id\": \"heel pad\"") && own.text("id", applied.id, TextRule::id)) {
            own.set_subject({"applied", panel.id + "/" + applied.id});
            if (!ids.insert(applied.id).second)
                own.stop("id-twice", *own.find("id"),
                         "Two applied pieces of panel " + in_quotes(panel.id) + " have the id " +
                             in_quotes(applied.id) + ".",
                         "Give each an id of its own.");
        }
        if (own.need("kind", "\"kind\": \"heel pad\"")) own.choice("kind", applied.kind, kind_words);
        applied.on_back = applied.kind == AppliedPlan::Kind::non_slip_patch ||
                          applied.kind == AppliedPlan::Kind::hook_and_loop;
        own.choice("side", applied.on_back, side_words);
        read_place(own, panel, mat, applied);
        own.choice("finish", applied.finish, applied_finish_words);
        if (own.has("turned_by") && applied.finish != Finish::turned)
            own.stop("applied-turn", *own.find("turned_by"),
                     whose(applied) + " of panel " + in_quotes(panel.id) +
                         " says by how much its edge is turned, but it is not turned.",
                     "Say that it is turned, or leave it out.");
        own.length("turned_by", job_.units, applied.turn_mm, turn_rule);
        own.choice("held", applied.stuck, held_words);
        if (own.has("half") && applied.kind != AppliedPlan::Kind::hook_and_loop)
            own.stop("applied-half", *own.find("half"),
                     whose(applied) + " of panel " + in_quotes(panel.id) +
                         " says which half it is, and only hook-and-loop has two.",
                     "Leave it out.");
        own.choice("half", applied.loop, half_words);
        read_applied_goods(own, panel, applied);
        panel.applied.push_back(std::move(applied));
    }
}

}  // namespace spile
