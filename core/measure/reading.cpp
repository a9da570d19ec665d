#include "core/measure/reading.h"

#include <cstddef>

namespace spile {
namespace {

constexpr std::size_t longest_name = 12;

bool is_letter(char c) {
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}
bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

std::string lower(std::string_view word) {
    std::string out(word);
    for (char& c : out) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return out;
}

/// Words of the line's own language; no point may be called by one of them, in any case.
bool is_keyword(std::string_view word) {
    static const char* const words[] = {"on",      "at",    "off",    "left",    "right",  "rise",
                                        "through", "over",  "up",     "inward",  "in",     "out",
                                        "outward", "near",  "far",    "running", "square", "diameter",
                                        "rim",     "round", "height", "by",      "to"};
    const std::string w = lower(word);
    for (const char* k : words) {
        if (w == k) return true;
    }
    return false;
}

/// The line cut at white space; every piece remembers where it stood, so that lengths keep their typing.
class Line {
  public:
    explicit Line(std::string_view text) : text_(text) {
        std::size_t i = 0;
        while (i < text.size()) {
            while (i < text.size() && is_space(text[i])) ++i;
            const std::size_t start = i;
            while (i < text.size() && !is_space(text[i])) ++i;
            if (i > start) words_.push_back({start, i});
        }
    }

    std::size_t size() const { return words_.size(); }
    std::string_view word(std::size_t i) const {
        return i < size() ? text_.substr(words_[i].start, words_[i].end - words_[i].start)
                          : std::string_view{};
    }
    bool says(std::size_t i, const char* keyword) const { return i < size() && lower(word(i)) == keyword; }
    /// The typing of words first .. last-1.
    std::string_view between(std::size_t first, std::size_t last) const {
        if (first >= last || first >= size()) return {};
        return text_.substr(words_[first].start, words_[last - 1].end - words_[first].start);
    }
    std::size_t find(const char* keyword, std::size_t from) const {
        while (from < size() && !says(from, keyword)) ++from;
        return from;
    }

  private:
    struct Span {
        std::size_t start, end;
    };
    std::string_view text_;
    std::vector<Span> words_;
};

/// One parse: collects the findings of its line.
class Parser {
  public:
    Parser(std::string_view text, Unit unit) : text_(text), line_(text), unit_(unit) {}

    Result<Reading> run() {
        Reading reading;
        reading.line = std::string(text_);
        if (line_.size() == 0) {
            stop("reading-empty", "The line is empty.", "Write a reading, such as: A B 96 1/4");
        } else if (line_.says(1, "on")) {
            reading.what = baseline_offset();
        } else if (line_.says(1, "over")) {
            reading.what = over_up();
        } else if (line_.says(2, "rise")) {
            reading.what = rise();
        } else if (line_.says(2, "through")) {
            reading.what = through();
        } else if (line_.says(2, "running")) {
            reading.what = running();
        } else if (line_.says(1, "square")) {
            reading.what = square();
        } else if (line_.says(1, "diameter")) {
            const char* right = "K diameter 2 1/2";
            reading.what = Diameter{name(0, right), length(2, line_.size(), right)};
        } else if (line_.says(1, "height")) {
            const char* right = "P height 12 1/2";
            reading.what = Height{name(0, right), length(2, line_.size(), right)};
        } else if (line_.says(1, "rim")) {
            reading.what = rim();
        } else if (line_.says(1, "round")) {
            reading.what = corner_round();
        } else {
            reading.what = tie();
        }
        Result<Reading> result;
        if (!has_stop(findings_)) result.value = std::move(reading);
        result.findings = std::move(findings_);
        return result;
    }

  private:
    std::string quoted() const { return "\"" + std::string(text_) + "\""; }

    void add(Severity severity, const char* code, std::string says, std::string to_do) {
        Finding f;
        f.code = code;
        f.severity = severity;
        f.subject = {"tie", std::string(text_)};
        f.says = std::move(says);
        f.to_do = std::move(to_do);
        findings_.push_back(std::move(f));
    }
    void stop(const char* code, std::string says, std::string to_do) {
        add(Severity::stop, code, std::move(says), std::move(to_do));
    }

    std::string name(std::size_t i, const char* right) {
        const std::string word(line_.word(i));
        const std::string to_do = std::string("Write it like this: ") + right;
        if (word.empty()) {
            stop("reading-short", quoted() + " ends where the name of a point should stand.", to_do);
        } else if (is_keyword(word)) {
            stop("reading-name", quoted() + " has \"" + word + "\" where the name of a point should stand.",
                 to_do + ". No point may be called \"" + word + "\".");
        } else if (!is_letter(word[0])) {
            stop("reading-name",
                 quoted() + " has \"" + word +
                     "\" where the name of a point should stand; a name starts with a letter.",
                 to_do);
        } else if (word.size() > longest_name) {
            stop("reading-name",
                 "The name \"" + word + "\" has " + std::to_string(word.size()) +
                     " characters; at most 12 fit a sheet.",
                 "Give the point a shorter name.");
        } else {
            for (const char c : word) {
                if (is_letter(c) || is_digit(c) || c == '\'' || c == '_') continue;
                stop("reading-name",
                     "The name \"" + word + "\" in " + quoted() +
                         " holds something other than letters, digits, ' and _.",
                     to_do);
                break;
            }
        }
        return word;
    }

    TypedLength length(std::size_t first, std::size_t last, const char* right, bool allow_negative = false) {
        if (last > line_.size()) last = line_.size();
        const std::string_view typing = line_.between(first, last);
        if (typing.empty()) {
            stop("reading-short", quoted() + " lacks a length.", std::string("Write it like this: ") + right);
            return {};
        }
        Result<TypedLength> read = parse_length(typing, unit_, allow_negative);
        for (Finding& f : read.findings) {
            f.subject = {"tie", std::string(text_)};
            f.says = "In " + quoted() + ": " + f.says;
            findings_.push_back(std::move(f));
        }
        return read.value ? std::move(*read.value) : TypedLength{};
    }

    Tie tie() {
        const char* right = "A B 96 1/4";
        if (line_.size() >= 2 && !is_letter(line_.word(1)[0])) {
            stop("reading-one-point", quoted() + " names one point only; a tie runs between two.",
                 "Write both points, apart: A B 96 1/4");
            return {};
        }
        Tie t;
        t.from = name(0, right);
        t.to = name(1, right);
        std::size_t last = line_.size();
        if (last > 3 && line_.says(last - 1, "near")) t.touches = Tie::To::near_side;
        if (last > 3 && line_.says(last - 1, "far")) t.touches = Tie::To::far_side;
        if (t.touches != Tie::To::point) --last;
        t.distance = length(2, last, right);
        return t;
    }

    BaselineOffset baseline_offset() {
        const char* right = "P on A B at 34 1/2 off 12 left";
        BaselineOffset b;
        b.point = name(0, right);
        b.base_from = name(2, right);
        b.base_to = name(3, right);
        if (line_.size() == 4) {
            b.only_in_line = true;
            b.station = b.offset = TypedLength{"0", {0, 1}, unit_};
            return b;
        }
        if (!line_.says(4, "at")) {
            stop("reading-word", quoted() + " lacks \"at\" and how far along the baseline the point stands.",
                 std::string("Write it like this: ") + right);
            return b;
        }
        const std::size_t off = line_.find("off", 5);
        b.station = length(5, off, right, true);
        if (off < line_.size()) {
            const std::size_t last = line_.size() - 1;
            if (!line_.says(last, "left") && !line_.says(last, "right")) {
                stop("reading-side",
                     quoted() + " does not say on which side of " + b.base_from + " to " + b.base_to +
                         " the point stands.",
                     "End the line with left or right, as seen walking from " + b.base_from + " to " +
                         b.base_to + ".");
                return b;
            }
            b.left = line_.says(last, "left");
            b.offset = length(off + 1, last, right);
        } else {
            b.offset = TypedLength{"0", {0, 1}, unit_};
        }
        return b;
    }

    OverUp over_up() {
        const char* right = "K over 24 1/4 up 3";
        OverUp o;
        o.point = name(0, right);
        const std::size_t up = line_.find("up", 2);
        if (up == line_.size()) {
            stop("reading-word", quoted() + " has \"over\" but no \"up\".",
                 std::string("Write it like this: ") + right);
            return o;
        }
        o.over = length(2, up, right, true);
        o.up = length(up + 1, line_.size(), right, true);
        return o;
    }

    Rise rise() {
        const char* right = "C D rise 4 1/4 out";
        Rise r;
        r.from = name(0, right);
        r.to = name(1, right);
        const std::size_t last = line_.size() - 1;
        const bool out = line_.says(last, "out") || line_.says(last, "outward");
        const bool in = line_.says(last, "in") || line_.says(last, "inward");
        if (!out && !in) {
            stop("reading-side", quoted() + " does not say to which side the edge stands off its chord.",
                 "End the line with out (away from the floor) or inward (into the floor).");
            return r;
        }
        r.outward = out;
        r.rise = length(3, last, right);
        if (line_.says(last, "in") && last > 3 && is_digit(line_.word(last - 1).back())) {
            add(Severity::look, "reading-in",
                quoted() + ": \"in\" at the end is taken as into the floor, not as inches.",
                "Write inward for into the floor, or end the line with out if inches was meant.");
        }
        return r;
    }

    Through through() {
        const char* right = "C D through P Q";
        Through t;
        t.from = name(0, right);
        t.to = name(1, right);
        if (line_.size() < 4) {
            stop("reading-short", quoted() + " names no point that the curve passes.",
                 std::string("Write it like this: ") + right);
        }
        for (std::size_t i = 3; i < line_.size(); ++i) t.points.push_back(name(i, right));
        return t;
    }

    Running running() {
        const char* right = "A B running P 12, Q 24 1/2, R 36";
        Running r;
        r.from = name(0, right);
        r.to = name(1, right);
        // One stop up to each comma.
        std::size_t first = 3;
        for (std::size_t i = 3; i < line_.size(); ++i) {
            const bool comma = line_.word(i).back() == ',';
            if (!comma && i + 1 < line_.size()) continue;
            const std::string_view typed = line_.between(first, i + 1);
            r.stops.push_back(stop_at(comma ? typed.substr(0, typed.size() - 1) : typed, right));
            first = i + 1;
        }
        if (r.stops.empty()) {
            stop("reading-short", quoted() + " names no point on its way.",
                 std::string("Write it like this: ") + right);
        }
        return r;
    }

    Running::Stop stop_at(std::string_view typed, const char* right) {
        Parser one(typed, unit_);
        Running::Stop out;
        out.point = one.name(0, right);
        out.station = one.length(1, one.line_.size(), right);
        for (Finding& f : one.findings_) {
            f.subject = {"tie", std::string(text_)};
            findings_.push_back(std::move(f));
        }
        return out;
    }

    Square square() {
        const char* right = "B square A C";
        Square s;
        s.corner = name(0, right);
        s.one_arm = name(2, right);
        s.other_arm = name(3, right);
        if (line_.size() == 6 && line_.says(4, "by") && line_.word(5) == "3-4-5") {
            s.by_triangle = true;
        } else if (line_.size() > 4) {
            stop("reading-word", quoted() + " goes on behind its three points.",
                 std::string("Write it like this: ") + right + ", or B square A C by 3-4-5");
        }
        return s;
    }

    Rim rim() {
        const char* right = "K rim P Q R";
        Rim r;
        r.point = name(0, right);
        for (std::size_t i = 2; i < line_.size(); ++i) r.on_rim.push_back(name(i, right));
        if (line_.size() == 2) {
            stop("reading-short", quoted() + " names no point on the rim.",
                 std::string("Write it like this: ") + right);
        }
        return r;
    }

    CornerRound corner_round() {
        const char* right = "E round 2, or E round to T U";
        CornerRound c;
        c.corner = name(0, right);
        if (line_.says(2, "to")) {
            c.tangent = {name(3, right), name(4, right)};
            if (line_.size() > 5) {
                stop("reading-word", quoted() + " goes on behind its points.",
                     std::string("Write it like this: ") + right);
            }
        } else {
            c.radius = length(2, line_.size(), right);
        }
        return c;
    }

    std::string_view text_;
    Line line_;
    Unit unit_;
    std::vector<Finding> findings_;
};

}  // namespace

std::vector<std::string> points_named(const Reading& reading) {
    using Names = std::vector<std::string>;
    struct Named {
        Names operator()(const Tie& t) const { return {t.from, t.to}; }
        Names operator()(const BaselineOffset& b) const { return {b.point, b.base_from, b.base_to}; }
        Names operator()(const Rise& r) const { return {r.from, r.to}; }
        Names operator()(const Through& t) const { return with({t.from, t.to}, t.points); }
        Names operator()(const OverUp& o) const { return {o.point}; }
        Names operator()(const Running& r) const {
            Names names{r.from, r.to};
            for (const Running::Stop& s : r.stops) names.push_back(s.point);
            return names;
        }
        Names operator()(const Square& s) const { return {s.corner, s.one_arm, s.other_arm}; }
        Names operator()(const Diameter& d) const { return {d.point}; }
        Names operator()(const Rim& r) const { return with({r.point}, r.on_rim); }
        Names operator()(const CornerRound& c) const { return with({c.corner}, c.tangent); }
        Names operator()(const Height& h) const { return {h.point}; }

        static Names with(Names names, const Names& more) {
            names.insert(names.end(), more.begin(), more.end());
            return names;
        }
    };
    return std::visit(Named{}, reading.what);
}

Result<Reading> parse_reading_line(std::string_view line, Unit default_unit) {
    return Parser(line, default_unit).run();
}

}  // namespace spile
