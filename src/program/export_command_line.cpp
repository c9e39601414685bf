// export_command_line.cpp: the words behind sheet, export and import, turned into their options.
//
// Room: program. Pure.
#include "program/export_command_line.hpp"

#include <fmt/format.h>

#include <array>

#include "program/record_command_line.hpp"

namespace midspan::program {
namespace {

std::string output_of(const Words& words) { return std::string{word(words, "--output").value_or("-")}; }

}  // namespace

Result<Command> sheet_command(const CommandDescription&, const Words& words) {
    WriteSheet sheet;
    sheet.record = record_file_of(words);
    const auto& names = words.at("");
    if (names.size() > 1) {
        return usage(names[1], "one word too many",
                     "put a name with blanks in quotes: midspan sheet 'Bench guitar'");
    }
    if (!names.empty()) sheet.instrument = names.front();
    if (const auto text = word(words, "--visit")) {
        sheet.visit = number<int>(*text);
        if (!sheet.visit || *sheet.visit < 1) {
            return usage(fmt::format("--visit {}", *text), "no number of a visit", "count from 1, the first");
        }
    }
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    sheet.unit = unit.value();
    sheet.output = output_of(words);
    sheet.pictures_alone = !words.at("--svg").empty();
    return Command{std::move(sheet)};
}

Result<Command> export_command(const CommandDescription&, const Words& words) {
    ExportRecord to_export;
    to_export.record = record_file_of(words);
    if (const auto name = word(words, "--instrument")) to_export.instrument = *name;
    if (const auto text = word(words, "--csv")) {
        const auto choice = choice_of("--csv", *text, {"readings", "measurements", "surveys"});
        if (!choice) return choice.error();
        constexpr std::array forms{ExportForm::readings_csv, ExportForm::measurements_csv,
                                   ExportForm::surveys_csv};
        to_export.form = forms[choice.value()];
    }
    to_export.output = output_of(words);
    return Command{std::move(to_export)};
}

Result<Command> import_command(const CommandDescription&, const Words& words) {
    const auto& files = words.at("");
    if (files.size() != 1) {
        return usage("import", files.empty() ? "no file" : "more than one file",
                     "name one that 'midspan export' wrote, or - for standard input");
    }
    return Command{ImportRecord{record_file_of(words), files.front()}};
}

}  // namespace midspan::program
