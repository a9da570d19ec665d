#include "core/job/dividing.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/geom/transform.h"
#include "core/job/joint_places.h"
#include "core/job/pattern_room.h"
#include "core/layout/layout.h"

namespace spile {
namespace {

constexpr double kFromOpening_mm = 50.8;  ///< goods between an opening and a joint (2 in; common practice)
constexpr double kFromApplied_mm = 25.4;  ///< between what is put on and a joint (1 in; common practice)
constexpr int kMostStrips = 8;
constexpr int kMostPlaces = 4000;         ///< that are looked at across one panel
constexpr std::size_t kMostDivided = 20;  ///< panels of one job: for each the job is worked out anew

const char kTooWide[] = "layout-too-wide";

template <class List>
auto* with_id(List& list, const std::string& id) {
    const auto found = std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.id == id; });
    return found == list.end() ? nullptr : &*found;
}

/// The entry of a list of the document that has that id. Requires: it is there.
JsonValue& entry(JsonValue& said, const char* list, const std::string& id) {
    JsonValue& entries = *said.find(list);
    return *std::find_if(entries.items.begin(), entries.items.end(), [&](const JsonValue& one) {
        const JsonValue* own = one.find("id");
        return own && own->text == id;
    });
}

JsonValue& list_under(JsonValue& group, const char* key) {
    if (!group.find(key)) group.set(key, JsonValue::list());
    return *group.find(key);
}

void keep_entries(JsonValue& group, const char* key, const std::set<std::string>& kept) {
    JsonValue* list = group.find(key);
    if (!list) return;
    const auto gone = [&](const JsonValue& one) {
        const JsonValue* id = one.find("id");
        return kept.count(id ? id->text : one.text) == 0;
    };
    list->items.erase(std::remove_if(list->items.begin(), list->items.end(), gone), list->items.end());
    if (list->items.empty()) group.erase(key);
}

std::set<std::pair<std::string, std::string>> stops_of(const std::vector<Finding>& findings) {
    std::set<std::pair<std::string, std::string>> stops;
    for (const Finding& f : findings)
        if (f.severity == Severity::stop) stops.insert({f.code, f.subject.id});
    return stops;
}

/// Divides one panel of a job; its document, and what came of it, are those of the panels divided before.
class Divider {
  public:
    Divider(const Job& job, const Derived& derived, const PanelInput& input, const RunContext& run)
        : job_(job), derived_(derived), input_(input), run_(run), space_(*with_id(job.spaces, input.space)) {
        division_.panel = input.id;
        division_.space = input.space;
        step_mm_ = space_.unit == Unit::inch ? 25.4 / 8 : 5;
        in_.unit = space_.unit;
        in_.inch_denominator = 8;
    }

    /// The ways to divide it; none, and `division` says why, where it cannot be.
    void divide() {
        const Panel* panel = with_id(derived_.panels, input_.id);
        const Piece* piece = with_id(derived_.pieces, input_.id);
        if (!panel || !piece || space_.bow.size() != 2) {
            division_.why_not = "its place to the bow is not known";
            division_.to_do = "Say in its space which way the bow is, or take wider goods.";
            return;
        }
        const Box cut = box_of(inverse(piece->piece_from_boat)(piece->cut.face.outer));
        // Its ends stand on whole marks, so that a joint may lie half a mark to either side.
        const StripRules rules{cut.min.y, cut.max.y, beyond_mm(),
                               job_.goods.usable_width_mm - 2 * job_.goods.edge_gap() - step_mm_ / 2};
        double apart_mm = step_mm_;
        while (cut.height() > kMostPlaces * apart_mm) apart_mm *= 2;
        std::vector<JointPlace> places = joint_places(*panel, keep_off(*panel), apart_mm);
        for (int count = 2; count <= kMostStrips && division_.ways.empty(); ++count)
            while (division_.ways.size() < kMostWays && !run_.cancelled()) {
                const std::vector<JointPlace> taken = divide_into(count, *panel, places, rules);
                if (taken.empty()) break;
                const auto beside = [&](const JointPlace& place) {
                    return std::any_of(taken.begin(), taken.end(), [&](const JointPlace& joint) {
                        return std::fabs(joint.y_mm - place.y_mm) < kElsewhere_mm;
                    });
                };
                places.erase(std::remove_if(places.begin(), places.end(), beside), places.end());
            }
        if (!division_.ways.empty()) return;
        division_.why_not =
            "no line along the direction crosses it once, clear of its openings, studs and corners, so "
            "that every strip fits the goods";
        division_.to_do =
            "Move what leaves no place for one, draw a joint of your own that need not run along the "
            "direction, or take wider goods.";
    }

    Division division_;
    std::vector<Job> made_;  ///< of each way

  private:
    /// The best way into so many strips at these places, made and kept; its joints, or none.
    std::vector<JointPlace> divide_into(int count, const Panel& panel, const std::vector<JointPlace>& places,
                                        const StripRules& rules) {
        // With a whole repeat to spare a strip may lie wherever its pattern asks.
        const double spare = job_.pattern_carried ? job_.goods.repeat.across_mm : 0;
        for (const double less : spare > 0 ? std::vector<double>{0, spare} : std::vector<double>{0}) {
            StripRules own = rules;
            own.widest_mm -= less;
            const auto best = best_places(places, own, count);
            if (best && make(panel, *best)) return *best;
        }
        return {};
    }

    /// The cut line of a strip beyond the joint: half the reveal comes off, and what its finish takes or needs.
    double beyond_mm() const {
        Finish finish = Finish::bound;
        const JsonValue* own = nullptr;
        for (const JsonValue& panel : job_.said.find("panels")->items) {
            const JsonValue* id = panel.find("id");
            if (id && id->text == input_.id) own = panel.find("finish");
        }
        const JsonValue* defaults = job_.said.find("defaults");
        if (!own && defaults) own = defaults->find("finish");
        for (const Finish f : {Finish::turned, Finish::sealed})
            if (own && own->text == word_for(f)) finish = f;
        const double half = job_.clearances.reveal_mm / 2;
        if (finish == Finish::turned) return job_.finish.turn_mm - half;
        return (finish == Finish::bound ? -job_.finish.binding_growth_mm : 0) - half;
    }

    std::vector<Box> keep_off(const Panel& panel) const {
        std::vector<Box> boxes;
        const auto add = [&](Box box, double room) {
            boxes.push_back({box.min - Vec2{room, room}, box.max + Vec2{room, room}});
        };
        for (const OpeningPlan& o : panel.openings)
            if (!o.rim.empty()) add(box_of(o.rim), std::fmax(kFromOpening_mm, 2 * job_.finish.turn_mm));
        for (const Stud& s : panel.studs)
            if (!s.by_rule)
                add({s.at_mm, s.at_mm}, job_.finish.stud_from_edge_mm + job_.clearances.reveal_mm / 2);
        for (const AppliedPlan& a : panel.applied)
            if (!a.set.empty()) add(box_of(a.set), kFromApplied_mm);
        return boxes;
    }

    /// Whether a way with joints at those places was made and kept.
    bool make(const Panel& panel, const std::vector<JointPlace>& places) {
        JsonValue said = job_.said;
        WayToDivide way;
        name_strips(places.size() + 1, way);
        if (!draw_joints(said, panel, places, way)) return false;
        divide_panel(said, panel, places, way);
        twins(said, way);
        Result<Job> made = job_from_said(std::move(said));
        if (!made || !fits(*made, way)) return false;
        way.edits = edits_between(settled_form(job_.said), settled_form(made->said));
        division_.ways.push_back(std::move(way));
        made_.push_back(std::move(*made));
        return true;
    }

    void name_strips(std::size_t count, WayToDivide& way) const {
        way.strips.push_back(input_.id);
        for (char letter = 'b'; way.strips.size() < count; ++letter)
            way.strips.push_back(free_panel(input_.id + letter));
    }
    std::string free_panel(std::string id) const {
        while (with_id(job_.panels, id)) id += "'";
        return id;
    }

    /// New points and joints of the space.
    bool draw_joints(JsonValue& said, const Panel& panel, const std::vector<JointPlace>& places,
                     WayToDivide& way) const {
        const auto survey = derived_.surveys.find(input_.space);
        if (survey == derived_.surveys.end()) return false;
        std::set<std::string> taken;
        for (const auto& [name, point] : survey->second.points) taken.insert(name);
        const auto free_point = [&] {
            int number = 1;
            while (!taken.insert("J" + std::to_string(number)).second) ++number;
            return "J" + std::to_string(number);
        };
        JsonValue& space = entry(said, "spaces", input_.space);
        for (std::size_t k = 0; k < places.size(); ++k) {
            const JointPlace& place = places[k];
            ProposedJoint joint;
            joint.id = way.strips[k] + "-" + way.strips[k + 1];
            joint.from_mm = {place.from_mm, place.y_mm};
            joint.to_mm = {place.to_mm, place.y_mm};
            joint.length_mm = place.length_mm();
            for (const bool fore : {false, true}) {
                if (!place.corner.empty() && place.corner_is_fore == fore) {
                    joint.through.push_back(place.corner);
                    continue;
                }
                const auto reading =
                    reading_of(panel, survey->second.points, fore ? joint.to_mm : joint.from_mm);
                if (!reading) return false;
                joint.through.push_back(free_point());
                joint.readings.push_back(joint.through.back() + *reading);
            }
            for (const std::string& reading : joint.readings) {
                JsonValue one = JsonValue::object();
                one.set("line", JsonValue::of_text(reading));
                list_under(space, "ties").items.push_back(std::move(one));
            }
            JsonValue one = JsonValue::object();
            one.set("id", JsonValue::of_text(joint.id));
            JsonValue through = JsonValue::list();
            for (const std::string& name : joint.through) through.items.push_back(JsonValue::of_text(name));
            one.set("through", std::move(through));
            list_under(space, "joints").items.push_back(std::move(one));
            way.joints.push_back(std::move(joint));
        }
        return true;
    }

    /// A place of the panel's edge as it is taped: along the edge it lies on, and off the line between that edge's
    /// corners where it is a curve. Nothing when the survey does not know them.
    std::optional<std::string> reading_of(const Panel& panel,
                                          const std::map<std::string, SurveyPoint>& points,
                                          Vec2 place) const {
        const Outline& outline = panel.boat_line.outline;
        const int tag = outline.edge(nearest_on(outline, place).edge).tag;
        if (tag < 0) return std::nullopt;
        const EdgePlan& edge = panel.edges[static_cast<std::size_t>(tag)];
        std::string from = edge.from, to = edge.to;
        if (points.count(from) == 0 || points.count(to) == 0) return std::nullopt;
        Vec2 start = points.at(from).boat_mm, way = unit(points.at(to).boat_mm - start);
        if (dot(place - start, way) < 0) {  // a station is counted forward
            std::swap(from, to);
            start = points.at(from).boat_mm;
            way = -way;
        }
        const double at = dot(place - start, way), off = cross(way, place - start);
        if (!(at > 0)) return std::nullopt;
        std::string line = " on " + from + " " + to + " at " + marks(at);
        if (std::fabs(off) >= step_mm_ / 2)
            line += " off " + marks(std::fabs(off)) + (off > 0 ? " left" : " right");
        return line;
    }
    std::string marks(double mm) const { return plain_length(std::round(mm / step_mm_) * step_mm_, in_); }

    /// The panel becomes the strip to starboard; the others stand behind it.
    void divide_panel(JsonValue& said, const Panel& panel, const std::vector<JointPlace>& places,
                      const WayToDivide& way) const {
        const std::size_t count = places.size() + 1;
        const auto strip_of = [&](double y) {
            return static_cast<std::size_t>(
                std::count_if(places.begin(), places.end(), [&](const JointPlace& p) { return y > p.y_mm; }));
        };
        std::vector<std::set<std::string>> openings(count), studs(count), applied(count);
        for (const OpeningPlan& o : panel.openings)
            openings[strip_of(0.5 * (box_of(o.rim).min.y + box_of(o.rim).max.y))].insert(o.id);
        for (const Stud& s : panel.studs)
            if (!s.by_rule) studs[strip_of(s.at_mm.y)].insert(s.id);
        for (const AppliedPlan& a : panel.applied)
            applied[strip_of(0.5 * (box_of(a.set).min.y + box_of(a.set).max.y))].insert(a.id);

        JsonValue& whole = entry(said, "panels", input_.id);
        std::vector<JsonValue> strips;
        for (std::size_t k = 0; k < count; ++k) {
            JsonValue strip = whole;
            strip.set("id", JsonValue::of_text(way.strips[k]));
            if (!input_.name.empty())
                strip.set("name", JsonValue::of_text(input_.name + ", strip " + std::to_string(k + 1) +
                                                     " of " + std::to_string(count)));
            const auto cut = [&](std::size_t joint, const char* keep) {
                JsonValue one = JsonValue::object();
                one.set("joint", JsonValue::of_text(way.joints[joint].id));
                one.set("keep", JsonValue::of_text(keep));
                list_under(strip, "cut_by").items.push_back(std::move(one));
            };
            if (k > 0) cut(k - 1, "left");
            if (k + 1 < count) cut(k, "right");
            keep_entries(strip, "openings", openings[k]);
            keep_entries(strip, "studs", studs[k]);
            keep_entries(strip, "applied", applied[k]);
            strips.push_back(std::move(strip));
        }
        put(said, input_.id, std::move(strips));
    }

    /// A twin of the panel is the twin of its first strip; the others have twins of their own.
    void twins(JsonValue& said, const WayToDivide& way) const {
        for (const PanelInput& twin : job_.panels) {
            if (twin.twin_of != input_.id) continue;
            std::vector<JsonValue> strips;
            for (std::size_t k = 0; k < way.strips.size(); ++k) {
                JsonValue strip = entry(said, "panels", twin.id);
                if (k > 0)
                    strip.set("id", JsonValue::of_text(free_panel(twin.id + static_cast<char>('a' + k))));
                strip.set("twin_of", JsonValue::of_text(way.strips[k]));
                strips.push_back(std::move(strip));
            }
            put(said, twin.id, std::move(strips));
        }
    }

    static void put(JsonValue& said, const std::string& id, std::vector<JsonValue> strips) {
        JsonValue& old = entry(said, "panels", id);
        std::vector<JsonValue>& all = said.find("panels")->items;
        const auto at = all.begin() + (&old - all.data());
        *at = std::move(strips.front());
        all.insert(at + 1, std::make_move_iterator(strips.begin() + 1),
                   std::make_move_iterator(strips.end()));
    }

    /// Held against the goods; says how wide its strips are.
    bool fits(const Job& made, WayToDivide& way) const {
        const Derived derived = run_job(made, {}, run_);
        const auto before = stops_of(derived_.findings);
        for (const auto& stop : stops_of(derived.findings))
            if (before.count(stop) == 0) return false;
        const double room = made.goods.usable_width_mm - 2 * made.goods.edge_gap();
        way.widths_mm.assign(way.strips.size(), 0);
        std::set<std::string> strips(way.strips.begin(), way.strips.end());
        for (const PanelInput& panel : made.panels)
            if (strips.count(panel.twin_of) > 0) strips.insert(panel.id);
        std::vector<LayoutPiece> in_pattern;
        for (const LayoutPiece& piece : layout_pieces(made, derived)) {
            if (strips.count(piece.id) == 0) continue;
            const Box box = box_of(piece.outline);
            if (box.height() > room + kPlacementRounding_mm) return false;
            if (made.goods.length_mm > 0 &&
                box.width() > made.goods.length_mm - 2 * made.goods.edge_gap() + kPlacementRounding_mm)
                return false;
            const auto own = std::find(way.strips.begin(), way.strips.end(), piece.id);
            if (own != way.strips.end())
                way.widths_mm[static_cast<std::size_t>(own - way.strips.begin())] = box.height();
            strips.erase(piece.id);
            in_pattern.push_back(piece);
        }
        return strips.empty() && pattern_has_room(in_pattern, made.goods);
    }

    const Job& job_;
    const Derived& derived_;
    const PanelInput& input_;
    const RunContext& run_;
    const SpaceInput& space_;
    LengthStyle in_;
    double step_mm_ = 0;
};

/// For a panel that is not divided whatever its form: why, and what to do. Nothing: it may be.
std::optional<Division> never_divided(const PanelInput& panel) {
    if (!panel.twin_of.empty())
        return Division{panel.id,
                        panel.space,
                        {},
                        "it is the twin of " + panel.twin_of + " and is divided with it",
                        "Divide panel " + panel.twin_of + ", or take wider goods."};
    if (panel.space.empty() || panel.corners.empty())
        return Division{panel.id,
                        panel.space,
                        {},
                        "it is a plain mat, which has no joint lines",
                        "Make mats of two sizes of it, or take wider goods."};
    return std::nullopt;
}

}  // namespace

bool is_too_wide(const std::vector<Finding>& findings, const std::string& panel) {
    return std::any_of(findings.begin(), findings.end(),
                       [&](const Finding& f) { return f.code == kTooWide && f.subject.id == panel; });
}

Division propose_division(const Job& job, const Derived& derived, const std::string& panel,
                          const RunContext& run) {
    const PanelInput* input = with_id(job.panels, panel);
    SPILE_CHECK(input);
    if (std::optional<Division> never = never_divided(*input)) return std::move(*never);
    Divider divider(job, derived, *input, run);
    divider.divide();
    return std::move(divider.division_);
}

Divisions propose_divisions(const Job& job, const Derived& derived, const RunContext& run, std::size_t way) {
    Divisions out;
    std::optional<Job> so_far;
    std::optional<Derived> derived_so_far;
    for (const PanelInput& panel : job.panels) {
        if (!is_too_wide(derived.findings, panel.id) || run.cancelled()) continue;
        std::optional<Division> never = never_divided(panel);
        if (!never && out.each.size() >= kMostDivided)
            never = Division{panel.id,
                             panel.space,
                             {},
                             "joints are proposed for " + std::to_string(kMostDivided) + " panels at a time",
                             "Divide those first, or take wider goods."};
        if (never) {
            out.each.push_back(std::move(*never));
            continue;
        }
        const Job& now = so_far ? *so_far : job;
        if (so_far && !derived_so_far) derived_so_far = run_job(*so_far, {}, run);
        Divider divider(now, derived_so_far ? *derived_so_far : derived, *with_id(now.panels, panel.id), run);
        divider.divide();
        out.each.push_back(std::move(divider.division_));
        if (divider.made_.empty()) continue;
        so_far = std::move(divider.made_[std::min(way, divider.made_.size() - 1)]);
        derived_so_far.reset();
    }
    if (so_far) out.edits = edits_between(settled_form(job.said), settled_form(so_far->said));
    return out;
}

std::string way_words(const std::string& panel, const WayToDivide& way, const LengthStyle& lengths) {
    LengthStyle style = lengths;
    style.with_unit = true;
    std::string words = "Divide panel " + panel + " into " + std::to_string(way.strips.size()) +
                        " strips, from starboard to port " + list_words(way.strips) + ":";
    for (const ProposedJoint& joint : way.joints)
        words += " joint " + joint.id + " through " + list_words(joint.through) + ", " +
                 plain_length(joint.length_mm, style) + " long (" +
                 (joint.readings.size() > 1 ? "readings \"" + joint.readings.front() + "\" and \""
                                            : "reading \"") +
                 joint.readings.back() + "\");";
    words.back() = '.';
    return words;
}

std::string why_not_words(const Division& division) {
    return "No joint is proposed: " + division.why_not + ". " + division.to_do;
}

void say_where_to_divide(const Divisions& divisions, const LengthStyle& lengths, Derived& derived) {
    for (const Division& division : divisions.each)
        for (Finding& f : derived.findings)
            if (f.code == kTooWide && f.subject.id == division.panel)
                f.to_do = division.ways.empty() ? why_not_words(division)
                                                : way_words(division.panel, division.ways.front(), lengths) +
                                                      " Or take wider goods.";
}

}  // namespace spile
