#include "import/outlines/outlines.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <string>

#include "core/base/text.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile::import {
namespace {

/// Findings say so many places one by one; the rest is counted.
constexpr std::size_t kMostSaid = 20;
constexpr double kRunsOnCos =
    0.86602540378443865;  ///< 30 degrees, cosine: chords that turn by less may be of one curve

class Joiner {
  public:
    Joiner(const Drawing& drawing, const OutlineOptions& options, double scale,
           std::vector<Finding>& findings)
        : drawing_(drawing),
          options_(options),
          scale_(scale),
          findings_(findings),
          lengths_(options.lengths) {
        lengths_.with_unit = true;
        lengths_.inch_denominator = std::max(lengths_.inch_denominator, 64);
        lengths_.mm_step = std::min(lengths_.mm_step, 0.01);
    }

    std::vector<Offered> run() {
        scale_lines();
        drop_twins();
        for (std::size_t i = 0; i < lines_.size(); ++i)
            if (lines_[i].closed) offer(std::move(lines_[i]), 0);
        join_open();
        nest();
        said_rest();
        return std::move(out_);
    }

  private:
    void say(const char* code, Severity severity, std::vector<Quantity> numbers, const std::string& says,
             const std::string& to_do) {
        if (++said_[code] > kMostSaid) return;
        findings_.push_back({code, severity, {"drawing", ""}, std::move(numbers), says, to_do, ""});
    }
    void said_rest() {
        for (const auto& [code, n] : said_)
            if (n > kMostSaid)
                findings_.push_back({code,
                                     Severity::look,
                                     {"drawing", ""},
                                     {},
                                     "The same of " + std::to_string(n - kMostSaid) + " more places.",
                                     "See to those named first.",
                                     ""});
    }
    std::string length(double mm) const { return plain_length(mm, lengths_); }
    std::string place(Vec2 p) const { return length(p.x) + " over, " + length(p.y) + " up"; }
    static std::string on(const std::string& layer) {
        return layer.empty() ? "" : " on layer \"" + layer + "\"";
    }

    void scale_lines() {
        for (const DrawnLine& line : drawing_.lines) {
            DrawnLine own = line;
            own.edges.clear();
            for (Edge e : line.edges) {
                e.a = scale_ * e.a;
                e.b = scale_ * e.b;
                if (distance(e.a, e.b) > 0) own.edges.push_back(e);
            }
            if (own.edges.empty()) continue;
            const double left = distance(own.edges.front().a, own.edges.back().b);
            if (!own.closed && own.edges.size() > 1 && left == 0) own.closed = true;
            lines_.push_back(std::move(own));
        }
    }

    void drop_twins() {
        const auto same = [](const DrawnLine& a, const DrawnLine& b) {
            if (a.edges.size() != b.edges.size()) return false;
            const std::size_t n = a.edges.size();
            bool forward = true, backward = true;
            for (std::size_t i = 0; i < n && (forward || backward); ++i) {
                const Edge &e = a.edges[i], &f = b.edges[i], g = reversed(b.edges[n - 1 - i]);
                forward = forward && e.a == f.a && e.b == f.b && e.bulge == f.bulge;
                backward = backward && e.a == g.a && e.b == g.b && e.bulge == g.bulge;
            }
            return forward || backward;
        };
        std::vector<DrawnLine> kept;
        for (DrawnLine& line : lines_) {
            const bool twin =
                std::any_of(kept.begin(), kept.end(), [&](const DrawnLine& k) { return same(k, line); });
            if (!twin) {
                kept.push_back(std::move(line));
                continue;
            }
            say("line-twice", Severity::note, {},
                "A line" + on(line.layer) + " that begins " + place(line.edges[0].a) +
                    " is drawn twice; one is taken.",
                "Nothing, unless it was meant to be another line.");
        }
        lines_ = std::move(kept);
    }

    /// Joins open lines of one layer end to end, always the nearest next.
    void join_open() {
        std::vector<DrawnLine*> open;
        for (DrawnLine& line : lines_)
            if (!line.closed && !line.edges.empty()) open.push_back(&line);
        for (DrawnLine* first : open) {
            if (first->edges.empty()) continue;
            DrawnLine chain = std::move(*first);
            first->edges.clear();
            double widest = 0;
            for (;;) {
                const Vec2 end = chain.edges.back().b;
                const double home = distance(end, chain.edges.front().a);
                DrawnLine* next = nullptr;
                bool turned = false;
                double nearest = std::numeric_limits<double>::max();
                for (DrawnLine* other : open) {
                    if (other->edges.empty() || other->layer != chain.layer) continue;
                    for (const bool back : {false, true}) {
                        const double d = distance(end, back ? other->edges.back().b : other->edges.front().a);
                        if (d < nearest) nearest = d, next = other, turned = back;
                    }
                }
                if (home <= options_.gap.mm && home <= nearest && chain.edges.size() > 1) {
                    close_gap(chain, home, widest);
                    offer(std::move(chain), widest);
                    break;
                }
                if (!next || nearest > options_.gap.mm) {
                    // Its other end may go on.
                    if (!chain.closed && grows_at_start(open, chain)) continue;
                    say_open(chain, home, nearest);
                    break;
                }
                std::vector<Edge> more = std::move(next->edges);
                next->edges.clear();
                if (turned) turn(more);
                join(chain, more, nearest, widest);
            }
        }
    }

    static void turn(std::vector<Edge>& edges) {
        std::reverse(edges.begin(), edges.end());
        for (Edge& e : edges) e = reversed(e);
    }

    /// Turns the chain round where a line lies at its start, so that it is joined next.
    bool grows_at_start(const std::vector<DrawnLine*>& open, DrawnLine& chain) const {
        const Vec2 start = chain.edges.front().a;
        for (const DrawnLine* other : open) {
            if (other->edges.empty() || other->layer != chain.layer) continue;
            if (distance(start, other->edges.front().a) > options_.gap.mm &&
                distance(start, other->edges.back().b) > options_.gap.mm)
                continue;
            turn(chain.edges);
            return true;
        }
        return false;
    }

    void join(DrawnLine& chain, const std::vector<Edge>& more, double gap, double& widest) {
        if (gap > 0) say_gap(chain.layer, chain.edges.back().b, gap);
        widest = std::max(widest, gap);
        // Both ends meet half-way: neither moves by more than half the gap.
        const Vec2 middle = lerp(chain.edges.back().b, more.front().a, 0.5);
        chain.edges.back().b = middle;
        chain.edges.insert(chain.edges.end(), more.begin(), more.end());
        chain.edges[chain.edges.size() - more.size()].a = middle;
    }

    void close_gap(DrawnLine& chain, double gap, double& widest) {
        if (gap > 0) say_gap(chain.layer, chain.edges.back().b, gap);
        widest = std::max(widest, gap);
        const Vec2 middle = lerp(chain.edges.back().b, chain.edges.front().a, 0.5);
        chain.edges.back().b = chain.edges.front().a = middle;
        chain.closed = true;
    }

    void say_gap(const std::string& layer, Vec2 at, double gap) {
        say("gap-closed", Severity::note, {{"gap", gap, "mm"}, {"limit", options_.gap.mm, "mm"}},
            "A gap of " + length(gap) + on(layer) + " is closed, " + place(at) + ".",
            "Look at the place in the drawing if that is more than its lines are true to.");
    }

    void say_open(const DrawnLine& chain, double home, double nearest) {
        const double gap = std::min(home, nearest);
        say("line-open", Severity::look, {{"gap", gap, "mm"}, {"limit", options_.gap.mm, "mm"}},
            "A line" + on(chain.layer) + " from " + place(chain.edges.front().a) + " to " +
                place(chain.edges.back().b) + " closes no outline: the nearest end lies " + length(gap) +
                " away and gaps are closed up to " + length(options_.gap.mm) + ".",
            "Close it in the drawing, or allow a gap of " + length(gap) + ".");
    }

    /// Chords in a row become arcs; true arcs stay.
    void offer(DrawnLine&& line, double widest) {
        Offered o;
        o.layer = line.layer;
        o.widest_gap_mm = widest;
        o.chords = line.edges.size();
        std::vector<Edge> edges = std::move(line.edges);
        start_at_corner(edges);
        std::vector<Edge> fitted;
        for (std::size_t i = 0; i < edges.size();) {
            if (!edges[i].straight()) {
                fitted.push_back(edges[i++]);
                continue;
            }
            std::vector<Vec2> chain{edges[i].a};
            while (i < edges.size() && edges[i].straight()) chain.push_back(edges[i++].b);
            for (const Edge& e : arcs_through(chain, options_.arcs, o.departure_mm)) fitted.push_back(e);
        }
        for (std::size_t i = 0; i < fitted.size(); ++i)
            o.outline.vertices.push_back({fitted[i].a, fitted[i].bulge, static_cast<int>(i)});
        const std::vector<OutlineFault> faults = faults_of(o.outline);
        if (!faults.empty()) {
            const Vec2 at = faults.front().at;
            const bool flat = faults.front().kind == OutlineFault::Kind::no_area ||
                              faults.front().kind == OutlineFault::Kind::too_few_edges;
            say("outline-crosses", Severity::look, {{"over", at.x, "mm"}, {"up", at.y, "mm"}},
                "An outline" + on(o.layer) + (flat ? " encloses nothing" : " crosses or touches itself") +
                    ", " + place(at) + ": it is left out.",
                "Mend it in the drawing.");
            return;
        }
        if (area_mm2(o.outline) < 0) o.outline = reversed(o.outline);
        for (std::size_t i = 0; i < o.outline.size(); ++i) o.outline.vertices[i].tag = static_cast<int>(i);
        out_.push_back(std::move(o));
    }

    /// So that no curve is cut in two where the drawing happens to begin.
    static void start_at_corner(std::vector<Edge>& edges) {
        const std::size_t n = edges.size();
        for (std::size_t i = 0; i < n; ++i) {
            const Edge &before = edges[(i + n - 1) % n], &e = edges[i];
            const bool kinds = before.straight() != e.straight();
            if (!kinds && dot(direction_at(before, 1), direction_at(e, 0)) >= kRunsOnCos &&
                !(before.straight() && length_of(before) > 20 * length_of(e)))
                continue;
            std::rotate(edges.begin(), edges.begin() + static_cast<std::ptrdiff_t>(i), edges.end());
            return;
        }
    }

    void nest() {
        std::stable_sort(out_.begin(), out_.end(), [](const Offered& a, const Offered& b) {
            return area_mm2(a.outline) > area_mm2(b.outline);
        });
        for (std::size_t i = 0; i < out_.size(); ++i)
            for (std::size_t j = 0; j < i; ++j)  // larger ones only; the smallest that holds it comes last
                if (side_of(out_[j].outline, out_[i].outline.vertices[0].p) == Side::inside)
                    out_[i].inside = static_cast<int>(j);
    }

    const Drawing& drawing_;
    const OutlineOptions& options_;
    double scale_;
    std::vector<Finding>& findings_;
    LengthStyle lengths_;
    std::map<std::string, std::size_t> said_;
    std::vector<DrawnLine> lines_;
    std::vector<Offered> out_;
};

}  // namespace

Result<Offer> offer_outlines(const Drawing& drawing, const OutlineOptions& options) {
    Result<Offer> result;
    const std::optional<double> scale = options.mm_per_unit ? options.mm_per_unit : drawing.mm_per_unit;
    if (!drawing.passed_over.empty())
        result.findings.push_back({"passed-over",
                                   Severity::look,
                                   {"drawing", ""},
                                   {},
                                   "The drawing holds " + list_words(drawing.passed_over) +
                                       ", which are no lines of a panel: passed over.",
                                   "Where an edge is among them, draw it with lines, arcs or curves.",
                                   ""});
    if (!scale) {
        result.findings.push_back({"units-missing",
                                   Severity::stop,
                                   {"drawing", ""},
                                   {},
                                   "The drawing does not say in which unit it is drawn.",
                                   "Say it: in, mm, cm, m or ft (--units).",
                                   ""});
        return result;
    }
    Offer offer;
    offer.mm_per_unit = *scale;
    offer.outlines = Joiner(drawing, options, *scale, result.findings).run();
    if (offer.outlines.empty()) {
        result.findings.push_back({"no-lines",
                                   Severity::stop,
                                   {"drawing", ""},
                                   {},
                                   "The drawing holds no closed outline that could be taken.",
                                   "See to what else is said of it, or draw the panel as one closed line.",
                                   ""});
        return result;
    }
    result.value = std::move(offer);
    return result;
}

}  // namespace spile::import
