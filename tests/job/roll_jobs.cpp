#include "tests/job/roll_jobs.h"

#include <cmath>
#include <random>
#include <vector>

namespace spile::testing {
namespace {

/// Tenths of a millimetre: what is written is what is meant.
std::string number(double mm) {
    const long tenths = std::lround(10 * mm);
    const long whole = std::labs(tenths);
    return (tenths < 0 ? "-" : "") + std::to_string(whole / 10) + "." + std::to_string(whole % 10);
}

class RollJob {
  public:
    explicit RollJob(unsigned seed) : random_(seed) {}

    std::string text() {
        columns_ = 1 + below(3);
        rows_ = 1 + below(3);
        std::string spaces = space(), panels;
        for (int i = 0; i < columns_; ++i)
            for (int j = 0; j < rows_; ++j)
                if (i + j == 0 || below(6) > 0) panels += (panels.empty() ? "" : ",\n    ") + panel(i, j);
        if (below(3) == 0) panels += ",\n    { \"id\": \"twin\", \"twin_of\": \"p0-0\" }";
        for (int k = below(4); k > 0; --k)
            panels += ",\n    { \"id\": \"m" + std::to_string(k) + "\", \"mat\": \"" +
                      number(from(150, 900)) + " x " + number(from(100, 700)) + ", " + finish() + "\" }";
        return "{ \"spile\": 1, \"units\": \"mm\", \"mark_on\": \"back\",\n  " + goods() +
               ",\n  \"spaces\": [" + spaces + "],\n  \"panels\": [" + panels + "] }\n";
    }

  private:
    int below(int n) { return static_cast<int>(random_() % static_cast<unsigned>(n)); }
    double from(double low, double high) {
        return low + (high - low) * static_cast<double>(random_() % 10007) / 10006;
    }
    std::string finish() {
        static const char* const all[] = {"bound", "turned", "sealed"};
        return all[below(3)];
    }
    static std::string corner(int i, int j) { return "P" + std::to_string(i) + "_" + std::to_string(j); }
    static std::string quoted(const std::string& words) { return "\"" + words + "\""; }

    std::string space() {
        const double cell_x = from(350, 800), cell_y = from(300, 650);
        std::string lines;
        const auto line = [&](const std::string& words) {
            lines += (lines.empty() ? "" : ", ") + quoted(words);
        };
        const auto point = [&](const std::string& name, double x, double y) {
            line(name + " over " + number(x) + " up " + number(y));
        };
        for (int i = 0; i <= columns_; ++i)
            for (int j = 0; j <= rows_; ++j)
                point(corner(i, j), cell_x * i + from(-60, 60) + 500, cell_y * j + from(-60, 60) + 500);
        for (int i = 0; i < columns_; ++i)
            for (int j = 0; j < rows_; ++j) {
                point("C" + std::to_string(i) + "_" + std::to_string(j),
                      cell_x * (i + 0.5) + from(-40, 40) + 500, cell_y * (j + 0.5) + from(-40, 40) + 500);
            }
        // Sides that bow, shared ones too: along the grid, so that both neighbours have them.
        for (int i = 0; i < columns_; ++i)
            for (int j = 0; j <= rows_; ++j)
                if (below(3) == 0)
                    line(corner(i, j) + " " + corner(i + 1, j) + " rise " + number(from(2, 40)) +
                         (below(2) ? " out" : " inward"));
        const double way = from(0, 6.28);
        point("B1", 300, 300);
        point("B2", 300 + 900 * std::cos(way), 300 + 900 * std::sin(way));
        return "{ \"id\": \"sole\", \"walk\": [" + quoted(corner(0, 0)) + ", " + quoted(corner(columns_, 0)) +
               ", " + quoted(corner(columns_, rows_)) + ", " + quoted(corner(0, rows_)) +
               "], \"bow\": [\"B1\", \"B2\"],\n    \"ties\": [" + lines + "] }";
    }

    std::string panel(int i, int j) {
        const std::string id = "p" + std::to_string(i) + "-" + std::to_string(j),
                          middle = "C" + std::to_string(i) + "_" + std::to_string(j);
        const std::string corners[] = {corner(i, j), corner(i + 1, j), corner(i + 1, j + 1),
                                       corner(i, j + 1)};
        const bool joint[] = {j > 0, i + 1 < columns_, j + 1 < rows_, i > 0};
        const std::string edge = finish();
        std::string out = "{ \"id\": " + quoted(id) + ", \"corners\": [";
        for (int k = 0; k < 4; ++k) out += (k ? ", " : "") + quoted(corners[k]);
        out += "], \"finish\": " + quoted(edge);
        if (edge == "bound" || below(2)) out += ", \"corner_radius\": " + number(from(30, 60));
        out += ", \"edges\": {";
        for (int k = 0; k < 4; ++k)
            out += (k ? ", " : " ") + quoted(corners[k] + " " + corners[(k + 1) % 4]) +
                   ": { \"situation\": " +
                   quoted(joint[k]   ? "joint"
                          : below(4) ? "wall"
                                     : "free") +
                   " }";
        out += " }";
        const int hole = below(5);
        if (hole == 0)
            out += ", \"openings\": [{ \"id\": \"post\", \"at\": " + quoted(middle) +
                   ", \"diameter\": " + number(from(45, 120)) + " }]";
        if (hole == 1)
            out += ", \"openings\": [{ \"id\": \"box\", \"at\": " + quoted(middle) + ", \"size\": \"" +
                   number(from(60, 150)) + " x " + number(from(50, 120)) +
                   "\", \"radius\": 20, \"turn\": " + std::to_string(below(180)) + " }]";
        if (hole == 2)
            out += ", \"openings\": [{ \"id\": \"pedestal\", \"at\": " + quoted(middle) +
                   ", \"diameter\": " + number(from(180, 240)) +
                   ", \"finish\": \"bound\", \"slit\": \"least seen\" }]";
        if (below(6) == 0)
            out += ", \"applied\": [{ \"id\": \"pad\", \"kind\": \"heel pad\", \"at\": " + quoted(middle) +
                   ", \"size\": \"" + number(from(80, 200)) + " x " + number(from(60, 150)) + "\" }]";
        return out + " }";
    }

    std::string goods() {
        static const char* const turnings[] = {"one way", "half turn", "quarter turn"};
        const double width = from(1150, 2000);
        std::string out = "\"goods\": { \"width\": " + number(width + 20) +
                          ", \"usable_width\": " + number(width) +
                          ", \"gap\": " + number(below(4) ? from(1, 12) : 0) +
                          ", \"direction\": " + quoted(turnings[below(3)]);
        if (below(2)) out += ", \"edge_gap\": " + number(below(4) ? from(0, 20) : 0);
        if (below(2)) out += ", \"step\": " + number(from(50, 1000));
        if (below(5) == 0) out += ", \"least_order\": " + number(from(0, 4000));
        const int pattern = below(5);
        if (pattern >= 2) {
            const double along = from(60, 500), across = from(40, 300);
            out += ", \"repeat\": { ";
            if (pattern == 2) out += "\"along\": " + number(along);
            if (pattern == 3) out += "\"along\": " + number(along) + ", \"across\": " + number(across);
            if (pattern == 4)
                out += "\"along\": " + number(2 * along) + ", \"across\": " + number(across) +
                       ", \"drop\": " + number(along);
            out += below(4) ? " }" : ", \"carried\": false }";
        }
        if (const int flaws = below(4); flaws > 0) {
            out += ", \"flaws\": [";
            for (int k = 0; k < flaws; ++k) {
                const double at = from(0, 2500), near = from(0, width - 200);
                out += std::string(k ? ", " : "") + "{ \"from\": " + number(at) +
                       ", \"to\": " + number(at + from(1, 90));
                if (below(4))
                    out += ", \"near\": " + number(near) + ", \"far\": " + number(near + from(1, 190));
                out += " }";
            }
            out += "]";
        }
        if (below(3) == 0)
            out += ", \"fillers\": [{ \"name\": \"step\", \"size\": \"" + number(from(100, 400)) + " x " +
                   number(from(80, 300)) +
                   "\", \"most\": 3 }, { \"name\": \"coaster\", \"diameter\": " + number(from(60, 110)) +
                   ", \"most\": 5, \"direction\": \"none\" }]";
        return out + " }";
    }

    std::mt19937 random_;
    int columns_ = 1, rows_ = 1;
};

}  // namespace

std::string random_roll_job(unsigned seed) {
    return RollJob(seed).text();
}

}  // namespace spile::testing
