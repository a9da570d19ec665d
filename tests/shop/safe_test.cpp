// Safe keeping: backups, export and import, a disk that is full, an end at any moment, books of old.
#include "shop/safe.h"

#include <gmock/gmock.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <random>

#include "shop/attachments.h"
#include "shop/papers.h"
#include "shop/payments.h"
#include "shop/people.h"
#include "shop/settings.h"
#include "tests/shop/faulty_disk.h"
#include "tests/shop/rack.h"

namespace spile::shop {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

/// Something in every table that a person fills.
void fill(Rack& rack) {
    const Id customer =
        save_customer(rack.store, {0, "J. Miller, \"Jo\"", "1", "", "2 Quay\nHarbour", "", 0})->id;
    Boat boat;
    boat.customer = customer;
    boat.model = "day boat";
    ASSERT_TRUE(save_boat(rack.store, boat));
    AcceptLayout accept = rack.cut("l1", 2'345'678);
    accept.left = {{corners({{0, 0}, {600.125, 0}, {600.125, 700}, {0, 700}})}};
    ASSERT_TRUE(accept_layout(rack.store, accept));
    ASSERT_TRUE(add_note(rack.store, rack.job, "two lines,\nand a comma", "pat"));
    std::string bytes;
    for (int i = 0; i < 256; ++i) bytes += static_cast<char>(i);
    ASSERT_TRUE(add_attachment(rack.store, rack.job, "port side.jpg", "image/jpeg", bytes, "pat"));
    ASSERT_TRUE(write_setting(rack.store, "paper", R"({"size": "A4"})"));
    ASSERT_TRUE(write_setting(rack.store, "certificate", R"({"key": "a key"})"));
}

std::map<std::string, std::string> files_of(const std::string& folder) {
    std::map<std::string, std::string> files;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        if (entry.is_regular_file())
            files[fs::relative(entry.path(), folder).string()] = bytes_of(entry.path().string());
    return files;
}

TEST(Backup, IsTheBookAndIsCheckedAndNeverOverwritten) {
    Rack rack;
    fill(rack);
    const std::string to = rack.folder / "backup.spile";
    const auto says = back_up(rack.store, to);
    ASSERT_TRUE(says) << says.findings[0].says;
    EXPECT_THAT(*says, HasSubstr("every reference"));
    EXPECT_EQ(code_of(back_up(rack.store, to)), "file-there");
    ASSERT_TRUE(export_book(rack.store, rack.folder / "one"));
    // Later work does not reach it.
    ASSERT_TRUE(accept_layout(rack.store, rack.cut("l2", 1'000'000)));
    const std::string before = bytes_of(to);
    ASSERT_TRUE(restore_backup(to, rack.folder / "again.spile"));
    EXPECT_EQ(bytes_of(to), before);
    EXPECT_EQ(code_of(restore_backup(to, rack.folder / "again.spile")), "file-there");
    Result<Store> again = Store::open(rack.folder / "again.spile");
    ASSERT_TRUE(again);
    ASSERT_TRUE(export_book(*again, rack.folder / "two"));
    EXPECT_EQ(files_of(rack.folder / "one"), files_of(rack.folder / "two"));
    for (const auto& entry : fs::directory_iterator(rack.folder / "."))
        EXPECT_THAT(entry.path().filename().string(), testing::Not(HasSubstr(".new-"))) << "left lying";
}

TEST(Backup, OfADamagedBookIsNotMade) {
    Rack rack;
    for (int i = 0; i < 50; ++i) ASSERT_TRUE(add_job(rack.store, new_job(document(std::string(900, 'x')))));
    const std::string to = rack.folder / "backup.spile";
    ASSERT_TRUE(back_up(rack.store, to));
    std::string damaged = bytes_of(to);
    for (std::size_t i = 0; i < 64; ++i) damaged[damaged.size() / 8192 * 4096 + i] = '\xA5';
    put_bytes(rack.folder / "damaged.spile", damaged);
    const auto restored = restore_backup(rack.folder / "damaged.spile", rack.folder / "again.spile");
    ASSERT_EQ(code_of(restored), "shop-damaged");
    EXPECT_THAT(restored.findings[0].says, HasSubstr("damaged.spile is damaged"));
    EXPECT_FALSE(fs::exists(rack.folder / "again.spile"));
    EXPECT_EQ(bytes_of(rack.folder / "damaged.spile"), damaged);
    put_bytes(rack.folder / "text", std::string(5000, 'x'));
    EXPECT_EQ(code_of(restore_backup(rack.folder / "text", rack.folder / "again.spile")), "shop-not-a-book");
    EXPECT_EQ(code_of(restore_backup(rack.folder / "none", rack.folder / "again.spile")), "shop-not-there");
    EXPECT_EQ(code_of(back_up(rack.store, rack.folder / "no/such/folder/b")), "shop-read-only");
}

TEST(Export, ComesBackIdentical) {
    Rack rack;
    fill(rack);
    const auto says = export_book(rack.store, rack.folder / "one");
    ASSERT_TRUE(says) << says.findings[0].says;
    const auto one = files_of(rack.folder / "one");
    EXPECT_EQ(one.at("tables.json").find("a key"), std::string::npos);
    EXPECT_EQ(one.at("attachments/1-port side.jpg").size(), 256u);
    EXPECT_THAT(one.at("customer.csv"), HasSubstr("\"J. Miller, \"\"Jo\"\"\""));
    EXPECT_EQ(one.at("jobs/1.json"), sand_document("sole l1"));
    const auto made = import_book(rack.folder / "one", rack.folder / "made.spile");
    ASSERT_TRUE(made) << made.findings[0].says;
    Result<Store> store = Store::open(rack.folder / "made.spile");
    ASSERT_TRUE(store);
    ASSERT_TRUE(export_book(*store, rack.folder / "two"));
    EXPECT_EQ(one, files_of(rack.folder / "two"));
    EXPECT_EQ(*audit_stock(*store), 1u);
    EXPECT_EQ(code_of(export_book(rack.store, rack.folder / "one")), "file-there");
    EXPECT_EQ(code_of(import_book(rack.folder / "one", rack.folder / "made.spile")), "file-there");
}

TEST(Import, RefusesWhatIsNoExport) {
    Rack rack;
    fill(rack);
    ASSERT_TRUE(export_book(rack.store, rack.folder / "one"));
    const std::string good = bytes_of(rack.folder / "one/tables.json");
    const auto with = [&](const std::string& from, const std::string& to) {
        std::string text = good;
        const auto at = text.find(from);
        EXPECT_NE(at, std::string::npos) << from;
        fs::create_directories(rack.folder / "bad");
        put_bytes(rack.folder / "bad/tables.json", text.replace(at, from.size(), to));
        const auto made = import_book(rack.folder / "bad", rack.folder / "made.spile");
        EXPECT_FALSE(fs::exists(rack.folder / "made.spile"));
        return made ? "taken" : made.findings[0].code + ": " + made.findings[0].says;
    };
    EXPECT_THAT(with("{\"spile_book\"", "{\"spile_boot\""), HasSubstr("import-refused"));
    EXPECT_THAT(with("\"spile_book\": ", "\"spile_book\": 9"), HasSubstr("this program writes"));
    EXPECT_THAT(with("\"table\": \"boat\"", "\"table\": \"goat\""), HasSubstr("a table \"goat\""));
    EXPECT_THAT(with("\"columns\": [\"id\"", "\"columns\": [\"no\""), HasSubstr("the columns of"));
    EXPECT_THAT(with("\"rows\": [\n[1,", "\"rows\": [\n[1,1,"), HasSubstr("another number of values"));
    EXPECT_THAT(with("\"rows\": [\n[1,", "\"rows\": [\n[[],"), HasSubstr("no value"));
    EXPECT_THAT(with("\"base64\":\"", "\"base64\":\"?"), HasSubstr("no base64"));
    // A boat of a customer who is not there.
    EXPECT_THAT(with("\n[1,1,\"\",\"\",\"day boat\"", "\n[1,7,\"\",\"\",\"day boat\""),
                HasSubstr("is not there"));
    put_bytes(rack.folder / "bad/tables.json", good.substr(0, good.size() / 2));
    EXPECT_EQ(code_of(import_book(rack.folder / "bad", rack.folder / "made.spile")), "import-refused");
    EXPECT_EQ(code_of(import_book(rack.folder / "nowhere", rack.folder / "made.spile")), "import-refused");
}

// Room for no write, for one, for two ...: each time the book must be as before or as after, and say that the disk is full.
TEST(FullDisk, BothOrNeitherWhereverTheRoomEnds) {
    int refused = 0, done = 0;
    for (long room = 0; done < 3; ++room) {
        ASSERT_LT(room, 500);
        Rack rack;
        {
            let_write(-1);
            Store store = rack.open(faulty_disk());
            let_write(room);
            AcceptLayout accept = rack.cut("l1", 2'000'000);
            accept.left = {{corners({{0, 0}, {600, 0}, {600, 700}, {0, 700}})}};
            const auto accepted = accept_layout(store, accept);
            const bool enough = writes_asked() <= room;
            EXPECT_EQ(code_of(accepted), enough ? "" : "shop-full") << room;
            ++(enough ? done : refused);
            // The same connection goes on once there is room.
            let_write(-1);
            EXPECT_EQ(job_head(store, rack.job)->rev, accepted ? 2 : 1) << room;
            EXPECT_EQ(code_of(accept_layout(store, rack.cut("l2", 1'000'000))), "") << room;
        }
        Store again = rack.open();
        ASSERT_TRUE(check_book(again));
        const int cuts = static_cast<int>(read_revision(again, rack.job)->rev) - 1;
        const std::int64_t left = read_roll(again, rack.roll)->left_um;
        EXPECT_EQ(left, 10 * kMetre_um - (cuts == 2 ? 3'000'000 : 1'000'000)) << room;
        EXPECT_EQ(find_offcuts(again, {})->size(), cuts == 2 ? 1u : 0u) << room;
        EXPECT_TRUE(audit_stock(again));
    }
    EXPECT_GT(refused, 3);
}

/// Accepts and takes back for ever, and says so on the pipe after each answer.
[[noreturn]] void work_until_killed(const std::string& path, Id job, Id roll, Id second, int from, int pipe) {
    Result<Store> store = Store::open(path);
    if (!store) _exit(3);
    for (int i = from;; ++i) {
        AcceptLayout accept;
        accept.job = job;
        accept.base_rev = job_head(*store, job)->rev;
        accept.document = sand_document("sole " + std::to_string(i));
        accept.layout = "l" + std::to_string(i);
        accept.roll = roll;
        accept.used_um = 1000 + i;
        accept.left = {{corners({{0, 0}, {600, 0}, {600, 700}, {0, 700}})}};
        accept.more = {{second, 0, 500 + i, {{corners({{0, 0}, {400, 0}, {400, 400}, {0, 400}})}}}};
        if (!accept_layout(*store, accept)) _exit(4);
        if (write(pipe, "a", 1) != 1) _exit(5);
        if (i % 3 != 0) continue;
        if (!take_back_layout(*store, accept.layout, accept.base_rev + 1, document("back"), "pat")) _exit(6);
        if (write(pipe, "b", 1) != 1) _exit(5);
    }
}

TEST(Killed, AtAnyMomentBothOrNeitherAndWhatWasAnsweredIsThere) {
    Rack rack;
    const Id second = receive_roll(rack.store, rack.goods, "L1", "b", 10 * kMetre_um, "pat")->id;
    // SQLite must not be carried through a fork (sqlite.org, "How To Corrupt An SQLite Database File", 2.6).
    { const Store closed = std::move(rack.store); }
    std::mt19937 random(11);
    std::size_t answered = 0, between = 0;
    for (int round = 0; round < 40; ++round) {
        int pipes[2];
        ASSERT_EQ(pipe(pipes), 0);
        const int from = 1 + 1000 * round;
        const pid_t child = fork();
        if (child == 0) work_until_killed(rack.path, rack.job, rack.roll, second, from, pipes[1]);
        ::close(pipes[1]);
        // The first answer, so that it is at work; then some time more.
        char told = 0;
        std::string answers;
        if (::read(pipes[0], &told, 1) == 1) answers += told;
        usleep(static_cast<useconds_t>(random() % 20'000));
        kill(child, SIGKILL);
        int status = 0;
        waitpid(child, &status, 0);
        ASSERT_TRUE(WIFSIGNALED(status)) << "ended by itself: " << WEXITSTATUS(status);
        while (::read(pipes[0], &told, 1) == 1) answers += told;
        ::close(pipes[0]);
        answered += answers.size();

        Store again = rack.open();
        ASSERT_TRUE(check_book(again));
        ASSERT_TRUE(audit_stock(again));
        // Every revision but the first is an accepted layout or one taken back, each with its movement.
        const auto revisions = list_revisions(again, rack.job, 100'000);
        std::size_t accepted = 0, back = 0, cuts = 0, returned = 0;
        std::int64_t moved = 0;
        for (const RevisionHead& r : *revisions) {
            accepted += r.why == "layout accepted";
            back += r.why == "layout taken back";
        }
        const auto movements = list_movements(again, rack.roll, 0, 100'000);
        for (const Movement& m : *movements) {
            cuts += m.kind == MovementKind::cut;
            returned += m.kind == MovementKind::taken_back;
            moved += m.um;
        }
        std::size_t second_cuts = 0;
        const auto of_second = list_movements(again, second, 0, 100'000);
        for (const Movement& m : *of_second) second_cuts += m.kind == MovementKind::cut;
        EXPECT_EQ(second_cuts, cuts) << "of both rolls or of neither";
        EXPECT_EQ(accepted, cuts);
        EXPECT_EQ(back, returned);
        EXPECT_EQ(revisions->size(), 1 + accepted + back);
        EXPECT_EQ(read_roll(again, rack.roll)->left_um, moved);
        // At most the one that had not been answered is there besides.
        EXPECT_GE(accepted + back, answered);
        EXPECT_LE(accepted + back, answered + 1);
        between += accepted + back > answered;
        answered = accepted + back;
    }
    EXPECT_GT(answered, 40u);
}

/// Sends papers and writes payments for ever, and says so on the pipe after each answer.
[[noreturn]] void send_until_killed(const std::string& path, Id job, int pipe) {
    Result<Store> store = Store::open(path);
    if (!store) _exit(3);
    for (int i = 0;; ++i) {
        NewPaper paper;
        paper.kind = i % 2 ? SentKind::order_list : SentKind::quote;
        paper.job = job;
        paper.media = "text/plain";
        paper.bytes = std::string(static_cast<std::size_t>(1 + i * 997 % 20'000), 'x');
        paper.net = paper.total = 100;
        const auto number = next_paper_number(*store, paper.kind);
        if (!number || !keep_paper(*store, *number, paper)) _exit(4);
        if (write(pipe, "p", 1) != 1) _exit(5);
        Payment payment;
        payment.job = job;
        payment.day = "2026-03-01";
        payment.amount = 1;
        if (!add_payment(*store, payment)) _exit(6);
        if (write(pipe, "m", 1) != 1) _exit(5);
    }
}

TEST(Killed, PapersKeepTheirCountWithoutGapsAndNoPaymentIsLost) {
    Rack rack;
    { const Store closed = std::move(rack.store); }
    std::mt19937 random(12);
    std::size_t papers = 0;
    Cents paid = 0;
    for (int round = 0; round < 12; ++round) {
        int pipes[2];
        ASSERT_EQ(pipe(pipes), 0);
        const pid_t child = fork();
        if (child == 0) send_until_killed(rack.path, rack.job, pipes[1]);
        ::close(pipes[1]);
        char told = 0;
        if (::read(pipes[0], &told, 1) == 1) papers += told == 'p';
        usleep(static_cast<useconds_t>(random() % 15'000));
        kill(child, SIGKILL);
        int status = 0;
        waitpid(child, &status, 0);
        ASSERT_TRUE(WIFSIGNALED(status)) << "ended by itself: " << WEXITSTATUS(status);
        while (::read(pipes[0], &told, 1) == 1) {
            papers += told == 'p';
            paid += told == 'm';
        }
        ::close(pipes[0]);
        Store again = rack.open();
        ASSERT_TRUE(check_book(again));
        const auto kept = list_papers(again, rack.job, 100'000);
        std::size_t of_kind[2] = {0, 0};
        for (auto p = kept->rbegin(); p != kept->rend(); ++p) {
            const std::string digits = std::to_string(++of_kind[p->kind == SentKind::order_list]);
            EXPECT_EQ(p->number.substr(2),
                      std::string(4 - std::min<std::size_t>(4, digits.size()), '0') + digits);
            EXPECT_EQ(read_paper(again, p->number)->size(), p->bytes);
        }
        const Cents came = account_of(again, rack.job)->paid;
        // At most the one that had not been answered is there besides.
        EXPECT_GE(kept->size(), papers);
        EXPECT_LE(kept->size(), papers + 1);
        EXPECT_GE(came, paid);
        EXPECT_LE(came, paid + 1);
        papers = kept->size();
        paid = came;
    }
    EXPECT_GT(papers, 12u);
}

// tests/shop/old holds a book of every version ever published; they open for ever.
TEST(Old, BooksOfEveryVersionAreBroughtUpToDate) {
    const std::string old = SPILE_SOURCE_DIR "/tests/shop/old";
    int version = 0;
    for (; fs::exists(old + "/version-" + std::to_string(version + 1) + ".spile"); ++version) {
        Folder folder;
        const std::string path = folder / "book.spile";
        fs::copy_file(old + "/version-" + std::to_string(version + 1) + ".spile", path);
        Result<Store> store = Store::open(path);
        ASSERT_TRUE(store) << store.findings[0].says;
        EXPECT_TRUE(check_book(*store));
        EXPECT_TRUE(audit_stock(*store));
        const auto jobs = find_jobs(*store, {});
        ASSERT_FALSE(jobs->empty());
        for (const JobHead& job : *jobs) EXPECT_TRUE(read_revision(*store, job.id));
        // And it can do what a new one can.
        EXPECT_TRUE(save_goods(*store, {0, "new goods", R"({"width": 72})", ""}));
    }
    EXPECT_GE(version, book_version() - 1) << "keep a book of every version in tests/shop/old";
}

// Version 3 has other indexes of the rack: what a search finds is the same.
TEST(Old, TheRackOfVersion2IsSearchedAsBefore) {
    Folder folder;
    const std::string path = folder / "book.spile";
    fs::copy_file(SPILE_SOURCE_DIR "/tests/shop/old/version-2.spile", path);
    for (const char* row : {"1,1,'L1',NULL,'','[[0,0,0],[900,0,0],[900,700,0]]',900000,700000,315000,0,1",
                            "2,1,'L2',NULL,'','[[0,0,0],[500,0,0],[500,400,0]]',500000,400000,100000,0,1",
                            "3,1,'L1',NULL,'','[[0,0,0],[950,0,0],[950,800,0]]',950000,800000,380000,0,1",
                            "4,1,'L1',NULL,'','[[0,0,0],[800,0,0],[800,700,0]]',800000,700000,280000,1,1"})
        raw(path, std::string("INSERT INTO offcut VALUES(") + row + ")");
    Result<Store> store = Store::open(path);
    ASSERT_TRUE(store) << store.findings[0].says;
    const auto ids = [&](const OffcutQuery& query) {
        std::vector<Id> found;
        const auto offcuts = find_offcuts(*store, query);
        for (const Offcut& offcut : *offcuts) found.push_back(offcut.id);
        return found;
    };
    OffcutQuery query;
    EXPECT_EQ(ids(query), (std::vector<Id>{2, 1, 3}));
    query.skip = 1;
    query.limit = 1;
    EXPECT_EQ(ids(query), std::vector<Id>{1});
    query = {};
    query.least_length_um = 900'000;
    query.goods = 1;
    EXPECT_EQ(ids(query), (std::vector<Id>{1, 3}));
    query.lot = "L1";
    query.least_area_mm2 = 320'000;
    EXPECT_EQ(ids(query), std::vector<Id>{3});
    query.goods = 2;
    EXPECT_TRUE(ids(query).empty());
    EXPECT_TRUE(check_book(*store));
}

}  // namespace
}  // namespace spile::shop
