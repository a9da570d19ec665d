// The commands of the program. Each takes what was asked for and returns how the program ends.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace spile::cli {

/// How the program ends.
enum Exit {
    all_well = 0,
    stopped = 1,  ///< something stops the cutting, or what was asked for could not be worked out
    not_read =
        2,  ///< the file cannot be read, the folder cannot be written, or the command was not understood
};

struct CheckOptions {
    std::string job;
    bool json = false;
};
struct MeasureOptions {
    std::string job;
    bool json = false;
};
struct MakeOptions {
    std::string job;
    std::string out;
    std::vector<std::string> sheets;  ///< words of PaperKind, or "all"; empty: as the job says
};
struct LayoutOptions {
    std::string job;
    bool json = false;
    std::optional<double> seconds;
    std::optional<int> rounds;
    std::string divide;  ///< the job that is written, with panels wider than the goods divided; empty: none
    int way = 1;         ///< of those proposed, 1 the first
};
struct CostOptions {
    std::string job;
    std::string prices;  ///< a price list; empty: none
    std::string book;    ///< folder of the shop's book, for its prices; empty: none
    std::string on;      ///< the day whose prices of the book hold; empty: today
    bool rush = false;
    std::vector<std::string> instead;  ///< other goods of the price list
    bool json = false;
};
struct ImportOptions {
    std::string drawing;              ///< DXF, SVG or CSV, by the end of its name
    std::string out;                  ///< the job that is written; empty: what is there is listed
    std::string units;                ///< mm, cm, m, in, ft; empty: as the drawing says
    std::string gap = "1/2 mm";       ///< ends no farther apart are joined
    std::string arcs = "0.1 mm";      ///< how far arcs may lie from the points they stand for
    std::vector<std::string> layers;  ///< only these; empty: all
    std::vector<int> outlines;        ///< only these, by the number of the list; empty: all
};
struct ServeCommand {
    std::string job;   ///< the book shall hold it; empty: none
    std::string data;  ///< folder of the book; empty: the usual one
    int port = 8642;
    bool lan = false;
    int lan_port = 8643;
};

Exit check(const CheckOptions& options);      ///< findings
Exit measure(const MeasureOptions& options);  ///< points, readings with their residuals, suspects, advice
Exit make(const MakeOptions& options);        ///< all papers and cutting files into a folder
Exit layout(const LayoutOptions& options);    ///< where each piece lies on the roll
Exit cost(const CostOptions& options);        ///< what the job takes, and what it costs
Exit import_drawing(
    const ImportOptions& options);  ///< outlines of a drawing made elsewhere: a list, or a job
Exit shop_book(
    const std::vector<std::string>& arguments);  ///< the shop's book, by what stands behind "spile shop"
Exit serve(const ServeCommand& command);         ///< the workbench, until it is ended

}  // namespace spile::cli
