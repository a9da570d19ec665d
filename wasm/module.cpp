// What the web page calls: memory for the question, the answer to it.
#include <cstdlib>
#include <string>

#include "wasm/surface.h"

extern "C" {

/// A zero-ended answer, good until the next call. The caller frees the question.
const char* spile_answer(const char* request, int bytes) {
    static std::string last;
    last = spile::surface::answer({request, static_cast<std::size_t>(bytes)});
    return last.c_str();
}

void* spile_memory(int bytes) {
    return std::malloc(static_cast<std::size_t>(bytes));
}

void spile_free(void* memory) {
    std::free(memory);
}
}
