#include "core/paper/marking_plan.h"

#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/paper/plan_lines.h"

namespace spile::paper {
namespace {

constexpr Resolution kCompared{0.4};  ///< how finely a drawn line is compared with the true one
constexpr std::size_t kMostBattenMarks = 40;

std::string letters_of(std::size_t i) {
    // No i, l or o: in chalk they are figures.
    static const std::string alphabet = "abcdefghjkmnpqrstuvwxyz";
    std::string out;
    for (++i; i > 0; i = (i - 1) / alphabet.size())
        out.insert(out.begin(), alphabet[(i - 1) % alphabet.size()]);
    return out;
}

bool on_circle(const Outline& hole, Vec2 centre, double radius) {
    for (std::size_t i = 0; i < hole.size(); ++i)
        for (const Vec2 p : {hole.vertices[i].p, midpoint_of(hole.edge(i))})
            if (std::fabs(distance(p, centre) - radius) > kSame.mm) return false;
    return true;
}

/// The datum as a stroke of the outer line.
struct Datum {
    bool edge = false;
    std::size_t stroke = 0;
    Vec2 along{1, 0};
};

Datum choose_datum(const RawLine& outer) {
    struct Candidate {
        std::size_t stroke;
        double length;
        int turn;  ///< how the arrow of the goods comes to lie: right, up, down, left
    };
    const auto extent = [&](Vec2 normal) {
        double least = 1e300;
        for (const RawStroke& s : outer.strokes)
            for (const Edge& e : s.edges) least = std::min(least, least_along(e, normal));
        return least;
    };
    std::vector<Candidate> candidates;
    double longest = 0;
    for (std::size_t i = 0; i < outer.strokes.size(); ++i) {
        const RawStroke& s = outer.strokes[i];
        const double length = distance(s.from(), s.to());
        if (!s.straight() || length <= kSame.mm) continue;
        const Vec2 along = unit(s.to() - s.from());
        if (extent(left_of(along)) < dot(left_of(along), s.from()) - kSame.mm) continue;
        if (length * 3 < -extent(-along) - extent(along)) continue;
        const int turn = 2 * along.x * along.x >= 1 ? (along.x > 0 ? 0 : 3) : (along.y < 0 ? 1 : 2);
        candidates.push_back({i, length, turn});
        longest = std::max(longest, length);
    }
    const Candidate* best = nullptr;
    for (const Candidate& c : candidates) {
        if (c.length < 0.9 * longest) continue;
        if (!best || c.turn < best->turn || (c.turn == best->turn && c.length > best->length)) best = &c;
    }
    if (!best) return {};
    const RawStroke& s = outer.strokes[best->stroke];
    return {true, best->stroke, unit(s.to() - s.from())};
}

/// The frame, and the outer line of the cut in the view's space, begun at the datum or else lowest and leftmost.
struct Placed {
    MarkFrame frame;
    RawLine outer;
};
Placed placed(const Piece& piece, const MarkingOptions& options) {
    Placed out;
    const PieceView side = view_of(piece, options.on_back);
    RawLine& outer = out.outer;
    outer = raw_line(edges_of(side.face.outer), true, options.disc_most_mm);
    SPILE_CHECK(!outer.strokes.empty());
    const Datum datum = choose_datum(outer);
    const Rigid turn{datum.along.x, -datum.along.y, {0, 0}};
    Vec2 low{1e300, 1e300};
    for (const RawStroke& s : outer.strokes)
        for (const Edge& e : s.edges) {
            const Edge turned{turn(e.a), turn(e.b), e.bulge, e.tag};
            low.x = std::min(low.x, least_along(turned, {1, 0}));
            low.y = std::min(low.y, least_along(turned, {0, 1}));
        }
    std::size_t begin = datum.stroke;
    if (!datum.edge) {
        const auto height = [&](std::size_t i) {
            const Vec2 p = turn(outer.strokes[i].from());
            return p.x + p.y;
        };
        for (std::size_t i = 0; i < outer.strokes.size(); ++i)
            if (height(i) < height(begin)) begin = i;
    }
    outer = begun_at(outer, begin);

    MarkFrame& f = out.frame;
    f.on_back = options.on_back;
    f.datum_is_edge = datum.edge;
    f.mark_from_side = {turn.cos, turn.sin, -low};
    f.view = paper::moved(f.mark_from_side, side);
    f.box = box_of(f.view.face);
    for (const RawStroke& s : outer.strokes) f.box.add(f.mark_from_side(s.from()));
    f.datum_to_mm = f.box.max.x;
    if (datum.edge) {
        f.datum_from_mm = f.mark_from_side(outer.strokes[0].from()).x;
        f.datum_to_mm = f.mark_from_side(outer.strokes[0].to()).x;
        for (const RawRound& r : outer.rounds) {
            if (r.stroke == 0) f.datum_from_mm += r.touch_after;
            if (r.stroke == 1) f.datum_to_mm -= r.touch_before;
        }
    }
    return out;
}

class Planner {
  public:
    Planner(const Piece& piece, const MarkingOptions& options, const LengthStyle& lengths)
        : options_(options) {
        plan_.lengths = lengths;
        Placed where = placed(piece, options);
        static_cast<MarkFrame&>(plan_) = std::move(where.frame);
        for (const Region& r : options.neighbours) neighbours_.push_back(plan_.mark_from_side(r));

        add_line(paper::moved(plan_.mark_from_side, where.outer));
        add_holes();
        add_backing();
        add_slits();
        add_checks();
        finish();
    }

    MarkingPlan take() { return std::move(plan_); }

  private:
    PrintedLength printed(double mm) const { return print_length(mm, plan_.lengths); }
    /// Where the tape puts a place.
    Vec2 rounded(Vec2 p) const { return {printed(p.x).printed_mm, printed(p.y).printed_mm}; }

    std::size_t add_mark(Vec2 p, bool letter) {
        std::string name = letter ? letters_of(letters_++) : std::to_string(++numbers_);
        plan_.marks.push_back({std::move(name), p, printed(p.x), printed(p.y)});
        return plan_.marks.size() - 1;
    }

    bool in_waste(Vec2 p) const {
        if (side_of(plan_.view.face, p) != Side::outside) return false;
        for (const Region& r : neighbours_)
            if (side_of(r, p) != Side::outside) return false;
        return true;
    }

    /// How to draw a curve between two places of the tape, and how far that leaves its true edges.
    struct Way {
        PlanStroke stroke;
        std::vector<Vec2> via;  ///< true places
        double departure = 1e300;
        Vec2 drawn_centre;  ///< of a swing: where the radius from both marks crosses
    };

    Way by_radius(const RawStroke& s, PlanStroke::How how) const {
        Way way;
        const Edge& e = s.edges[0];
        way.stroke.how = how;
        way.stroke.radius = printed(radius_of(e));
        way.stroke.bulges_right = e.bulge > 0;
        way.stroke.centre_mm = centre_of(e);
        const Vec2 a = rounded(s.from()), b = rounded(s.to());
        if (2 * way.stroke.radius.printed_mm < distance(a, b)) return way;
        const Edge drawn = arc_between(a, b, way.stroke.radius.printed_mm, way.stroke.bulges_right);
        way.departure = departure_from({drawn}, s.edges, kCompared);
        if (!drawn.straight()) way.drawn_centre = centre_of(drawn);
        return way;
    }

    Way by_batten(const RawStroke& s) const {
        Way best;
        double total = 0;
        for (const Edge& e : s.edges) total += length_of(e);
        for (std::size_t n = 0; n <= kMostBattenMarks; ++n) {
            Way way;
            way.stroke.how = n == 0 ? PlanStroke::How::straight : PlanStroke::How::batten;
            std::vector<Vec2> points{rounded(s.from())};
            for (std::size_t k = 1; k <= n; ++k) {
                double along = total * static_cast<double>(k) / static_cast<double>(n + 1);
                std::size_t i = 0;
                while (i + 1 < s.edges.size() && along > length_of(s.edges[i]))
                    along -= length_of(s.edges[i++]);
                way.via.push_back(point_at(s.edges[i], std::min(1.0, along / length_of(s.edges[i]))));
                points.push_back(rounded(way.via.back()));
            }
            points.push_back(rounded(s.to()));
            if (n == 0 && norm2(points[1] - points[0]) == 0) continue;  // a loop
            way.departure = departure_from(batten_through(points), s.edges, kCompared);
            if (way.departure < best.departure) best = way;
            if (best.departure <= options_.departure.mm) break;
        }
        return best;
    }

    /// In order of what is least work at the bench; the first within the allowance, else the nearest.
    Way way_of(const RawStroke& s) const {
        if (s.straight()) return {{}, {}, 0, {}};
        Way straight = by_batten(s);
        if (straight.via.empty()) return straight;
        if (s.edges.size() == 1) {
            const double r = radius_of(s.edges[0]);
            if (r <= options_.trammel_reach_mm && in_waste(centre_of(s.edges[0]))) {
                const Way way = by_radius(s, PlanStroke::How::swing);
                // The hand finds the pivot from the rounded numbers: of a flat arc it may stand well off the true centre.
                if (way.departure <= options_.departure.mm && in_waste(way.drawn_centre)) return way;
            }
            if (r <= options_.disc_most_mm) {
                const Way way = by_radius(s, PlanStroke::How::disc);
                if (way.departure <= options_.departure.mm) return way;
            }
        }
        return straight;
    }

    void add_line(const RawLine& raw, const std::string& name = "") {
        PlanLine line;
        line.name = name;
        line.cut = raw.cut;
        line.hole = raw.hole;
        line.closed = raw.closed;
        line.true_edges = raw.edges;
        const bool letter = raw.cut == Cut::backing_only;
        const std::size_t first = plan_.marks.size();
        const auto is_round_at = [&](std::size_t stroke) {
            for (const RawRound& r : raw.rounds)
                if (r.stroke == stroke % raw.strokes.size()) return true;
            return false;
        };
        std::vector<std::size_t> stroke_of(raw.strokes.size(), 0);  // raw to planned
        for (std::size_t i = 0; i < raw.strokes.size(); ++i) {
            const RawStroke& s = raw.strokes[i];
            stroke_of[i] = line.strokes.size();
            // An edge whose ends are one mark of the tape is no edge to the hand.
            if (s.straight() && rounded(s.from()) == rounded(s.to()) && raw.strokes.size() > 3 &&
                !is_round_at(i) && !is_round_at(i + 1))
                continue;
            const std::size_t from = add_mark(s.from(), letter);
            Way way = way_of(s);
            way.stroke.from = from;
            for (const Vec2 p : way.via) way.stroke.via.push_back(add_mark(p, letter));
            way.stroke.to = plan_.marks.size();
            line.strokes.push_back(std::move(way.stroke));
        }
        if (raw.closed)
            line.strokes.back().to = first;
        else
            add_mark(raw.strokes.back().to(), letter);
        for (const RawRound& r : raw.rounds) {
            line.rounds.push_back({line.strokes[stroke_of[r.stroke]].from, printed(r.radius),
                                   printed(r.touch_before), printed(r.touch_after), r.centre});
        }
        line.departure_mm = departure_between(drawn_from_numbers(plan_, line), line.true_edges, kCompared);
        plan_.lines.push_back(std::move(line));
    }

    void add_circle(const HoleReport& h) {
        PlanHole hole;
        hole.id = h.id;
        hole.centre = add_mark(h.centre_mm, false);
        hole.post_mm = h.post_diameter_mm;
        hole.finish = h.finish;
        hole.slits = h.slits;
        if (h.slits > 0) hole.slit_radius = printed(h.slit_outer_diameter_mm / 2);
        const double off = distance(h.centre_mm, rounded(h.centre_mm));
        const auto add = [&](std::optional<Cut> cut, double diameter) {
            if (diameter <= 0) return;
            const PlanCircle c{cut, printed(diameter / 2), diameter / 2};
            if (cut)
                hole.departure_mm =
                    std::max(hole.departure_mm, off + std::fabs(c.radius.printed_mm - diameter / 2));
            hole.circles.push_back(c);
        };
        add(Cut::through, h.face_cut_diameter_mm);
        if (h.backing_cut_diameter_mm != h.face_cut_diameter_mm)
            add(Cut::backing_only, h.backing_cut_diameter_mm);
        add(std::nullopt, h.stitch_diameter_mm);
        std::stable_sort(
            hole.circles.begin(), hole.circles.end(),
            [](const PlanCircle& a, const PlanCircle& b) { return a.true_radius_mm < b.true_radius_mm; });
        plan_.holes.push_back(std::move(hole));
    }

    /// Holes that no report covers.
    void add_other_holes(const std::vector<Outline>& holes, Cut cut) {
        const std::vector<HoleReport>& reports = plan_.view.holes;
        for (std::size_t i = 0; i < holes.size(); ++i) {
            const Outline& hole = holes[i];
            bool reported = false;
            for (const HoleReport& h : reports)
                reported =
                    reported ||
                    (h.round &&
                     on_circle(
                         hole, h.centre_mm,
                         (cut == Cut::through ? h.face_cut_diameter_mm : h.backing_cut_diameter_mm) / 2));
            if (reported) continue;
            RawLine line = raw_line(edges_of(hole), true, options_.disc_most_mm);
            line.hole = true;
            line.cut = cut;
            const bool shaped = i < reports.size() && !reports[i].round;
            if (!line.strokes.empty()) add_line(line, shaped ? reports[i].id : "");
        }
    }

    void add_holes() {
        add_other_holes(plan_.view.face.holes, Cut::through);
        for (const HoleReport& h : plan_.view.holes)
            if (h.round) add_circle(h);
    }

    void add_backing() {
        const Region &backing = plan_.view.backing, &face = plan_.view.face;
        if (!backing.outer.empty() && !(backing.outer == face.outer))
            for (const RawLine& line : lines_off(backing.outer, face.outer, options_.disc_most_mm))
                add_line(line.closed ? begun_at(line, nearest_to_first(line)) : line);
        if (!(backing.holes == face.holes)) add_other_holes(backing.holes, Cut::backing_only);
    }

    /// So that a stands by 1.
    std::size_t nearest_to_first(const RawLine& line) const {
        const Vec2 first = plan_.marks.front().true_mm;
        std::size_t best = 0;
        for (std::size_t i = 0; i < line.strokes.size(); ++i)
            if (distance(line.strokes[i].from(), first) < distance(line.strokes[best].from(), first))
                best = i;
        return best;
    }

    void add_slits() {
        for (const Path& p : plan_.view.slits) {
            const Vec2 a = p.vertices.front().p, b = p.vertices.back().p;
            bool of_hole = false;
            for (const HoleReport& h : plan_.view.holes)
                of_hole = of_hole || (h.slits > 0 &&
                                      distance(a, h.centre_mm) <= h.slit_outer_diameter_mm / 2 + kSame.mm &&
                                      distance(b, h.centre_mm) <= h.slit_outer_diameter_mm / 2 + kSame.mm);
            if (of_hole) continue;
            const std::size_t from = add_mark(a, false);
            plan_.slits.push_back({from, add_mark(b, false)});
        }
    }

    PlanCheck check(std::size_t a, std::size_t b) const {
        return {a, b, printed(distance(plan_.marks[a].at(), plan_.marks[b].at()))};
    }

    void add_checks() {
        const PlanLine& outer = plan_.lines.front();
        std::vector<std::size_t> corners, all;
        for (const PlanStroke& s : outer.strokes) {
            corners.push_back(s.from);
            all.push_back(s.from);
            all.insert(all.end(), s.via.begin(), s.via.end());
        }
        if (all.size() > 2)
            for (std::size_t i = 0; i < all.size(); ++i)
                plan_.side_checks.push_back(check(all[i], all[(i + 1) % all.size()]));
        for (const PlanHole& h : plan_.holes)
            plan_.hole_checks.push_back(check(outer.strokes[0].from, h.centre));
        add_diagonals(corners.size() >= 4 ? corners : all);
    }

    /// The longest diagonal, then the one that crosses it best: length times the sine of the angle between them.
    void add_diagonals(const std::vector<std::size_t>& corners) {
        const std::size_t n = corners.size();
        if (n < 4) return;
        const auto at = [&](std::size_t i) { return plan_.marks[corners[i]].at(); };
        std::size_t a = 0, b = 2;
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = i + 2; j < n; ++j) {
                if (i == 0 && j == n - 1) continue;
                if (norm2(at(j) - at(i)) > norm2(at(b) - at(a)) + kSame.mm) a = i, b = j;
            }
        plan_.checks.push_back(check(corners[a], corners[b]));
        const Vec2 d = at(b) - at(a);
        std::size_t c = n, e = n;
        double best = 0;
        for (std::size_t i = a + 1; i < b; ++i)
            for (std::size_t k = b + 1; k < a + n; ++k) {
                const std::size_t j = k % n;
                const double span = std::fabs(cross(d, at(j) - at(i)));
                if (span > best + kSame.mm) best = span, c = std::min(i, j), e = std::max(i, j);
            }
        if (c < n) plan_.checks.push_back(check(corners[c], corners[e]));
    }

    void finish() {
        plan_.datum_from = plan_.lines.front().strokes.front().from;
        plan_.datum_to = plan_.lines.front().strokes.front().to;
        for (const PlanLine& l : plan_.lines)
            plan_.departure_mm = std::max(plan_.departure_mm, l.departure_mm);
        for (const PlanHole& h : plan_.holes)
            plan_.departure_mm = std::max(plan_.departure_mm, h.departure_mm);
        plan_.within = rounded_up(plan_.departure_mm);

        // How far inside the cut the backing is cut, where that is one distance.
        const std::vector<Edge> face = edges_of(plan_.view.face.outer);
        double least = 1e300, most = 0;
        for (const PlanLine& l : plan_.lines)
            for (const Edge& e : l.true_edges) {
                if (l.cut != Cut::backing_only || l.hole) continue;
                const double d = distance_to(face, midpoint_of(e));
                least = std::min(least, d), most = std::max(most, d);
            }
        if (most > 0 && most - least <= kSame.mm) plan_.turned_in_mm = most;
    }

    /// "3⁄64 in", "1.2 mm": never less than the length.
    std::string rounded_up(double mm) const {
        LengthStyle fine = plan_.lengths;
        fine.inch_denominator = 64;
        fine.mm_step = 0.1;
        fine.with_unit = true;
        const double step = fine.unit == Unit::inch ? 25.4 / 64 : 0.1;
        return print_length(step * std::ceil(mm / step), fine).text;
    }

    const MarkingOptions& options_;
    MarkingPlan plan_;
    std::vector<Region> neighbours_;
    std::size_t numbers_ = 0, letters_ = 0;
};

}  // namespace

const char* name_of(Cut cut) {
    return cut == Cut::through ? "CUT THROUGH" : "BACKING ONLY";
}

const char* name_of(const PlanCircle& circle) {
    return circle.cut ? name_of(*circle.cut) : "stitch line";
}

MarkFrame mark_frame(const Piece& piece, const MarkingOptions& options) {
    return placed(piece, options).frame;
}

MarkingPlan plan_marking(const Piece& piece, const MarkingOptions& options) {
    LengthStyle lengths = options.lengths;
    lengths.feet = false;  // a running tape is read in inches alone
    lengths.with_unit = false;
    MarkingPlan plan = Planner(piece, options, lengths).take();
    plan_sets(plan, options);
    if (plan.departure_mm <= options.departure.mm) return plan;
    LengthStyle finer = lengths;
    finer.inch_denominator = std::max(lengths.inch_denominator, 32);
    finer.mm_step = std::min(lengths.mm_step, 0.5);
    MarkingPlan fine = Planner(piece, options, finer).take();
    plan_sets(fine, options);
    return fine.departure_mm < plan.departure_mm ? fine : plan;
}

}  // namespace spile::paper
