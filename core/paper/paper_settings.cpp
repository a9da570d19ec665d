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
