#include "export/dxf/memory_file.h"

#include <sys/mman.h>
#include <unistd.h>

namespace spile {

MemoryFile::MemoryFile() : descriptor_(memfd_create("spile", MFD_CLOEXEC)) {}

MemoryFile::~MemoryFile() {
    if (open()) close(descriptor_);
}

std::string MemoryFile::path() const {
    return "/proc/self/fd/" + std::to_string(descriptor_);
}

std::string MemoryFile::bytes() const {
    std::string all;
    char block[65536];
    for (;;) {
        const ssize_t got = pread(descriptor_, block, sizeof block, static_cast<off_t>(all.size()));
        if (got <= 0) return all;
        all.append(block, static_cast<std::size_t>(got));
    }
}

}  // namespace spile
