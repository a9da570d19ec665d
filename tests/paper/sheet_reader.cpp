#include "tests/paper/sheet_reader.h"

#include <algorithm>
#include <cmath>
#include <regex>
#include <sstream>
#include <stdexcept>

namespace spile::test {
namespace {

const std::string kSlash = "\u2044";
const std::string kFigure = "([0-9]+(?: [0-9]+\u2044[0-9]+|\\.[0-9]+|\u2044[0-9]+)?)";

double figure(const std::string& text) {
    const auto f = read_figure(text);
    if (!f) throw std::runtime_error("no figure: " + text);
    return *f;
}

std::vector<std::string> split(const std::string& text, const std::string& by) {
    std::vector<std::string> parts;
    std::size_t from = 0;
    for (std::size_t at; (at = text.find(by, from)) != std::string::npos; from = at + by.size())
        parts.push_back(text.substr(from, at - from));
    parts.push_back(text.substr(from));
    return parts;
}

/// "5, 6 and 7"
std::vector<std::string> list(std::string text) {
    text = std::regex_replace(text, std::regex(" and "), ", ");
    std::vector<std::string> out;
    for (const std::string& s : split(text, ","))
        out.push_back(std::regex_replace(s, std::regex("\\s+"), ""));
    return out;
}

/// Cells of the table: a heading "mark | over | up | try to", then rows under it whose cells stand under its words.
void read_table(const Page& page, ReadSheet& out) {
    std::vector<const Text*> texts;
    for (const Item& item : page.items)
        if (const Text* t = std::get_if<Text>(&item)) texts.push_back(t);
    for (std::size_t i = 0; i + 3 < texts.size(); ++i) {
        if (texts[i]->utf8 != "mark" || texts[i + 1]->utf8 != "over" || texts[i + 2]->utf8 != "up") continue;
        const double mark = texts[i]->at_mm.x, over = texts[i + 1]->at_mm.x, up = texts[i + 2]->at_mm.x;
        double y = texts[i]->at_mm.y;
        for (std::size_t k = i + 4; k + 2 < texts.size(); ++k) {
            // A row: three texts on one baseline under the three words, the next row down.
            if (texts[k]->at_mm.x != mark || texts[k]->at_mm.y <= y || texts[k]->at_mm.y > y + 20) break;
            y = texts[k]->at_mm.y;
            if (texts[k + 1]->at_mm.y != y) continue;  // a heading
            if (texts[k + 1]->at_mm.x != over || texts[k + 2]->at_mm.x != up) break;
            out.order.push_back(texts[k]->utf8);
            out.marks[texts[k]->utf8] =
                out.unit_mm * Vec2{figure(texts[k + 1]->utf8), figure(texts[k + 2]->utf8)};
            k += 2;
            if (k + 1 < texts.size() && texts[k + 1]->at_mm.y == y) ++k;
        }
    }
}

void read_steps(ReadSheet& out) {
    const std::string& w = out.words;
    const auto all = [&](const std::string& pattern, auto use) {
        const std::regex r(pattern);
        for (std::sregex_iterator m(w.begin(), w.end(), r), end; m != end; ++m) use(*m);
    };
    const auto index = [&](const std::string& mark) {
        return std::find(out.order.begin(), out.order.end(), mark) - out.order.begin();
    };
    all("(Join|Join, dashed,|Draw) ([0-9a-z]+(?:- ?[0-9a-z]+)+|[0-9a-z]+ to [0-9a-z]+ in order(?: and back "
        "to "
        "[0-9a-z]+)?)([^:]*): (a hole, )?(CUT THROUGH|BACKING ONLY)",
        [&](const std::smatch& m) {
            ReadLine line;
            line.through = m[5] == "CUT THROUGH";
            line.hole = m[4].matched;
            const std::string chain = std::regex_replace(m[2].str(), std::regex("- "), "-");
            std::smatch in_order;
            if (std::regex_match(chain, in_order,
                                 std::regex("(\\w+) to (\\w+) in order( and back to (\\w+))?"))) {
                for (auto i = index(in_order[1]); i <= index(in_order[2]); ++i)
                    line.chain.push_back(out.order[static_cast<std::size_t>(i)]);
                if (in_order[3].matched) line.chain.push_back(in_order[4]);
            } else {
                line.chain = split(chain, "-");
            }
            line.closed = line.chain.front() == line.chain.back();
            out.lines.push_back(line);
        });
    all("(\\w+) to (\\w+) ?: bend a batten through ((?:\\w+(?:, | and )?)+) ?\\.", [&](const std::smatch& m) {
        out.curves[m[1]] = {m[1], m[2], ReadCurve::How::batten, list(m[3]), 0, true};
    });
    all("(\\w+) to (\\w+) ?: round a disc of " + kFigure +
            " (?:in|mm) radius laid to both, bulging into the (waste|piece)",
        [&](const std::smatch& m) {
            out.curves[m[1]] = {m[1],           m[2], ReadCurve::How::disc, {}, out.unit_mm * figure(m[3]),
                                m[4] == "waste"};
        });
    all("(\\w+) to (\\w+) ?: trammel at " + kFigure +
            " (?:in|mm) ?; cross it from both marks (beyond the piece|on the waste side)",
        [&](const std::smatch& m) {
            out.curves[m[1]] = {m[1],
                                m[2],
                                ReadCurve::How::swing,
                                {},
                                out.unit_mm * figure(m[3]),
                                m[4] == "beyond the piece"};
        });
    all("Round ([^:]*?) with a disc of " + kFigure + " (?:in|mm) radius", [&](const std::smatch& m) {
        const std::string marks = std::regex_replace(m[1].str(), std::regex("\\([^)]*\\)"), "");
        for (const std::string& mark : list(marks)) out.rounds[mark] = out.unit_mm * figure(m[2]);
    });
    all("(\\w+)\u2013(\\w+) must read " + kFigure, [&](const std::smatch& m) {
        out.checks.push_back({m[1], m[2], out.unit_mm * figure(m[3])});
    });
    all("from (\\w+) swing ([^:]*?line|[^:]*?(?:THROUGH|ONLY)) ?\\.", [&](const std::smatch& m) {
        const std::string circles = m[2];
        const std::regex one(kFigure + " (CUT THROUGH|BACKING ONLY|stitch line)");
        for (std::sregex_iterator c(circles.begin(), circles.end(), one), end; c != end; ++c)
            out.circles.push_back({m[1], (*c)[2], out.unit_mm * figure((*c)[1])});
    });
}

// --- the hand -----------------------------------------------------------------------------------------------

constexpr double kStep = 0.5;  ///< mm between the points of a drawn line

void line_to(std::vector<Vec2>& points, Vec2 to) {
    const Vec2 from = points.back();
    const int n = 1 + static_cast<int>(distance(from, to) / kStep);
    for (int i = 1; i <= n; ++i) points.push_back(from + (static_cast<double>(i) / n) * (to - from));
}

/// The bend of a thin batten held at points: the curve of least bending through them, found by solving for the second
/// derivatives with a plain elimination of the full system.
void batten(std::vector<Vec2>& out, const std::vector<Vec2>& p) {
    const std::size_t n = p.size();
    std::vector<double> h(n - 1);
    for (std::size_t i = 0; i + 1 < n; ++i) h[i] = distance(p[i], p[i + 1]);
    std::vector<std::vector<double>> a(n, std::vector<double>(n + 2, 0));
    for (std::size_t i = 0; i < n; ++i) {
        if (i == 0 || i + 1 == n) {
            a[i][i] = 1;
            continue;
        }
        a[i][i - 1] = h[i - 1] / 6;
        a[i][i] = (h[i - 1] + h[i]) / 3;
        a[i][i + 1] = h[i] / 6;
        const Vec2 r = (p[i + 1] - p[i]) / h[i] - (p[i] - p[i - 1]) / h[i - 1];
        a[i][n] = r.x;
        a[i][n + 1] = r.y;
    }
    for (std::size_t c = 0; c < n; ++c)
        for (std::size_t r = 0; r < n; ++r) {
            if (r == c || a[r][c] == 0) continue;
            const double f = a[r][c] / a[c][c];
            for (std::size_t k = c; k < n + 2; ++k) a[r][k] -= f * a[c][k];
        }
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const auto bend = [&](std::size_t k) { return Vec2{a[k][n] / a[k][k], a[k][n + 1] / a[k][k]}; };
        const Vec2 m0 = bend(i), m1 = bend(i + 1);
        const int steps = 2 + static_cast<int>(h[i] / kStep);
        for (int k = 1; k <= steps; ++k) {
            const double t = h[i] * k / steps, u = h[i] - t;
            out.push_back(u * u * u / (6 * h[i]) * m0 + t * t * t / (6 * h[i]) * m1 +
                          (u / h[i]) * (p[i] - h[i] * h[i] / 6 * m0) +
                          (t / h[i]) * (p[i + 1] - h[i] * h[i] / 6 * m1));
        }
    }
}

void arc(std::vector<Vec2>& out, Vec2 a, Vec2 b, double radius, bool bulges_right) {
    const Vec2 middle = 0.5 * (a + b), d = b - a;
    const double away = std::sqrt(std::max(0.0, radius * radius - norm2(d) / 4));
    const Vec2 left = left_of(unit(d));
    const Vec2 centre = bulges_right ? middle + away * left : middle - away * left;
    double from = std::atan2(a.y - centre.y, a.x - centre.x), to = std::atan2(b.y - centre.y, b.x - centre.x);
    // Bulging right of a -> b the arc turns left.
    if (bulges_right && to < from) to += 2 * std::acos(-1.0);
    if (!bulges_right && to > from) to -= 2 * std::acos(-1.0);
    const int n = 2 + static_cast<int>(radius * std::fabs(to - from) / kStep);
    for (int i = 1; i <= n; ++i) {
        const double t = from + (to - from) * i / n;
        out.push_back(i == n ? b : centre + radius * Vec2{std::cos(t), std::sin(t)});
    }
}

double away(const std::vector<Vec2>& chain, Vec2 p, std::size_t* where = nullptr) {
    double best = 1e300;
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) {
        const Vec2 d = chain[i + 1] - chain[i];
        const double l2 = norm2(d);
        const double t = l2 > 0 ? std::clamp(dot(p - chain[i], d) / l2, 0.0, 1.0) : 0;
        const double at = distance(p, chain[i] + t * d);
        if (at < best) {
            best = at;
            if (where) *where = i;
        }
    }
    return best;
}

/// A disc pushed into the corner between two drawn stretches until it touches both: slid out along the first, touching
/// it, until it is clear of the second.
void push_disc(std::vector<Vec2>& before, std::vector<Vec2>& after, double radius,
               std::vector<Vec2>& arc_out) {
    const Vec2 u = unit(before[before.size() - 1] - before[before.size() - 2]), v = unit(after[1] - after[0]);
    const double side = cross(u, v) > 0 ? 1 : -1;
    const auto centre_at = [&](double back) {  // `back` mm from the corner along the first stretch
        std::size_t i = before.size() - 1;
        double left = back;
        while (i > 1 && left > distance(before[i], before[i - 1]))
            left -= distance(before[i], before[i - 1]), --i;
        const Vec2 d = unit(before[i] - before[i - 1]);
        return before[i] - left * d + side * radius * left_of(d);
    };
    double low = 0, high = 0;
    while (away(after, centre_at(high)) < radius) {
        low = high;
        high += 1;
        if (high > 5000) throw std::runtime_error("the disc finds no room");
    }
    for (int i = 0; i < 50; ++i) {
        const double middle = 0.5 * (low + high);
        (away(after, centre_at(middle)) < radius ? low : high) = middle;
    }
    const Vec2 centre = centre_at(high);
    std::size_t a = 0, b = 0;
    away(before, centre, &a);
    away(after, centre, &b);
    before.resize(a + 1);
    after.erase(after.begin(), after.begin() + static_cast<std::ptrdiff_t>(b) + 1);
    arc_out.push_back(before.back());
    // The round itself, point by point on the circle between the two stretches.
    const double from = std::atan2(before.back().y - centre.y, before.back().x - centre.x);
    double to = std::atan2(after.front().y - centre.y, after.front().x - centre.x);
    if (side > 0 && to < from) to += 2 * std::acos(-1.0);
    if (side < 0 && to > from) to -= 2 * std::acos(-1.0);
    const int n = 2 + static_cast<int>(radius * std::fabs(to - from) / kStep);
    for (int i = 0; i <= n; ++i) {
        const double t = from + (to - from) * i / n;
        arc_out.push_back(centre + radius * Vec2{std::cos(t), std::sin(t)});
    }
}

}  // namespace

std::optional<double> read_figure(const std::string& text) {
    std::smatch m;
    if (std::regex_match(text, m, std::regex("([0-9]+) ([0-9]+)\u2044([0-9]+)")))
        return std::stod(m[1]) + std::stod(m[2]) / std::stod(m[3]);
    if (std::regex_match(text, m, std::regex("([0-9]+)\u2044([0-9]+)")))
        return std::stod(m[1]) / std::stod(m[2]);
    if (std::regex_match(text, std::regex("[0-9]+(\\.[0-9]+)?"))) return std::stod(text);
    return std::nullopt;
}

ReadSheet read_marking_sheet(const Sheet& sheet) {
    ReadSheet out;
    for (const Page& page : sheet.pages)
        for (const Item& item : page.items)
            if (const Text* t = std::get_if<Text>(&item)) out.words += t->utf8 + " ";
    // A text set in parts has its punctuation apart.
    out.words = std::regex_replace(out.words, std::regex(" ([,;:.])"), "$1");
    out.words = std::regex_replace(out.words, std::regex("\\s+"), " ");
    out.back = out.words.find("MARK ON THE BACK") != std::string::npos;
    out.mirrored = out.words.find("MIRRORED") != std::string::npos;
    out.unit_mm = out.words.find("millimetres, to the nearest") != std::string::npos ? 1 : 25.4;
    std::smatch m;
    if (std::regex_search(out.words, m, std::regex("line within " + kFigure)))
        out.within_mm = out.unit_mm * figure(m[1]);
    for (const Page& page : sheet.pages) read_table(page, out);
    read_steps(out);
    return out;
}

std::vector<Vec2> draw_by_hand(const ReadSheet& sheet, const ReadLine& line) {
    const auto at = [&](const std::string& mark) { return sheet.marks.at(mark); };
    std::vector<std::vector<Vec2>> stretches;
    std::vector<std::string> begins;
    for (std::size_t i = 0; i + 1 < line.chain.size(); ++i) {
        std::vector<Vec2> s{at(line.chain[i])};
        begins.push_back(line.chain[i]);
        const auto curve = sheet.curves.find(line.chain[i]);
        std::string to = line.chain[i + 1];
        if (curve == sheet.curves.end()) {
            line_to(s, at(to));
        } else {
            const ReadCurve& c = curve->second;
            // In a chain of all marks in order those of a curve are passed over.
            while (line.chain[i + 1] != c.to) ++i;
            if (c.how == ReadCurve::How::batten) {
                std::vector<Vec2> points{at(c.from)};
                for (const std::string& v : c.via) points.push_back(at(v));
                points.push_back(at(c.to));
                batten(s, points);
            } else {
                arc(s, at(c.from), at(c.to), c.radius_mm, c.into_the_waste);
            }
        }
        stretches.push_back(s);
    }
    std::vector<std::vector<Vec2>> discs(stretches.size());
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const auto round = sheet.rounds.find(begins[i]);
        if (round == sheet.rounds.end() || (i == 0 && !line.closed)) continue;
        push_disc(stretches[i == 0 ? stretches.size() - 1 : i - 1], stretches[i], round->second, discs[i]);
    }
    std::vector<Vec2> out;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        out.insert(out.end(), discs[i].begin(), discs[i].end());
        out.insert(out.end(), stretches[i].begin(), stretches[i].end());
    }
    if (line.closed) out.push_back(out.front());
    return out;
}

std::vector<double> witness_turns(const Page& page) {
    std::vector<double> out;
    for (const Item& item : page.items) {
        const Shape* s = std::get_if<Shape>(&item);
        if (!s) continue;
        for (const Path& p : s->open) {
            if (p.vertices.size() != 3 || s->stroke.width_mm < 0.5) continue;
            const Vec2 a = p.vertices[1].p - p.vertices[0].p, b = p.vertices[2].p - p.vertices[1].p;
            if (std::fabs(dot(a, b)) > 1e-6 * norm(a) * norm(b)) continue;
            if (std::fabs(norm(b) / norm(a) - 3.15) > 0.01) continue;
            out.push_back(cross(a, b));  // page y is down: positive turns right
        }
    }
    return out;
}

}  // namespace spile::test
