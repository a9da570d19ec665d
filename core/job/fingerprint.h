// Fingerprints: has anything changed since a person decided?
#pragma once

#include <string>

#include "core/base/finding.h"
#include "core/job/document.h"

namespace spile {

/// Of all that a layout is made from: goods as they are cut from, finish, panels and the readings of their spaces.
/// Guarantees: (1) taken from inputs alone, never from computed coordinates, and only of exact or correctly rounded
/// numbers, so that every machine gives the same; (2) names, notes, comments, spelling of a length ("96 1/4", "96.25"),
/// ids and the order of readings do not count; (3) every change that can move a line does.
/// 16 hexadecimal digits: FNV-1a, 64 bit (Fowler, Noll, Vo; constants from memory). It tells changes, not forgeries.
std::string layout_fingerprint(const Job& job);

/// Of what a finding about `subject` was judged on. A tie, a point, a space: the readings of its space. A panel or a part
/// of it: that panel, its space, and the bounds of the other panels there. A piece, the goods, the job: all that a layout
/// is made from. Guarantees as above.
std::string subject_fingerprint(const Job& job, const Subject& subject);

}  // namespace spile
