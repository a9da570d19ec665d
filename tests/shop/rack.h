// A book with goods, a roll and a job, for tests of the stock.
#pragma once

#include "core/geom/vec2.h"
#include "shop/stock.h"
#include "tests/shop/book.h"

namespace spile::shop {

inline constexpr std::int64_t kMetre_um = 1'000'000;

inline Outline corners(std::initializer_list<Vec2> points) {
    Outline outline;
    for (Vec2 p : points) outline.vertices.push_back({p, 0, 0});
    return outline;
}

/// A job laid out in the goods of the rack.
inline std::string sand_document(const std::string& title) {
    return document(title, R"(, "goods": {"name": "woven vinyl, sand", "width": 72})");
}

/// Ten metres of one lot, and a job.
struct Rack : Book {
    Rack() {
        const auto row = save_goods(store, {0, "woven vinyl, sand", R"({"width": 72})", ""});
        EXPECT_TRUE(row);
        goods = row->id;
        roll = receive_roll(store, goods, "L1", "a", 10 * kMetre_um, "pat")->id;
        job = add_job(store, new_job(document("sole")))->id;
    }

    AcceptLayout cut(const std::string& layout, std::int64_t um) {
        AcceptLayout accept;
        accept.job = job;
        accept.base_rev = job_head(store, job)->rev;
        accept.document = sand_document("sole " + layout);
        accept.layout = layout;
        accept.roll = roll;
        accept.used_um = um;
        accept.by = "pat";
        return accept;
    }

    Id goods = 0, roll = 0, job = 0;
};

}  // namespace spile::shop
