#include "server/api_description.h"

// The assembler copies the file in; CMake gives its path and rebuilds this file when it changes.
asm(".section .rodata\nspile_api:\n.incbin \"" SPILE_API_FILE "\"\nspile_api_end:\n.byte 0\n.previous\n");
extern "C" const char spile_api[];
extern "C" const char spile_api_end[];

namespace spile::server {

std::string_view api_description() {
    return {spile_api, static_cast<std::size_t>(spile_api_end - spile_api)};
}

}  // namespace spile::server
