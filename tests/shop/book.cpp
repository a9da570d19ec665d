#include "tests/shop/book.h"

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

std::string bytes_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
}

void put_bytes(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

}  // namespace spile::shop
