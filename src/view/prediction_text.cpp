// prediction_text.cpp: a prediction as tables and cautions.
//
// Room: view. Pure.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "midspan/view/prediction_view.hpp"
#include "view/bench_words.hpp"
#include "view/columns.hpp"
#include "view/figures.hpp"
#include "view/move_words.hpp"

namespace midspan {
namespace {

constexpr std::array shown_frets{1, 3, 5, 7, 12, 19};
constexpr std::size_t string_width = 8;
constexpr std::size_t tension_width = 12;
constexpr std::size_t note_width = 12;

constexpr double near_breaking = 0.8;
constexpr double too_slack = 25.0;  // N, common practice
constexpr double much_more = 0.10;  // of the tension
constexpr double felt = 0.005;      // the least that is told as a percent
constexpr Millimetres nut_slot_play{0.05};

/// Nobody hears less of a note than a tenth of a cent, or feels less of a string than a newton: no more
/// decimals than that.
constexpr int cents_decimals = 1;
constexpr int newtons_decimals = 0;

template <class Unit>
std::string value_of(const Uncertain<Quantity<Unit>>& q, int most_decimals, const Look& look, Sign sign) {
    const double expanded = 2.0 * q.uncertainty.value();
    const double finest = std::pow(10.0, -most_decimals);
    if (expanded < finest && std::abs(q.value.value()) < finest) return "0";
    const int decimals = std::min(most_decimals, decimals_for(std::max(expanded, finest)));
    return fmt::format("{} {} {}", rounded(q.value.value(), decimals, sign), plus_minus(look),
                       rounded(std::max(expanded, finest), decimals));
}

std::string newtons(const Uncertain<Newtons>& tension, const Look& look, Sign sign = Sign::when_negative) {
    return value_of(tension, newtons_decimals, look, sign);
}

std::string line_of(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line + '\n';
}

std::string setup_in_words(std::string_view name, const Setup& setup, const Look& look) {
    std::string gauges, notes;
    for (std::size_t i = setup.strings.size(); i-- > 0;) {
        gauges += (gauges.empty() ? "" : " ") + gauge_in_words(setup.strings[i]);
        notes += (notes.empty() ? "" : " ") + setup.instrument.strings[i].open_note.text();
    }
    return paragraph(
        name, fmt::format("{} in {}, action {}, nut {}, relief {}", gauges, notes,
                          bench_length(setup.action, look.unit), bench_length(setup.nut_height, look.unit),
                          bench_length(setup.relief, look.unit)));
}

std::string string_name(const Setup& setup, const PredictedString& string) {
    return padded(
        fmt::format("{:>2}  {}", string.number, setup.instrument.string(string.number).open_note.text()),
        string_width);
}

std::string length_of(const Uncertain<Millimetres>& length, const Look& look) {
    const bool inches = look.unit == LengthUnit::inches;
    const double unit = inches ? millimetres_per_inch.value() : 1.0;
    return with_uncertainty(std::abs(length.value.value()) / unit, 2.0 * length.uncertainty.value() / unit,
                            plus_minus(look), Sign::when_negative) +
           (inches ? " in" : " mm");
}

std::string move_in_words(const PredictedString& string, const Look& look) {
    const Millimetres expanded = 2.0 * string.move.uncertainty;
    if (magnitude(string.move.value) <= expanded) {
        const Millimetres most = magnitude(string.move.value) + expanded;
        return most < Millimetres{0.05} ? "stays" : "may stay, within " + bench_length(most, look.unit);
    }
    return fmt::format("{} {}", length_of(string.move, look), direction_in_words(string.move.value));
}

std::string strings_in_words(const std::vector<int>& numbers) {
    std::string text = numbers.size() == 1 ? "string " : "strings ";
    for (std::size_t i = 0; i < numbers.size(); ++i)
        text += fmt::format("{}{}", i == 0 ? "" : i + 1 == numbers.size() ? " and " : ", ", numbers[i]);
    return text;
}

/// The strings of which something holds, string 1 last.
template <class Holds>
std::vector<int> strings_where(const SetupPrediction& prediction, Holds holds) {
    std::vector<int> numbers;
    for (std::size_t i = prediction.strings.size(); i-- > 0;) {
        if (holds(i)) numbers.push_back(prediction.strings[i].number);
    }
    return numbers;
}

/// Whether the travel will do, as far as it is known.
std::string travel_in_words(const SetupPrediction& prediction) {
    std::string text;
    const auto say = [&](TravelVerdict verdict, std::string_view words) {
        const auto numbers =
            strings_where(prediction, [&](std::size_t i) { return prediction.strings[i].travel == verdict; });
        if (numbers.empty()) return;
        const bool all = numbers.size() == prediction.strings.size();
        text += fmt::format("{}{} {}", text.empty() ? "" : "; ", words,
                            all ? "all strings" : strings_in_words(numbers));
    };
    say(TravelVerdict::enough, "enough for");
    say(TravelVerdict::doubtful, "perhaps too little for");
    say(TravelVerdict::too_short, "too little for");
    return text.empty() ? text : paragraph("Travel  ", text + '.');
}

template <class Number>
std::string notes_table(const Setup& setup, const SetupPrediction& prediction, const Look& look,
                        Number number) {
    std::string text = padded("String", string_width);
    for (const int fret : shown_frets)
        text += padded(fmt::format("fret {}", fret), note_width);
    text = line_of(text);
    for (std::size_t i = prediction.strings.size(); i-- > 0;) {
        std::string row = string_name(setup, prediction.strings[i]);
        for (const PredictedNote& note : prediction.strings[i].notes) {
            if (std::find(shown_frets.begin(), shown_frets.end(), note.fret) == shown_frets.end()) continue;
            row += padded(value_of(number(note), cents_decimals, look, Sign::always), note_width);
        }
        text += line_of(row);
    }
    return text;
}

std::string one_setup(const Setup& setup, const SetupPrediction& prediction, const Look& look) {
    std::string text = line_of(padded("String", string_width) + padded("Tension, N", tension_width) +
                               "Saddle beyond the scale length");
    for (std::size_t i = prediction.strings.size(); i-- > 0;) {
        const PredictedString& string = prediction.strings[i];
        text +=
            line_of(string_name(setup, string) + padded(newtons(string.tension_before, look), tension_width) +
                    length_of(string.setback_before, look));
    }
    text += line_of(padded("All", string_width) + newtons(prediction.tension_before, look));
    text += "\nErrors of a neck without a fault, in cents, the 12th set right\n";
    return text + notes_table(setup, prediction, look, [](const PredictedNote& n) { return n.before; });
}

std::string change(const Setup& after, const SetupPrediction& prediction, const Look& look) {
    std::string text = line_of(padded("", string_width) + "Tension, N") +
                       line_of(padded("String", string_width) + padded("before", tension_width) +
                               padded("after", tension_width) + padded("change", tension_width) + "Saddle");
    const auto tensions = [&](const auto& of) {
        return padded(newtons(of.tension_before, look), tension_width) +
               padded(newtons(of.tension_after, look), tension_width) +
               padded(newtons(of.tension_change, look, Sign::always), tension_width);
    };
    for (std::size_t i = prediction.strings.size(); i-- > 0;) {
        const PredictedString& string = prediction.strings[i];
        text += line_of(string_name(after, string) + tensions(string) + move_in_words(string, look));
    }
    text += line_of(padded("All", string_width) + tensions(prediction));
    text += travel_in_words(prediction);
    text += "\nChange of the error if the saddle stays, in cents\n";
    text += notes_table(after, prediction, look, [](const PredictedNote& n) { return n.change; });
    text += "\nErrors that remain once the saddle has moved: no fault, physics\n";
    return text + notes_table(after, prediction, look, [](const PredictedNote& n) { return n.after_move; });
}

std::string cautions(const Setup& before, const Setup& after, const SetupPrediction& prediction) {
    std::string text;
    const auto caution = [&](const std::string& words) { text += paragraph("- ", words); };
    const double more = prediction.tension_change.value.value() / prediction.tension_before.value.value();
    const bool surely = prediction.tension_change.value > 2.0 * prediction.tension_change.uncertainty;
    if ((surely && more > felt) || more > much_more) {
        caution(
            fmt::format("The strings together pull {:.0f} % more. Relief and action rise with it: set the "
                        "truss rod first, "
                        "then action, then intonation. On an old or lightly built instrument, one without a "
                        "truss rod, or "
                        "one made for lighter strings, ask a qualified luthier before (common practice).",
                        100.0 * more));
    } else if (-more > much_more) {
        caution(
            fmt::format("The strings together pull {:.0f} % less. Relief and action fall with it: look at "
                        "the truss rod before the intonation.",
                        -100.0 * more));
    }
    const auto breaking = strings_where(
        prediction, [&](std::size_t i) { return prediction.strings[i].share_of_strength > near_breaking; });
    const auto slack = strings_where(prediction, [&](std::size_t i) {
        return prediction.strings[i].tension_after.value < Newtons{too_slack};
    });
    const auto thicker = strings_where(prediction, [&](std::size_t i) {
        return after.strings[i].gauge - before.strings[i].gauge > nut_slot_play;
    });
    const auto short_travel = strings_where(prediction, [&](std::size_t i) {
        const TravelVerdict travel = prediction.strings[i].travel;
        return travel == TravelVerdict::too_short || travel == TravelVerdict::doubtful;
    });
    if (!breaking.empty()) {
        caution(
            fmt::format("At that pitch {} would carry more than {:.0f} % of what music wire bears: it may "
                        "break. Keep your eyes away, or take a thinner gauge for more stretch, a lower note.",
                        strings_in_words(breaking), 100.0 * near_breaking));
    }
    if (!slack.empty()) {
        caution(fmt::format("Below {:.0f} N a string flaps and bends out of tune under the finger: {}.",
                            too_slack, strings_in_words(slack)));
    }
    if (!thicker.empty()) {
        caution(
            fmt::format("Thicker than before: {}. See that each still lies on the bottom of its nut slot; "
                        "widening slots is work for a luthier where you have no files for it.",
                        strings_in_words(thicker)));
    }
    if (!short_travel.empty()) {
        caution(fmt::format("The saddle's travel may not do for {}: see before you buy.",
                            strings_in_words(short_travel)));
    }
    return text.empty() ? text : "\nBefore you change anything\n" + text;
}

}  // namespace

bool differ(const Setup& before, const Setup& after) {
    if (before.action != after.action || before.nut_height != after.nut_height ||
        before.relief != after.relief)
        return true;
    for (std::size_t i = 0; i < before.strings.size(); ++i) {
        const StringGauge &a = before.strings[i], &b = after.strings[i];
        if (a.gauge != b.gauge || a.wound != b.wound || a.core != b.core) return true;
        if (before.instrument.strings[i].open_frequency != after.instrument.strings[i].open_frequency)
            return true;
    }
    return false;
}

std::string prediction_text(const Setup& before, const Setup& after, const SetupPrediction& prediction,
                            const Look& look) {
    const bool changed = differ(before, after);
    std::string text =
        changed ? setup_in_words("Before  ", before, look) + setup_in_words("After   ", after, look)
                : setup_in_words("Setup   ", before, look);
    text += '\n';
    text += changed ? change(after, prediction, look) : one_setup(before, prediction, look);
    const auto core_unstated = [](const StringGauge& string) { return string.wound && !string.core; };
    const bool guessed = std::any_of(after.strings.begin(), after.strings.end(), core_unstated) ||
                         std::any_of(before.strings.begin(), before.strings.end(), core_unstated);
    text +=
        '\n' +
        paragraph("", fmt::format("Errors count from the 12th-fret harmonic; positive is sharp. {} are two "
                                  "standard uncertainties: of steel, cores and wraps nobody stated, of how "
                                  "the ends are held and where the finger presses, and of heights.",
                                  plus_minus(look)));
    if (guessed) {
        text +=
            paragraph("", "Most of it is the cores of the wound strings: where you know them, write 46w/17.");
    }
    return text + cautions(before, after, prediction);
}

}  // namespace midspan
