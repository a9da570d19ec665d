// Runs the built program as a person would.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace spile::cli_test {

struct Outcome {
    int exit = -1;  ///< 128 and over: it was ended by a signal
    std::string out;
    std::string err;
};

/// `spile` with these arguments, in `folder`, with `environment` set besides.
Outcome run_spile(const std::vector<std::string>& arguments, const std::filesystem::path& folder,
                  const std::map<std::string, std::string>& environment = {});

/// A folder of its own that goes away again.
class Scratch {
  public:
    Scratch();
    ~Scratch();
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;

    const std::filesystem::path& path() const { return path_; }
    std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
    /// Writes a file in it and returns its path.
    std::string file(const std::string& name, const std::string& text) const;

  private:
    std::filesystem::path path_;
};

/// The bytes of a file; none when it is not there.
std::string text_of(const std::filesystem::path& file);

/// Every file of a folder by its name.
std::map<std::string, std::string> files_in(const std::filesystem::path& folder);

/// Path of an example job.
std::string example(const std::string& name);

/// A plain mat of `size` as a whole job, on 72 in goods.
std::string mat_job(const std::string& size);

}  // namespace spile::cli_test
