// Reporter: collects the findings about one thing, with lengths said in the person's units.
#pragma once

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

    /// A subject of `kind` within the owner; the owner itself when `part` is empty.
    void add(std::string code, Severity severity, std::string kind, const std::string& part,
             std::vector<Quantity> numbers, std::string says, std::string to_do) {
        std::string id = part.empty() ? owner_ : owner_ + "/" + part;
        into_.push_back({std::move(code),
                         severity,
                         {std::move(kind), std::move(id)},
                         std::move(numbers),
                         std::move(says),
                         std::move(to_do),
                         where_});
    }

    const std::string& owner() const { return owner_; }

  private:
    std::string owner_, where_;
    LengthStyle lengths_;
    std::vector<Finding>& into_;
};

}  // namespace spile
