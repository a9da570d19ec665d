// The program: which command, with which options.
#include <CLI/CLI.hpp>

#include "cli/commands.h"
#include "cli/terminal.h"
#include "core/job/dividing.h"
#include "core/paper/paper_settings.h"

namespace spile::cli {
namespace {

constexpr const char* kOverview = R"(Spile: from tape readings to cut floor panels.

  spile check JOB            what needs you before anything is cut
  spile measure JOB          how well the readings agree, and which to take again
  spile make JOB --out DIR   all papers and cutting files, into a folder
  spile layout JOB           where each piece lies on the roll, and how much to buy
  spile cost JOB             what the job takes: goods, binding, thread, work; with prices, what it costs
  spile import DRAWING      the outlines of a DXF, SVG or CSV; with --out, a job of them
  spile shop COMMAND ...     the shop's book: jobs, stock, quotes, papers, money, hours
  spile serve [JOB]          the workbench, in a browser on this computer

JOB is a job file; examples/cockpit.json is one to try, docs/job-format.md says how one is
written. "spile COMMAND --help" says more about a command.

Ends with 0 when nothing stops, 1 when something stops the cutting, 2 when the file cannot
be read.
)";

template <class Options>
CLI::App* add_command(CLI::App& app, const char* name, const char* says, Options& options) {
    CLI::App* command = app.add_subcommand(name, says);
    command->add_option("JOB", options.job, "the job file")->required();
    return command;
}

/// Why this is no time to search; empty when it is one. NaN is none.
std::string seconds_fault(const std::string& text) {
    double seconds = 0;
    const bool good = CLI::detail::lexical_cast(text, seconds) && seconds >= 0.001 && seconds <= 86400;
    return good ? "" : "\"" + text + "\" is no time between 0.001 and 86400 seconds";
}

std::string paper_words() {
    std::string words;
    for (int k = 0; k < paper_kinds; ++k)
        words += (k == 0 ? "" : ", ") + std::string(word_for(static_cast<PaperKind>(k)));
    return words;
}

Exit run(int argc, char** argv) {
    // The book has a grammar of its own (cli/shop_call.h).
    if (argc > 1 && std::string(argv[1]) == "shop") return shop_book({argv + 2, argv + argc});
    CLI::App app("Spile", "spile");
    app.require_subcommand(0, 1);
    app.set_version_flag("--version", SPILE_VERSION);

    CheckOptions check_options;
    CLI::App* checking = add_command(app, "check", "What needs you before anything is cut.", check_options);
    checking->add_flag("--json", check_options.json, "one JSON document instead of text");

    MeasureOptions measure_options;
    CLI::App* measuring = add_command(
        app, "measure", "Points with their doubt, readings with what they are off, and what to measure next.",
        measure_options);
    measuring->add_flag("--json", measure_options.json, "one JSON document instead of text");

    MakeOptions make_options;
    CLI::App* making = add_command(
        app, "make", "All papers and cutting files. Nothing to cut from is written while something stops.",
        make_options);
    making->add_option("--out", make_options.out, "the folder; papers already in it are replaced")
        ->required();
    making
        ->add_option("--sheets", make_options.sheets,
                     "which papers, with commas: " + paper_words() + "; or all. Else as the job says")
        ->delimiter(',');

    LayoutOptions layout_options;
    CLI::App* laying = add_command(app, "layout", "Where each piece lies on the roll.", layout_options);
    laying->add_flag("--json", layout_options.json, "one JSON document instead of text");
    CLI::Option* seconds =
        laying->add_option("--seconds", layout_options.seconds, "search this long, to the end of a round")
            ->check(CLI::Validator(seconds_fault, "0.001 to 86400"));
    laying
        ->add_option("--rounds", layout_options.rounds,
                     "search this many rounds; the same rounds give the same layout")
        ->check(CLI::Range(0, 100000000))
        ->excludes(seconds);
    CLI::Option* dividing = laying->add_option(
        "--divide", layout_options.divide,
        "a job file to write, with the joints that are proposed for panels wider than the goods; "
        "never one that is there");
    laying->add_option("--way", layout_options.way, "which of the ways proposed to divide them, 1 the first")
        ->check(CLI::Range(1, static_cast<int>(kMostWays)))
        ->needs(dividing);

    CostOptions cost_options;
    CLI::App* costing = add_command(
        app, "cost", "What the job takes: goods, binding, thread, work; with prices, what it costs.",
        cost_options);
    CLI::Option* prices = costing->add_option("--prices", cost_options.prices,
                                              "a price list; examples/shop/prices.json is one to try");
    costing
        ->add_option("--data", cost_options.book,
                     "the folder of the shop's book: its prices, and its own minutes")
        ->excludes(prices);
    costing->add_option("--on", cost_options.on, "the day whose prices of the book hold, like 2026-03-01");
    costing->add_flag("--rush", cost_options.rush, "wanted in a hurry");
    costing->add_option("--instead", cost_options.instead,
                        "also in these goods of the price list, laid out anew; may be given again");
    costing->add_flag("--json", cost_options.json, "one JSON document instead of text");

    ImportOptions import_options;
    CLI::App* importing =
        app.add_subcommand("import", "The outlines of a drawing made elsewhere; with --out, a job of them.");
    importing->add_option("DRAWING", import_options.drawing, "a .dxf, .svg or .csv file")->required();
    importing->add_option("--out", import_options.out, "the job file to write; never one that is there");
    importing->add_option("--units", import_options.units,
                          "mm, cm, m, in or ft: where the drawing does not say, or says wrong");
    importing->add_option("--gap", import_options.gap, "ends no farther apart are joined")
        ->capture_default_str();
    importing->add_option("--arcs", import_options.arcs, "how near arcs keep to the points they stand for")
        ->capture_default_str();
    importing->add_option("--layer", import_options.layers, "only this layer; may be given again");
    importing
        ->add_option("--outlines", import_options.outlines,
                     "only these, by their number in the list, with commas")
        ->delimiter(',');

    ServeCommand serve_command;
    CLI::App* serving = app.add_subcommand("serve", "The workbench, in a browser on this computer.");
    serving->add_option("JOB", serve_command.job, "a job file that the shop's book shall hold");
    serving->add_option("--data", serve_command.data, "the folder of the shop's book");
    serving->add_option("--port", serve_command.port, "on this computer; 0 is any free one")
        ->check(CLI::Range(0, 65535));
    serving->add_flag("--lan", serve_command.lan,
                      "for other devices of the shop too, with TLS, once they are paired");
    serving->add_option("--lan-port", serve_command.lan_port, "for them")->check(CLI::Range(0, 65535));

    try {
        app.parse(argc, argv);
    } catch (const CLI::CallForHelp&) {
        return print(app.get_subcommands().empty() ? kOverview : app.help()) ? all_well : not_read;
    } catch (const CLI::CallForVersion&) {
        return print("spile " SPILE_VERSION "\n") ? all_well : not_read;
    } catch (const CLI::ParseError& error) {
        const bool no_command = app.get_subcommands().empty() && argc > 1 && argv[1][0] != '-';
        complain("spile: " +
                 (no_command ? "there is no command \"" + harmless(argv[1]) + "\"; these are:"
                             : harmless(error.what())) +
                 "\n\n" + kOverview);
        return not_read;
    }
    if (checking->parsed()) return check(check_options);
    if (measuring->parsed()) return measure(measure_options);
    if (making->parsed()) return make(make_options);
    if (laying->parsed()) return layout(layout_options);
    if (costing->parsed()) return cost(cost_options);
    if (importing->parsed()) return import_drawing(import_options);
    if (serving->parsed()) return serve(serve_command);
    return print(kOverview) ? all_well : not_read;
}

}  // namespace
}  // namespace spile::cli

int main(int argc, char** argv) {
    return spile::cli::run(argc, argv);
}
