// spile import: the outlines of a drawing made elsewhere, as a list or as a job of panels.
#include <algorithm>

#include "cli/commands.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "import/job/job.h"

namespace spile::cli {
namespace {

std::string size_of(const import::Offered& o, const LengthStyle& lengths) {
    const Box box = box_of(o.outline);
    return plain_length(box.width(), lengths) + " x " + plain_length(box.height(), lengths);
}

std::string list_text(const import::Offer& offer, const LengthStyle& lengths) {
    std::string text;
    for (std::size_t i = 0; i < offer.outlines.size(); ++i) {
        const import::Offered& o = offer.outlines[i];
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

/// The drawing was read, and says too little: a person can add it.
bool read_but_short(const std::vector<Finding>& findings) {
    return std::any_of(findings.begin(), findings.end(),
                       [](const Finding& f) { return f.code == "units-missing" || f.code == "no-lines"; });
}

}  // namespace

Exit import_drawing(const ImportOptions& asked) {
    std::vector<Finding> findings;
    const auto ended = [&](Exit exit) {
        sort_worst_first(findings);
        complain(findings_text(findings, terminal_width()));
        return exit;
    };
    const auto bytes = load_text(asked.drawing, "a drawing");
    if (!bytes) return not_read;
    Result<import::Looked> looked =
        import::look_at_drawing(asked.drawing, *bytes, {asked.units, asked.gap, asked.arcs});
    append(findings, std::move(looked.findings));
    if (!looked) return ended(read_but_short(findings) ? stopped : not_read);
    const std::size_t slash = asked.drawing.find_last_of("/\\");
    const std::string title = asked.drawing.substr(slash == std::string::npos ? 0 : slash + 1).substr(0, 100);
    Result<JsonValue> job =
        import::job_of_drawing(*looked, {asked.layers, asked.outlines}, harmless(title));
    append(findings, std::move(job.findings));
    if (!job) return ended(stopped);
    if (asked.out.empty()) {
        ended(all_well);
        return print(list_text(looked->offer, looked->lengths)) ? all_well : not_read;
    }
    Result<std::string> written = write_new_file(asked.out, write_said(*job));
    append(findings, std::move(written.findings));
    if (!written) return ended(not_read);
    ended(all_well);
    return print(harmless(asked.out) + ": " + count_of(job->find("panels")->items.size(), "panel", "panels") +
                 ", as measured; now say the clearances and finishes.\n")
               ? all_well
               : not_read;
}

}  // namespace spile::cli
