// RunContext: what a stage may know of the run around it. The shell makes one; stages only read it.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>

namespace spile {

struct RunContext {
    /// Called with (done, of) now and then by long stages; may be empty.
    std::function<void(double, double)> progress;
    /// Set from outside to ask for an early, orderly end; may be null.
    const std::atomic<bool>* cancel = nullptr;
    std::uint64_t seed = 1;

    bool cancelled() const { return cancel && cancel->load(std::memory_order_relaxed); }
};

}  // namespace spile
