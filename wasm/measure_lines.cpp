// Measures spaces given as plain lines and prints every number in full: built natively and for the web from this one
// source, so that the two can be compared.
//
//   space ID in|mm CLASS READS_TO_MM ENDS_SD_MM      begins a space
//   walk A B C D
//   bow A B
//   ...                                              every other line is a reading
//   end                                              measures it
#include <cstdio>
#include <iostream>
#include <sstream>
#include <string>

#include "core/base/text.h"
#include "core/measure/survey.h"

namespace {

using namespace spile;

std::string full(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.17g", value);
    return text;
}

void print(const SpaceInput& space, const Result<Survey>& result) {
    std::cout << "space " << space.id << '\n';
    for (const Finding& f : result.findings)
        std::cout << "finding " << severity_name(f.severity) << ' ' << f.code << ' ' << f.subject.id << '\n';
    if (!result) return;
    for (const auto& [name, p] : result->points)
        std::cout << "point " << name << ' ' << full(p.boat_mm.x) << ' ' << full(p.boat_mm.y) << ' ' << full(p.cov_mm2.xx)
                  << ' ' << full(p.cov_mm2.xy) << ' ' << full(p.cov_mm2.yy) << '\n';
    for (const TieReport& t : result->ties)
        std::cout << "tie " << full(t.residual_mm) << ' ' << full(t.redundancy) << " : " << t.line << ' ' << t.part << '\n';
    for (const Suspect& s : result->suspects)
        std::cout << "suspect " << full(s.slip_mm) << " : " << s.line << " : " << s.guess << " : " << s.proposed << '\n';
}

}  // namespace

int main() {
    SpaceInput space;
    for (std::string line; std::getline(std::cin, line);) {
        const std::vector<std::string> words = split_words(line);
        if (words.empty()) continue;
        if (words[0] == "space" && words.size() == 6) {
            space = {};
            space.id = words[1];
            space.unit = words[2] == "mm" ? Unit::mm : Unit::inch;
            space.tape.tape_class = words[3] == "I" ? TapeClass::I : words[3] == "II" ? TapeClass::II : TapeClass::III;
            std::istringstream(words[4]) >> space.tape.reads_to_mm;
            std::istringstream(words[5]) >> space.tape.ends_sd_mm;
        } else if (words[0] == "walk") {
            space.walk.assign(words.begin() + 1, words.end());
        } else if (words[0] == "bow") {
            space.bow.assign(words.begin() + 1, words.end());
        } else if (words[0] == "end") {
            print(space, measure(space, RunContext{}));
        } else {
            Result<Reading> reading = parse_reading_line(line, space.unit);
            if (reading) space.readings.push_back(*reading);
            else std::cout << "refused " << reading.findings.front().code << " : " << line << '\n';
        }
    }
}
