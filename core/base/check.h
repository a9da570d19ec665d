// SPILE_CHECK: states what a bug in Spile itself would break. Never used on what a person typed.
#pragma once

namespace spile {
[[noreturn]] void check_failed(const char* condition, const char* file, int line);
}

#define SPILE_CHECK(condition)                                                   \
    do {                                                                         \
        if (!(condition)) ::spile::check_failed(#condition, __FILE__, __LINE__); \
    } while (false)

/// For checks that cost more than the work they guard; compiled in under the dev and asan presets.
#ifdef SPILE_CHECKS
#define SPILE_SLOW_CHECK(condition) SPILE_CHECK(condition)
#else
#define SPILE_SLOW_CHECK(condition) \
    do {                            \
    } while (false)
#endif
