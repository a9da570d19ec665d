#include "tests/edging/folding.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "tests/edging/flap_ends.h"
#include "tests/edging/polygons.h"

namespace spile::testing_folds {
namespace {

/// A stretch of fold with its part of the goods.
struct Tab {
    std::size_t side = 0;
    double t0 = 0, t1 = 1;
    bool rigid = false;  // over the chord, else square to the fold everywhere
};

class Oracle {
  public:
    Oracle(const Piece& piece, const FoldWants& wants) : piece_(piece), w_(wants) {
        const Outline& net = piece.net.outer;
        for (std::size_t k = 0; k < net.size(); ++k) sides_.emplace_back(net.edge(k));
        n_ = sides_.size();
        net_ = one(flat(net));
        face_ = one(flat(piece.cut.face.outer));
        backing_ = one(flat(piece.cut.backing.outer));
        for (std::size_t k = 0; k < n_; ++k) turned_.push_back(finish(k) == Finish::turned);
        reach_ = 0;
        for (const EdgeReport& e : piece.edges) reach_ = std::max(reach_, w_.turn_mm + e.plan.left_long_mm);
    }

    /// A turned hole: the goods are all round it.
    Oracle(const Piece& piece, std::size_t hole, const FoldWants& wants) : piece_(piece), w_(wants) {
        const Outline& net = piece.net.holes[hole];
        for (std::size_t k = 0; k < net.size(); ++k) sides_.emplace_back(net.edge(k));
        n_ = sides_.size();
        turned_.assign(n_, true);
        const HoleReport& h = piece.holes[hole];
        reach_ = w_.turn_mm = h.round ? (h.net_diameter_mm - h.face_cut_diameter_mm) / 2 : h.turn_mm;
        // The cuts of a round one stand by themselves.
        if (h.round) piece_.flap_cuts.clear();
        if (h.round)
            for (const Path& slit : piece.slits)
                if (distance(slit.vertices.front().p, h.centre_mm) < h.net_diameter_mm / 2)
                    piece_.flap_cuts.push_back({FlapCut::Kind::slit, slit, h.id});
        double reach = 0;
        const P middle = p_of(piece.holes[hole].centre_mm);
        for (const Side& s : sides_) reach = std::max(reach, len(s.a - middle) + s.length());
        const double r = reach + 200;
        const auto round_it = [&](const Outline& inner) {
            return minus(one({middle + P{-r, -r}, middle + P{r, -r}, middle + P{r, r}, middle + P{-r, r}}),
                         one(flat(reversed(inner))));
        };
        net_ = round_it(net);
        face_ = round_it(piece.cut.face.holes[hole]);
        backing_ = round_it(piece.cut.backing.holes[hole]);
    }

    Folding run() {
        wide_ = grown(net_, kInside);
        find_goods();
        find_exceptions();
        std::vector<Paths> folded(n_);
        for (std::size_t k = 0; k < n_; ++k) {
            if (!turned_[k]) continue;
            ++out_.flaps;
            folded[k] = fold_side(k);
            if (folded[k].empty()) continue;
            const double arc = sides_[k].bulge == 0 ? kInside : std::max(kInside, w_.facet_mm);
            const Paths over =
                thick(minus(minus(folded[k], sides_[k].bulge == 0 ? wide_ : grown(net_, arc)), roots_), kCut);
            if (area(over) > kArea)
                fault("edge " + std::to_string(k) + " sticks out about " + place_in(over) + ", mm2",
                      area(over));
        }
        layers(folded);
        Paths all;
        for (const Paths& f : folded) all.insert(all.end(), f.begin(), f.end());
        all = grown(either(all, {}), kInside);
        const Paths seen = minus(minus(thick(both(net_, backing_), 2 * kInside), either(roots_, bare_)), all);
        for (std::size_t k = 0; k < n_; ++k)
            if (turned_[k]) covered(k, seen);
        facets();
        margins();
        widths();
        return std::move(out_);
    }

  private:
    void fault(const std::string& what, double value) {
        out_.faults.push_back(what + " " + std::to_string(value));
    }

    Finish finish(std::size_t k) const {
        const auto plan = [&](std::size_t i) {
            return piece_.edges[static_cast<std::size_t>(sides_[i].tag)].plan.finish;
        };
        if (sides_[k].tag >= 0) return plan(k);
        std::size_t b = k, a = k;
        while (sides_[b].tag < 0) b = (b + n_ - 1) % n_;
        while (sides_[a].tag < 0) a = (a + 1) % n_;
        return plan(a) == Finish::bound ? Finish::bound : plan(b);
    }

    /// Face less what the flap cuts take away, outside the net line.
    void find_goods() {
        ClipperLib::ClipperOffset knife;
        for (const FlapCut& cut : piece_.flap_cuts) {
            Poly line;
            for (const Vertex& v : cut.path.vertices) line.push_back(p_of(v.p));
            line.front() = line.front() + 0.5 * unit(line.front() - line[1]);
            const bool notch = cut.path.vertices.size() > 2;
            if (notch) line.back() = line.back() + 0.5 * unit(line.back() - line[line.size() - 2]);
            knife.AddPath(ints(line), ClipperLib::jtMiter, ClipperLib::etOpenButt);
        }
        Paths slots;
        knife.Execute(slots, kCut * kScale);
        Paths parts = minus(face_, slots);
        double largest = 0;
        for (const auto& part : parts) largest = std::max(largest, ClipperLib::Area(part));
        parts.erase(std::remove_if(parts.begin(), parts.end(),
                                   [&](const auto& part) {
                                       const double its = ClipperLib::Area(part);
                                       return its > 0 && its < largest;
                                   }),
                    parts.end());
        goods_ = minus(parts, net_);
    }

    Corner corner(std::size_t k) const {  // in front of side k
        const Side &before = sides_[(k + n_ - 1) % n_], &after = sides_[k];
        Corner c{after.a, -1.0 * before.along(1), after.along(0), 0, 0};
        c.cosine = dot(c.back, c.ahead);
        c.turn = cross(before.along(1), c.ahead);
        return c;
    }

    bool sharp(const Corner& c) const { return std::fabs(c.turn) > 0.01 || c.cosine > 0; }

    /// What the end of a flap leaves bare beside an edge that is not turned.
    void end_of_flap(std::size_t k, const Corner& c) {
        const std::size_t before = (k + n_ - 1) % n_;
        const FlapEndAt end{c, turned_[k] ? sides_[k] : sides_[before],
                            turned_[k] ? sides_[before] : sides_[k], turned_[k]};
        const bool bound = finish(turned_[k] ? before : k) == Finish::bound;
        for (const Poly& bare : sharp(c) ? bare_at_corner(end, bound, w_) : bare_run_on(end, bound, w_))
            bare_ = either(bare_, one(bare));
    }

    /// An inside curve so tight that its goods stretch more than goods do ("fold-stretches" names it): as an inside corner.
    bool pinched(const Side& s) const {
        constexpr double most_stretch = 0.6;
        return s.bulge < 0 && s.radius <= w_.margin_mm * (1 + 2 / most_stretch);
    }

    void find_exceptions() {
        for (std::size_t k = 0; k < n_; ++k) {
            if (const Side& s = sides_[k]; turned_[k] && pinched(s)) {
                const double cot =
                    std::min(3.0, std::tan(std::fabs(s.sweep) / 2));  // of half the outer angle
                const double chord = len(s.b - s.a);
                bare_ = either(
                    bare_,
                    disc(s.at(0.5), chord / 2 + std::hypot(w_.least_mm, (w_.least_mm + w_.thick_mm) * cot)));
            }
            const Corner c = corner(k);
            const std::size_t before = (k + n_ - 1) % n_;
            if (turned_[k] != turned_[before]) end_of_flap(k, c);
            if (!sharp(c) || !turned_[k] || !turned_[before]) continue;
            const double sine = c.cosine > 0 ? std::sqrt(1 - c.cosine * c.cosine) : 1;
            // A mitre ends at half the angle.
            const double e = w_.mitred ? std::sqrt((1 - c.cosine) / 2) : sine;
            if (c.turn > 0) {
                roots_ = either(roots_, disc(c.at, 1.02 * w_.margin_mm / e + w_.trim_mm + 0.1));
            } else {
                const double half =
                    std::sqrt((1 + c.cosine) / (1 - c.cosine));  // cot of half the outer angle
                bare_ = either(bare_,
                               disc(c.at, std::hypot(w_.least_mm, (w_.least_mm + w_.thick_mm) * half) + 0.5));
            }
        }
    }

    /// Shares of side k at which relief cuts point to it.
    std::vector<double> cuts_on(std::size_t k) const {
        std::vector<double> at;
        const Side& s = sides_[k];
        if (s.bulge == 0) return at;
        for (const FlapCut& cut : piece_.flap_cuts) {
            if (cut.kind != FlapCut::Kind::notch && cut.kind != FlapCut::Kind::slit) continue;
            const auto& v = cut.path.vertices;
            const P root = v.size() > 2 ? 0.5 * (p_of(v[1].p) + p_of(v[2].p)) : p_of(v[1].p);
            const double t = s.share(root);
            if (t < -1e-9 || t > 1 + 1e-9) continue;
            if (len(s.at(t) - root) > 1.2 * w_.margin_mm) continue;
            at.push_back(t);
        }
        std::sort(at.begin(), at.end());
        return at;
    }

    std::vector<Tab> tabs_of(std::size_t k) const {
        const std::vector<double> cuts = cuts_on(k);
        std::vector<Tab> tabs;
        double t = 0;
        for (const double c : cuts) {
            tabs.push_back({k, t, c, true});
            t = c;
        }
        tabs.push_back({k, t, 1, !cuts.empty()});
        return tabs;
    }

    /// Outside of a stretch of fold, out to `deep`; at its corners shared by halves with the neighbour.
    Paths zone(const Tab& tab) const {
        const Side& s = sides_[tab.side];
        double deep = reach_ + 2;
        if (s.bulge < 0) deep = std::min(deep, 0.999 * s.radius);
        Paths out = one(strip(tab, deep));
        const double far = 8 * reach_;
        for (const bool end : {false, true}) {
            const std::size_t k = end ? (tab.side + 1) % n_ : tab.side;
            const Corner c = corner(k);
            if (!sharp(c) || (c.turn > 0 && (end ? tab.t1 < 1 : tab.t0 > 0))) continue;
            const std::size_t other = end ? k : (k + n_ - 1) % n_;
            const P along = end ? c.back : c.ahead, beside = end ? c.ahead : c.back;
            const P normal = end ? right(-1.0 * c.back) : right(c.ahead);
            P half = c.cosine > 0.999 ? along : unit(along + beside);
            if (c.turn > 0) half = -1.0 * half;
            const P other_out = end ? right(c.ahead) : right(-1.0 * c.back);
            const P ray = turned_[other] ? half : c.turn > 0 ? other_out : beside;
            if (c.turn > 0) {
                // As far out as a mitre reaches before it is cut off.
                const double tip = 4.2 * reach_;
                out = either(out, one({c.at, c.at + tip * normal, c.at + tip * ray}));
            } else {
                // All on the far side of the ray, seen from this edge; not far behind the corner, where a curve may come round.
                const P side = dot(P{-ray.y, ray.x}, along) > 0 ? right(ray) : -1.0 * right(ray);
                out = minus(out, one({c.at - reach_ * ray, c.at + far * ray, c.at + far * ray + far * side,
                                      c.at - reach_ * ray + far * side}));
            }
        }
        return out;
    }

    P folded_at(const Tab& tab, P p) const {
        const Side& s = sides_[tab.side];
        P foot{}, out{};
        if (tab.rigid) {
            const P a = s.at(tab.t0), b = s.at(tab.t1), d = unit(b - a);
            foot = a + dot(p - a, d) * d;
            out = right(d);
        } else if (s.bulge == 0) {
            foot = s.at(s.share(p));
            out = s.out(0);
        } else {
            const double t = s.share(p);
            const double c = std::clamp(t, 0.0, 1.0);
            out = s.out(c);
            foot = t == c ? s.at(c) : p - dot(p - s.at(c), out) * out;
        }
        return foot - std::max(0.0, dot(p - foot, out) - w_.thick_mm) * out;
    }

    /// Between the arc of a tab and its chord.
    Poly facet_of(const Tab& tab) const {
        const Side& s = sides_[tab.side];
        Poly poly;
        for (int i = 0; i <= s.steps(); ++i) poly.push_back(s.at(tab.t0 + (tab.t1 - tab.t0) * i / s.steps()));
        return poly;
    }

    /// A strip along a stretch of fold, `deep` outside it, inside it below nothing.
    Poly strip(const Tab& tab, double deep) const {
        const Side& s = sides_[tab.side];
        Poly poly;
        const int steps = s.bulge == 0 ? 1 : s.steps() + 1;
        for (int i = 0; i <= steps; ++i) poly.push_back(s.at(tab.t0 + (tab.t1 - tab.t0) * i / steps));
        for (int i = steps; i >= 0; --i) {
            const double t = tab.t0 + (tab.t1 - tab.t0) * i / steps;
            poly.push_back(s.at(t) + deep * s.out(t));
        }
        return poly;
    }

    /// Of what lies along a stretch of fold the parts that begin at it, `deep` as in strip(): what is across a narrow slit
    /// belongs to the edge on the other side.
    Paths at_fold(const Tab& tab, double deep, const Paths& goods) const {
        const Paths fold = one(strip(tab, deep));
        Paths out;
        for (const auto& path : goods)
            if (ClipperLib::Area(path) < 0 || area(both({path}, fold)) > kArea / 100) out.push_back(path);
        return out;
    }

    Paths fold_side(std::size_t k) {
        Paths all;
        for (const Tab& tab : tabs_of(k)) {
            ++out_.tabs;
            Paths here = at_fold(tab, 0.5, both(goods_, zone(tab))), turned;
            // Over a chord, the goods between it and an outside curve are folded as well.
            if (tab.rigid && sides_[k].bulge > 0) here = either(here, one(facet_of(tab)));
            for (const auto& path : here) {
                Poly poly;
                for (std::size_t i = 0; i < path.size(); ++i) {
                    const auto &a = path[i], &b = path[(i + 1) % path.size()];
                    const P p{static_cast<double>(a.X) / kScale, static_cast<double>(a.Y) / kScale};
                    const P q{static_cast<double>(b.X) / kScale, static_cast<double>(b.Y) / kScale};
                    const int parts =
                        sides_[k].bulge == 0 ? 1 : std::max(1, static_cast<int>(len(q - p) / 2));
                    for (int j = 0; j < parts; ++j)
                        poly.push_back(folded_at(tab, p + (static_cast<double>(j) / parts) * (q - p)));
                }
                ClipperLib::Path out = ints(poly);
                ClipperLib::ReversePath(out);
                turned.push_back(std::move(out));
            }
            all = either(all, turned);
        }
        return all;
    }

    void layers(const std::vector<Paths>& folded) {
        Paths first, second, third;
        for (const Paths& f : folded) {
            if (f.empty()) continue;
            third = either(third, both(second, f));
            second = either(second, both(first, f));
            first = either(first, f);
        }
        // Inside a rounded corner no larger than the turn the flaps beside it meet over its own narrow one.
        for (const Side& s : sides_)
            if (s.bulge > 0 && s.radius <= w_.turn_mm) third = minus(third, disc(s.centre, s.radius));
        const double much = area(thick(minus(third, roots_), kInside));
        if (much > kArea) fault("three flaps on one another, mm2", much);
    }

    /// The band behind a turned edge.
    void covered(std::size_t k, const Paths& seen) {
        const Side& s = sides_[k];
        const double depth = std::min(w_.least_mm, width_of(k) - w_.thick_mm) - 2 * kInside;
        if (depth <= 0) return;
        const Tab whole{k, 0, 1, false};
        Paths band = at_fold(whole, -0.5, both(net_, one(strip(whole, -depth))));
        const std::vector<double> cuts = cuts_on(k);
        // What lies between an outside curve and the chord of a tab is not folded at all: the facet.
        for (std::size_t i = 0; s.bulge > 0 && !cuts.empty() && i <= cuts.size(); ++i) {
            const double t0 = i == 0 ? 0 : cuts[i - 1], t1 = i == cuts.size() ? 1 : cuts[i];
            band = minus(band, grown(one(facet_of({k, t0, t1, true})), 2 * kInside));
        }
        Paths left = thick(both(band, seen), kInside);
        // Slits of an inside curve open by 2 s per radian at depth s; notches close but for the square of a tab's turn, and
        // at its two ends, where the chord of half a tab turns a quarter of it against the edge beside it.
        double allowed = kArea;
        // Beside an arc a flap ends by the chord to 2 h along it: between the two lies (2 h)^3 / 12 R.
        for (const std::size_t beside : {(k + n_ - 1) % n_, (k + 1) % n_})
            if (sides_[beside].bulge > 0 && turned_[beside])
                allowed += std::pow(2 * w_.turn_mm, 3) / 12 / sides_[beside].radius;
        if (!cuts.empty()) {
            const double tab = std::fabs(s.sweep) / static_cast<double>(cuts.size());
            allowed += (s.bulge < 0 ? std::fabs(s.sweep) + tab : tab * std::fabs(s.sweep) / 2 + tab / 2) *
                       depth * (depth + w_.thick_mm);
        }
        const double bare = area(left);
        out_.bare_mm2 += bare;
        if (bare > allowed)
            fault("bare behind edge " + std::to_string(k) + " about " + place_in(left) + ", mm2", bare);
    }

    /// The flap of edge k as the piece's face has it at the middle of the edge.
    double width_of(std::size_t k) const {
        const Side& s = sides_[k];
        if (s.bulge > 0 && s.radius <= w_.turn_mm)
            return std::max(s.radius / 2, std::min(w_.least_mm, s.radius));
        return w_.turn_mm;
    }

    void facets() {
        for (std::size_t k = 0; k < n_; ++k) {
            if (!turned_[k] || sides_[k].bulge == 0 || width_of(k) <= w_.margin_mm) continue;
            // Cuts that stop beyond the middle of the curve cannot share it out.
            if (sides_[k].bulge < 0 && sides_[k].radius <= w_.margin_mm) continue;
            const Side& s = sides_[k];
            const std::vector<double> cuts = cuts_on(k);
            if (cuts.empty() && 2 * w_.turn_mm * std::fabs(s.sweep) <= w_.facet_mm) continue;
            double t = 0;
            std::vector<double> ends = cuts;
            ends.push_back(1);
            for (const double e : ends) {
                const double half = (e - t) * std::fabs(s.sweep) / 2;
                const double stands = s.radius * (1 - std::cos(half));
                if (stands > 1.001 * w_.facet_mm)
                    fault("facet on edge " + std::to_string(k) + ", mm", stands);
                t = e;
            }
        }
    }

    void margins() {
        for (const FlapCut& cut : piece_.flap_cuts) {
            double nearest = 1e9;
            bool inside = false;
            for (const Vertex& v : cut.path.vertices) {
                double near = 1e9;
                for (const Side& s : sides_) {
                    const double t = std::clamp(s.share(p_of(v.p)), 0.0, 1.0);
                    near = std::min(near, len(s.at(t) - p_of(v.p)));
                }
                if (near < 0.9 * w_.margin_mm) fault("cut " + cut.at + " too near the net line, mm", near);
                nearest = std::min(nearest, near);
                inside = inside || holds(net_, p_of(v.p));
            }
            // Those of other rims lie in the goods of this one.
            if (inside && nearest < 1.5 * w_.margin_mm)
                fault("cut " + cut.at + " inside the net line, mm", nearest);
        }
    }

    /// Long edges have their whole flap, and no more: arcs half-way between two cuts, far from their ends.
    void widths() {
        for (std::size_t k = 0; k < n_; ++k) {
            const Side& s = sides_[k];
            if (!turned_[k] || s.length() < 6 * w_.turn_mm) continue;
            if (s.bulge != 0 && s.radius < 2 * w_.turn_mm) continue;
            std::vector<double> places{0.35, 0.5, 0.65};
            if (const std::vector<double> cuts = cuts_on(k); !cuts.empty()) {
                places.clear();
                for (std::size_t i = 0; i + 1 < cuts.size(); ++i)
                    if (const double t = (cuts[i] + cuts[i + 1]) / 2; t > 0.3 && t < 0.7) places.push_back(t);
            }
            for (const double t : places)
                if (!holds(goods_, s.at(t) + (w_.turn_mm - 0.05) * s.out(t)) ||
                    holds(goods_, s.at(t) + (w_.turn_mm + 0.05) * s.out(t)))
                    fault("flap not as wide as the turn on edge " + std::to_string(k) + " at", t);
        }
    }

    Piece piece_;
    FoldWants w_;
    std::vector<Side> sides_;
    std::vector<bool> turned_;
    std::size_t n_ = 0;
    double reach_ = 0;
    Paths net_, face_, backing_, wide_, goods_, roots_, bare_;
    Folding out_;
};

}  // namespace

Folding fold(const Piece& piece, const FoldWants& wants) {
    return Oracle(piece, wants).run();
}

Folding fold_hole(const Piece& piece, std::size_t hole, const FoldWants& wants) {
    return Oracle(piece, hole, wants).run();
}

int how_many(int usual) {
    const char* more = std::getenv("SPILE_FOLDS");
    return more ? std::atoi(more) : usual;
}

}  // namespace spile::testing_folds
