// Pieces that are put on panels: each is edged as a small panel of its own.
#include <algorithm>
#include <cmath>

#include "core/base/reporter.h"
#include "core/edging/piece.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"

namespace spile {
namespace {

constexpr BackFromFace kOver{0};

/// a, b, ..., z, aa, ab, ...
std::string letter_of(std::size_t i) {
    std::string out(1, static_cast<char>('a' + i % 26));
    return i < 26 ? out : letter_of(i / 26 - 1) + out;
}

/// Along its longest side, unit.
Vec2 long_way(const Outline& outline) {
    Vec2 best{1, 0};
    double longest = 0;
    for (std::size_t k = 0; k < outline.size(); ++k) {
        const Vec2 along = outline.edge(k).b - outline.edge(k).a;
        if (norm(along) <= longest) continue;
        longest = norm(along);
        best = along / longest;
    }
    return best;
}

/// "heel pad helm"; a piece that is called as what it is has no more of a name: "heel pad 2".
std::string piece_name(const AppliedPlan& plan) {
    const std::string kind = word_for(plan.kind);
    const bool said = plan.id == kind || plan.id.rfind(kind + " ", 0) == 0;
    return said ? plan.id : kind + " " + plan.id;
}

/// The piece as a panel: a plain mat whose net line is what it shall be when finished.
Panel as_panel(const Panel& on, const AppliedPlan& plan, const std::string& id) {
    Panel panel;
    panel.id = id;
    panel.name = piece_name(plan);
    panel.where = on.where;
    panel.mat = true;
    Outline square = plan.square, set = plan.set;
    int sides = 0;
    for (const Vertex& v : square.vertices) sides = std::max(sides, v.tag + 1);
    if (plan.on_back) {
        square = kOver(square);
        set = kOver(set);
        // The outline now runs the other way round, its sides with it.
        for (Outline* o : {&square, &set})
            for (Vertex& v : o->vertices)
                if (v.tag >= 0) v.tag = sides - 1 - v.tag;
    }
    if (!plan.goods.empty() && plan.any_way) {
        Vec2 ahead = long_way(square);
        const auto turned = [](Vec2 d) { return Rigid{d.x, -d.y, {}}; };
        // The other way where it is too wide so and not otherwise.
        const Box box = box_of(turned(ahead)(set));
        if (box.height() > plan.goods_width_mm && box.width() <= plan.goods_width_mm) ahead = left_of(ahead);
        square = turned(ahead)(square);
        set = turned(ahead)(set);
    }
    for (int i = 0; i < sides; ++i) {
        const std::string from = std::to_string(i + 1), to = std::to_string((i + 1) % sides + 1);
        panel.corners.push_back({from, 0});
        panel.edges.push_back({from, to, Measured::finished, Situation::free, plan.finish, 0, 0});
    }
    panel.boat_line.outline = square;
    panel.net_line.region.outer = std::move(set);
    panel.net_line.unrounded = std::move(square);
    return panel;
}

class Maker {
  public:
    Maker(const Panel& panel, const Piece& on, const FinishSettings& finish, const RunContext& run,
          const LengthStyle& lengths, std::vector<Finding>& findings)
        : panel_(panel),
          on_(on),
          finish_(finish),
          run_(run),
          lengths_(lengths),
          findings_(findings),
          report_(panel.id, panel.where, lengths, findings) {}

    std::optional<AppliedPiece> make(const AppliedPlan& plan, std::size_t index) {
        AppliedPiece out;
        out.panel = panel_.id;
        out.plan = plan;
        out.set = on_.piece_from_boat(plan.set);
        out.square = on_.piece_from_boat(plan.square);
        FinishSettings finish = finish_;
        finish.turn_mm = plan.turn_mm;
        if (!plan.goods.empty()) {
            finish.face_thickness_mm = finish.backing_thickness_mm = 0;
            finish.backing_peels = true;
        }
        Result<std::vector<Piece>> made =
            edge_pieces({as_panel(panel_, plan, panel_.id + "/" + plan.id)}, finish, run_, lengths_);
        for (Finding& f : made.findings) f.subject = {"applied", panel_.id + "/" + plan.id};
        append(findings_, std::move(made.findings));
        if (!made.value || made.value->empty()) return std::nullopt;
        out.piece = std::move(made.value->front());
        out.piece.number = on_.number;
        out.piece.letter = letter_of(index);
        square_corners(plan, finish);
        if (!plan.stuck) sew_on(out);
        fits_goods(out);
        return out;
    }

  private:
    void add(const AppliedPlan& plan, const char* code, Severity severity, std::vector<Quantity> numbers,
             std::string says, std::string to_do) {
        report_.add(code, severity, "applied", plan.id, std::move(numbers),
                    "The " + std::string(word_for(plan.kind)) + " \"" + plan.id + "\" of panel " + panel_.id +
                        " " + std::move(says),
                    std::move(to_do));
    }

    /// A binder cannot go round what is tighter than its least radius.
    void square_corners(const AppliedPlan& plan, const FinishSettings& finish) {
        if (plan.finish != Finish::bound) return;
        const double least = finish.least_bound_radius_mm;
        double tightest = least;
        for (std::size_t k = 0; k < plan.set.size(); ++k) {
            const Edge before = plan.set.edge((k + plan.set.size() - 1) % plan.set.size()),
                       e = plan.set.edge(k);
            if (!e.straight() && e.bulge > 0) tightest = std::min(tightest, radius_of(e));
            if (e.tag >= 0 && before.tag >= 0 && e.tag != before.tag) tightest = 0;
        }
        if (tightest >= least - noise_mm(least)) return;
        add(plan, "applied-corner-too-tight", Severity::look,
            {{"radius", tightest, "mm"}, {"limit", least, "mm"}},
            "is bound, and its tightest corner has a radius of " + report_.said(tightest) +
                "; a binder passes " + report_.said(least) + ".",
            "Round its corners to " + report_.said_at_least(least) + ", bind it by hand, or sew it on raw.");
    }

    void sew_on(AppliedPiece& out) {
        const double in = finish_.stitch_from_edge_mm;
        const std::vector<Outline> lines = offset(out.set, -in);
        if (lines.size() != 1) {
            add(out.plan, "applied-no-room-to-stitch", Severity::stop,
                {{"stitch from edge", in, "mm"}, {"least width", 2 * in, "mm"}},
                "is too narrow to be sewn on " + report_.said(in) + " inside its edge all round.",
                "Make it wider than " + report_.said_at_least(2 * in) + ", or stick it.");
            return;
        }
        Seam seam;
        seam.name = "sewn on, " + called(out.piece);
        seam.closed = true;
        for (const Vertex& v : lines.front().vertices) seam.path.vertices.push_back(v);
        seam.path.vertices.push_back({lines.front().vertices.front().p, 0, 0});
        seam.length_mm = length_mm(seam.path);
        out.sewn_on = std::move(seam);
        // The seam that sews it on holds its turned edges as well.
        if (out.plan.finish == Finish::turned) out.piece.seams.clear();
    }

    void fits_goods(const AppliedPiece& out) {
        if (out.own_goods()) return;
        const double across = box_of(out.piece.cut.face.outer).height(), width = out.plan.goods_width_mm;
        if (across <= width + noise_mm(width)) return;
        add(out.plan, "applied-wider-than-goods", Severity::stop,
            {{"across", across, "mm"}, {"limit", width, "mm"}},
            "is " + report_.said(across) + " across as it is cut; " + out.plan.goods + " is " +
                report_.said(width) + " wide.",
            "Make it " + report_.said_at_most(width) +
                " or less that way, take wider goods, or make it of two.");
    }

    const Panel& panel_;
    const Piece& on_;
    const FinishSettings& finish_;
    const RunContext& run_;
    const LengthStyle& lengths_;
    std::vector<Finding>& findings_;
    Reporter report_;
};

}  // namespace

Result<std::vector<AppliedPiece>> edge_applied(const std::vector<Panel>& panels,
                                               const std::vector<Piece>& pieces, const FinishSettings& finish,
                                               const RunContext& run, const LengthStyle& lengths) {
    Result<std::vector<AppliedPiece>> result;
    std::vector<AppliedPiece> out;
    for (const Panel& panel : panels) {
        if (run.cancelled()) break;
        const auto on =
            std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) { return p.id == panel.id; });
        if (on == pieces.end()) continue;
        Maker maker(panel, *on, finish, run, lengths, result.findings);
        for (std::size_t i = 0; i < panel.applied.size(); ++i)
            if (auto piece = maker.make(panel.applied[i], i)) out.push_back(std::move(*piece));
    }
    result.value = std::move(out);
    return result;
}

}  // namespace spile
