// A book of its own for a test, with a clock that stands still until it is moved.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <memory>
#include <string>

#include "shop/jobs.h"
#include "shop/store.h"

namespace spile::shop {

/// A folder of its own that goes away again.
class Folder {
  public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string operator/(const std::string& name) const { return (path_ / name).string(); }

  private:
    std::filesystem::path path_;
};

struct Book {
    Book() : store(open()) {}

    Store open(const std::string& disk = "") {
        OpenOptions options;
        options.create = true;
        options.now = [this] { return clock; };
        options.disk = disk;
        Result<Store> opened = Store::open(path, options);
        EXPECT_TRUE(opened) << (opened.findings.empty() ? "" : opened.findings.front().says);
        return std::move(*opened);
    }

    Folder folder;
    std::string path = folder / "shop.spile";
    Seconds clock = 1767225600;  // 2026-01-01
    Store store;
};

/// A small job document.
inline std::string document(const std::string& title, const std::string& more = "") {
    return R"({"spile": 1, "title": ")" + title + "\"" + more + "}\n";
}

inline NewJob new_job(const std::string& text) {
    NewJob job;
    job.document = text;
    return job;
}

/// The code of the first finding; "" when there is a value.
template <class T>
std::string code_of(const Result<T>& result) {
    if (result) return "";
    return result.findings.empty() ? "no finding" : result.findings.front().code;
}

/// Another program's connection, for what we would never do ourselves. SQLite's result code.
int raw_code(const std::string& path, const std::string& sql);
void raw(const std::string& path, const std::string& sql);

std::string bytes_of(const std::string& path);
void put_bytes(const std::string& path, const std::string& bytes);

}  // namespace spile::shop
