// sheet_words.cpp: verdicts and reasons become sentences.
//
// Room: view. Pure.
#include "view/sheet_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "midspan/advice/saddle_move.hpp"
#include "view/bench_words.hpp"
#include "view/figures.hpp"
#include "view/names.hpp"

namespace midspan {
namespace {

std::string capitalised(std::string text) {
    if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
        text.front() = static_cast<char>(text.front() - 'a' + 'A');
    return text;
}

std::string_view sharp_or_flat(Cents error) { return error > Cents{0.0} ? "sharp" : "flat"; }

std::string toward(Millimetres toward_tail) {
    return toward_tail > Millimetres{0.0} ? "toward the tail" : "toward the nut";
}

bool good(const AnalysedString* s) { return s != nullptr && s->verdict == Verdict::in_tolerance; }

std::string reasons(const AnalysedString& s) {
    std::string text;
    for (const WarningCode code : s.warnings) {
        if (code == WarningCode::travel_exceeded) continue;
        text += (text.empty() ? "" : ", ") + std::string{reason_in_words(code)};
    }
    return text;
}

/// Why a string whose error is certain was left with it.
std::string why_left(const AnalysedString& s, BridgeKind bridge, LengthUnit unit) {
    std::string why;
    const Millimetres missing = s.move ? s.move->toward_tail : Millimetres{0.0};
    const bool out_of_travel =
        std::ranges::find(s.warnings, WarningCode::travel_exceeded) != s.warnings.end();
    if (s.move) {
        why = fmt::format(" Its saddle would have to stand {} farther {}",
                          bench_length(magnitude(missing), unit), toward(missing));
        why += out_of_travel ? ", which is more than it can travel." : ".";
    }
    if (bridge == BridgeKind::shared_saddles) {
        why += " It shares its saddle with another string, so both are a compromise.";
    }
    if (bridge == BridgeKind::one_piece) {
        why += " One saddle carries all strings, so each is a compromise.";
    }
    const std::string also = reasons(s);
    return also.empty() ? why : why + " Beside that: " + also + '.';
}

std::string why_not(const StringOverVisit& s, BridgeKind bridge, Cents tolerance, LengthUnit unit) {
    const std::string name = capitalised(name_in_words(s));
    const AnalysedString* last = s.last();
    if (last == nullptr) return name + " was not measured.";
    const Cents error = last->comparison->error.value;
    if (s.after == nullptr && last->verdict == Verdict::move) {
        return fmt::format("{} was not measured again; as received it was {} cents.", name,
                           error_in_words(last));
    }
    if (last->verdict == Verdict::move) {
        return fmt::format("{} is still {} at the 12th fret: {} cents.{}", name, sharp_or_flat(error),
                           error_in_words(last), why_left(*last, bridge, unit));
    }
    const std::string why = reasons(*last);
    return fmt::format("{} is not certain: {} cents lie neither clearly inside ±{:g} nor clearly outside{}.",
                       name, error_in_words(last), tolerance.value(), why.empty() ? "" : "; " + why);
}

}  // namespace

std::string name_in_words(const StringOverVisit& s) {
    return fmt::format("string {} ({})", s.string.number, s.string.open_note.text());
}

std::string error_in_words(const AnalysedString* s) {
    if (s == nullptr) return "–";
    const auto& error = s->comparison->error;
    return with_uncertainty(error.value.value(), 2.0 * error.uncertainty.value(), "±", Sign::always);
}

std::string move_in_words(const StringOverVisit& s, LengthUnit unit) {
    std::string turned;
    if (s.turned) {
        turned = fmt::format("{} {}", turns_in_words(*s.turned),
                             *s.turned > Turns{0.0} ? "toward the tail" : "toward the nut");
    }
    if (!s.move) return turned.empty() ? "–" : turned;
    const Millimetres move = s.move->toward_tail;
    const std::string distance = bench_length(magnitude(move), unit);
    if (distance == bench_length(Millimetres{0.0}, unit)) return "stayed";
    return fmt::format("{}{} {}{}", s.move->worked_out ? "about " : "", distance, toward(move),
                       s.turned ? fmt::format(" ({})", turns_in_words(*s.turned)) : "");
}

std::string outcome_in_words(const StringOverVisit& s) {
    const AnalysedString* last = s.last();
    if (last == nullptr) return "not measured";
    if (last->verdict == Verdict::in_tolerance) return s.after != nullptr ? "good" : "good as it was";
    if (s.after == nullptr) return "not measured again";
    if (last->verdict == Verdict::measure_again) return "not certain";
    return fmt::format("still {}", sharp_or_flat(last->comparison->error.value));
}

std::vector<std::string> in_short(std::span<const StringOverVisit> strings,
                                  std::span<const MeasuredOverVisit> measured, Cents tolerance,
                                  LengthUnit unit) {
    std::vector<std::string> sentences;
    const auto before = std::ranges::count_if(strings, [](const auto& s) { return good(s.before); });
    const auto after = std::ranges::count_if(strings, [](const auto& s) { return good(s.last()); });
    const bool any = std::ranges::any_of(strings, [](const auto& s) { return s.before != nullptr; });
    const bool again = std::ranges::any_of(strings, [](const auto& s) { return s.after != nullptr; });
    if (any) {
        sentences.push_back(
            again ? fmt::format(
                        "{} of {} strings now play in tune at the 12th fret, certainly within ±{:g} cents. "
                        "As received it was {}.",
                        after, strings.size(), tolerance.value(), before)
                  : fmt::format(
                        "As received, {} of {} strings played in tune at the 12th fret, certainly within "
                        "±{:g} cents. They were not measured again.",
                        before, strings.size(), tolerance.value()));
    }
    for (const MeasuredOverVisit& m : measured) {
        if (m.before == nullptr || m.after == nullptr || m.before->string) continue;
        const std::string from = bench_length(m.before->value, unit);
        const std::string to = bench_length(m.after->value, unit);
        const std::string name = capitalised(std::string{in_words(m.before->quantity)});
        sentences.push_back(from == to ? fmt::format("{} stayed at {}.", name, to)
                                       : fmt::format("{} went from {} to {}.", name, from, to));
    }
    if (again && after < static_cast<std::ptrdiff_t>(strings.size())) {
        sentences.emplace_back("What could not be put right, and why, stands below.");
    }
    return sentences;
}

std::vector<std::string> not_fixed(std::span<const StringOverVisit> strings, BridgeKind bridge,
                                   Cents tolerance, LengthUnit unit) {
    std::vector<std::string> sentences;
    for (const StringOverVisit& s : strings) {
        if (!good(s.last())) sentences.push_back(why_not(s, bridge, tolerance, unit));
    }
    return sentences;
}

}  // namespace midspan
