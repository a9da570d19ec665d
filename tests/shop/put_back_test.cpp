// A backup in the place of the book: done whole, or gone on from wherever an end came.
#include "shop/put_back.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "shop/safe.h"
#include "shop/settings.h"
#include "tests/shop/book.h"

namespace spile::shop {
namespace {

namespace fs = std::filesystem;

/// A book that has gone on since its backup: "before" is in both, "after" in the book alone.
struct Shop {
    Shop() {
        EXPECT_TRUE(add_job(book->store, new_job(document("before"))));
        EXPECT_TRUE(write_setting(book->store, "sessions", R"([{"hash": "revoked"}])"));
        EXPECT_TRUE(back_up(book->store, backup));
        EXPECT_TRUE(add_job(book->store, new_job(document("after"))));
        EXPECT_TRUE(write_setting(book->store, "sessions", R"([{"hash": "now"}])"));
    }
    /// Everybody lets go of the book, as between two runs of the program; `logged`: its log is left, as after a kill.
    void ask(bool logged = false) {
        std::string log;
        if (logged) log = bytes_of(path + "-wal");
        Store closed = std::move(book->store);
        ASSERT_TRUE(ask_to_put_back(path, backup, aside));
        { const Store gone = std::move(closed); }
        if (logged) put_bytes(path + "-wal", log);
    }
    static std::size_t jobs_in(const std::string& at) {
        const auto store = Store::open(at);
        if (!store) return 99;
        return *count_jobs(const_cast<Store&>(*store), {});
    }
    void expect_done(const char* when) {
        EXPECT_EQ(jobs_in(path), 1u) << when;
        EXPECT_EQ(jobs_in(aside), 2u) << when;
        EXPECT_FALSE(fs::exists(path + ".put-back")) << when;
        EXPECT_FALSE(fs::exists(path + ".put-back-book")) << when;
        EXPECT_EQ(*put_back_as_asked(path), "") << when;
    }

    std::unique_ptr<Book> book = std::make_unique<Book>();
    std::string path = book->path, backup = book->folder / "backup.spile", aside = book->folder / "replaced.spile";
};

TEST(PutBack, TheBackupIsTheBookAndTheBookIsKept) {
    Shop shop;
    EXPECT_EQ(*put_back_as_asked(shop.path), "") << "nobody asked";
    shop.ask();
    const auto says = put_back_as_asked(shop.path);
    ASSERT_TRUE(says) << says.findings[0].says;
    EXPECT_NE(says->find("backup.spile is the book now"), std::string::npos) << *says;
    shop.expect_done("asked");
    Store store = std::move(*Store::open(shop.path));
    EXPECT_EQ(**read_setting(store, "sessions"), R"([{"hash": "now"}])") << "what was revoked stays revoked";
    EXPECT_EQ(*life_of(store), "replaced.spile");
}

TEST(PutBack, AnEndAtAnyStepIsGoneOnFrom) {
    {
        Shop shop;
        shop.ask();
        put_bytes(shop.path + ".put-back-book", "half a file");
        ASSERT_TRUE(put_back_as_asked(shop.path));
        shop.expect_done("the copy was half written");
    }
    for (const bool logged : {false, true}) {
        Shop shop;
        shop.ask(logged);
        ASSERT_TRUE(restore_backup(shop.backup, shop.path + ".put-back-book"));
        fs::rename(shop.path, shop.aside);
        ASSERT_TRUE(put_back_as_asked(shop.path));
        shop.expect_done("the book had been put aside");
        EXPECT_FALSE(fs::exists(shop.path + "-wal"));
    }
    {
        Shop shop;
        shop.ask();
        ASSERT_TRUE(restore_backup(shop.backup, shop.path + ".put-back-book"));
        fs::rename(shop.path, shop.aside);
        fs::rename(shop.path + ".put-back-book", shop.path);
        ASSERT_TRUE(put_back_as_asked(shop.path));
        shop.expect_done("only the wish was left");
    }
}

TEST(PutBack, KilledAtSomeMomentAndStartedAgain) {
    for (int round = 0; round < 12; ++round) {
        Shop shop;
        shop.ask();
        const pid_t child = fork();
        if (child == 0) {
            put_back_as_asked(shop.path);
            _exit(0);
        }
        usleep(static_cast<useconds_t>(round) * 1'500);
        kill(child, SIGKILL);
        waitpid(child, nullptr, 0);
        const auto says = put_back_as_asked(shop.path);
        ASSERT_TRUE(says) << says.findings[0].says;
        shop.expect_done(("killed after " + std::to_string(round * 1.5) + " ms").c_str());
    }
}

TEST(PutBack, ADamagedBackupLeavesTheBookAsItIs) {
    Shop shop;
    shop.ask();
    fs::resize_file(shop.backup, 5000);
    EXPECT_FALSE(put_back_as_asked(shop.path));
    EXPECT_EQ(Shop::jobs_in(shop.path), 2u);
    EXPECT_FALSE(fs::exists(shop.aside));
    EXPECT_EQ(*put_back_as_asked(shop.path), "") << "it is not tried for ever";
}

TEST(PutBack, IsAskedForABackupAndAFreePlace) {
    Shop shop;
    EXPECT_EQ(code_of(ask_to_put_back(shop.path, shop.path + ".none", shop.aside)), "shop-not-there");
    put_bytes(shop.aside, "something");
    EXPECT_EQ(code_of(ask_to_put_back(shop.path, shop.backup, shop.aside)), "file-there");
    EXPECT_EQ(*put_back_as_asked(shop.path), "");
}

}  // namespace
}  // namespace spile::shop
