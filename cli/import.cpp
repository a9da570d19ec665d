// spile import: the outlines of a drawing made elsewhere, as a list or as a job of panels.
#include <algorithm>
#include <cmath>

#include "cli/commands.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/stop.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/job/document.h"
#include "import/csv/csv.h"
#include "import/dxf/dxf.h"
#include "import/outlines/outlines.h"
#include "import/svg/svg.h"

namespace spile::cli {
namespace {

using import::Offer;
using import::Offered;

constexpr std::size_t kMostCorners = 500;  ///< of a panel, as in a job

Finding fault(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"drawing", ""});
}

/// The end of the name, lower case.
std::string kind_of(const std::string& path) {
    const std::size_t dot = path.rfind('.');
    std::string end = dot == path.npos ? "" : path.substr(dot + 1);
    for (char& c : end)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return end;
}

Result<import::Drawing> read_drawing(const std::string& path, const std::string& bytes) {
    const std::string kind = kind_of(path);
    if (kind == "dxf") return import::read_dxf(bytes);
    if (kind == "svg") return import::read_svg(bytes);
    if (kind == "csv" || kind == "txt") return import::read_csv(bytes);
    return Result<import::Drawing>::refuse(fault("drawing-unknown",
                                                 harmless(path) + " ends neither in .dxf, .svg nor .csv.",
                                                 "Save the drawing as one of them."));
}

std::optional<import::OutlineOptions> read_options(const ImportOptions& asked,
                                                   std::vector<Finding>& findings) {
    import::OutlineOptions options;
    const std::pair<const char*, double> units[] = {
        {"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", 25.4}, {"ft", 304.8}};
    for (const auto& [name, mm] : units)
        if (asked.units == name) options.mm_per_unit = mm;
    if (!asked.units.empty() && !options.mm_per_unit)
        findings.push_back(fault("units-unknown", "\"" + harmless(asked.units) + "\" is no unit.",
                                 "Say --units mm, cm, m, in or ft."));
    const auto length = [&](const char* name, const std::string& text, double& out) {
        const auto read = parse_length(text, Unit::mm);
        if (read && read->mm() >= 0 && read->mm() <= 100) {
            out = read->mm();
            return;
        }
        findings.push_back(
            fault("length-unknown",
                  std::string("--") + name + " \"" + harmless(text) + "\" is no length from 0 to 100 mm.",
                  "Write it as on a tape: \"1/32 in\", \"0.5 mm\"."));
    };
    length("gap", asked.gap, options.gap.mm);
    length("arcs", asked.arcs, options.arcs.mm);
    if (options.mm_per_unit == 25.4 || options.mm_per_unit == 304.8)
        options.lengths.unit = Unit::inch;
    else
        options.lengths.unit = Unit::mm;
    if (has_stop(findings)) return std::nullopt;
    return options;
}

std::string size_of(const Offered& o, const LengthStyle& lengths) {
    const Box box = box_of(o.outline);
    return plain_length(box.width(), lengths) + " x " + plain_length(box.height(), lengths);
}

std::string list_text(const Offer& offer, const LengthStyle& lengths) {
    std::string text;
    for (std::size_t i = 0; i < offer.outlines.size(); ++i) {
        const Offered& o = offer.outlines[i];
        std::size_t arcs = 0;
        for (const Vertex& v : o.outline.vertices) arcs += v.bulge != 0;
        text += std::to_string(i + 1) + "  " + size_of(o, lengths);
        if (!o.layer.empty()) text += ", layer \"" + harmless(o.layer) + "\"";
        text += ": " + count_of(o.outline.size() - arcs, "straight edge", "straight edges") + ", " +
                count_of(arcs, "arc", "arcs") + " of " + std::to_string(o.chords) + " drawn";
        if (o.departure_mm > 0) text += ", within " + plain_length(o.departure_mm, lengths);
        if (o.widest_gap_mm > 0) text += ", gaps up to " + plain_length(o.widest_gap_mm, lengths) + " closed";
        if (o.inside >= 0) text += "; inside " + std::to_string(o.inside + 1);
        text += '\n';
    }
    return text;
}

/// A panel with points of its own in the one space of the drawing.
class JobMaker {
  public:
    JobMaker(const Offer& offer, const std::vector<std::size_t>& taken) : offer_(offer), taken_(taken) {
        Box box;
        for (const std::size_t i : taken)
            for (const Vertex& v : offer.outlines[i].outline.vertices) box.add(v.p);
        low_ = box.min;
    }

    JsonValue run(bool inches, const std::string& title) {
        JsonValue panels = JsonValue::list();
        for (const std::size_t i : taken_)
            if (!is_hole(i)) panels.items.push_back(panel(i));
        JsonValue space = JsonValue::object();
        space.set("id", JsonValue::of_text("drawing"));
        space.set("units", JsonValue::of_text("mm"));
        space.set("ties", std::move(ties_));
        JsonValue spaces = JsonValue::list();
        spaces.items.push_back(std::move(space));
        JsonValue job = JsonValue::object();
        job.set("spile", JsonValue::of_whole(1));
        job.set("title", JsonValue::of_text(title));
        job.set("units", JsonValue::of_text(inches ? "in" : "mm"));
        job.set("mark_on", JsonValue::of_text("back"));
        job.set("spaces", std::move(spaces));
        job.set("panels", std::move(panels));
        return job;
    }

  private:
    bool is_taken(int i) const {
        return i >= 0 && std::find(taken_.begin(), taken_.end(), static_cast<std::size_t>(i)) != taken_.end();
    }
    /// Inside one that is itself no hole.
    bool is_hole(std::size_t i) const {
        const int in = offer_.outlines[i].inside;
        return is_taken(in) && !is_hole(static_cast<std::size_t>(in));
    }

    void tie(const std::string& line) { ties_.items.push_back(JsonValue::of_text(line)); }

    std::string point(const std::string& name, Vec2 p) {
        const Vec2 at = p - low_;
        tie(name + " over " + fixed(at.x, 3) + " up " + fixed(at.y, 3));
        return name;
    }

    /// A circle has two edges and a panel three at least: its arcs are halved.
    static Outline with_three_corners(const Outline& outline) {
        if (outline.size() >= 3) return outline;
        Outline out;
        for (std::size_t k = 0; k < outline.size(); ++k) {
            const Edge e = outline.edge(k);
            const double half = e.bulge / (1 + std::sqrt(1 + e.bulge * e.bulge));
            out.vertices.push_back({e.a, half, e.tag});
            out.vertices.push_back({midpoint_of(e), half, e.tag});
        }
        return out;
    }

    /// Points and curves of an outline; the names of its corners in order.
    JsonValue corners(std::size_t i) {
        const Outline line = with_three_corners(offer_.outlines[i].outline);
        const std::string letter = ++outlines_ <= 26 ? std::string(1, static_cast<char>('A' + outlines_ - 1))
                                                     : "P" + std::to_string(outlines_) + "_";
        JsonValue names = JsonValue::list();
        const std::size_t n = line.size();
        for (std::size_t k = 0; k < n; ++k)
            names.items.push_back(
                JsonValue::of_text(point(letter + std::to_string(k + 1), line.vertices[k].p)));
        for (std::size_t k = 0; k < n; ++k) {
            if (line.vertices[k].bulge == 0) continue;
            const std::string from = letter + std::to_string(k + 1),
                              to = letter + std::to_string((k + 1) % n + 1);
            const std::string middle = point(from + "m", midpoint_of(line.edge(k)));
            tie(from + " " + to + " through " + middle);
        }
        return names;
    }

    JsonValue panel(std::size_t i) {
        JsonValue own = JsonValue::object();
        own.set("id", JsonValue::of_text(std::to_string(++panels_)));
        if (!offer_.outlines[i].layer.empty())
            own.set("name", JsonValue::of_text(offer_.outlines[i].layer.substr(0, 60)));
        own.set("corners", corners(i));
        JsonValue openings = JsonValue::list();
        for (const std::size_t j : taken_) {
            if (!is_hole(j) || offer_.outlines[j].inside != static_cast<int>(i)) continue;
            JsonValue opening = JsonValue::object();
            opening.set("id", JsonValue::of_text("opening " + std::to_string(openings.items.size() + 1)));
            opening.set("outline", corners(j));
            openings.items.push_back(std::move(opening));
        }
        if (!openings.items.empty()) own.set("openings", std::move(openings));
        return own;
    }

    const Offer& offer_;
    const std::vector<std::size_t>& taken_;
    Vec2 low_;
    JsonValue ties_ = JsonValue::list();
    std::size_t outlines_ = 0, panels_ = 0;
};

/// Which outlines are wanted; faults where a layer or a number is not there, or an outline has too many corners.
std::vector<std::size_t> chosen(const ImportOptions& asked, const Offer& offer,
                                std::vector<Finding>& findings) {
    std::vector<std::size_t> taken;
    for (std::size_t i = 0; i < offer.outlines.size(); ++i) {
        const bool layer = asked.layers.empty() || std::find(asked.layers.begin(), asked.layers.end(),
                                                             offer.outlines[i].layer) != asked.layers.end();
        const bool numbered =
            asked.outlines.empty() || std::find(asked.outlines.begin(), asked.outlines.end(),
                                                static_cast<int>(i + 1)) != asked.outlines.end();
        if (!layer || !numbered) continue;
        const std::size_t corners = offer.outlines[i].outline.size();
        if (corners > kMostCorners) {
            Finding f = fault("too-many-corners",
                              "Outline " + std::to_string(i + 1) + " has " + std::to_string(corners) +
                                  " corners; a panel has at most " + std::to_string(kMostCorners) + ".",
                              "Let its arcs keep less near to the points (--arcs), or draw it with fewer.");
            f.numbers = {{"corners", static_cast<double>(corners), ""},
                         {"limit", static_cast<double>(kMostCorners), ""}};
            findings.push_back(std::move(f));
            continue;
        }
        taken.push_back(i);
    }
    for (const int number : asked.outlines)
        if (number < 1 || static_cast<std::size_t>(number) > offer.outlines.size())
            findings.push_back(fault("outline-missing",
                                     "There is no outline " + std::to_string(number) + "; the list goes to " +
                                         std::to_string(offer.outlines.size()) + ".",
                                     "Look at the list: spile import without --out."));
    if (taken.empty() && findings.empty())
        findings.push_back(fault("outline-missing", "No outline lies on the layer asked for.",
                                 "Look at the list: spile import without --out."));
    return taken;
}

}  // namespace

Exit import_drawing(const ImportOptions& asked) {
    const int width = terminal_width();
    std::vector<Finding> findings;
    const auto ended = [&](Exit exit) {
        sort_worst_first(findings);
        complain(findings_text(findings, width));
        return exit;
    };
    const auto bytes = load_text(asked.drawing, "a drawing");
    if (!bytes) return not_read;
    const auto options = read_options(asked, findings);
    if (!options) return ended(not_read);
    Result<import::Drawing> drawing = read_drawing(asked.drawing, *bytes);
    append(findings, std::move(drawing.findings));
    if (!drawing) return ended(not_read);
    const bool feet = drawing->mm_per_unit == 25.4 || drawing->mm_per_unit == 304.8;
    import::OutlineOptions own = *options;
    if (!own.mm_per_unit && feet) own.lengths.unit = Unit::inch;
    Result<Offer> offer = import::offer_outlines(*drawing, own);
    append(findings, std::move(offer.findings));
    if (!offer) return ended(stopped);
    const std::vector<std::size_t> taken = chosen(asked, *offer, findings);
    if (has_stop(findings)) return ended(stopped);
    LengthStyle lengths = own.lengths;
    lengths.with_unit = true;
    lengths.inch_denominator = 32;
    lengths.mm_step = 0.1;
    if (asked.out.empty()) {
        ended(all_well);
        return print(list_text(*offer, lengths)) ? all_well : not_read;
    }
    const std::size_t slash = asked.drawing.find_last_of("/\\");
    const std::string title = asked.drawing.substr(slash == std::string::npos ? 0 : slash + 1).substr(0, 100);
    const JsonValue job = JobMaker(*offer, taken).run(own.lengths.unit == Unit::inch, harmless(title));
    Result<std::string> written = write_new_file(asked.out, write_said(job));
    append(findings, std::move(written.findings));
    if (!written) return ended(not_read);
    ended(all_well);
    return print(harmless(asked.out) + ": " + count_of(taken.size(), "outline", "outlines") +
                 ", as measured; now say the clearances and finishes.\n")
               ? all_well
               : not_read;
}

}  // namespace spile::cli
