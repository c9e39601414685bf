// make_documents.cpp: writes what is made from the descriptions of the options: the OPTIONS section of the
// man page and the completions for bash and zsh. The folder it is given is tools/.
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

#include "program/command_line.hpp"
#include "program/documents.hpp"

namespace {

std::string read(const std::filesystem::path& path) {
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

bool write(const std::filesystem::path& path, const std::string& text) {
    std::ofstream file{path, std::ios::binary};
    file << text;
    file.close();
    if (!file) std::cerr << "make_documents: " << path.string() << ": cannot be written\n";
    return static_cast<bool>(file);
}

}  // namespace

int main(int argc, char** argv) {
    using namespace midspan::program;
    if (argc != 2) {
        std::cerr << "usage: make_documents TOOLS_FOLDER\n";
        return 2;
    }
    const std::filesystem::path tools{argv[1]};
    const std::filesystem::path page = tools / "man" / "midspan.1";
    std::string man = read(page);
    const auto begin = man.find(".SH OPTIONS\n");
    const auto end = man.find(".SH ", begin == std::string::npos ? begin : begin + 1);
    if (end == std::string::npos) {
        std::cerr << "make_documents: " << page.string() << ": no OPTIONS section with another behind it\n";
        return 3;
    }
    man.replace(begin, end - begin, man_options(commands()));
    const bool written = write(page, man) &&
                         write(tools / "completions" / "midspan.bash", bash_completion(commands())) &&
                         write(tools / "completions" / "_midspan", zsh_completion(commands()));
    return written ? 0 : 1;
}
