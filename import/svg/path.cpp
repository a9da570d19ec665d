#include "import/svg/path.h"

#include <charconv>
#include <cmath>

#include "import/outlines/drawing.h"

namespace spile::import {
namespace {

constexpr double kPi = 3.14159265358979323846;

class Scanner {
  public:
    explicit Scanner(std::string_view text) : text_(text) {}

    void skip() {
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == ',' || text_[at_] == '\t' ||
                                      text_[at_] == '\n' || text_[at_] == '\r'))
            ++at_;
    }
    bool done() {
        skip();
        return at_ >= text_.size();
    }
    /// A command letter, or 0.
    char letter() {
        skip();
        if (at_ >= text_.size()) return 0;
        const char c = text_[at_];
        const bool is = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        if (is) ++at_;
        return is ? c : '\0';
    }
    bool number(double& out) {
        skip();
        std::size_t from = at_;
        if (from < text_.size() && text_[from] == '+') ++from;
        const auto [end, error] = std::from_chars(text_.data() + from, text_.data() + text_.size(), out);
        if (error != std::errc() || !std::isfinite(out)) return false;
        at_ = static_cast<std::size_t>(end - text_.data());
        return true;
    }
    /// Flags of an arc may stand without a space between them.
    bool flag(bool& out) {
        skip();
        if (at_ >= text_.size() || (text_[at_] != '0' && text_[at_] != '1')) return false;
        out = text_[at_++] == '1';
        return true;
    }

  private:
    std::string_view text_;
    std::size_t at_ = 0;
};

class Walker {
  public:
    Walker(std::string_view data, int chords) : scan_(data), chords_(chords) {}

    std::vector<SubPath> run(bool& sound) {
        char command = 0;
        while (!scan_.done()) {
            const char next = scan_.letter();
            if (next != 0) {
                command = next;
            } else if (command == 'M') {
                command = 'L';
            } else if (command == 'm') {
                command = 'l';
            } else if (command == 'Z' || command == 'z') {
                sound = false;
                break;
            }
            if (!step(command) || total_ > limits::edges) {
                sound = false;
                break;
            }
        }
        return std::move(out_);
    }

  private:
    bool pair(Vec2& p, bool relative) {
        if (!scan_.number(p.x) || !scan_.number(p.y)) return false;
        if (relative) p = p + at_;
        return true;
    }

    void begin(Vec2 p) {
        out_.push_back({{p}, false});
        at_ = start_ = p;
    }
    /// A drawing command behind a closed subpath begins a new one where that began.
    std::vector<Vec2>& points() {
        if (out_.empty() || out_.back().closed) out_.push_back({{at_}, false});
        return out_.back().points;
    }
    void to(Vec2 p) {
        points().push_back(p);
        at_ = p;
        ++total_;
    }

    void cubic(Vec2 b, Vec2 c, Vec2 d) {
        const Vec2 a = at_;
        points();
        for (int i = 1; i <= chords_; ++i) {
            const double t = static_cast<double>(i) / chords_, s = 1 - t;
            to(i == chords_ ? d
                            : (s * s * s) * a + (3 * s * s * t) * b + (3 * s * t * t) * c + (t * t * t) * d);
        }
        handle_ = c;
    }
    void quadratic(Vec2 b, Vec2 c) {
        const Vec2 a = at_;
        cubic(lerp(a, b, 2.0 / 3), lerp(c, b, 2.0 / 3), c);
        handle_ = b;
    }

    bool step(char command) {
        const bool relative = command >= 'a';
        const char upper = relative ? static_cast<char>(command - 'a' + 'A') : command;
        if (upper != 'M' && out_.empty()) return false;
        Vec2 a, b, c;
        double x = 0;
        const char before = before_;
        before_ = upper;
        const Vec2 reflected = 2 * at_ - handle_;
        switch (upper) {
            case 'M':
                if (!pair(a, relative)) return false;
                begin(a);
                return true;
            case 'L':
                if (!pair(a, relative)) return false;
                to(a);
                return true;
            case 'H':
                if (!scan_.number(x)) return false;
                to({relative ? at_.x + x : x, at_.y});
                return true;
            case 'V':
                if (!scan_.number(x)) return false;
                to({at_.x, relative ? at_.y + x : x});
                return true;
            case 'C':
                if (!pair(a, relative) || !pair(b, relative) || !pair(c, relative)) return false;
                cubic(a, b, c);
                return true;
            case 'S':
                if (!pair(b, relative) || !pair(c, relative)) return false;
                cubic(before == 'C' || before == 'S' ? reflected : at_, b, c);
                return true;
            case 'Q':
                if (!pair(a, relative) || !pair(b, relative)) return false;
                quadratic(a, b);
                return true;
            case 'T':
                if (!pair(b, relative)) return false;
                quadratic(before == 'Q' || before == 'T' ? reflected : at_, b);
                return true;
            case 'A':
                return ellipse(relative);
            case 'Z':
                if (out_.back().points.size() > 1) out_.back().closed = true;
                at_ = start_ = out_.back().points.front();
                return true;
            default:
                return false;
        }
    }

    bool ellipse(bool relative) {
        double rx = 0, ry = 0, turn = 0;
        bool large = false, sweep = false;
        Vec2 end;
        if (!scan_.number(rx) || !scan_.number(ry) || !scan_.number(turn) || !scan_.flag(large) ||
            !scan_.flag(sweep) || !pair(end, relative))
            return false;
        std::vector<Vec2>& way = points();
        const std::size_t had = way.size();
        add_ellipse_arc(way, at_, std::fabs(rx), std::fabs(ry), turn, large, sweep, end, 8 * chords_);
        total_ += way.size() - had;
        at_ = end;
        return true;
    }

    Scanner scan_;
    int chords_;
    std::vector<SubPath> out_;
    Vec2 at_, start_, handle_;
    char before_ = 0;
    std::size_t total_ = 0;
};

}  // namespace

void add_ellipse_arc(std::vector<Vec2>& points, Vec2 a, double rx, double ry, double turn_deg, bool large,
                     bool sweep, Vec2 b, int chords) {
    if (a == b) return;
    if (!(rx > 0) || !(ry > 0)) {
        points.push_back(b);
        return;
    }
    const double c = std::cos(turn_deg * kPi / 180), s = std::sin(turn_deg * kPi / 180);
    const Vec2 half = 0.5 * (a - b);
    const Vec2 p{c * half.x + s * half.y, -s * half.x + c * half.y};
    // Radii too small for the ends grow until they just reach.
    const double lack = p.x * p.x / (rx * rx) + p.y * p.y / (ry * ry);
    if (lack > 1) rx *= std::sqrt(lack), ry *= std::sqrt(lack);
    const double n = rx * rx * ry * ry - rx * rx * p.y * p.y - ry * ry * p.x * p.x;
    const double d = rx * rx * p.y * p.y + ry * ry * p.x * p.x;
    const double root = (large == sweep ? -1 : 1) * std::sqrt(std::max(0.0, n / d));
    const Vec2 mid{root * rx * p.y / ry, -root * ry * p.x / rx};
    const Vec2 centre = 0.5 * (a + b) + Vec2{c * mid.x - s * mid.y, s * mid.x + c * mid.y};
    const double from = std::atan2((p.y - mid.y) / ry, (p.x - mid.x) / rx);
    double turn = std::atan2((-p.y - mid.y) / ry, (-p.x - mid.x) / rx) - from;
    if (sweep && turn < 0) turn += 2 * kPi;
    if (!sweep && turn > 0) turn -= 2 * kPi;
    for (int i = 1; i < chords; ++i) {
        const double w = from + turn * i / chords;
        const Vec2 e{rx * std::cos(w), ry * std::sin(w)};
        points.push_back(centre + Vec2{c * e.x - s * e.y, s * e.x + c * e.y});
    }
    points.push_back(b);
}

std::vector<SubPath> read_path(std::string_view data, int chords, bool& sound) {
    return Walker(data, chords).run(sound);
}

std::vector<double> read_numbers(std::string_view text) {
    Scanner scan(text);
    std::vector<double> out;
    double x = 0;
    while (!scan.done() && scan.number(x)) out.push_back(x);
    return out;
}

}  // namespace spile::import
