#include "import/csv/csv.h"

#include <charconv>
#include <cmath>
#include <string_view>

#include "core/base/stop.h"
#include "core/base/text.h"

namespace spile::import {
namespace {

Finding fault(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"drawing", ""});
}

std::vector<std::string> cells_of(std::string_view line, char between) {
    std::vector<std::string> cells;
    std::size_t at = 0;
    for (;;) {
        const std::size_t end = line.find(between, at);
        std::string cell(trimmed(line.substr(at, end == line.npos ? line.npos : end - at)));
        if (cell.size() >= 2 && cell.front() == '"' && cell.back() == '"')
            cell = cell.substr(1, cell.size() - 2);
        cells.push_back(std::move(cell));
        if (end == line.npos) return cells;
        at = end + 1;
    }
}

bool number(std::string cell, bool decimal_comma, double& out) {
    if (decimal_comma)
        for (char& c : cell)
            if (c == ',') c = '.';
    const char* from = cell.data() + (!cell.empty() && cell[0] == '+' ? 1 : 0);
    const auto [end, error] = std::from_chars(from, cell.data() + cell.size(), out);
    return error == std::errc() && end == cell.data() + cell.size() && std::isfinite(out) &&
           std::fabs(out) < 1e9;
}

/// "x mm", "over (in)": the unit that a heading names.
std::optional<double> unit_in(const std::string& heading) {
    std::string word;
    const std::pair<const char*, double> units[] = {{"mm", 1},     {"cm", 10},     {"m", 1000},
                                                    {"in", 25.4},  {"inch", 25.4}, {"inches", 25.4},
                                                    {"ft", 304.8}, {"feet", 304.8}};
    for (std::size_t i = 0; i <= heading.size(); ++i) {
        const char c = i < heading.size() ? heading[i] : ' ';
        const char low = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        if (low >= 'a' && low <= 'z') {
            word += low;
            continue;
        }
        for (const auto& [name, mm] : units)
            if (word == name) return mm;
        word.clear();
    }
    return std::nullopt;
}

class Reader {
  public:
    Result<Drawing> run(const std::string& text) {
        std::size_t at = text.compare(0, 3, "\xEF\xBB\xBF") == 0 ? 3 : 0;
        int number_of_line = 0;
        while (at < text.size()) {
            std::size_t end = text.find('\n', at);
            if (end == text.npos) end = text.size();
            ++number_of_line;
            if (!line(std::string_view(text).substr(at, end - at), number_of_line))
                return Result<Drawing>::refuse(std::move(*fault_));
            at = end + 1;
        }
        close();
        return Result<Drawing>::ok(std::move(drawing_));
    }

  private:
    bool line(std::string_view raw, int line_number) {
        const std::string_view text = trimmed(raw);
        if (!text.empty() && text[0] == '#') return true;
        if (text.empty()) {
            close();
            return true;
        }
        if (between_ == 0)
            between_ = text.find(';') != text.npos ? ';' : text.find('\t') != text.npos ? '\t' : ',';
        const std::vector<std::string> cells = cells_of(text, between_);
        Vec2 p;
        const bool decimal = between_ != ',';
        if (cells.size() < 2 || !number(cells[0], decimal, p.x) || !number(cells[1], decimal, p.y)) {
            if (points_.empty() && drawing_.lines.empty() && !headed_) return heading(cells);
            fault_ = fault("not-csv",
                           "Line " + std::to_string(line_number) + " of the file is \"" +
                               std::string(text.substr(0, 40)) + "\": it is two numbers, over and up.",
                           "Write one point a line, \"24.25, 3\"; an empty line between outlines.");
            return false;
        }
        if (layer_column_ > 0 && cells.size() > layer_column_ && !points_.empty() &&
            cells[layer_column_] != layer_)
            close();
        if (layer_column_ > 0 && cells.size() > layer_column_) layer_ = cells[layer_column_];
        if (points_.empty()) first_line_ = line_number;
        points_.push_back(p);
        if (++total_ <= limits::edges && drawing_.lines.size() <= limits::lines) return true;
        fault_ = fault("drawing-too-large", "The file holds more than 200000 points or 20000 outlines.",
                       "Leave in it what a panel needs.");
        return false;
    }

    bool heading(const std::vector<std::string>& cells) {
        headed_ = true;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            if (i < 2 && !drawing_.mm_per_unit) drawing_.mm_per_unit = unit_in(cells[i]);
            if (i >= 2 && (cells[i] == "layer" || cells[i] == "outline")) layer_column_ = i;
        }
        return true;
    }

    void close() {
        while (points_.size() > 1 && points_.back() == points_.front()) points_.pop_back();
        DrawnLine line{layer_, {}, true, first_line_};
        for (std::size_t i = 0; i < points_.size() && points_.size() > 2; ++i) {
            const Vec2 a = points_[i], b = points_[(i + 1) % points_.size()];
            if (!(a == b)) line.edges.push_back({a, b, 0, 0});
        }
        if (!line.edges.empty()) drawing_.lines.push_back(std::move(line));
        points_.clear();
    }

    Drawing drawing_;
    std::vector<Vec2> points_;
    std::optional<Finding> fault_;
    std::string layer_;
    std::size_t layer_column_ = 0, total_ = 0;
    int first_line_ = 0;
    char between_ = 0;
    bool headed_ = false;
};

}  // namespace

Result<Drawing> read_csv(const std::string& bytes) {
    if (bytes.size() > limits::bytes)
        return Result<Drawing>::refuse(
            fault("drawing-too-large", "The file is larger than 20 MB.", "Leave in it what a panel needs."));
    return Reader().run(bytes);
}

}  // namespace spile::import
