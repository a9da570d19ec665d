// How measuring words its findings: lengths as the tape reads, ties by their points. Internal to measuring.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "core/measure/survey.h"

namespace spile::survey {

class Say {
  public:
    Say(const SpaceInput& space, std::vector<Finding>& into) : space_(space), into_(into) {}

    /// "48 1/4 in", to the nearest 1/16 in or 0.5 mm: for sizes.
    std::string size(double mm) const;
    /// Finer, for small differences: 1/32 in or 0.1 mm.
    std::string little(double mm) const;

    void about(const char* code, Severity severity, const char* kind, const std::string& id,
               std::vector<Quantity> numbers, std::string says, std::string to_do,
               std::string where = {}) const;
    void about_space(const char* code, Severity severity, std::string says, std::string to_do) const {
        about(code, severity, "space", "", {}, std::move(says), std::move(to_do));
    }
    void about_point(const char* code, Severity severity, const std::string& name, std::string says,
                     std::string to_do) const {
        about(code, severity, "point", name, {}, std::move(says), std::move(to_do));
    }
    void about_reading(const char* code, Severity severity, const Reading& reading,
                       std::vector<Quantity> numbers, std::string says, std::string to_do) const;

  private:
    const SpaceInput& space_;
    std::vector<Finding>& into_;
};

/// "A–B" for a tie, "P on A–B" for an offset, "K" for over/up.
std::string spoken(const Reading& reading);
/// "A B", "P on A B", "K": the subject id of a reading within its space.
std::string subject_of(const Reading& reading);

}  // namespace spile::survey
