// A file in memory, for a library that can only write to a path.
#pragma once

#include <string>

namespace spile {

/// Has no name on any disk and is gone when this object is, whatever happens in between.
class MemoryFile {
  public:
    MemoryFile();
    ~MemoryFile();
    MemoryFile(const MemoryFile&) = delete;
    MemoryFile& operator=(const MemoryFile&) = delete;

    bool open() const { return descriptor_ >= 0; }
    std::string path() const;   ///< to be opened by this process
    std::string bytes() const;  ///< all that was written

  private:
    int descriptor_;
};

}  // namespace spile
