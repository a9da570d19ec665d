// Result: a value, or none, always with the findings collected on the way.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "core/base/finding.h"

namespace spile {

/// Guarantees: (1) `value` is absent only if `findings` says why with a stop; (2) a value may come with
/// findings of any severity. User errors travel here; programming errors are SPILE_CHECKs.
template <class T>
struct Result {
    std::optional<T> value;
    std::vector<Finding> findings;

    explicit operator bool() const { return value.has_value(); }
    const T& operator*() const { return *value; }
    T& operator*() { return *value; }
    const T* operator->() const { return &*value; }
    T* operator->() { return &*value; }

    static Result ok(T v) { return {std::move(v), {}}; }
    static Result refuse(Finding f) { return {std::nullopt, {std::move(f)}}; }
};

}  // namespace spile
