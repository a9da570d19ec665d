#include "core/geom/transform.h"

namespace spile {
namespace {

template <class Move>
Region each(const Move& move, const Region& region) {
    Region out{move(region.outer), {}};
    out.holes.reserve(region.holes.size());
    for (const Outline& hole : region.holes) out.holes.push_back(move(hole));
    return out;
}

}  // namespace

Outline Rigid::operator()(const Outline& outline) const {
    Outline out = outline;
    for (Vertex& v : out.vertices) v.p = (*this)(v.p);
    return out;
}

Path Rigid::operator()(const Path& path) const {
    Path out = path;
    for (Vertex& v : out.vertices) v.p = (*this)(v.p);
    return out;
}

Region Rigid::operator()(const Region& region) const {
    return each(*this, region);
}

Rigid translation(Vec2 move) {
    return {1, 0, move};
}

Rigid compose(const Rigid& second, const Rigid& first) {
    return {second.cos * first.cos - second.sin * first.sin, second.sin * first.cos + second.cos * first.sin,
            second(first.move)};
}

Rigid inverse(const Rigid& r) {
    const Rigid back{r.cos, -r.sin, {}};
    return {r.cos, -r.sin, -back(r.move)};
}

Outline BackFromFace::operator()(const Outline& outline) const {
    // Mirroring turns every arc the other way and walking backwards turns it again: bulges stay.
    Outline out = reversed(outline);
    for (Vertex& v : out.vertices) {
        v.p = (*this)(v.p);
        v.bulge = -v.bulge;
    }
    return out;
}

Path BackFromFace::operator()(const Path& path) const {
    Path out = path;
    for (Vertex& v : out.vertices) {
        v.p = (*this)(v.p);
        v.bulge = -v.bulge;
    }
    return out;
}

Region BackFromFace::operator()(const Region& region) const {
    return each(*this, region);
}

}  // namespace spile
