#include "core/paper/paper_settings.h"

namespace spile {

PaperSize a4() {
    return {"A4", 210, 297};
}
PaperSize a3() {
    return {"A3", 297, 420};
}
PaperSize letter() {
    return {"Letter", 215.9, 279.4};
}
PaperSize tabloid() {
    return {"Tabloid", 279.4, 431.8};
}

const char* word_for(PaperKind kind) {
    switch (kind) {
        case PaperKind::ticket:
            return "ticket";
        case PaperKind::roll:
            return "roll";
        case PaperKind::pieces:
            return "pieces";
        case PaperKind::materials:
            return "materials";
        case PaperKind::sewing:
            return "sewing";
        case PaperKind::check:
            return "check";
        case PaperKind::fitting:
            return "fitting";
        case PaperKind::labels:
            return "labels";
        case PaperKind::field:
            return "field";
        case PaperKind::customer:
            return "customer";
        case PaperKind::tiles:
            return "tiles";
        case PaperKind::strips:
            return "strips";
        case PaperKind::machine:
            return "machine";
        case PaperKind::dxf_r12:
            return "dxf-r12";
        case PaperKind::hpgl:
            return "hpgl";
    }
    return "";
}

const char* word_for(WorkStep step) {
    switch (step) {
        case WorkStep::goods:
            return "goods";
        case WorkStep::mark:
            return "mark";
        case WorkStep::cut:
            return "cut";
        case WorkStep::dry_fit:
            return "dry_fit";
        case WorkStep::holes:
            return "holes";
        case WorkStep::apply:
            return "apply";
        case WorkStep::turn:
            return "turn";
        case WorkStep::bind:
            return "bind";
        case WorkStep::seal:
            return "seal";
        case WorkStep::measure:
            return "measure";
        case WorkStep::pack:
            return "pack";
        case WorkStep::studs:
            return "studs";
        case WorkStep::fit:
            return "fit";
    }
    return "";
}

std::string needle_words(const SewingNotes& sewing) {
    if (!sewing.needle.empty()) return sewing.needle;
    const struct {
        const char *vendor, *tex, *needle;
    } pairs[] = {
        {"V69", "T70", "Nm 90 to 110"}, {"V92", "T90", "Nm 100 to 110"}, {"V138", "T135", "Nm 125 to 150"}};
    for (const auto& p : pairs)
        if (sewing.thread == p.vendor || sewing.thread == p.tex) return p.needle;
    return "";
}

}  // namespace spile
