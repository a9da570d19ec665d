// What is settled aboard before an edge is finished: edges left long and the dry fit, in the words every paper uses.
#pragma once

#include <string>
#include <vector>

#include "core/paper/sheets.h"

namespace spile::paper {

/// "B–C 1 in and C–D 3⁄4 in"; empty where nothing is left long.
std::string left_long_words(const Piece& piece, const LengthStyle& lengths);
/// One sentence where an outside corner that is to be rounded lies beside an edge left long (`as_cut` in core/edging); else empty.
std::string square_corners_words(const Piece& piece);
/// The piece is tried aboard before its edges are finished: asked for, or an edge of it is left long.
bool is_dry_fitted(const PaperInput& in, const Piece& piece);
bool any_dry_fitted(const PaperInput& in);

/// For one piece, with `strong` stretches: "Dry fit before edging. Left long, trimmed aboard: B–C 1 in." Empty where neither.
std::string aboard_words(const PaperInput& in, const Piece& piece);
/// The same for the job, pieces by their number; empty where none.
std::string aboard_words(const PaperInput& in);
/// For a bar: "dry fit before edging", or empty.
std::string dry_fit_bar(bool dry_fitted);

/// Names of the studs of the boat under a piece, or of the new ones placed on it by rule.
std::vector<std::string> stud_names(const Piece& piece, bool by_rule);

/// How much the posts of a piece's snaps go through, by the flaps under each: "Posts of S1 through 3⁄16 in; of n1 and n2
/// through 1⁄4 in, a turn lies under." Empty without snaps or where the thickness of the goods is not known.
std::string post_words(const PaperInput& in, const Piece& piece);

/// What is chalked on the side that is marked beside the number: it must not lie the wrong way up later.
const char* side_chalked(bool on_back);  ///< "THIS SIDE DOWN" or "THIS SIDE UP"

}  // namespace spile::paper
