// Panels with their three lines, pieces from both sides, and the roll.
#include <algorithm>
#include <cmath>
#include <map>

#include "core/geom/measure_of.h"
#include "core/job/pattern_joints.h"
#include "core/layout/cuts_across.h"
#include "core/paper/flow_parts.h"
#include "wasm/show.h"

namespace spile::surface {
namespace {

/// The stretch of a line that belongs to one edge of the panel; empty where it has none. It may begin anywhere in the
/// outline, so it is looked for from behind a place where it is not.
Path stretch_of(const Outline& outline, int tag) {
    Path path;
    const std::size_t n = outline.size();
    std::size_t start = 0;
    while (start < n && outline.vertices[start].tag == tag) ++start;
    if (start == n) start = 0;
    for (std::size_t k = 0; k < n; ++k) {
        const Edge e = outline.edge((start + k) % n);
        if (e.tag != tag) {
            if (!path.vertices.empty()) break;
            continue;
        }
        path.vertices.push_back({e.a, e.bulge, 0});
        if ((start + k + 1) % n == start || outline.edge((start + k + 1) % n).tag != tag)
            path.vertices.push_back({e.b, 0, 0});
    }
    return path;
}

Json middle_of(const Path& path) {
    if (path.edge_count() == 0) return nullptr;
    return place(midpoint_of(path.edge(path.edge_count() / 2)));
}

Json shown_edges(const Panel& panel, const Piece* piece, const LengthStyle& style) {
    Json edges = Json::array();
    for (std::size_t i = 0; i < panel.edges.size(); ++i) {
        const EdgePlan& e = panel.edges[i];
        const Path boat = stretch_of(panel.boat_line.outline, static_cast<int>(i)),
                   net = stretch_of(panel.net_line.region.outer, static_cast<int>(i));
        Json edge = {{"name", edge_name(panel, i)},
                     {"measured", word_for(e.measured)},
                     {"situation", word_for(e.situation)},
                     {"finish", word_for(e.finish)},
                     {"clearance", length(e.clearance_mm, style)},
                     {"boat", path_data(boat)},
                     {"net", path_data(net)},
                     {"middle", middle_of(net)},
                     {"length", nullptr}};
        if (piece && i < piece->edges.size()) edge["length"] = length(piece->edges[i].net_length_mm, style);
        edges.push_back(std::move(edge));
    }
    return edges;
}

/// By OpeningPlan::Form.
constexpr const char* form_words[] = {"round", "box", "slot", "free", "lid"};

Json shown_applied(const AppliedPlan& a) {
    const Box around = box_of(a.set);
    return {{"id", a.id},
            {"kind", word_for(a.kind)},
            {"side", a.on_back ? "back" : "face"},
            {"place", place(0.5 * (around.min + around.max))},
            {"set", path_data(a.set)}};
}

Json shown_panel(const Panel& panel, const Piece* piece, const LengthStyle& style) {
    Json corners = Json::array();
    for (std::size_t i = 0; i < panel.corners.size(); ++i) {
        Json corner = {{"at", panel.corners[i].at},
                       {"radius", length(panel.corners[i].radius_mm, style)},
                       {"place", nullptr}};
        const Path boat = stretch_of(panel.boat_line.outline, static_cast<int>(i));
        if (!boat.vertices.empty()) corner["place"] = place(boat.vertices.front().p);
        corners.push_back(std::move(corner));
    }
    Json openings = Json::array();
    for (std::size_t i = 0; i < panel.openings.size(); ++i) {
        const OpeningPlan& o = panel.openings[i];
        openings.push_back({{"id", o.id},
                            {"at", o.at},
                            {"place", place(o.centre_mm)},
                            {"form", form_words[static_cast<int>(o.form)]},
                            {"diameter", length(o.diameter_mm, style)},
                            {"ease", length(o.ease_mm, style)},
                            {"finish", word_for(o.finish)}});
    }
    Json out = {{"id", panel.id},
                {"name", panel.name},
                {"space", panel.space},
                {"mat", panel.mat},
                {"number", piece ? Json(piece->number) : Json(nullptr)},
                {"corners", std::move(corners)},
                {"edges", shown_edges(panel, piece, style)},
                {"openings", std::move(openings)},
                {"studs", list_of(panel.studs,
                                  [](const Stud& s) {
                                      return Json{{"id", s.id}, {"place", place(s.at_mm)}};
                                  })},
                {"applied", list_of(panel.applied, shown_applied)},
                {"boat", path_data(panel.boat_line.outline)},
                {"net", path_data(panel.net_line.region)},
                {"face", nullptr},
                {"backing", nullptr}};
    Box all = box_of(panel.net_line.region);
    if (!panel.boat_line.outline.empty()) all.add(box_of(panel.boat_line.outline));
    if (piece) {
        const Rigid boat_from_piece = inverse(piece->piece_from_boat);
        const Region face = boat_from_piece(piece->cut.face);
        out["face"] = path_data(face);
        out["backing"] = path_data(boat_from_piece(piece->cut.backing));
        all.add(box_of(face));
    }
    out["box"] = box(all);
    return out;
}

/// A piece as seen from one side; piece space or, by BackFromFace about y = 0, its back.
template <class Side>
Json shown_side(const Piece& piece, const Side& side) {
    const Region face = side(piece.cut.face);
    return {
        {"face", path_data(face)},
        {"backing", path_data(side(piece.cut.backing))},
        {"net", path_data(side(piece.net))},
        {"slits", list_of(piece.slits, [&](const Path& p) { return path_data(side(p)); })},
        {"flap_cuts", list_of(piece.flap_cuts, [&](const FlapCut& c) { return path_data(side(c.path)); })},
        {"seams", list_of(piece.seams,
                          [&](const Seam& s) {
                              return Json{{"name", s.name}, {"d", path_data(side(s.path))}};
                          })},
        {"studs", list_of(piece.studs,
                          [&](const Stud& s) {
                              return Json{{"id", s.id}, {"place", place(side(s.at_mm))}};
                          })},
        {"box", box(box_of(face))}};
}

}  // namespace

Json shown_panels(const Job&, const Derived& derived, const LengthStyle& style) {
    std::map<std::string, const Piece*> pieces;
    for (const Piece& p : derived.pieces) pieces[p.id] = &p;
    return list_of(derived.panels, [&](const Panel& panel) {
        const auto piece = pieces.find(panel.id);
        return shown_panel(panel, piece == pieces.end() ? nullptr : piece->second, style);
    });
}

Json shown_match_marks(const Derived& derived) {
    PaperInput in;
    in.panels = &derived.panels;
    in.pieces = &derived.pieces;
    Json marks = Json::array();
    for (const std::string& space : paper::spaces_of(in))
        for (const paper::MeetingMarks& m : paper::meeting_marks(in, space))
            marks.push_back({{"space", space},
                             {"letter", m.name},
                             {"pieces", {m.piece, m.other}},
                             {"place", place(m.at)},
                             {"across", place(m.across)}});
    return marks;
}

Json shown_pieces(const Derived& derived, const LengthStyle& style) {
    return list_of(derived.pieces, [&style](const Piece& piece) {
        const Box size = box_of(piece.cut.face);
        return Json{{"id", piece.id},
                    {"number", piece.number},
                    {"name", piece.name},
                    {"along", length(size.width(), style)},
                    {"across", length(size.height(), style)},
                    {"binding", length(piece.binding_mm, style)},
                    {"area_mm2", piece.area_mm2},
                    {"seams", list_of(piece.seams,
                                      [&style](const Seam& s) {
                                          return Json{{"name", s.name},
                                                      {"length", length(s.length_mm, style)},
                                                      {"closed", s.closed}};
                                      })},
                    {"holes", list_of(piece.holes,
                                      [&style](const HoleReport& h) {
                                          return Json{{"id", h.id},
                                                      {"finish", word_for(h.finish)},
                                                      {"post", length(h.post_diameter_mm, style)},
                                                      {"net", length(h.net_diameter_mm, style)},
                                                      {"round", h.round},
                                                      {"along", length(h.along_mm, style)},
                                                      {"across", length(h.across_mm, style)},
                                                      {"face_cut", length(h.face_cut_diameter_mm, style)},
                                                      {"slits", h.slits}};
                                      })},
                    {"from_face", shown_side(piece, Rigid{})},
                    {"from_back", shown_side(piece, BackFromFace{0})}};
    });
}

namespace {

/// More lines than this are a grey field, and nothing to draw.
constexpr double kMostLines = 600;

/// Where the pattern comes again, as if it began at the cut end and the near selvedge; it may begin anywhere.
std::vector<Path> repeat_lines(const Goods& goods, double length_mm) {
    std::vector<Path> lines;
    const Repeat& r = goods.repeat;
    const double width = goods.usable_width_mm;
    const double columns = r.across_mm > 0 ? width / r.across_mm : 1;
    const double rows = r.along_mm > 0 ? length_mm / r.along_mm : 0;
    if (!r.any() || columns * (rows + 1) > kMostLines) return lines;
    const auto line = [&](Vec2 a, Vec2 b) { lines.push_back({{{a, 0, 0}, {b, 0, 0}}}); };
    for (int k = 0; k < columns; ++k) {
        const double near = k * r.across_mm;
        const double far = r.across_mm > 0 ? std::min(width, near + r.across_mm) : width;
        if (k > 0) line({0, near}, {length_mm, near});
        if (!(r.along_mm > 0)) continue;
        double x = std::fmod(k * r.drop_mm, r.along_mm);
        if (x <= 0) x += r.along_mm;
        for (; x < length_mm; x += r.along_mm) line({x, near}, {x, far});
    }
    return lines;
}

/// A length of goods as it is drawn.
struct Strip {
    Outline outline;     ///< where it is drawn
    double from_mm = 0;  ///< where its own cut end is drawn
    double length_mm = 0;
    double used_mm = 0;
    bool whole_width = true;  ///< no offcut with an outline of its own
};

/// The stretches of a layout one behind another, as much of each roll as is used; without stretches the one length.
std::vector<Strip> drawn_strips(const Job& job, const Derived& derived) {
    constexpr double between_mm = 150;
    const Goods& goods = job.goods;
    if (!derived.layout || derived.layout->stretches.empty()) {
        const double length = derived.layout ? derived.layout->bought_mm : goods.length_mm;
        const double used = derived.layout ? derived.layout->used_mm : 0;
        return {{rectangle({0, 0}, {length, goods.usable_width_mm}), 0, length, used, true}};
    }
    const std::vector<LayoutPiece> pieces = layout_pieces(job, derived);
    std::vector<Strip> strips;
    double from = 0;
    for (std::size_t k = 0; k < stretch_count(*derived.layout); ++k) {
        const Goods own = goods_on(goods, *derived.layout, k);
        Strip strip;
        strip.from_mm = from;
        strip.used_mm = one_stretch(pieces, goods, *derived.layout, k).used_mm;
        strip.whole_width = own.outline.empty();
        const Outline there =
            strip.whole_width ? rectangle({0, 0}, {strip.used_mm, own.usable_width_mm}) : own.outline;
        strip.length_mm = box_of(there).max.x;
        strip.outline = translation({from, 0})(there);
        from = box_of(strip.outline).max.x + between_mm;
        strips.push_back(std::move(strip));
    }
    return strips;
}

/// Both sides of the roll: {"face", "back"}, of all the shapes together.
template <class Shape>
Json both_sides(const std::vector<Shape>& on_roll, const BackFromFace& back_from_roll) {
    std::string face, back;
    for (const Shape& shape : on_roll) {
        face += path_data(shape);
        back += path_data(back_from_roll(shape));
    }
    return {{"face", face}, {"back", back}};
}

/// A flaw of the roll in hand, on each length of the whole width.
Json shown_flaw(const Flaw& flaw, const Goods& goods, const std::vector<Strip>& strips,
                const BackFromFace& back_from_roll, const LengthStyle& style) {
    std::vector<Outline> places;
    for (const Strip& strip : strips) {
        const double far = strips.size() > 1 ? std::min(flaw.at_mm.max.x, strip.length_mm) : flaw.at_mm.max.x;
        if (strip.whole_width && flaw.at_mm.min.x < far)
            places.push_back(
                rectangle({strip.from_mm + flaw.at_mm.min.x, std::max(0.0, flaw.at_mm.min.y)},
                          {strip.from_mm + far, std::min(goods.usable_width_mm, flaw.at_mm.max.y)}));
    }
    Json out = both_sides(places, back_from_roll);
    out["name"] = flaw.id;
    out["from"] = length(flaw.at_mm.min.x, style);
    out["to"] = length(flaw.at_mm.max.x, style);
    return out;
}

Json shown_repeat(const Job& job, const std::vector<Strip>& strips, const BackFromFace& back_from_roll,
                  const LengthStyle& style) {
    const Repeat& repeat = job.goods.repeat;
    if (!repeat.any()) return nullptr;
    std::vector<Path> lines;
    for (const Strip& strip : strips) {
        if (!strip.whole_width) continue;
        for (const Path& line : repeat_lines(job.goods, strip.length_mm))
            lines.push_back(translation({strip.from_mm, 0})(line));
    }
    Json out = both_sides(lines, back_from_roll);
    out["along"] = length(repeat.along_mm, style);
    out["across"] = length(repeat.across_mm, style);
    out["drop"] = length(repeat.drop_mm, style);
    out["carried"] = job.pattern_carried;
    return out;
}

Json shown_cuts(const Job& job, const Derived& derived, const std::vector<Strip>& strips,
                const BackFromFace& back_from_roll, const LengthStyle& style) {
    const std::vector<LayoutPiece> pieces = layout_pieces(job, derived);
    Json cuts = Json::array();
    for (std::size_t k = 0; k < stretch_count(*derived.layout); ++k) {
        const double width = goods_on(job.goods, *derived.layout, k).usable_width_mm;
        for (const double at : cut_places_mm(cuts_across(pieces, job.goods, *derived.layout, k), style)) {
            const double x = strips[k].from_mm + at;
            const Path line{{{{x, 0}, 0, 0}, {{x, width}, 0, 0}}};
            Json cut = both_sides(std::vector<Path>{line}, back_from_roll);
            cut["at"] = length(at, style);
            cut["stretch"] = k;
            cuts.push_back(std::move(cut));
        }
    }
    return cuts;
}

Json shown_layout(const Job& job, const Derived& derived, const std::vector<Strip>& strips,
                  const BackFromFace& back_from_roll, const LengthStyle& style) {
    if (!derived.layout) return nullptr;
    const Layout& layout = *derived.layout;
    std::map<std::string, const Piece*> pieces;
    for (const Piece& p : derived.pieces) pieces[p.id] = &p;
    for (const AppliedPiece& a : derived.applied) pieces[a.piece.id] = &a.piece;
    Json placements = Json::array();
    for (const Placement& p : layout.placements) {
        const auto piece = pieces.find(p.piece);
        if (piece == pieces.end()) continue;
        const Region own = roll_from_piece(p)(piece->second->cut.face);
        const auto stretch = static_cast<std::size_t>(std::max(p.stretch, 0));
        const double from_mm = stretch < strips.size() ? strips[stretch].from_mm : 0;
        const Region on_roll = translation({from_mm, 0})(own);
        placements.push_back({{"piece", p.piece},
                              {"number", piece->second->number},
                              {"called", called(*piece->second)},
                              {"x_um", p.x_um},
                              {"y_um", p.y_um},
                              {"turns", p.turns},
                              {"stretch", p.stretch},
                              {"from_cut_end", length(box_of(own).min.x, style)},
                              {"from_selvedge", length(box_of(own).min.y, style)},
                              {"face", path_data(on_roll)},
                              {"back", path_data(back_from_roll(on_roll))},
                              {"box", box(box_of(on_roll))}});
    }
    Json stretches = Json::array();
    for (std::size_t k = 0; k < layout.stretches.size(); ++k)
        stretches.push_back({{"name", stretch_words(layout, k)},
                             {"offcut", !strips[k].whole_width},
                             {"to_buy", to_buy(layout.stretches[k])},
                             {"used", length(strips[k].used_mm, style)},
                             {"box", box(box_of(strips[k].outline))}});
    Json joints = list_of(pattern_at_joints(job, derived), [&](const PatternJoint& j) {
        return Json{{"first", j.first},
                    {"second", j.second},
                    {"at", j.at},
                    {"known", j.known},
                    {"along", length(std::fabs(j.out_mm.x), style)},
                    {"across", length(std::fabs(j.out_mm.y), style)}};
    });
    const std::vector<LayoutPiece> wanted = filler_pieces(job.goods);
    Json fillers = Json::array();
    for (const Placement& p : layout.fillers)
        for (const LayoutPiece& piece : wanted) {
            if (piece.id != p.piece) continue;
            const Region on_roll = roll_from_piece(p)(piece.outline);
            fillers.push_back({{"piece", p.piece},
                               {"name", filler_name(p)},
                               {"from_cut_end", length(box_of(on_roll).min.x, style)},
                               {"from_selvedge", length(box_of(on_roll).min.y, style)},
                               {"face", path_data(on_roll)},
                               {"back", path_data(back_from_roll(on_roll))},
                               {"box", box(box_of(on_roll))}});
        }
    return {{"placements", std::move(placements)},
            {"fillers", std::move(fillers)},
            {"filler_words", filler_words(job.goods, layout)},
            {"cuts_across", shown_cuts(job, derived, strips, back_from_roll, style)},
            {"stretches", std::move(stretches)},
            {"pattern_joints", std::move(joints)},
            {"used", length(layout.used_mm, style)},
            {"bought", length(to_order_mm(layout), style)},
            {"least_order", layout.least_order},
            {"bound", length(layout.bound_mm, style)},
            {"bound_reason", layout.bound_reason},
            {"goods_share", layout.goods_share},
            {"rounds", layout.rounds}};
}

const char* turning_word(Turning turning) {
    return turning == Turning::half ? "half turn" : turning == Turning::quarter ? "quarter turn" : "one way";
}

}  // namespace

Json shown_roll(const Job& job, const Derived& derived, const LengthStyle& style) {
    if (!job.has_goods) return nullptr;
    const Goods& goods = job.goods;
    const std::vector<Strip> strips = drawn_strips(job, derived);
    const BackFromFace back_from_roll{goods.usable_width_mm / 2};
    std::string strip, strip_back;
    Box strip_box;
    for (const Strip& s : strips) {
        strip += path_data(s.outline);
        strip_back += path_data(back_from_roll(s.outline));
        strip_box.add(box_of(s.outline).min);
        strip_box.add(box_of(s.outline).max);
    }
    return {{"goods", goods.name},
            {"width", length(goods.width_mm, style)},
            {"usable_width", length(goods.usable_width_mm, style)},
            {"gap", length(goods.gap_mm, style)},
            {"edge_gap", length(goods.edge_gap(), style)},
            {"direction", turning_word(goods.turning)},
            {"strip", strip},
            {"strip_back", strip_back},
            {"box", box(strip_box)},
            {"repeat", shown_repeat(job, strips, back_from_roll, style)},
            {"flaws",
             list_of(goods.flaws,
                     [&](const Flaw& f) { return shown_flaw(f, goods, strips, back_from_roll, style); })},
            {"layout", shown_layout(job, derived, strips, back_from_roll, style)}};
}

}  // namespace spile::surface
