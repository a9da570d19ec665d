// A job as text, field by field, so that two can be compared and a difference be read.
#pragma once

#include <sstream>
#include <string>

#include "core/base/text.h"
#include "core/job/document.h"

namespace spile::testing {

/// Everything that was derived, places in the file apart.
inline std::string all_of(const Job& job) {
    std::ostringstream out;
    out << job.version << '|' << job.title << '|' << job.boat << '|' << job.customer << '|' << job.notes
        << '|' << unit_name(job.units) << '|' << static_cast<int>(job.paper) << '|'
        << (job.mark_on ? static_cast<int>(*job.mark_on) : -1) << '\n';
    const auto numbers = [&out](std::initializer_list<double> values) {
        for (const double v : values) out << shortest(v) << ' ';
        out << '\n';
    };
    const Goods& g = job.goods;
    out << job.has_goods << ' ' << g.name << ' ';
    numbers({g.width_mm, g.usable_width_mm, g.gap_mm, g.edge_gap(), g.step_mm, g.least_order_mm,
             g.thickness_mm, g.length_mm});
    out << static_cast<int>(g.turning) << ' ';
    const FinishSettings& f = job.finish;
    numbers({f.binding_growth_mm, f.binding_width_mm, f.binding_thickness_mm, f.least_bound_radius_mm,
             f.least_bound_hole_radius_mm, f.turn_mm, f.stitch_from_edge_mm, f.post_ease_mm, f.slit_short_mm,
             f.turned_hole_face_mm, f.binding_overlap_mm, f.corner_allowance_mm, f.stud_from_edge_mm,
             f.facet_mm, f.mitre_lap_mm, f.end_trim_mm, f.face_thickness_mm, f.backing_thickness_mm});
    out << f.mitred_corners << f.backing_peels << '\n';
    numbers({job.clearances.wall_mm, job.clearances.lid_mm, job.clearances.reveal_mm});
    numbers({job.takeoff.thread_stitches_per_mm, job.takeoff.sewn_thickness_mm, job.takeoff.thread_waste});
    for (const SpaceInput& s : job.spaces) {
        out << "space " << s.id << ' ' << unit_name(s.unit) << ' ' << static_cast<int>(s.tape.tape_class)
            << s.tape.hook << ' ';
        numbers({s.tape.reads_to_mm, s.tape.ends_sd_mm, s.tape.square_sd_rad, s.tape.line_sd_mm});
        for (const std::string& p : s.walk) out << p << ' ';
        for (const std::string& p : s.bow) out << "bow " << p << ' ';
        for (const Reading& r : s.readings) out << "\n  " << r.id << ": " << r.line << " #" << r.what.index();
        out << '\n';
    }
    for (const PanelInput& p : job.panels) {
        out << "panel " << p.id << '|' << p.name << '|' << p.space << '|';
        for (const CornerPlan& c : p.corners) out << c.at << ' ' << shortest(c.radius_mm) << ' ';
        for (const EdgePlan& e : p.edges)
            out << "\n  " << e.from << ' ' << e.to << ' ' << word_for(e.measured) << ' '
                << word_for(e.situation) << ' ' << word_for(e.finish) << ' ' << shortest(e.clearance_mm);
        for (const OpeningPlan& o : p.openings)
            out << "\n  " << o.id << ' ' << o.at << ' ' << shortest(o.centre_mm.x) << ' '
                << shortest(o.centre_mm.y) << ' ' << shortest(o.diameter_mm) << ' ' << shortest(o.ease_mm)
                << ' ' << word_for(o.finish) << ' ' << static_cast<int>(o.form) << ' '
                << shortest(o.length_mm) << ' ' << shortest(o.width_mm) << ' ' << shortest(o.radius_mm) << ' '
                << o.along.size() << o.outline.size() << (o.slit ? o.slit->from : "-") << o.lid;
        for (const AppliedPlan& a : p.applied)
            out << "\n  " << a.id << ' ' << word_for(a.kind) << a.on_back << a.stuck << a.loop << a.any_way
                << ' ' << a.from << ' ' << a.to << ' ' << a.at << ' ' << shortest(a.from_edge_mm.value_or(-1))
                << ' ' << shortest(a.start_mm.value_or(-1)) << ' ' << shortest(a.length_mm) << ' '
                << shortest(a.width_mm) << ' ' << shortest(a.diameter_mm) << ' ' << shortest(a.radius_mm)
                << ' ' << shortest(a.turn_deg) << ' ' << shortest(a.turn_mm) << ' ' << a.along.size()
                << a.outline.size() << ' ' << a.goods << ' ' << shortest(a.goods_width_mm) << ' '
                << shortest(a.goods_thickness_mm) << word_for(a.finish);
        for (const std::string& s : p.studs) out << "\n  stud " << s;
        out << ' ' << shortest(p.size_x_mm) << ' ' << shortest(p.size_y_mm) << ' ' << word_for(p.mat_finish)
            << ' ' << shortest(p.corner_radius_mm) << '\n';
    }
    for (const Override& o : job.overrides)
        out << "override " << o.code << '|' << o.subject << '|' << o.fingerprint << '|' << o.reason << '\n';
    if (job.kept_layout) {
        out << "kept " << job.kept_fingerprint << ' ' << job.kept_layout->rounds << '\n';
        for (const Placement& p : job.kept_layout->placements)
            out << p.piece << ' ' << p.x_um << ' ' << p.y_um << ' ' << p.turns << ' ' << p.stretch << '\n';
        for (const Stretch& s : job.kept_layout->stretches) {
            out << s.name << '|' << s.lot << '|' << shortest(s.length_mm);
            for (const Vertex& v : s.outline.vertices)
                out << ' ' << shortest(v.p.x) << ',' << shortest(v.p.y) << ',' << shortest(v.bulge);
            out << '\n';
        }
    }
    for (const Unsettled& u : job.unsettled)
        out << "unsettled " << u.id << '|' << u.target << '|' << u.field << '|' << u.was.has_value()
            << u.other.has_value() << '\n';
    return out.str();
}

}  // namespace spile::testing
