// How large the parts of a job may be. Beyond any real job by far; they keep a wrong file from becoming a long wait.
#pragma once

#include <cstddef>

namespace spile::limits {

inline constexpr std::size_t spaces = 100;
inline constexpr std::size_t readings = 10'000;  ///< of one space
inline constexpr std::size_t walk = 1'000;
inline constexpr std::size_t leaving = 200;  ///< answers of one space
inline constexpr std::size_t joints = 200;   ///< of one space
inline constexpr std::size_t panels = 1'000;
inline constexpr std::size_t cuts = 20;       ///< of one panel, by joints
inline constexpr std::size_t corners = 500;   ///< of one panel
inline constexpr std::size_t openings = 200;  ///< of one panel
inline constexpr std::size_t studs = 500;     ///< of one panel
inline constexpr std::size_t applied = 100;   ///< of one panel
inline constexpr std::size_t flaws = 200;     ///< of the goods
inline constexpr std::size_t fillers = 20;    ///< kinds of them
inline constexpr std::size_t overrides = 1'000;
inline constexpr std::size_t placements = 1'000;
inline constexpr std::size_t stretches = 100;           ///< of a kept layout
inline constexpr std::size_t stretch_corners = 10'000;  ///< of the outline of an offcut
inline constexpr std::size_t unsettled = 1'000;

inline constexpr std::size_t id_characters = 40;
inline constexpr std::size_t line_characters = 200;  ///< title, name, a reading, a reason
inline constexpr std::size_t notes_characters = 20'000;

inline constexpr std::size_t findings = 500;  ///< listed one by one; the rest is counted

}  // namespace spile::limits
