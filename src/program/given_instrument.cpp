// given_instrument.cpp: a description on the command line, or a file that is read.
//
// Room: program. Edge: the disk.
#include "program/given_instrument.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

namespace midspan::program {
namespace {

/// More than anybody writes about an instrument; a sound file given by mistake ends here.
constexpr std::size_t longest_instrument_file = 1'000'000;

Result<Instrument> read_instrument(const std::string& path) {
    const auto refuse = [&path](std::string problem) {
        return Error{Fault::input, path, std::move(problem),
                     "give the path of a TOML file that describes the instrument"};
    };
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored)) return refuse("is a folder");
    errno = 0;
    std::ifstream file{path, std::ios::binary};
    if (!file) return refuse(errno == ENOENT ? "there is no such file" : std::strerror(errno));
    std::string text;
    char piece[4096];
    while (file.read(piece, sizeof piece) || file.gcount() > 0) {
        text.append(piece, static_cast<std::size_t>(file.gcount()));
        if (text.size() > longest_instrument_file) return refuse("too long for an instrument file");
    }
    if (file.bad()) return refuse("cannot be read");
    return parse_instrument(text, path);
}

}  // namespace

Result<Instrument> instrument_of(const GivenInstrument& given) {
    if (const auto* file = std::get_if<InstrumentFile>(&given)) return read_instrument(file->path);
    return std::get<Instrument>(given);
}

std::optional<Error> fault_of_strings(std::span<const int> strings, const Instrument& instrument) {
    for (const int string : strings) {
        if (string >= 1 && static_cast<std::size_t>(string) <= instrument.strings.size()) continue;
        return Error{
            Fault::usage, fmt::format("--string {}", string), "no such string",
            fmt::format("this instrument has strings 1 to {}, 1 the highest", instrument.strings.size())};
    }
    return std::nullopt;
}

}  // namespace midspan::program
