// spile-bench layout: one published strip packing instance, one JSON document on stdout, progress on stderr.
#include <chrono>
#include <cstdio>
#include <ctime>
#include <iostream>

#include "bench/commands.h"
#include "bench/strip_check.h"
#include "bench/strip_json.h"

namespace spile {
namespace {

struct Arguments {
    std::string instance, out;
    double seconds = 10;
    int rounds = 0;
    int threads = 1;
    unsigned long long seed = 1;
    bool locked = false;     ///< only the first turn of every item
    bool cpu_clock = false;  ///< count the processor time per thread: for machines that are shared
};

Arguments parsed(const std::vector<std::string>& words) {
    Arguments a;
    for (std::size_t i = 0; i < words.size(); ++i) {
        const auto value = [&] {
            if (i + 1 >= words.size()) throw std::invalid_argument(words[i] + " needs a value");
            return words[++i];
        };
        const std::string& word = words[i];
        if (word == "--seconds")
            a.seconds = std::stod(value());
        else if (word == "--rounds")
            a.rounds = std::stoi(value());
        else if (word == "--threads")
            a.threads = std::stoi(value());
        else if (word == "--seed")
            a.seed = std::stoull(value());
        else if (word == "--out")
            a.out = value();
        else if (word == "--locked")
            a.locked = true;
        else if (word == "--clock")
            a.cpu_clock = value() == "cpu";
        else if (a.instance.empty() && word.rfind("--", 0) != 0)
            a.instance = word;
        else
            throw std::invalid_argument("unknown argument " + word);
    }
    if (a.instance.empty()) throw std::invalid_argument("name an instance");
    return a;
}

}  // namespace

int layout_command(const std::vector<std::string>& words) {
    Arguments a;
    try {
        a = parsed(words);
    } catch (const std::exception& e) {
        std::fprintf(stderr, "spile-bench layout: %s\n", e.what());
        return 2;
    }
    StripInstance instance;
    try {
        instance = read_strip_instance(a.instance);
    } catch (const std::exception& e) {
        std::fprintf(stderr, "spile-bench layout: %s\n", e.what());
        return 1;
    }
    if (a.locked)
        for (StripItem& item : instance.items) item.quarter_turns.resize(1);

    const auto began = std::chrono::steady_clock::now();
    const auto spent = [&] {
        if (a.cpu_clock) return static_cast<double>(std::clock()) / CLOCKS_PER_SEC / a.threads;
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    };
    StripOptions options;
    options.threads = a.threads;
    if (a.rounds > 0)
        options.rounds = a.rounds;
    else
        options.done = [&](int) { return spent() >= a.seconds; };
    RunContext run;
    run.seed = a.seed;
    double shown = 1e300, shown_at = -1;
    run.progress = [&](double rounds, double length) {
        if (length >= shown || spent() < shown_at + 1) return;
        shown = length;
        shown_at = spent();
        std::fprintf(stderr, "%8.1f s  round %.0f  length %.4f\n", shown_at, rounds, length);
    };
    const Result<StripResult> result = solve_strip(instance, options, run);
    for (const Finding& f : result.findings) std::fprintf(stderr, "%s %s\n", f.says.c_str(), f.to_do.c_str());
    if (!result) return 1;
    // What is counted is what a second hand has found to be legal.
    const std::vector<std::string> faults =
        faults_of_strip(instance, *result, strip_tolerance(instance.width, result->length));
    for (const std::string& fault : faults) std::fprintf(stderr, "not legal: %s\n", fault.c_str());
    if (!faults.empty()) return 1;
    const std::string text = to_json(instance, *result, spent()).dump();
    std::cout << text << "\n";
    if (!a.out.empty()) {
        std::ofstream file(a.out);
        file << text << "\n";
        if (!file) {
            std::fprintf(stderr, "spile-bench layout: cannot write %s\n", a.out.c_str());
            return 1;
        }
    }
    return 0;
}

}  // namespace spile
