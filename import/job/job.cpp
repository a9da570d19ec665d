#include "import/job/job.h"

#include <algorithm>
#include <cmath>

#include "core/base/stop.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/job/json_faults.h"
#include "import/csv/csv.h"
#include "import/dxf/dxf.h"
#include "import/svg/svg.h"

namespace spile::import {
namespace {

constexpr std::size_t kMostCorners = 500;  ///< of a panel, as in a job
constexpr double kInch_mm = 25.4, kFoot_mm = 304.8, kMostGap_mm = 100;

Finding fault(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"drawing", ""});
}

/// The end of the name, lower case.
std::string kind_of(const std::string& name) {
    const std::size_t dot = name.rfind('.');
    std::string end = dot == name.npos ? "" : name.substr(dot + 1);
    for (char& c : end)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return end;
}

Result<Drawing> read_drawing(const std::string& name, const std::string& bytes) {
    const std::string kind = kind_of(name);
    if (kind == "dxf") return read_dxf(bytes);
    if (kind == "svg") return read_svg(bytes);
    if (kind == "csv" || kind == "txt") return read_csv(bytes);
    return Result<Drawing>::refuse(fault("drawing-unknown",
                                         in_quotes(name) + " ends neither in .dxf, .svg nor .csv.",
                                         "Save the drawing as one of them."));
}

bool counts_in_inches(std::optional<double> mm_per_unit) {
    return mm_per_unit == kInch_mm || mm_per_unit == kFoot_mm;
}

std::optional<OutlineOptions> read_options(const Wanted& wanted, std::vector<Finding>& findings) {
    OutlineOptions options;
    const std::pair<const char*, double> units[] = {
        {"mm", 1}, {"cm", 10}, {"m", 1000}, {"in", kInch_mm}, {"ft", kFoot_mm}};
    for (const auto& [name, mm] : units)
        if (wanted.units == name) options.mm_per_unit = mm;
    if (!wanted.units.empty() && !options.mm_per_unit)
        findings.push_back(fault("units-unknown", in_quotes(wanted.units) + " is no unit.",
                                 "Say mm, cm, m, in or ft (--units)."));
    const auto length = [&](const char* option, const char* what, const std::string& text, double& out) {
        const auto read = parse_length(text, Unit::mm);
        if (read && read->mm() >= 0 && read->mm() <= kMostGap_mm) {
            out = read->mm();
            return;
        }
        findings.push_back(fault("length-unknown",
                                 std::string(what) + " of " + in_quotes(text) + " is no length from 0 to 100 mm.",
                                 std::string("Write it as on a tape: \"1/32 in\", \"0.5 mm\" (") + option + ")."));
    };
    length("--gap", "A gap", wanted.gap, options.gap.mm);
    length("--arcs", "An arc's departure", wanted.arcs, options.arcs.mm);
    if (has_stop(findings)) return std::nullopt;
    return options;
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
std::vector<std::size_t> chosen(const Choice& asked, const Offer& offer, std::vector<Finding>& findings) {
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
                                     "Look at the list of outlines (spile import without --out)."));
    if (taken.empty() && findings.empty())
        findings.push_back(fault("outline-missing", "No outline lies on the layer asked for.",
                                 "Look at the list of outlines (spile import without --out)."));
    return taken;
}

}  // namespace

Result<Looked> look_at_drawing(const std::string& name, const std::string& bytes, const Wanted& wanted) {
    Result<Looked> result;
    std::optional<OutlineOptions> options = read_options(wanted, result.findings);
    if (!options) return result;
    Result<Drawing> drawing = read_drawing(name, bytes);
    append(result.findings, std::move(drawing.findings));
    if (!drawing) return result;
    const bool inches = counts_in_inches(options->mm_per_unit ? options->mm_per_unit : drawing->mm_per_unit);
    options->lengths.unit = inches ? Unit::inch : Unit::mm;
    Result<Offer> offer = offer_outlines(*drawing, *options);
    append(result.findings, std::move(offer.findings));
    if (!offer) return result;
    LengthStyle lengths = options->lengths;
    lengths.with_unit = true;
    lengths.inch_denominator = 32;
    lengths.mm_step = 0.1;
    result.value = Looked{std::move(*offer), lengths};
    return result;
}

Result<JsonValue> job_of_drawing(const Looked& looked, const Choice& choice, const std::string& title) {
    Result<JsonValue> result;
    const std::vector<std::size_t> taken = chosen(choice, looked.offer, result.findings);
    if (has_stop(result.findings)) return result;
    result.value = JobMaker(looked.offer, taken).run(looked.lengths.unit == Unit::inch, title);
    return result;
}

}  // namespace spile::import
