// Loops over flat arrays that may use the widest vectors of the processor at hand.
#pragma once

// The arithmetic is the same on every processor (no fused multiply-add); only how many numbers go at once differs.
// Address sanitizing does not go together with functions chosen at load time.
#if defined(__x86_64__) && defined(__linux__) && defined(__GNUC__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__)
#define SPILE_WIDE __attribute__((target_clones("avx512f", "avx2", "default"), optimize("O3")))
#else
#define SPILE_WIDE
#endif
