// Reporter: collects the findings about one thing, with lengths said in the person's units.
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/base/finding.h"
#include "core/base/length.h"

namespace spile {

class Reporter {
  public:
    /// `owner`: id that every subject starts with ("3" gives "3/A B"). `where`: its place in the document.
    Reporter(std::string owner, std::string where, const LengthStyle& lengths, std::vector<Finding>& into)
        : owner_(std::move(owner)), where_(std::move(where)), lengths_(lengths), into_(into) {
        // A finding speaks of small differences: it says its unit and reads finer than a tape.
        lengths_.with_unit = true;
        if (lengths_.inch_denominator < 32) lengths_.inch_denominator = 32;
        if (lengths_.mm_step > 0.1) lengths_.mm_step = 0.1;
    }

    std::string said(double mm) const { return plain_length(mm, lengths_); }

    /// A limit that may not be passed, to the mark below it or above it.
    std::string said_at_most(double mm) const { return said(mark() * std::floor(mm / mark() + kOnMark)); }
    std::string said_at_least(double mm) const { return said(mark() * std::ceil(mm / mark() - kOnMark)); }

    /// The same, but whatever is added is about that one part of the owner.
    Reporter about(std::string kind, const std::string& part) const {
        Reporter own = *this;
        own.only_ = Subject{std::move(kind), owner_ + "/" + part};
        return own;
    }

    /// A subject of `kind` within the owner; the owner itself when `part` is empty.
    void add(std::string code, Severity severity, std::string kind, const std::string& part,
             std::vector<Quantity> numbers, std::string says, std::string to_do) {
        Subject subject{std::move(kind), part.empty() ? owner_ : owner_ + "/" + part};
        into_.push_back({std::move(code), severity, only_ ? *only_ : std::move(subject), std::move(numbers),
                         std::move(says), std::move(to_do), where_});
    }

    const std::string& owner() const { return owner_; }

  private:
    static constexpr double kOnMark = 1e-9;  ///< of a mark: noise of a length that stands on one

    double mark() const {
        return lengths_.unit == Unit::inch ? 25.4 / lengths_.inch_denominator : lengths_.mm_step;
    }

    std::string owner_, where_;
    std::optional<Subject> only_;
    LengthStyle lengths_;
    std::vector<Finding>& into_;
};

}  // namespace spile
