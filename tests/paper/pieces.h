// Pieces for the tests of papers, made by hand and by chance.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "core/paper/sheets.h"

namespace spile::test {

constexpr double in = 25.4;

/// Draws that are the same with every standard library.
class Chance {
  public:
    explicit Chance(std::uint64_t seed) : bits_(seed) {}
    double from(double low, double high) {
        return low + (high - low) * static_cast<double>(bits_() >> 11) * 0x1p-53;
    }
    int below(int n) { return static_cast<int>(bits_() % static_cast<std::uint64_t>(n)); }
    bool one_in(int n) { return below(n) == 0; }

  private:
    std::mt19937_64 bits_;
};

/// A piece whose face cut is that outline; bound, so that the backing is the same. Moved to piece space.
Piece bound_piece(int number, const std::string& name, const Outline& face);
/// Turned all round by an inch.
Piece turned_piece(int number, const std::string& name, const Outline& face);

struct PanelKind {
    int least_corners = 3, most_corners = 9;
    double least_mm = 300, most_mm = 1400;  ///< from the middle to a corner
    bool arcs = true, rounds = true;
};
/// A star-shaped panel with some curved sides, some rounded corners.
Outline random_outline(Chance& chance, const PanelKind& kind = {});
Piece random_piece(Chance& chance, int number, const PanelKind& kind = {});

/// A turned post hole as in the trade's example: 2 in post, 2 1/2 in net, 1 in face cut, 3 in stitch circle (common practice).
void add_post_hole(Piece& piece, Vec2 centre);

/// Everything a sheet asks for, kept alive together.
struct Papers {
    PaperInput input;
    Goods goods;
    FinishSettings finish;
    std::vector<Panel> panels;
    std::vector<Piece> pieces;
    Layout layout;
    Takeoff takeoff;

    explicit Papers(std::vector<Piece> of);
    Papers(const Papers&) = delete;
    Papers& operator=(const Papers&) = delete;
};

/// All sheets of the room.
std::vector<Sheet> all_sheets(const Papers& papers);

}  // namespace spile::test
