// Where work can hurt: the sentences that stand beside the step, the same on every paper.
#pragma once

namespace spile::paper::caution {

inline constexpr const char* blades =
    "Rotary cutters and awls: cut away from the hand, board under the goods.";
/// Hydrogen chloride: exposure ceiling 5 ppm, 29 CFR 1910.1000 table Z-1; that heated PVC gives it off is from memory.
inline constexpr const char* hot_knife =
    "A hot knife on vinyl gives off hydrogen chloride: ventilate, or cut cold.";
inline constexpr const char* hot_knife_thread = "It also melts polyester stitching.";
inline constexpr const char* drilling =
    "Look behind before drilling a deck: tanks, wires, hoses; seal cored decks.";
/// Escape ways and bilge access: Directive 2013/53/EU Annex I A, ISO 9094.
inline constexpr const char* ways = "Keep escape ways and bilge access free.";
inline constexpr const char* trips = "A proud or loose edge trips: none may stand up.";
inline constexpr const char* defer = "Local codes and licensed practice come first.";

}  // namespace spile::paper::caution
