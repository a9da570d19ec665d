// Opening: what is a book, what is none, and that a file we refuse keeps its bytes.
#include "shop/store.h"

#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "shop/jobs.h"
#include "shop/people.h"
#include "shop/settings.h"
#include "tests/shop/book.h"

namespace spile::shop {
namespace {

std::string open_code(const std::string& path, bool create = true) {
    OpenOptions options;
    options.create = create;
    return code_of(Store::open(path, options));
}

TEST(Open, NewBookIsMadeOnlyWhenAskedFor) {
    Folder folder;
    EXPECT_EQ(open_code(folder / "shop.spile", false), "shop-not-there");
    EXPECT_FALSE(std::filesystem::exists(folder / "shop.spile"));
    EXPECT_EQ(open_code(folder / "shop.spile"), "");
    EXPECT_EQ(open_code(folder / "shop.spile", false), "");
    EXPECT_EQ(open_code(folder / "no/such/folder/shop.spile"), "shop-read-only");
}

TEST(Open, SettingsOfTheConnection) {
    Book book;
    EXPECT_TRUE(check_book(book.store));
    // sqlite.org, "File Format", 1.3: bytes 18 and 19 are 2 for a write-ahead log.
    EXPECT_EQ(bytes_of(book.path)[18], 2);
    EXPECT_EQ(bytes_of(book.path).substr(68, 4), "Spil");
}

TEST(Open, AnEmptyFileBecomesABook) {
    Folder folder;
    put_bytes(folder / "empty", "");
    EXPECT_EQ(open_code(folder / "empty"), "");
}

TEST(Open, StrangeFilesAreRefusedAndKeepTheirBytes) {
    Folder folder;
    put_bytes(folder / "text", std::string(5000, 'x'));
    put_bytes(folder / "short", "SQLite format 3");
    raw(folder / "other.db", "CREATE TABLE t(a); INSERT INTO t VALUES(1)");
    for (const char* name : {"text", "short", "other.db"}) {
        const std::string before = bytes_of(folder / name);
        EXPECT_EQ(open_code(folder / name), "shop-not-a-book") << name;
        EXPECT_EQ(bytes_of(folder / name), before) << name;
    }
    EXPECT_EQ(open_code(folder / "."), "shop-not-a-book");
}

TEST(Open, ANewerBookIsRefusedAndKeepsItsBytes) {
    Folder folder;
    ASSERT_EQ(open_code(folder / "b"), "");
    raw(folder / "b", "PRAGMA user_version=99");
    const std::string before = bytes_of(folder / "b");
    const Result<Store> opened = Store::open(folder / "b");
    ASSERT_EQ(code_of(opened), "shop-newer");
    EXPECT_NE(opened.findings[0].says.find("version 99"), std::string::npos);
    EXPECT_EQ(bytes_of(folder / "b"), before);
}

TEST(Open, ADamagedBookIsRefusedAndKeepsItsBytes) {
    Folder folder;
    {
        OpenOptions options;
        options.create = true;
        Result<Store> store = Store::open(folder / "b", options);
        ASSERT_TRUE(store);
        for (int i = 0; i < 50; ++i)
            ASSERT_TRUE(add_job(*store, new_job(document("job " + std::to_string(i)))));
    }
    const std::string whole = bytes_of(folder / "b");
    int refused = 0;
    for (std::size_t at = 4096; at + 4096 <= whole.size(); at += 4096) {
        std::string damaged = whole;
        for (std::size_t i = 0; i < 64; ++i) damaged[at + i] = '\xA5';  // the head of a page
        put_bytes(folder / "damaged", damaged);
        const Result<Store> opened = Store::open(folder / "damaged");
        EXPECT_EQ(code_of(opened), "shop-damaged") << "page " << at / 4096 + 1;
        EXPECT_EQ(opened.findings[0].says.find("not an error"), std::string::npos) << opened.findings[0].says;
        EXPECT_EQ(bytes_of(folder / "damaged"), damaged) << "page " << at / 4096 + 1;
        ++refused;
    }
    EXPECT_GT(refused, 10);
    put_bytes(folder / "cut", whole.substr(0, whole.size() / 2));
    EXPECT_EQ(open_code(folder / "cut"), "shop-damaged");
}

TEST(Open, ReadOnlyFilesAreRefused) {
    Folder folder;
    ASSERT_EQ(open_code(folder / "b"), "");
    const std::string before = bytes_of(folder / "b");
    const std::string path = folder / "b", home = folder / ".";
    chmod(path.c_str(), 0444);
    chmod(home.c_str(), 0755);
    // Nobody, so that the test means something when root runs it.
    const pid_t child = fork();
    if (child == 0) {
        if (getuid() == 0 && setuid(65534) != 0) _exit(3);
        _exit(open_code(path) == "shop-read-only" ? 0 : 1);
    }
    int status = 0;
    waitpid(child, &status, 0);
    EXPECT_EQ(WEXITSTATUS(status), 0);
    EXPECT_EQ(bytes_of(path), before);
}

TEST(Open, SeveralConnectionsSeeOneAnother) {
    Book book;
    Store second = book.open();
    ASSERT_TRUE(add_job(book.store, new_job(document("sole"))));
    EXPECT_EQ(find_jobs(second, {})->size(), 1u);
    ASSERT_TRUE(write_setting(second, "paper", R"({"size": "A4"})"));
    EXPECT_EQ(**read_setting(book.store, "paper"), R"({"size": "A4"})");
    EXPECT_EQ(code_of(write_setting(second, "paper", "{")), "not-json");
    EXPECT_FALSE(*read_setting(second, "none"));
}

TEST(Dates, EveryDayOfFourHundredYears) {
    // Counted on by one from 1800-01-01, which is 62091 days before 1970: 170 years of 365 days and 41 leap days
    // (1804 to 1968, not 1900).
    constexpr Seconds kDay = 86400;
    Seconds at = -62091 * kDay;
    int year = 1800, month = 1, day = 1;
    const int lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    while (year <= 2200) {
        char text[48];
        std::snprintf(text, sizeof text, "%04d-%02d-%02d", year, month, day);
        ASSERT_EQ(date_of(at), text);
        ASSERT_EQ(date_of(at + kDay - 1), text);
        ASSERT_EQ(*parse_date(text), at);
        at += kDay;
        const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
        if (++day > lengths[month - 1] + (month == 2 && leap)) {
            day = 1;
            if (++month > 12) {
                month = 1;
                ++year;
            }
        }
    }
    EXPECT_EQ(date_time_of(1767225600 + 3661), "2026-01-01 01:01:01");
    for (const char* wrong : {"", "2026-02-29", "2026-13-01", "2026-00-01", "2026-01-00", "26-01-01",
                              "2026/01/01", "2026-1-001", "1799-12-31", "2026-01-01 "})
        EXPECT_EQ(code_of(parse_date(wrong)), "date-refused") << wrong;
}

}  // namespace
}  // namespace spile::shop
