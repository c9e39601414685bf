// temp_folder.hpp: a folder for one test, gone afterwards.
//
// Room: tests/support.
#pragma once

#include <stdlib.h>

#include <filesystem>
#include <stdexcept>
#include <string>

namespace midspan::test {

class TempFolder {
public:
    explicit TempFolder(const std::filesystem::path& where = std::filesystem::temp_directory_path()) {
        std::string name = (where / "midspan-test-XXXXXX").string();
        if (!mkdtemp(name.data())) throw std::runtime_error{"no temporary folder can be made"};
        path_ = name;
    }
    ~TempFolder() {
        std::error_code ignored;  // a folder that stays behind is no reason to fail a test
        std::filesystem::remove_all(path_, ignored);
    }
    TempFolder(const TempFolder&) = delete;
    TempFolder& operator=(const TempFolder&) = delete;

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

    /// The path of a file in it.
    [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }

private:
    std::filesystem::path path_;
};

}  // namespace midspan::test
