// setup_sheet.cpp: the page, section by section.
//
// Room: view. Pure.
#include "midspan/view/setup_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <string_view>
#include <vector>

#include "midspan/record/record_names.hpp"
#include "view/bench_words.hpp"
#include "view/escaped.hpp"
#include "view/figures.hpp"
#include "view/neck_words.hpp"
#include "view/sheet_content.hpp"
#include "view/sheet_pictures.hpp"
#include "view/sheet_style.hpp"
#include "view/sheet_words.hpp"

namespace midspan {
namespace {

std::string section(std::string_view heading, const std::string& content, std::string_view name = {}) {
    if (content.empty()) return {};
    const std::string named = name.empty() ? std::string{} : fmt::format(" class=\"{}\"", name);
    return fmt::format("<section{}>\n<h2>{}</h2>\n{}</section>\n", named, heading, content);
}

std::string list(const std::vector<std::string>& sentences) {
    if (sentences.empty()) return {};
    std::string items;
    for (const std::string& sentence : sentences)
        items += fmt::format("<li>{}</li>\n", escaped(sentence));
    return fmt::format("<ul>\n{}</ul>\n", items);
}

/// A name and what is known about it; nothing when it is not.
struct Fact {
    std::string_view name;
    std::string value;
};

std::string facts(const std::vector<Fact>& all) {
    std::string rows;
    for (const Fact& fact : all) {
        if (!fact.value.empty())
            rows += fmt::format("<dt>{}</dt><dd>{}</dd>\n", fact.name, escaped(fact.value));
    }
    return rows.empty() ? rows : fmt::format("<dl>\n{}</dl>\n", rows);
}

/// `column` is its heading, which stands above it on paper and beside it on a phone.
std::string cell(std::string_view column, const std::string& text, std::string_view name = {}) {
    const std::string named = name.empty() ? std::string{} : fmt::format(" class=\"{}\"", name);
    return fmt::format("<td data-is=\"{}\"{}>{}</td>", column, named, escaped(text));
}

std::string head_of(std::span<const std::string_view> columns) {
    std::string cells;
    for (const std::string_view column : columns)
        cells += fmt::format("<th scope=\"col\">{}</th>", column);
    return cells;
}

std::string table(std::span<const std::string_view> columns, const std::string& rows) {
    if (rows.empty()) return {};
    return fmt::format("<table>\n<thead><tr>{}</tr></thead>\n<tbody>\n{}</tbody>\n</table>\n",
                       head_of(columns), rows);
}

std::string gauge(const FittedString* fitted, LengthUnit unit) {
    if (fitted == nullptr) return "–";
    std::string text = fitted->gauge ? bench_length(*fitted->gauge, unit) : std::string{};
    if (fitted->winding) text += (text.empty() ? "" : " ") + std::string{name_of(*fitted->winding)};
    return text.empty() ? "–" : text;
}

std::string plain_length(Millimetres length, LengthUnit unit) {
    return unit == LengthUnit::inches
               ? fmt::format("{:.6g} in", std::round(length / millimetres_per_inch * 1e3) / 1e3)
               : fmt::format("{:.6g} mm", std::round(length.value() * 100.0) / 100.0);
}

std::string tuning(const Instrument& instrument) {
    std::string notes;
    for (auto s = instrument.strings.rbegin(); s != instrument.strings.rend(); ++s)
        notes += (notes.empty() ? "" : " ") + s->open_note.text();
    return fmt::format("{}, A4 = {:g} Hz", notes, instrument.a4.value());
}

std::string scale_lengths(const Instrument& instrument, LengthUnit unit) {
    const auto [shortest, longest] =
        std::ranges::minmax(instrument.strings, {}, [](const InstrumentString& s) { return s.scale_length; });
    const std::string from = plain_length(shortest.scale_length, unit);
    const std::string to = plain_length(longest.scale_length, unit);
    return from == to ? from : from + " to " + to;
}

std::string header(const InstrumentEntry& entry, const Visit& visit) {
    std::string line =
        fmt::format("{}{}", name_of(entry.kind), entry.instrument.left_handed ? ", left-handed" : "");
    line += fmt::format(" · visit {} · {}", visit.number, visit.day);
    if (!visit.who.empty()) line += " · work by " + visit.who;
    return fmt::format("<header>\n<p>Setup sheet</p>\n<h1>{}</h1>\n<p>{}</p>\n</header>\n",
                       escaped(entry.instrument.name), escaped(line));
}

std::string pictures(const Picture& errors, const Picture& bridge) {
    return fmt::format(
        "<div class=\"pictures\">\n"
        "<figure class=\"errors\">\n<figcaption>Each string at the 12th fret</figcaption>\n{}</figure>\n"
        "<figure class=\"bridge\">\n<figcaption>The bridge from above</figcaption>\n{}</figure>\n"
        "</div>\n",
        errors.in_page(), bridge.in_page());
}

/// So that a result is seen at a glance and without colour.
std::string_view sign_of(std::string_view outcome) {
    if (outcome.starts_with("good")) return "✓";
    return outcome.starts_with("still") ? "✗" : "?";
}

std::string strings_table(const std::vector<StringOverVisit>& strings, LengthUnit unit) {
    constexpr std::array<std::string_view, 6> columns{"String",       "Gauge",        "As received, cents",
                                                      "After, cents", "Saddle moved", "Result"};
    std::string rows;
    for (const StringOverVisit& s : strings) {
        const std::string outcome = outcome_in_words(s);
        const std::string_view sign = sign_of(outcome);
        rows +=
            fmt::format("<tr><th scope=\"row\">{} {}</th>", s.string.number, s.string.open_note.text()) +
            cell(columns[1], gauge(s.fitted, unit), "n") + cell(columns[2], error_in_words(s.before), "n") +
            cell(columns[3], error_in_words(s.after), "n") + cell(columns[4], move_in_words(s, unit)) +
            cell(columns[5], fmt::format("{} {}", sign, outcome), sign == "✓" ? "n" : "n bad") + "</tr>\n";
    }
    return table(columns, rows) +
           "<p class=\"small\">The fretted 12th against the 12th-fret harmonic of the same string, both "
           "settled; "
           "+ is sharp, - is flat. Of 100 readings, 95 lie within their ±.</p>\n";
}

/// The neck as it was left.
std::string whole_neck(const Visit& visit, LengthUnit unit) {
    if (visit.surveys.empty()) return {};
    const NeckReading& last = visit.surveys.back();
    const Look look{unit, true, false};
    std::string remarks;
    for (const std::string& remark : remarks_in_words(last.analysis, look))
        remarks += fmt::format("<p class=\"small\">{}</p>\n", escaped(remark));
    std::string findings;
    for (const std::string& finding : findings_in_words(last.analysis, look))
        findings += fmt::format("<li>{}</li>\n", escaped(finding));
    if (!findings.empty()) findings = fmt::format("<ol>\n{}</ol>\n", findings);
    return fmt::format(
        "<figure class=\"neck\">\n<figcaption>Error of every plucked note in cents, surveyed {} at {} UTC"
        "</figcaption>\n{}</figure>\n{}{}",
        last.taken_at.substr(0, 10), last.taken_at.substr(11, 5), neck_map(last.analysis).in_page(), findings,
        remarks);
}

std::string measured_value(const BenchMeasurement* measurement, LengthUnit unit) {
    return measurement != nullptr ? bench_length_in_both(measurement->value, unit) : "–";
}

std::string measurements_table(const std::vector<MeasuredOverVisit>& measured, LengthUnit unit) {
    constexpr std::array<std::string_view, 4> columns{"What", "As received", "After", "How it was measured"};
    std::string rows;
    for (const MeasuredOverVisit& m : measured) {
        const BenchMeasurement& any = m.any();
        std::string what{in_words(any.quantity)};
        if (any.string) what += fmt::format(", string {}", *any.string);
        std::string method = in_words(any.method);
        const std::string& note = m.after != nullptr && !m.after->note.empty() ? m.after->note : any.note;
        if (!note.empty()) method += (method.empty() ? "" : "; ") + note;
        rows += fmt::format("<tr><th scope=\"row\">{}</th>", what) +
                cell(columns[1], measured_value(m.before, unit), "n") +
                cell(columns[2], measured_value(m.after, unit), "n") +
                cell(columns[3], method.empty() ? "not told" : method) + "</tr>\n";
    }
    return table(columns, rows);
}

std::string about_instrument(const InstrumentEntry& entry, LengthUnit unit) {
    const Instrument& instrument = entry.instrument;
    return facts({{"Tuning", tuning(instrument)},
                  {"Scale length", scale_lengths(instrument, unit)},
                  {"Frets", entry.frets ? std::to_string(*entry.frets) : ""},
                  {"Fingerboard radius",
                   entry.fingerboard_radius ? plain_length(*entry.fingerboard_radius, unit) : ""},
                  {"Bridge", std::string{in_words(entry.bridge)}},
                  {"Notes", entry.notes}});
}

std::string conditions(const InstrumentEntry& entry, const Visit& visit) {
    return facts(
        {{"Strings", visit.strings.empty() ? entry.strings : visit.strings},
         {"Fitted on", visit.strings_fitted_on.value_or("")},
         {"Room", visit.temperature ? fmt::format("{:g} °C", visit.temperature->value()) : ""},
         {"Air", visit.humidity ? fmt::format("{:g} % relative humidity", visit.humidity->value()) : ""},
         {"Work done", visit.work_done},
         {"Notes", visit.notes}});
}

/// Common practice, no source.
constexpr std::array<std::string_view, 4> to_mind{
    "New strings stretch for some days: tune often, and judge the intonation when they hold.",
    "Wood follows the air. Between 40 and 55 % relative humidity relief and action stay nearly as measured "
    "here; "
    "with the seasons they wander.",
    "Other strings or another tuning change relief, action and intonation: have all three looked at then.",
    "A truss rod or a saddle screw that resists wants a luthier, not force. Slacken a string before its "
    "saddle is "
    "moved.",
};

std::string cautions() { return list({to_mind.begin(), to_mind.end()}); }

std::string repeat(const Visit& visit, Cents tolerance) {
    if (visit.readings.empty()) return {};
    return fmt::format(
        "<p>Tune the open string. Pluck its harmonic over the 12th fret and its note fretted at the 12th in "
        "turn, "
        "softly, three times each, letting them ring; hold the instrument as it is played. The error is the "
        "mean of fretted minus harmonic. A string is good when the error lies within ±{:g} cents with all "
        "its ±. One "
        "cent is worth L ln 2 / 1200 of saddle travel, 0.37 mm at a scale length of 648 mm, with the open "
        "string "
        "tuned back to pitch.</p>\n",
        tolerance.value());
}

constexpr std::string_view signatures =
    "<footer>\n<div>Date</div>\n<div>Technician</div>\n<div>Customer</div>\n</footer>\n";

}  // namespace

std::string setup_sheet(const InstrumentEntry& entry, const Visit& visit, LengthUnit unit) {
    const std::vector<StringOverVisit> strings = strings_over(entry, visit);
    const std::vector<MeasuredOverVisit> measured = measured_over(visit);
    const Cents tolerance = tolerance_of(visit);
    const std::string title = fmt::format("Setup sheet: {}, {}", entry.instrument.name, visit.day);
    const bool any_reading = !visit.readings.empty();

    std::string body = header(entry, visit);
    body += section("In short", list(in_short(strings, measured, tolerance, unit)), "short");
    if (any_reading) {
        body += pictures(error_picture(strings, tolerance),
                         bridge_picture(strings, entry.bridge, entry.instrument.left_handed, unit));
        body += section("Intonation", strings_table(strings, unit));
        body += section("What was not put right, and why",
                        list(not_fixed(strings, entry.bridge, tolerance, unit)));
    }
    body += section("Measurements", measurements_table(measured, unit));
    body += section("The whole neck", whole_neck(visit, unit));
    body +=
        fmt::format("<div class=\"columns\">\n{}{}</div>\n", section("The visit", conditions(entry, visit)),
                    section("The instrument", about_instrument(entry, unit)));
    body += section("What to mind", cautions());
    body += section("To repeat it", repeat(visit, tolerance));
    body += signatures;
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n<main>\n{}</main>\n</body>\n</html>\n",
        escaped(title), sheet_style, body);
}

std::string setup_pictures(const InstrumentEntry& entry, const Visit& visit, LengthUnit unit) {
    const std::vector<StringOverVisit> strings = strings_over(entry, visit);
    std::vector pictures{error_picture(strings, tolerance_of(visit)),
                         bridge_picture(strings, entry.bridge, entry.instrument.left_handed, unit)};
    if (!visit.surveys.empty()) pictures.push_back(neck_map(visit.surveys.back().analysis));
    return svg_file(pictures);
}

}  // namespace midspan
