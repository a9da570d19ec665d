// How often a random test repeats itself.
#pragma once

namespace spile::test {

/// `all`, but under the address sanitizer a quarter of it, at least once: a run takes ten times as long there and is made for
/// what it does to memory; for the rare result the dev preset has the whole number.
constexpr int repeats(int all) {
#ifdef __SANITIZE_ADDRESS__
    return all > 4 ? all / 4 : 1;
#else
    return all;
#endif
}

}  // namespace spile::test
