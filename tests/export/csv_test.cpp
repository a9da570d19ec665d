#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "export/csv/points_csv.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

using ::testing::Contains;
using ::testing::StartsWith;

std::vector<std::string> rows_of(const std::string& csv, int bare_line_feeds = 0) {
    return sample::script("read_csv.py",
                          "'" + sample::written("points.csv", csv) + "' " + std::to_string(bare_line_feeds));
}

TEST(PointsCsv, GivesEveryPointOfEveryLine) {
    const std::string csv = points_csv(machine_drawing(sample::piece(), SeenFrom::face));
    EXPECT_THAT(csv, StartsWith("piece,seen_from,purpose,line,closed,index,x_mm,y_mm,bulge\r\n"));
    const std::vector<std::string> rows = rows_of(csv);
    EXPECT_THAT(rows, Contains("3\tface\tcut through\toutside\tyes\t0\t0.0000\t0.0000\t0"));
    EXPECT_THAT(rows, Contains("3\tface\tcut through\toutside\tyes\t1\t800.0000\t0.0000\t0.2"));
    EXPECT_THAT(rows, Contains("3\tface\tbacking only\toutside, stretch 1\tno\t1\t25.4000\t0.0000\t0"));
}

TEST(PointsCsv, SaysWhenItIsSeenFromTheBack) {
    const std::vector<std::string> rows =
        rows_of(points_csv(machine_drawing(sample::piece(), SeenFrom::back)));
    EXPECT_THAT(rows, Contains(StartsWith("3\tback, mirrored\tcut through\toutside\tyes\t0\t")));
}

TEST(PointsCsv, QuotesWhatNeedsIt) {
    MachineDrawing drawing;
    drawing.lines = {{Purpose::marks, "a,\"b\"\nc", "Łódź", false, {{{1, 2}, 0, 0}, {{-0.00001, 4}, 9, 0}}}};
    const std::vector<std::string> rows = rows_of(points_csv(drawing), 2);
    EXPECT_THAT(rows, Contains("a,\"b\"\\nc\tface\tmark\tŁódź\tno\t0\t1.0000\t2.0000\t0"));
    EXPECT_THAT(rows, Contains("a,\"b\"\\nc\tface\tmark\tŁódź\tno\t1\t0.0000\t4.0000\t0"));
}

}  // namespace
}  // namespace spile
