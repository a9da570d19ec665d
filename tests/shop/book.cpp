#include "tests/shop/book.h"

#include <sqlite3.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

namespace spile::shop {

Folder::Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "spile-shop-XXXXXX").string();
    EXPECT_TRUE(mkdtemp(name.data()));
    path_ = name;
}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

int raw_code(const std::string& path, const std::string& sql) {
    sqlite3* handle = nullptr;
    EXPECT_EQ(sqlite3_open(path.c_str(), &handle), SQLITE_OK);
    const int code = sqlite3_exec(handle, sql.c_str(), nullptr, nullptr, nullptr);
    sqlite3_close(handle);
    return code;
}

void raw(const std::string& path, const std::string& sql) {
    EXPECT_EQ(raw_code(path, sql), SQLITE_OK) << sql;
}

std::string bytes_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
}

void put_bytes(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

}  // namespace spile::shop
