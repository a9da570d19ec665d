// The grammar of DXF: pairs of a group code and a value, objects with handles, tables of records.
#pragma once

#include <string>
#include <vector>

#include "core/geom/vec2.h"
#include "export/dxf/dxf.h"

namespace spile {

/// A DXF file as it grows. Handles and subclass marks belong to R2000 and are left out of R12.
class Tags {
  public:
    explicit Tags(DxfVersion version) : newer_(version == DxfVersion::r2000) {}

    bool newer() const { return newer_; }
    void tag(int code, const std::string& value);
    void tag(int code, int value) { tag(code, std::to_string(value)); }
    void number(int code, double value);  ///< plain decimal, 9 digits after the point at most
    void point(int code, Vec2 p);         ///< x, y and z = 0 under code, code + 10, code + 20
    void pair(int code, Vec2 p);          ///< x and y alone

    void begin_section(const char* name);
    void end_section() { tag(0, "ENDSEC"); }

    /// Begins an object of its own handle that belongs to `owner`; returns the handle. `handle_code` is 105 for DIMSTYLE.
    std::string begin(const char* kind, const std::string& owner, int handle_code = 5);
    void subclass(const char* name);

    std::string begin_table(const char* name, int count);
    /// A record of a table with its name.
    std::string record(const char* kind, const std::string& table, const char* subclass_name,
                       const std::string& name, int handle_code = 5);
    void end_table() { tag(0, "ENDTAB"); }

    const std::string& text() const { return text_; }
    std::string next_handle() const;  ///< one that no object has yet

  private:
    bool newer_;
    unsigned used_ = 0;
    std::string text_;
};

}  // namespace spile
