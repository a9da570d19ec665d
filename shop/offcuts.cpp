#include "shop/offcuts.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <polyclipping/clipper.hpp>

#include "core/base/text.h"
#include "core/geom/measure_of.h"

namespace spile::shop {
namespace {

// Whole micrometres, as placements are kept.
constexpr double kPerMm = 1000;

ClipperLib::IntPoint int_point(Vec2 p) {
    return {std::llround(p.x * kPerMm), std::llround(p.y * kPerMm)};
}

/// Points along the outline, arcs as chords that stand off by at most `flatten_mm`.
ClipperLib::Path flat_path(const Outline& outline, Vec2 move, double flatten_mm) {
    ClipperLib::Path path;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge edge = outline.edge(i);
        path.push_back(int_point(edge.a + move));
        if (edge.straight()) continue;
        const Arc arc = arc_of(edge);
        // Sagitta s of a chord over the angle t: s = r (1 - cos t/2) ~ r t^2 / 8.
        const double most = std::sqrt(8 * flatten_mm / std::max(arc.radius, flatten_mm));
        const int n = std::clamp(static_cast<int>(std::ceil(std::fabs(arc.sweep_rad) / most)), 1, 2000);
        for (int k = 1; k < n; ++k)
            path.push_back(int_point(point_at(edge, static_cast<double>(k) / n) + move));
    }
    return path;
}

ClipperLib::Paths offset_by(const ClipperLib::Paths& paths, double mm, ClipperLib::JoinType join,
                            double flatten_mm) {
    ClipperLib::ClipperOffset offset(2.0, flatten_mm * kPerMm);
    offset.AddPaths(paths, join, ClipperLib::etClosedPolygon);
    ClipperLib::Paths out;
    offset.Execute(out, mm * kPerMm);
    return out;
}

ClipperLib::Paths combined(ClipperLib::ClipType how, const ClipperLib::Paths& subject,
                           const ClipperLib::Paths& clip) {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(subject, ClipperLib::ptSubject, true);
    clipper.AddPaths(clip, ClipperLib::ptClip, true);
    ClipperLib::Paths out;
    clipper.Execute(how, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return out;
}

Outline outline_of(const ClipperLib::Path& path) {
    Outline outline;
    for (const ClipperLib::IntPoint& p : path)
        outline.vertices.push_back(
            {{static_cast<double>(p.X) / kPerMm, static_cast<double>(p.Y) / kPerMm}, 0, 0});
    return outline;
}

/// An offcut with a hole is no plain outline: from the hole on it is cut open to the far selvedge.
void without_holes(ClipperLib::Paths& parts, double usable_um) {
    ClipperLib::Paths slots;
    for (const ClipperLib::Path& path : parts) {
        if (ClipperLib::Orientation(path)) continue;
        ClipperLib::cInt lo = path[0].X, hi = path[0].X, mid = path[0].Y;
        for (const ClipperLib::IntPoint& p : path) {
            lo = std::min(lo, p.X);
            hi = std::max(hi, p.X);
            mid = std::max(mid, p.Y);
        }
        const auto top = static_cast<ClipperLib::cInt>(usable_um) + 1000;
        slots.push_back({{lo, mid - 1000}, {hi, mid - 1000}, {hi, top}, {lo, top}});
    }
    if (!slots.empty()) parts = combined(ClipperLib::ctDifference, parts, slots);
}

}  // namespace

std::vector<Outline> left_of(const Outline& offcut, const std::vector<LayoutPiece>& pieces,
                             const std::vector<Placement>& placements, double gap_mm,
                             const OffcutRule& rule) {
    ClipperLib::Paths taken;
    for (const Placement& placement : placements)
        for (const LayoutPiece& piece : pieces)
            if (piece.id == placement.piece)
                taken.push_back(
                    flat_path(roll_from_piece(placement)(piece.outline.outer), {0, 0}, rule.flatten_mm));
    const ClipperLib::Paths before = {flat_path(offcut, {0, 0}, rule.flatten_mm)};
    taken = offset_by(taken, gap_mm, ClipperLib::jtRound, rule.flatten_mm);
    ClipperLib::Paths left = combined(ClipperLib::ctDifference, before, taken);
    // Opening: shrunk and grown again, what is narrower than the rule vanishes; never more than what was there.
    const double half = rule.least_mm / 2;
    left = combined(ClipperLib::ctIntersection, left,
                    offset_by(offset_by(left, -half, ClipperLib::jtMiter, rule.flatten_mm), half,
                              ClipperLib::jtMiter, rule.flatten_mm));
    without_holes(left, box_of(offcut).max.y * kPerMm);
    std::vector<Outline> parts;
    for (const ClipperLib::Path& path : left)
        if (ClipperLib::Orientation(path) && ClipperLib::Area(path) >= half * half * kPerMm * kPerMm)
            parts.push_back(outline_of(path));
    std::stable_sort(parts.begin(), parts.end(),
                     [](const Outline& a, const Outline& b) { return area_mm2(a) > area_mm2(b); });
    return parts;
}

std::vector<Outline> offcuts_of(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                const Layout& layout, const OffcutRule& rule) {
    std::vector<LayoutPiece> cut = filler_pieces(goods);
    cut.insert(cut.end(), pieces.begin(), pieces.end());
    std::vector<Placement> where = layout.placements;
    where.insert(where.end(), layout.fillers.begin(), layout.fillers.end());
    return left_of(rectangle({0, 0}, {layout.used_mm, goods.usable_width_mm}), cut, where, goods.gap_mm,
                   rule);
}

std::optional<Vec2> fits_on(const Outline& piece, const Outline& offcut, double gap_mm, double step_mm) {
    const double flatten_mm = OffcutRule{}.flatten_mm;
    const ClipperLib::Paths grown =
        offset_by({flat_path(piece, {0, 0}, flatten_mm)}, gap_mm, ClipperLib::jtMiter, flatten_mm);
    const ClipperLib::Path space = flat_path(offcut, {0, 0}, flatten_mm);
    if (grown.size() != 1) return std::nullopt;
    const auto box = [](const ClipperLib::Path& path) {
        ClipperLib::IntPoint lo = path[0], hi = path[0];
        for (const ClipperLib::IntPoint& p : path) {
            lo = {std::min(lo.X, p.X), std::min(lo.Y, p.Y)};
            hi = {std::max(hi.X, p.X), std::max(hi.Y, p.Y)};
        }
        return std::make_pair(lo, hi);
    };
    const auto [a, b] = box(grown[0]);
    const auto [lo, hi] = box(space);
    const auto step = static_cast<ClipperLib::cInt>(step_mm * kPerMm);
    for (ClipperLib::cInt x = lo.X - a.X; x + b.X <= hi.X; x += step)
        for (ClipperLib::cInt y = lo.Y - a.Y; y + b.Y <= hi.Y; y += step) {
            ClipperLib::Path moved = grown[0];
            bool inside = true;
            for (ClipperLib::IntPoint& p : moved) {
                p = {p.X + x, p.Y + y};
                // Cheap first: every corner inside; then the whole of it.
                if (ClipperLib::PointInPolygon(p, space) == 0) {
                    inside = false;
                    break;
                }
            }
            if (inside && combined(ClipperLib::ctDifference, {moved}, {space}).empty())
                return Vec2{static_cast<double>(x) / kPerMm, static_cast<double>(y) / kPerMm};
        }
    return std::nullopt;
}

std::optional<std::vector<Placement>> nest_on(const std::vector<LayoutPiece>& pieces, const Outline& offcut,
                                              double gap_mm, double edge_gap_mm) {
    const double flatten_mm = OffcutRule{}.flatten_mm;
    // Where pieces may lie: the offcut less its edge gap, then less every placed piece with the gap round it.
    ClipperLib::Paths left =
        offset_by({flat_path(offcut, {0, 0}, flatten_mm)}, -edge_gap_mm, ClipperLib::jtMiter, flatten_mm);
    std::vector<std::size_t> order(pieces.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return area_mm2(pieces[a].outline.outer) > area_mm2(pieces[b].outline.outer);
    });
    std::vector<Placement> placements(pieces.size());
    for (const std::size_t i : order) {
        std::optional<Vec2> at;
        for (const ClipperLib::Path& part : left)
            if (!at && ClipperLib::Orientation(part))
                at = fits_on(pieces[i].outline.outer, outline_of(part), 0);
        if (!at) return std::nullopt;
        placements[i] = {pieces[i].id, std::llround(at->x * kPerMm), std::llround(at->y * kPerMm)};
        const ClipperLib::Paths taken = offset_by({flat_path(pieces[i].outline.outer, *at, flatten_mm)},
                                                  gap_mm, ClipperLib::jtMiter, flatten_mm);
        left = combined(ClipperLib::ctDifference, left, taken);
        without_holes(left, box_of(offcut).max.y * kPerMm);
    }
    return placements;
}

double largest_rectangle_mm2(const Outline& outline, double step_mm) {
    if (outline.empty()) return 0;
    const ClipperLib::Path path = flat_path(outline, {0, 0}, OffcutRule{}.flatten_mm);
    const Box box = box_of(outline);
    const auto columns = static_cast<std::size_t>(std::clamp(box.width() / step_mm, 1.0, 1000.0));
    const auto rows = static_cast<std::size_t>(std::clamp(box.height() / step_mm, 1.0, 1000.0));
    const double wide = box.width() / static_cast<double>(columns),
                 high = box.height() / static_cast<double>(rows);
    // How many cells in a row, up to this one, lie inside by all four corners.
    std::vector<std::size_t> run(columns, 0);
    std::vector<char> below(columns + 1, 0), above(columns + 1, 0);
    const auto corners_inside = [&](std::size_t row, std::vector<char>& inside) {
        for (std::size_t i = 0; i <= columns; ++i)
            inside[i] = ClipperLib::PointInPolygon(int_point({box.min.x + static_cast<double>(i) * wide,
                                                              box.min.y + static_cast<double>(row) * high}),
                                                   path) != 0;
    };
    corners_inside(0, below);
    double most = 0;
    for (std::size_t row = 0; row < rows; ++row) {
        corners_inside(row + 1, above);
        for (std::size_t i = 0; i < columns; ++i)
            run[i] = below[i] && below[i + 1] && above[i] && above[i + 1] ? run[i] + 1 : 0;
        std::swap(below, above);
        for (std::size_t i = 0; i < columns; ++i) {
            std::size_t tall = run[i];
            for (std::size_t k = i; k < columns && run[k] > 0; ++k) {
                tall = std::min(tall, run[k]);
                most = std::max(most, static_cast<double>((k - i + 1) * tall) * wide * high);
            }
        }
    }
    return most;
}

std::string outline_text(const Outline& outline) {
    std::string text = "[";
    for (const Vertex& v : outline.vertices)
        text += (text.size() > 1 ? "," : "") + ("[" + shortest(v.p.x)) + "," + shortest(v.p.y) + "," +
                shortest(v.bulge) + "]";
    return text + "]";
}

std::optional<Outline> read_outline(const std::string& text) {
    const auto json = nlohmann::json::parse(text, nullptr, false);
    if (!json.is_array() || json.size() < 2) return std::nullopt;
    Outline outline;
    for (const auto& v : json) {
        if (!v.is_array() || v.size() != 3) return std::nullopt;
        for (const auto& number : v)
            if (!number.is_number()) return std::nullopt;
        outline.vertices.push_back({{v[0].get<double>(), v[1].get<double>()}, v[2].get<double>(), 0});
    }
    return outline;
}

}  // namespace spile::shop
