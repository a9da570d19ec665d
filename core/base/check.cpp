#include "core/base/check.h"

#include <cstdio>
#include <cstdlib>

namespace spile {

void check_failed(const char* condition, const char* file, int line) {
    std::fprintf(stderr, "spile: a fault in the program itself: %s (%s:%d)\n", condition, file, line);
    std::abort();
}

}  // namespace spile
