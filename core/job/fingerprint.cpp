#include "core/job/fingerprint.h"

#include <algorithm>
#include <cstdint>
#include <set>

#include "core/base/text.h"
#include "core/job/outline_readings.h"

namespace spile {
namespace {

/// What is to be told apart: pieces, with all that is marked on them and sewn; or no more than their cut lines.
enum class Of { pieces, cut_lines };

/// The inputs as lines of text, in one order and one spelling.
class Inputs {
  public:
    explicit Inputs(Of of) : pieces_(of == Of::pieces) {}

    /// False: what moves no cut line is to be left out.
    bool of_pieces() const { return pieces_; }

    void add(const char* name, const std::string& value) {
        text_ += name;
        text_ += '=';
        text_ += value;
        text_ += '\n';
    }
    void add(const char* name, double value) { add(name, shortest(value)); }

    std::string fingerprint() const {
        std::uint64_t hash = 14695981039346656037ull;
        for (const char c : text_) {
            hash ^= static_cast<unsigned char>(c);
            hash *= 1099511628211ull;
        }
        std::string digits(16, '0');
        for (std::size_t i = 0; i < 16; ++i) digits[15 - i] = "0123456789abcdef"[(hash >> (4 * i)) & 0xF];
        return digits;
    }

  private:
    bool pieces_;
    std::string text_;
};

std::string exact(const TypedLength& length) {
    return std::to_string(length.value.num) + "/" + std::to_string(length.value.den);
}

/// A reading by what it says, however it was typed.
struct Canonical {
    std::string operator()(const Tie& t) const {
        static const char* const touches[] = {"", " near", " far"};
        return t.from + " " + t.to + " " + exact(t.distance) + touches[static_cast<int>(t.touches)];
    }
    std::string operator()(const BaselineOffset& b) const {
        if (b.only_in_line) return b.point + " on " + b.base_from + " " + b.base_to;
        return b.point + " on " + b.base_from + " " + b.base_to + " at " + exact(b.station) + " off " +
               exact(b.offset) + (b.left ? " left" : " right");
    }
    std::string operator()(const Rise& r) const {
        return r.from + " " + r.to + " rise " + exact(r.rise) + (r.outward ? " out" : " inward");
    }
    std::string operator()(const Through& t) const {
        return list(t.from + " " + t.to + " through", t.points);
    }
    std::string operator()(const OverUp& o) const {
        return o.point + " over " + exact(o.over) + " up " + exact(o.up);
    }
    std::string operator()(const Running& r) const {
        std::string line = r.from + " " + r.to + " running";
        for (const Running::Stop& s : r.stops) line += " " + s.point + " " + exact(s.station);
        return line;
    }
    std::string operator()(const Square& s) const {
        return s.corner + " square " + s.one_arm + " " + s.other_arm + (s.by_triangle ? " by 3-4-5" : "");
    }
    std::string operator()(const Diameter& d) const { return d.point + " diameter " + exact(d.diameter); }
    std::string operator()(const Rim& r) const { return list(r.point + " rim", r.on_rim); }
    std::string operator()(const CornerRound& c) const {
        return c.tangent.empty() ? c.corner + " round " + exact(c.radius)
                                 : list(c.corner + " round to", c.tangent);
    }
    std::string operator()(const Height& h) const { return h.point + " height " + exact(h.height); }

    static std::string list(std::string line, const std::vector<std::string>& points) {
        for (const std::string& p : points) line += " " + p;
        return line;
    }
};

void add_space(Inputs& in, const Job& job, const SpaceInput& space) {
    in.add("space", space.id);
    in.add("class", static_cast<double>(space.tape.tape_class));
    in.add("hook", space.tape.hook ? 1 : 0);
    in.add("reads_to", space.tape.reads_to_mm);
    in.add("ends_sd", space.tape.ends_sd_mm);
    in.add("square_sd", space.tape.square_sd_rad);
    in.add("line_sd", space.tape.line_sd_mm);
    in.add("triangle_sd", space.tape.triangle_sd_rad);
    for (const std::string& p : space.walk) in.add("walk", p);
    for (const std::string& p : space.bow) in.add("bow", p);
    std::vector<std::string> lines;
    for (const Reading& r : in.of_pieces() ? space.readings : outline_readings(job, space))
        lines.push_back(std::visit(Canonical{}, r.what));
    std::sort(lines.begin(), lines.end());
    for (const std::string& line : lines) in.add("reading", line);
}

/// Where a panel lies: all that its neighbours can notice of it.
void add_bounds(Inputs& in, const PanelInput& panel) {
    in.add("panel", panel.id);
    in.add("in", panel.space);
    for (const CornerPlan& c : panel.corners) {
        in.add("corner", c.at);
        in.add("radius", c.radius_mm);
    }
    for (const EdgePlan& e : panel.edges) {
        in.add("edge",
               std::string(word_for(e.measured)) + ", " + word_for(e.situation) + ", " + word_for(e.finish));
        in.add("clearance", e.clearance_mm);
        // Named only where it says something: what was decided before the key existed still stands.
        if (e.left_long_mm != 0) in.add("left_long", e.left_long_mm);
        for (const std::string& p : e.along) in.add("along", p);
    }
    for (const JointCut& cut : panel.cuts) {
        for (const std::string& p : cut.through) in.add("cut", p);
        in.add("keep", cut.keep_left ? "left" : "right");
        in.add("edge", std::string(word_for(cut.edge.measured)) + ", " + word_for(cut.edge.situation) + ", " +
                           word_for(cut.edge.finish));
        in.add("clearance", cut.edge.clearance_mm);
        in.add("left_long", cut.edge.left_long_mm);
        in.add("radius", cut.corner_radius_mm);
    }
}

void add_form(Inputs& in, const OpeningPlan& o) {
    in.add("form", static_cast<double>(o.form));
    for (const double mm : {o.length_mm, o.width_mm, o.radius_mm}) in.add("form_size", mm);
    in.add("turn_deg", o.turn_deg);
    for (const std::string& point : o.along) in.add("along", point);
    if (!o.lid.empty()) in.add("lid", o.lid);
    for (const CornerPlan& corner : o.outline) {
        in.add("corner", corner.at);
        in.add("radius", corner.radius_mm);
    }
}

void add_applied(Inputs& in, const AppliedPlan& a) {
    in.add("applied", a.id + ", " + word_for(a.kind) + ", " + word_for(a.finish));
    in.add("side", a.on_back ? "back" : "face");
    in.add("lies", a.from + " " + a.to + " " + a.at);
    for (const double mm : {a.from_edge_mm.value_or(-1), a.start_mm.value_or(-1), a.length_mm, a.width_mm,
                            a.centre_mm.x, a.centre_mm.y, a.diameter_mm, a.radius_mm, a.turn_deg, a.turn_mm})
        in.add("size", mm);
    for (const std::string& point : a.along) in.add("along", point);
    for (const CornerPlan& corner : a.outline) {
        in.add("corner", corner.at);
        in.add("radius", corner.radius_mm);
    }
    in.add("goods", a.goods);
}

void add_panel(Inputs& in, const PanelInput& panel) {
    add_bounds(in, panel);
    for (const OpeningPlan& o : panel.openings) {
        in.add("opening", o.at);
        in.add("x", o.centre_mm.x);
        in.add("y", o.centre_mm.y);
        in.add("diameter", o.diameter_mm);
        in.add("ease", o.ease_mm);
        in.add("finish", word_for(o.finish));
        if (o.form != OpeningPlan::Form::round) add_form(in, o);
        if (!o.slit) continue;
        in.add("slit", o.slit->from + " " + o.slit->to + ", " + word_for(o.slit->finish));
        in.add("slit_gap", o.slit->gap_mm);
    }
    if (in.of_pieces())
        for (const std::string& stud : panel.studs) in.add("stud", stud);
    for (const AppliedPlan& a : panel.applied)
        if (in.of_pieces() || a.goods.empty()) add_applied(in, a);
    if (!panel.twin_of.empty()) in.add("twin_of", panel.twin_of);
    for (const std::string& point : panel.twin_about) in.add("twin_about", point);
    if (panel.stud_rule && in.of_pieces()) {
        in.add("stud_pitch", panel.stud_rule->pitch_mm);
        in.add("stud_from_edge", panel.stud_rule->from_edge_mm);
    }
    in.add("size_x", panel.size_x_mm);
    in.add("size_y", panel.size_y_mm);
    in.add("mat_finish", word_for(panel.mat_finish));
    in.add("mat_radius", panel.corner_radius_mm);
}

bool anything_applied(const Job& job) {
    return std::any_of(job.panels.begin(), job.panels.end(), [](const PanelInput& panel) {
        return std::any_of(panel.applied.begin(), panel.applied.end(),
                           [](const AppliedPlan& a) { return a.goods.empty(); });
    });
}

/// A flap round a tight curve is held to twice the stitch distance (core/edging/flaps.cpp): only there that moves a cut line.
bool stitch_may_move_a_line(const Job& job) {
    const auto turned = [](const auto& plan) { return plan.finish == Finish::turned; };
    const auto round = [](const CornerPlan& c) { return c.radius_mm > 0; };
    const auto may = [&](const PanelInput& panel) {
        for (const OpeningPlan& o : panel.openings)
            if (turned(o) && o.form != OpeningPlan::Form::round) return true;
        for (const AppliedPlan& a : panel.applied)
            if (turned(a) && a.goods.empty()) return true;
        bool turns = std::any_of(panel.edges.begin(), panel.edges.end(), turned);
        bool rounds = std::any_of(panel.corners.begin(), panel.corners.end(), round);
        for (const JointCut& cut : panel.cuts) {
            turns = turns || turned(cut.edge);
            rounds = rounds || cut.corner_radius_mm > 0;
        }
        if (panel.corners.empty()) {  // a plain mat, or a twin, whose original is asked as well
            turns = panel.mat_finish == Finish::turned;
            rounds = panel.corner_radius_mm > 0;
        }
        for (const SpaceInput& space : job.spaces)
            for (const Reading& r : space.readings)
                rounds = rounds || (space.id == panel.space && (std::holds_alternative<Rise>(r.what) ||
                                                                std::holds_alternative<Through>(r.what) ||
                                                                std::holds_alternative<CornerRound>(r.what) ||
                                                                std::holds_alternative<Rim>(r.what)));
        return turns && rounds;
    };
    return std::any_of(job.panels.begin(), job.panels.end(), may);
}

void add_finish(Inputs& in, const Job& job) {
    const FinishSettings& f = job.finish;
    const auto add = [&in](double mm) { in.add("finish", mm); };
    const bool pieces = in.of_pieces();
    add(f.binding_growth_mm);
    // What is put on is kept clear of a binding, and so may be shorter.
    if (pieces || anything_applied(job)) add(f.binding_width_mm);
    for (const double mm : {f.least_bound_radius_mm, f.least_bound_hole_radius_mm, f.turn_mm}) add(mm);
    if (pieces || stitch_may_move_a_line(job)) add(f.stitch_from_edge_mm);
    if (pieces)  // the ease of a post stands in its opening
        for (const double mm : {f.post_ease_mm, f.slit_short_mm}) add(mm);
    add(f.turned_hole_face_mm);
    if (pieces) add(f.binding_overlap_mm);
    add(f.corner_allowance_mm);
    if (pieces) add(f.stud_from_edge_mm);
    add(f.facet_mm);
    // Only what was chosen: layouts kept before these could be said stay judged.
    const FinishSettings usual;
    const auto chosen = [&in](const char* name, double mm, double unless) {
        if (mm != unless) in.add(name, mm);
    };
    chosen("face thickness", f.face_thickness_mm, usual.face_thickness_mm);
    chosen("backing thickness", f.backing_thickness_mm, usual.backing_thickness_mm);
    chosen("mitre lap", f.mitre_lap_mm, usual.mitre_lap_mm);
    chosen("end trim", f.end_trim_mm, usual.end_trim_mm);
    if (!f.backing_peels) in.add("backing", "does not peel");
    if (f.mitred_corners) in.add("turned corners", "mitred");
}

/// Name, step and thickness of the goods move no line.
void add_goods(Inputs& in, const Job& job) {
    const Goods& goods = job.goods;
    in.add("usable_width", goods.usable_width_mm);
    in.add("gap", goods.gap_mm);
    in.add("edge_gap", goods.edge_gap());
    in.add("length", goods.length_mm);
    if (goods.repeat.any() && job.pattern_carried) {
        in.add("repeat", goods.repeat.along_mm);
        in.add("repeat", goods.repeat.across_mm);
        in.add("repeat", goods.repeat.drop_mm);
    }
    if (goods.turning != Turning::one_way) in.add("direction", static_cast<double>(goods.turning));
    for (const Flaw& flaw : goods.flaws)
        for (const double mm : {flaw.at_mm.min.x, flaw.at_mm.min.y, flaw.at_mm.max.x, flaw.at_mm.max.y})
            in.add("flaw", mm);
}

void add_spaces_of(Inputs& in, const Job& job, const std::set<std::string>& ids) {
    for (const SpaceInput& space : job.spaces) {
        if (ids.count(space.id) > 0) add_space(in, job, space);
    }
}

const PanelInput* panel_by_id(const Job& job, const std::string& id) {
    for (const PanelInput& panel : job.panels) {
        if (panel.id == id) return &panel;
    }
    return nullptr;
}

std::string of_all(const Job& job, Of of) {
    Inputs in(of);
    add_goods(in, job);
    add_finish(in, job);
    std::set<std::string> spaces;
    for (const PanelInput& panel : job.panels) {
        add_panel(in, panel);
        spaces.insert(panel.space);
    }
    add_spaces_of(in, job, spaces);
    return in.fingerprint();
}

}  // namespace

std::string layout_fingerprint(const Job& job) {
    return of_all(job, Of::cut_lines);
}

bool layout_is_of(const Job& job, const std::string& fingerprint) {
    return fingerprint == layout_fingerprint(job) || fingerprint == of_all(job, Of::pieces);
}

std::string subject_fingerprint(const Job& job, const Subject& subject) {
    const std::string owner = subject.id.substr(0, subject.id.find('/'));
    const bool of_measuring = subject.kind == "tie" || subject.kind == "point" || subject.kind == "space";
    const bool of_laying_out = subject.kind == "piece" || subject.kind == "goods";
    Inputs in(Of::pieces);
    if (of_measuring) {
        const bool of_one = std::any_of(job.spaces.begin(), job.spaces.end(),
                                        [&owner](const SpaceInput& s) { return s.id == owner; });
        for (const SpaceInput& space : job.spaces) {
            if (!of_one || space.id == owner) add_space(in, job, space);
        }
        return in.fingerprint();
    }
    const PanelInput* panel = panel_by_id(job, owner);
    if (of_laying_out || !panel) return of_all(job, Of::pieces);
    add_finish(in, job);
    add_panel(in, *panel);
    if (panel->space.empty()) return in.fingerprint();
    add_spaces_of(in, job, {panel->space});
    for (const PanelInput& other : job.panels) {
        if (&other != panel && other.space == panel->space) add_bounds(in, other);
    }
    return in.fingerprint();
}

}  // namespace spile
