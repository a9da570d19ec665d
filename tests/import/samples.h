// Drawings made up for tests.
#pragma once

#include <string>
#include <vector>

#include "core/base/finding.h"

namespace spile::testing_import {

/// A text DXF of these entities, `units` for $INSUNITS (0: not said).
inline std::string dxf(const std::string& entities, int units = 4) {
    return "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n" + std::to_string(units) +
           "\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" + entities + "0\nENDSEC\n0\nEOF\n";
}

inline std::string num(double v) {
    return std::to_string(v);
}

inline std::string line(double x1, double y1, double x2, double y2, const std::string& layer = "sole") {
    return "0\nLINE\n8\n" + layer + "\n10\n" + num(x1) + "\n20\n" + num(y1) + "\n30\n0\n11\n" + num(x2) +
           "\n21\n" + num(y2) + "\n31\n0\n";
}

inline std::string arc(double x, double y, double r, double from, double to,
                       const std::string& layer = "sole") {
    return "0\nARC\n8\n" + layer + "\n10\n" + num(x) + "\n20\n" + num(y) + "\n30\n0\n40\n" + num(r) +
           "\n50\n" + num(from) + "\n51\n" + num(to) + "\n";
}

struct BulgedPoint {
    double x, y, bulge = 0;
};
inline std::string polyline(const std::vector<BulgedPoint>& points, bool closed,
                            const std::string& layer = "sole") {
    std::string all = "0\nLWPOLYLINE\n8\n" + layer + "\n90\n" + std::to_string(points.size()) + "\n70\n" +
                      (closed ? "1" : "0") + "\n";
    for (const BulgedPoint& p : points)
        all += "10\n" + num(p.x) + "\n20\n" + num(p.y) + "\n42\n" + num(p.bulge) + "\n";
    return all;
}

inline const Finding* find(const std::vector<Finding>& findings, const std::string& code) {
    for (const Finding& f : findings)
        if (f.code == code) return &f;
    return nullptr;
}

inline std::string codes(const std::vector<Finding>& findings) {
    std::string all;
    for (const Finding& f : findings) all += f.code + " (" + f.says + ") ";
    return all;
}

}  // namespace spile::testing_import
