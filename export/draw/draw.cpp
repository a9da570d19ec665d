#include "export/draw/draw.h"

#include <cairo.h>

#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/text_layout.h"
#include "export/draw/curves.h"
#include "export/draw/fonts.h"
#include "export/qr/qr.h"

namespace spile {
namespace {

void set_ink(cairo_t* cr, Ink ink) {
    cairo_set_source_rgb(cr, ink.grey, ink.grey, ink.grey);
}

void add(cairo_t* cr, const Edge& edge) {
    if (edge.straight()) {
        cairo_line_to(cr, edge.b.x, edge.b.y);
        return;
    }
    for (const Bezier& b : beziers_of(edge))
        cairo_curve_to(cr, b.control_a.x, b.control_a.y, b.control_b.x, b.control_b.y, b.b.x, b.b.y);
}

void add(cairo_t* cr, const Outline& outline) {
    if (outline.empty()) return;
    cairo_move_to(cr, outline.vertices[0].p.x, outline.vertices[0].p.y);
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge edge = outline.edge(i);
        if (i + 1 < outline.size() || !edge.straight()) add(cr, edge);
    }
    cairo_close_path(cr);
}

void add(cairo_t* cr, const Path& path) {
    if (path.edge_count() == 0) return;
    cairo_move_to(cr, path.vertices[0].p.x, path.vertices[0].p.y);
    for (std::size_t i = 0; i < path.edge_count(); ++i) add(cr, path.edge(i));
}

void draw(cairo_t* cr, const Shape& shape) {
    cairo_new_path(cr);
    for (const Outline& outline : shape.closed) add(cr, outline);
    if (shape.filled) {
        cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
        set_ink(cr, shape.fill);
        cairo_fill_preserve(cr);
    }
    if (shape.stroked) {
        for (const Path& path : shape.open) add(cr, path);
        set_ink(cr, shape.stroke.ink);
        cairo_set_line_width(cr, shape.stroke.width_mm);
        const std::vector<double>& dash = shape.stroke.dash_mm;
        cairo_set_dash(cr, dash.data(), static_cast<int>(dash.size()), 0);
        cairo_stroke(cr);
    }
    cairo_new_path(cr);
}

void draw(cairo_t* cr, const Text& text) {
    const LaidOutText set = lay_out(text.utf8, text.weight);
    if (set.glyphs.empty() || !(text.size_mm > 0)) return;
    const double start = text.anchor == Anchor::start    ? 0
                         : text.anchor == Anchor::middle ? -set.width_em / 2
                                                         : -set.width_em;

    const Vec2 along = text_direction(text.angle_deg);
    const Vec2 up = {along.y, -along.x};  // y down
    const cairo_matrix_t size_and_turn = {along.x * text.size_mm,
                                          along.y * text.size_mm,
                                          -along.y * text.size_mm,
                                          along.x * text.size_mm,
                                          0,
                                          0};
    cairo_set_font_face(cr, font_face(text.weight));
    cairo_set_font_matrix(cr, &size_and_turn);
    set_ink(cr, text.ink);

    std::vector<cairo_glyph_t> glyphs;
    std::vector<cairo_text_cluster_t> clusters;
    for (const PlacedGlyph& g : set.glyphs) {
        const Vec2 at = text.at_mm + (start + g.x_em) * text.size_mm * along + g.rise_em * text.size_mm * up;
        glyphs.push_back({g.glyph, at.x, at.y});
        clusters.push_back({static_cast<int>(g.byte_count), 1});
    }
    cairo_show_text_glyphs(cr, set.utf8.data(), static_cast<int>(set.utf8.size()), glyphs.data(),
                           static_cast<int>(glyphs.size()), clusters.data(),
                           static_cast<int>(clusters.size()), {});
}

void draw(cairo_t* cr, const QrCode& code) {
    Shape shape;
    shape.stroked = false;
    shape.filled = true;
    shape.closed = qr_squares(code.utf8, code.at_mm, code.size_mm);
    // Squares of neighbouring rows share a side: no grey seam between them.
    cairo_save(cr);
    cairo_set_antialias(cr, CAIRO_ANTIALIAS_NONE);
    draw(cr, shape);
    cairo_restore(cr);
}

}  // namespace

void draw_page(cairo_t* cr, const Page& page) {
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_set_font_options(cr, options);
    cairo_font_options_destroy(options);
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_MITER);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
    // A flattened curve may not add to the departure of its Bezier.
    cairo_set_tolerance(cr, std::min(cairo_get_tolerance(cr), 0.05));
    for (const Item& item : page.items) std::visit([cr](const auto& drawn) { draw(cr, drawn); }, item);
    SPILE_CHECK(cairo_status(cr) == CAIRO_STATUS_SUCCESS);
}

std::vector<Finding> unknown_characters(const Sheet& sheet) {
    std::vector<std::string> unknown;
    for (const Page& page : sheet.pages)
        for (const Item& item : page.items) {
            const Text* text = std::get_if<Text>(&item);
            if (!text) continue;
            for (const std::string& character : lay_out(text->utf8, text->weight).unknown)
                if (std::find(unknown.begin(), unknown.end(), character) == unknown.end())
                    unknown.push_back(character);
        }
    if (unknown.empty()) return {};
    Finding finding;
    finding.code = "characters-not-in-font";
    finding.severity = Severity::look;
    finding.subject = {"paper", sheet.file_stem};
    finding.says = "\"" + sheet.title + "\" holds " + count_of(unknown.size(), "character", "characters") +
                   " that the printing font lacks: " + list_words(unknown) + "; a box stands in each place.";
    finding.to_do = "Write these names in Latin, Greek or Cyrillic letters.";
    return {finding};
}

}  // namespace spile
