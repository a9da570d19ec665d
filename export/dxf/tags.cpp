#include "export/dxf/tags.h"

#include "core/base/text.h"

namespace spile {
namespace {

std::string hexadecimal(unsigned value) {
    std::string out;
    for (; value > 0; value /= 16) out.insert(out.begin(), "0123456789ABCDEF"[value % 16]);
    return out;
}

}  // namespace

void Tags::tag(int code, const std::string& value) {
    const std::string number = std::to_string(code);
    text_.append(number.size() < 3 ? 3 - number.size() : 0, ' ');
    text_ += number + "\r\n" + value + "\r\n";
}

void Tags::number(int code, double value) {
    std::string text = fixed(value, 9);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text += '0';
    tag(code, text);
}

void Tags::pair(int code, Vec2 p) {
    number(code, p.x);
    number(code + 10, p.y);
}

void Tags::point(int code, Vec2 p) {
    pair(code, p);
    number(code + 20, 0);
}

void Tags::begin_section(const char* name) {
    tag(0, "SECTION");
    tag(2, name);
}

std::string Tags::begin(const char* kind, const std::string& owner, int handle_code) {
    tag(0, kind);
    if (!newer_) return "";
    const std::string handle = next_handle();
    ++used_;
    tag(handle_code, handle);
    tag(330, owner);
    return handle;
}

void Tags::subclass(const char* name) {
    if (newer_) tag(100, name);
}

std::string Tags::begin_table(const char* name, int count) {
    tag(0, "TABLE");
    tag(2, name);
    std::string handle;
    if (newer_) {
        handle = next_handle();
        ++used_;
        tag(5, handle);
        tag(330, "0");
        tag(100, "AcDbSymbolTable");
    }
    tag(70, count);
    return handle;
}

std::string Tags::record(const char* kind, const std::string& table, const char* subclass_name,
                         const std::string& name, int handle_code) {
    const std::string handle = begin(kind, table, handle_code);
    subclass("AcDbSymbolTableRecord");
    subclass(subclass_name);
    tag(2, name);
    return handle;
}

std::string Tags::next_handle() const {
    return hexadecimal(used_ + 1);
}

}  // namespace spile
