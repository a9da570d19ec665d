// Layouts with the pieces turned as goods of one kind allow: a first one, then rounds that shorten it.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "core/base/run_context.h"
#include "core/layout/solve/prepare.h"
#include "core/layout/solve/search.h"

namespace spile::lay {

/// Layouts by putting pieces down in one order after another; the shortest is kept.
class Orders {
  public:
    Orders(const FitTable& table, const Prepared& prepared, std::uint64_t seed);

    /// Takes the next of the usual orders. False: there is none left.
    bool next_usual(const std::function<bool()>& stop);
    /// The best order with some exchanged. Requires: a layout.
    void disturbed(const std::function<bool()>& stop);

    Spots best;  ///< empty: none yet
    std::int64_t length = 0;

  private:
    void consider(const std::vector<int>& order, const std::function<bool()>& stop);

    const FitTable& table_;
    const Prepared& prepared_;
    Random random_;
    std::vector<std::vector<int>> usual_;
    std::size_t next_ = 0;
    std::vector<int> best_order_;
};

/// All that is tried with one freedom to turn. Goods that allow more turns are laid out on several levels, of which every
/// freer one takes over what is shorter from the one below and never the other way: so more freedom never ends longer.
class Level {
  public:
    Level(const std::vector<LayoutPiece>& pieces, const Goods& goods, Resolution resolution,
          const RunContext& run);

    Turning turning() const { return turning_; }
    const Prepared& prepared() const { return prepared_; }
    const FitTable& table() const { return table_; }
    /// Does every piece find room across (and, on an offcut, along) in one of its turns? Else names the first that does not.
    std::optional<std::size_t> without_room() const;
    /// Do the pieces carry a pattern, and only step from place to place?
    bool in_steps() const { return in_steps_; }
    bool same_freedom_as(const Level& other) const;

    /// The usual orders, of very many different pieces only the first. `stop` ends it; what it has by then is kept.
    void lay_first(const std::function<bool()>& stop);
    bool any() const { return !best_.empty(); }
    const Spots& best() const { return best_; }
    std::int64_t length() const { return length_; }

    /// Before rounds. Requires: a layout. `enough`: a layout this short ends it, units.
    void begin_rounds(double enough, int threads, const std::function<bool()>& stop);
    bool reached() const;  ///< nothing shorter is wanted
    bool ended() const { return reached() || no_order_left_; }
    void round();

    /// A shorter layout of the same pieces on a level of less freedom becomes the best of this one.
    void take_over(const Level& less_free);

  private:
    bool searched() const { return !in_steps_ && prepared_.problem.shapes.size() <= kMostSearched; }
    void keep(const Spots& spots);

    /// Every pair of different shapes takes some thousand bytes of depths: of more only orders are tried.
    static constexpr std::size_t kMostSearched = 300;

    std::size_t pieces_;
    Turning turning_;
    const RunContext& run_;
    Prepared prepared_;
    FitTable table_;
    bool in_steps_;
    Orders orders_;
    Spots best_;
    std::int64_t length_ = 0;
    double enough_ = 0;
    std::function<bool()> stop_;
    bool no_order_left_ = false;
    std::unique_ptr<FieldTable> fields_;
    std::unique_ptr<Search> search_;
};

}  // namespace spile::lay
