#include "core/measure/equations.h"

#include <cmath>

namespace spile::survey {

Equations::Equations(const Network& network, const Datum& datum, const std::vector<bool>& takes_part,
                     const std::vector<double>& weight)
    : net_(network), datum_(datum), part_(takes_part) {
    const std::size_t n = network.names.size();
    if (part_.empty()) part_.assign(n, true);
    column_x_.assign(n, -1);
    column_y_.assign(n, -1);
    int next = 0;
    for (std::size_t p = 0; p < n; ++p) {
        const int i = static_cast<int>(p);
        if (!part_[p] || i == datum.origin) continue;
        column_x_[p] = next++;
        if (i != datum.axis) column_y_[p] = next++;
    }
    if (network.has_frame && !datum.by_frame()) {
        pose_column_ = next;
        next += 3;
    }
    count_ = static_cast<std::size_t>(next);
    for (std::size_t i = 0; i < network.observations.size(); ++i) {
        const Observation& o = network.observations[i];
        const double w = weight.empty() ? 1 : weight[i];
        bool whole = w > 0;
        for (int k = 0; k < o.point_count(); ++k) whole = whole && part_[o.point(k)];
        if (!whole) continue;
        used_.push_back(static_cast<int>(i));
        root_weight_.push_back(std::sqrt(w));
    }
}

std::vector<double> Equations::parameters_of(const Places& places) const {
    std::vector<double> x(count_);
    for (std::size_t p = 0; p < column_x_.size(); ++p) {
        if (column_x_[p] >= 0) x[column_x_[p]] = places.at[p].x;
        if (column_y_[p] >= 0) x[column_y_[p]] = places.at[p].y;
    }
    if (pose_column_ >= 0) {
        x[pose_column_] = places.pose.corner.x;
        x[pose_column_ + 1] = places.pose.corner.y;
        x[pose_column_ + 2] = places.pose.turn_rad;
    }
    return x;
}

Places Equations::places_of(const std::vector<double>& x) const {
    Places places;
    places.at.resize(column_x_.size());
    for (std::size_t p = 0; p < column_x_.size(); ++p) {
        if (column_x_[p] >= 0) places.at[p].x = x[column_x_[p]];
        if (column_y_[p] >= 0) places.at[p].y = x[column_y_[p]];
    }
    if (pose_column_ >= 0) {
        places.pose.corner = {x[pose_column_], x[pose_column_ + 1]};
        places.pose.turn_rad = x[pose_column_ + 2];
    }
    return places;
}

void Equations::add_point(SparseRows& rows, int point, Vec2 slope) const {
    if (column_x_[point] >= 0) rows.add(column_x_[point], slope.x);
    if (column_y_[point] >= 0) rows.add(column_y_[point], slope.y);
}

void Equations::add_row(const Observation& o, const Places& places, SparseRows& rows) const {
    const std::vector<Vec2>& at = places.at;
    const double w = 1 / o.sd_mm;
    switch (o.kind) {
        case Kind::distance: {
            const Vec2 d = at[o.p] - at[o.a];
            const double length = norm(d);
            const Vec2 u = length > 0 ? d / length : Vec2{1, 0};
            add_point(rows, o.p, w * u);
            add_point(rows, o.a, -w * u);
            break;
        }
        case Kind::along:
        case Kind::across: {
            const Vec2 base = at[o.b] - at[o.a];
            const double length = norm(base);
            const Vec2 u = length > 0 ? base / length : Vec2{1, 0};
            const Vec2 n = left_of(u);
            const double along = dot(u, at[o.p] - at[o.a]);
            const double across = dot(n, at[o.p] - at[o.a]);
            // Turning the base by t about a moves the point's (along, across) by (across, -along) t.
            const Vec2 of_p = o.kind == Kind::along ? u : n;
            const double lever = o.kind == Kind::along ? across : -along;
            const Vec2 of_b = length > 0 ? lever / length * n : Vec2{};
            add_point(rows, o.p, w * of_p);
            add_point(rows, o.a, -w * (of_p + of_b));
            add_point(rows, o.b, w * of_b);
            break;
        }
        case Kind::over:
        case Kind::up: {
            const double c = std::cos(places.pose.turn_rad), s = std::sin(places.pose.turn_rad);
            const Vec2 axis = o.kind == Kind::over ? Vec2{c, s} : Vec2{-s, c};
            add_point(rows, o.p, w * axis);
            if (pose_column_ >= 0) {
                const Vec2 d = at[o.p] - places.pose.corner;
                rows.add(pose_column_, -w * axis.x);
                rows.add(pose_column_ + 1, -w * axis.y);
                rows.add(pose_column_ + 2,
                         w * (o.kind == Kind::over ? c * d.y - s * d.x : -c * d.x - s * d.y));
            }
            break;
        }
        case Kind::square: {
            const Vec2 one = at[o.a] - at[o.p], other = at[o.b] - at[o.p];
            const double l = norm(one), m = norm(other);
            const Vec2 u = l > 0 ? one / l : Vec2{1, 0}, v = m > 0 ? other / m : Vec2{0, 1};
            const double cosine = dot(u, v);
            const Vec2 of_a = l > 0 ? 1000 / l * (v - cosine * u) : Vec2{};
            const Vec2 of_b = m > 0 ? 1000 / m * (u - cosine * v) : Vec2{};
            add_point(rows, o.p, -w * (of_a + of_b));
            add_point(rows, o.a, w * of_a);
            add_point(rows, o.b, w * of_b);
            break;
        }
        case Kind::equal: {
            const Vec2 one = at[o.p] - at[o.a], other = at[o.p] - at[o.b];
            const Vec2 u = norm(one) > 0 ? unit(one) : Vec2{1, 0};
            const Vec2 v = norm(other) > 0 ? unit(other) : Vec2{0, 1};
            add_point(rows, o.p, w * (u - v));
            add_point(rows, o.a, -w * u);
            add_point(rows, o.b, w * v);
            break;
        }
    }
    rows.end_row();
}

void Equations::evaluate(const std::vector<double>& x, std::vector<double>& residuals,
                         SparseRows* rows) const {
    const Places places = places_of(x);
    residuals.resize(used_.size());
    if (rows) rows->clear();
    for (std::size_t r = 0; r < used_.size(); ++r) {
        const Observation& o = net_.observations[used_[r]];
        residuals[r] = root_weight_[r] * misfit_mm(o, places.at, places.pose) / o.sd_mm;
        if (!rows) continue;
        add_row(o, places, *rows);
        if (root_weight_[r] == 1) continue;
        for (std::size_t k = rows->start[r]; k < rows->start[r + 1]; ++k) rows->value[k] *= root_weight_[r];
    }
}

void bring_to(const Datum& datum, Places& places) {
    Vec2 origin = places.pose.corner;
    Vec2 u{std::cos(places.pose.turn_rad), std::sin(places.pose.turn_rad)};
    double turn = places.pose.turn_rad;
    if (!datum.by_frame()) {
        origin = places.at[datum.origin];
        const Vec2 d = places.at[datum.axis] - origin;
        u = norm(d) > 0 ? unit(d) : Vec2{1, 0};
        turn = std::atan2(u.y, u.x);
    }
    const auto moved = [&](Vec2 p) { return Vec2{dot(u, p - origin), cross(u, p - origin)}; };
    for (Vec2& p : places.at) p = moved(p);
    places.pose.corner = moved(places.pose.corner);
    places.pose.turn_rad -= turn;
}

void mirror(Places& places) {
    for (Vec2& p : places.at) p.y = -p.y;
    places.pose.corner.y = -places.pose.corner.y;
    places.pose.turn_rad = -places.pose.turn_rad;
}

Adjusted adjust(const Equations& equations, Places start, double to_mm) {
    bring_to(equations.datum(), start);
    LeastSquaresOptions options;
    options.first_damping = 0;
    options.scale = 1000;  // mm, about a side: below it a step is measured by this
    options.least_step = to_mm / options.scale;
    const std::vector<double> x0 = equations.parameters_of(start);
    LeastSquaresResult result = minimise(equations, x0, options);
    if (!result.found()) {
        options.first_damping = 1e-3;
        options.most_iterations = 300;
        result = minimise(equations, x0, options);
    }
    Adjusted adjusted{equations.places_of(result.x), result.sum, result.found()};
    if (equations.datum().by_frame()) adjusted.places.pose = {};
    return adjusted;
}

}  // namespace spile::survey
