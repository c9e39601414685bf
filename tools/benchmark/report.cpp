// report.cpp: tables as text, as JSON and as Markdown.
//
// Room: tools/benchmark. Pure.
#include "benchmark/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace midspan::benchmark {
namespace {

std::string text_of(const Cell& cell) {
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return rounded(std::get<double>(cell));
}

std::string goal_of(const Figure& figure) {
    if (figure.at_most && figure.at_least) {
        return fmt::format("{} to {} {}", rounded(*figure.at_least), rounded(*figure.at_most), figure.unit);
    }
    if (figure.at_most) return fmt::format("≤ {} {}", rounded(*figure.at_most), figure.unit);
    if (figure.at_least) return fmt::format("≥ {} {}", rounded(*figure.at_least), figure.unit);
    return "";
}

Table table_of(const std::vector<Figure>& figures) {
    Table table{"goals", "Numbers to reach", {"what", "measured", "goal", ""}, {}};
    for (const Figure& figure : figures) {
        table.rows.push_back({figure.what, fmt::format("{} {}", rounded(figure.measured), figure.unit),
                              goal_of(figure), std::string{figure.met() ? "met" : "not met"}});
    }
    return table;
}

std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

std::string text_of(const Table& table) {
    std::vector<std::vector<std::string>> lines{table.columns};
    for (const auto& row : table.rows) {
        std::vector<std::string>& line = lines.emplace_back();
        for (const Cell& cell : row)
            line.push_back(text_of(cell));
    }
    std::vector<std::size_t> widths(table.columns.size());
    for (const auto& line : lines) {
        for (std::size_t i = 0; i < line.size(); ++i)
            widths[i] = std::max(widths[i], characters(line[i]));
    }
    std::string text = table.title + "\n\n";
    for (const auto& line : lines) {
        std::string row = "   ";
        for (std::size_t i = 0; i < line.size(); ++i) {
            const std::string padding(widths[i] - characters(line[i]), ' ');
            row += " " + (i == 0 ? line[i] + padding : padding + line[i]) + " ";
        }
        row.erase(row.find_last_not_of(' ') + 1);
        text += row + "\n";
    }
    return text + "\n";
}

std::string markdown_row(const std::vector<std::string>& cells) {
    std::string row = "|";
    for (const std::string& cell : cells)
        row += cell.empty() ? " |" : " " + cell + " |";
    return row + "\n";
}

std::string markdown_of(const Table& table) {
    std::string text =
        markdown_row(table.columns) + markdown_row(std::vector<std::string>(table.columns.size(), "---"));
    for (const auto& row : table.rows) {
        std::vector<std::string> cells;
        for (const Cell& cell : row)
            cells.push_back(text_of(cell));
        text += markdown_row(cells);
    }
    return text;
}

std::string sentence_of(const Machine& machine) {
    return fmt::format("{}, {} cores", machine.processor, machine.cores);
}

/// JSON knows no number that is none.
nlohmann::ordered_json number(double value) {
    return std::isfinite(value) ? nlohmann::ordered_json(value) : nlohmann::ordered_json(nullptr);
}

nlohmann::ordered_json json_of(const Table& table) {
    nlohmann::ordered_json rows = nlohmann::ordered_json::array();
    for (const auto& row : table.rows) {
        nlohmann::ordered_json object;
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (const auto* text = std::get_if<std::string>(&row[i])) {
                object[table.columns[i]] = *text;
            } else {
                object[table.columns[i]] = number(std::get<double>(row[i]));
            }
        }
        rows.push_back(std::move(object));
    }
    return {{"name", table.name}, {"title", table.title}, {"rows", std::move(rows)}};
}

}  // namespace

std::string rounded(double value) {
    if (!std::isfinite(value)) return "-";
    if (std::abs(value) >= 100.0) return fmt::format("{:.0f}", value);
    if (std::abs(value) < 1e-12) return "0";
    const int decimals = std::clamp(2 - static_cast<int>(std::floor(std::log10(std::abs(value)))), 0, 7);
    std::string text = fmt::format("{:.{}f}", value, decimals);
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string as_text(const Report& report, const Machine& machine) {
    std::string text = "Measured on: " + sentence_of(machine) + "\n\n";
    if (!report.figures.empty()) text += text_of(table_of(report.figures));
    for (const Table& table : report.tables)
        text += text_of(table);
    for (const std::string& remark : report.remarks)
        text += remark + "\n";
    return text;
}

std::string as_json(const Report& report, const Machine& machine) {
    nlohmann::ordered_json figures = nlohmann::ordered_json::array();
    for (const Figure& figure : report.figures) {
        nlohmann::ordered_json object{
            {"what", figure.what}, {"measured", number(figure.measured)}, {"unit", figure.unit}};
        if (figure.at_most) object["at_most"] = *figure.at_most;
        if (figure.at_least) object["at_least"] = *figure.at_least;
        object["met"] = figure.met();
        figures.push_back(std::move(object));
    }
    nlohmann::ordered_json tables = nlohmann::ordered_json::array();
    for (const Table& table : report.tables)
        tables.push_back(json_of(table));
    const nlohmann::ordered_json whole{
        {"schema", "midspan/benchmark/1"},
        {"machine", {{"processor", machine.processor}, {"cores", machine.cores}}},
        {"goals", std::move(figures)},
        {"tables", std::move(tables)},
        {"remarks", report.remarks}};
    return whole.dump(2) + "\n";
}

std::string as_markdown(const Report& report, const Machine& machine) {
    std::string text = markdown_of(table_of(report.figures));
    for (const Table& table : report.tables) {
        if (table.for_readme) text += "\n" + table.title + "\n\n" + markdown_of(table);
    }
    return text + "\nMeasured on: " + sentence_of(machine) + ".\n";
}

}  // namespace midspan::benchmark
