// bench_table.cpp: one row a string, further lines where a move needs them.
//
// Room: view. Pure.
#include "midspan/view/bench_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "view/as_said.hpp"
#include "view/columns.hpp"
#include "view/figures.hpp"
#include "view/move_words.hpp"
#include "view/names.hpp"

namespace midspan {
namespace {

constexpr std::size_t string_width = 8;
constexpr std::size_t tuning_width = 8;
constexpr std::size_t error_width = 16;
constexpr std::size_t verdict_width = 15;
constexpr std::size_t saddle_width = page_width - string_width - tuning_width - error_width - verdict_width;

double in_unit(Millimetres length, LengthUnit unit) {
    return unit == LengthUnit::inches ? length / millimetres_per_inch : length.value();
}

std::string_view unit_name(LengthUnit unit) { return unit == LengthUnit::inches ? "in" : "mm"; }

/// A length that is known without an uncertainty worth saying, at most a hundredth of a millimetre.
std::string plain_length(Millimetres length, LengthUnit unit) {
    return unit == LengthUnit::inches
               ? fmt::format("{:.6g} in", std::round(in_unit(length, unit) * 1e4) / 1e4)
               : fmt::format("{:.6g} mm", std::round(length.value() * 100.0) / 100.0);
}

/// The trade reads inches off a rule in 64ths.
std::string nearest_64th(Millimetres length) {
    const auto parts = std::lround(64.0 * (magnitude(length) / millimetres_per_inch));
    return parts == 0 ? "less than 1/64 in" : fmt::format("about {}/64 in", parts);
}

std::optional<std::string> travel_in_words(Millimetres toward_tail, const Saddle& saddle, LengthUnit unit) {
    const bool tail = toward_tail > Millimetres{0.0};
    const auto& travel = tail ? saddle.travel_toward_tail : saddle.travel_toward_nut;
    if (!travel) return std::nullopt;
    const Millimetres left = *travel - magnitude(toward_tail);
    const int decimals = unit == LengthUnit::inches ? 2 : 1;
    const std::string amount =
        fmt::format("{} {}", rounded(in_unit(magnitude(left), unit), decimals), unit_name(unit));
    return left < Millimetres{0.0} ? amount + " more than its travel" : amount + " of travel left then";
}

std::vector<std::string> move_lines(const AnalysedString& s, const Look& look) {
    const Millimetres move = s.move->toward_tail;
    const std::string distance =
        with_uncertainty(in_unit(magnitude(move), look.unit), 2.0 * in_unit(s.move->uncertainty, look.unit),
                         plus_minus(look), Sign::when_negative);
    std::vector<std::string> lines{
        fmt::format("{} {} {}", distance, unit_name(look.unit), direction_in_words(move))};
    if (look.unit == LengthUnit::inches) lines.push_back(nearest_64th(move));
    if (s.turns) lines.push_back(screw_in_words(*s.turns, s.string.saddle));
    if (s.turns_learned && s.turns_uncertainty) {
        lines.push_back(fmt::format("{} {} turns, from earlier moves", plus_minus(look),
                                    rounded(2.0 * s.turns_uncertainty->value(), 2)));
    }
    if (auto travel = travel_in_words(move, s.string.saddle, look.unit)) lines.push_back(*std::move(travel));
    return lines;
}

/// Every reason for measuring again, or what is to be known beside a verdict. A travel that does not suffice
/// stands with the move.
std::vector<std::string> reason_lines(const AnalysedString& s) {
    std::string reasons;
    for (const WarningCode code : s.warnings) {
        if (code == WarningCode::travel_exceeded && s.verdict == Verdict::move) continue;
        if (!reasons.empty()) reasons += ", ";
        reasons += reason_in_words(code);
    }
    if (reasons.empty() && s.verdict == Verdict::measure_again) reasons = "too near the tolerance to tell";
    return broken(reasons, saddle_width);
}

std::string emphasised(const std::string& text, bool strong) {
    return strong ? "\x1b[1m" + text + "\x1b[0m" : text;
}

std::string without_trailing_spaces(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line + '\n';
}

std::string rows(const AnalysedString& s, const Look& look) {
    const bool move = s.verdict == Verdict::move && s.move;
    std::vector<std::string> saddle = move ? move_lines(s, look) : std::vector<std::string>{};
    for (std::string& line : reason_lines(s))
        saddle.push_back(std::move(line));
    if (saddle.empty()) saddle.emplace_back();

    const auto& c = s.comparison;
    const std::string error = c ? with_uncertainty(c->error.value.value(), 2.0 * c->error.uncertainty.value(),
                                                   plus_minus(look), Sign::always)
                                : "-";
    const std::string tuning = s.tuning ? rounded(s.tuning->off.value(), 1, Sign::always) : "-";
    const std::string verdict{verdict_in_words(s.verdict)};

    // Escape sequences take no column, so the padding is worked out without them.
    std::string result = without_trailing_spaces(
        padded(fmt::format("{:>2}  {}", s.string.number, s.string.open_note.text()), string_width) +
        padded(tuning, tuning_width) + padded(error, error_width) +
        emphasised(padded(verdict, verdict_width), look.emphasis && move) + saddle.front());
    for (std::size_t i = 1; i < saddle.size(); ++i) {
        result += std::string(page_width - saddle_width, ' ') + saddle[i] + '\n';
    }
    return result;
}

std::string recording_line(const AnalysedRecording& r) {
    const std::string channel =
        r.channels == 1 ? std::string{"mono"}
                        : fmt::format("channel {} of {}, {}", r.channel_used, r.channels,
                                      r.channel_chosen_by_user ? "as asked for" : "chosen by its signal");
    const std::string name = r.path == "-" ? "standard input" : printable(r.path);
    return fmt::format("{}: {} min, {:g} kHz, {}\n", name, minutes_and_seconds(r.duration),
                       r.sample_rate.value() / 1000.0, channel);
}

std::string scale_lengths(const Analysis& analysis, LengthUnit unit) {
    const auto [s, l] = std::ranges::minmax_element(
        analysis.strings, {}, [](const AnalysedString& string) { return string.string.scale_length; });
    const Millimetres shortest = s->string.scale_length;
    const Millimetres longest = l->string.scale_length;
    if (shortest == longest) return "Scale length " + plain_length(shortest, unit);
    return fmt::format("Scale lengths {} to {}", plain_length(shortest, unit), plain_length(longest, unit));
}

}  // namespace

std::string bench_table(const Analysis& analysis, const Look& look) {
    std::string result;
    for (const AnalysedRecording& r : analysis.recordings)
        result += recording_line(r);
    if (analysis.strings.empty()) return result;
    result += fmt::format("{}, A4 = {:g} Hz, good enough within {} {:g} cents\n",
                          scale_lengths(analysis, look.unit), analysis.a4.value(), plus_minus(look),
                          analysis.tolerance.value());
    result += '\n';
    result += padded("String", string_width) + padded("Tuning", tuning_width) + padded("Error", error_width) +
              padded("Verdict", verdict_width) + "Saddle\n";
    result += std::string(string_width, ' ') + padded("cents", tuning_width) + "cents\n";
    for (const AnalysedString& s : as_said(analysis))
        result += rows(s, look);
    const bool any = std::ranges::any_of(analysis.strings,
                                         [](const AnalysedString& s) { return s.comparison.has_value(); });
    if (!any) return result;
    return result + '\n' +
           paragraph("",
                     fmt::format("Error: the fretted 12th against the 12th-fret harmonic; positive is sharp. "
                                 "Of 100 readings, 95 lie within their {}.",
                                 plus_minus(look)));
}

}  // namespace midspan
