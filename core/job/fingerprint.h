// Fingerprints: has anything changed since a person decided?
#pragma once

#include <string>

#include "core/base/finding.h"
#include "core/job/document.h"

namespace spile {

/// Of all that a layout is made from: goods as they are cut from, and whatever can move a cut line: finish, panels and the readings
/// of their spaces. What is only marked on a piece or sewn to it later is not in it: studs, the stitch distance, a binding's overlap.
/// Guarantees: (1) taken from inputs alone, never from computed coordinates, and only of exact or correctly rounded
/// numbers, so that every machine gives the same; (2) names, notes, comments, spelling of a length ("96 1/4", "96.25"),
/// ids and the order of readings do not count; (3) every change that can move a cut line does.
/// 16 hexadecimal digits: FNV-1a, 64 bit (Fowler, Noll, Vo; constants from memory). It tells changes, not forgeries.
std::string layout_fingerprint(const Job& job);

/// Whether a layout kept with that fingerprint was made from the job as it is. One of all that makes the pieces, marks and sewing
/// as well, is good too: so they were made before, and it says more.
bool layout_is_of(const Job& job, const std::string& fingerprint);

/// Of what a finding about `subject` was judged on. A tie, a point, a space: the readings of its space. A panel or a part
/// of it: that panel, its space, and the bounds of the other panels there. A piece, the goods, the job: all that the pieces
/// are made from, and the goods. Guarantees as above, but of every line and mark.
std::string subject_fingerprint(const Job& job, const Subject& subject);

}  // namespace spile
