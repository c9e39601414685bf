// record_pages.cpp: lists in columns, and one line for each thing there is to say.
//
// Room: view. Pure.
#include "view/record_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "midspan/record/record_names.hpp"
#include "midspan/view/neck_drawing.hpp"
#include "view/bench_words.hpp"
#include "view/columns.hpp"
#include "view/figures.hpp"
#include "view/names.hpp"
#include "view/sheet_content.hpp"

namespace midspan {
namespace {

using Cells = std::vector<std::string>;

/// Rows in columns as wide as their widest cell, two blanks between; the last column is not padded.
std::string in_columns(const std::vector<Cells>& rows) {
    std::vector<std::size_t> widths;
    for (const Cells& row : rows) {
        widths.resize(std::max(widths.size(), row.size()));
        for (std::size_t i = 0; i < row.size(); ++i)
            widths[i] = std::max(widths[i], columns(row[i]));
    }
    std::string text;
    for (const Cells& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i)
            line += i + 1 == row.size() ? row[i] : padded(row[i], widths[i] + 2);
        line.erase(line.find_last_not_of(' ') + 1);
        text += line + '\n';
    }
    return text;
}

constexpr std::size_t label_width = 22;

/// "Label   what is said", or nothing when nothing is.
std::string line_of(std::string_view label, const std::string& said) {
    if (said.empty()) return {};
    return padded("  " + std::string{label}, label_width) + printable(said) + '\n';
}

std::string day_of(const Moment& moment) { return moment.substr(0, 10); }

/// Hours and minutes.
std::string time_of(const Moment& moment) { return moment.size() < 16 ? moment : moment.substr(11, 5); }

std::string gauge_in_words(const FittedString& fitted, LengthUnit unit) {
    std::string text;
    if (fitted.gauge) {
        text = unit == LengthUnit::inches ? rounded(*fitted.gauge / millimetres_per_inch, 4) + " in"
                                          : rounded(fitted.gauge->value(), 3) + " mm";
    }
    if (fitted.winding) text += fmt::format(" {}", name_of(*fitted.winding));
    if (fitted.core) text += fmt::format(" (core {:.3f} mm)", fitted.core->value());
    return text;
}

std::string saddle_in_words(const Saddle& saddle, LengthUnit unit) {
    std::vector<std::string> parts;
    if (saddle.thread_pitch) parts.push_back(fmt::format("{:.3f} mm a turn", saddle.thread_pitch->value()));
    if (saddle.clockwise_is_toward_tail)
        parts.push_back(fmt::format("clockwise {}",
                                    *saddle.clockwise_is_toward_tail ? "toward the tail" : "toward the nut"));
    if (saddle.travel_toward_nut)
        parts.push_back(bench_length(*saddle.travel_toward_nut, unit) + " free toward the nut");
    if (saddle.travel_toward_tail)
        parts.push_back(bench_length(*saddle.travel_toward_tail, unit) + " toward the tail");
    return fmt::format("{}", fmt::join(parts, ", "));
}

std::string measured_in_words(const BenchMeasurement& measurement, LengthUnit unit) {
    return bench_length_in_both(measurement.value, unit);
}

std::string thing_in_words(const BenchMeasurement& measurement) {
    std::string text{in_words(measurement.quantity)};
    if (measurement.string) text += fmt::format(" string {}", *measurement.string);
    return text;
}

std::string error_of(const AnalysedString* string, const Look& look) {
    if (string == nullptr || !string->comparison) return "-";
    const Uncertain<Cents> error = string->comparison->error;
    return with_uncertainty(error.value.value(), 2.0 * error.uncertainty.value(), look.utf8 ? "±" : "+-",
                            Sign::always);
}

std::string title_of(const InstrumentEntry& entry, const Visit& visit) {
    return fmt::format("{}, visit {} on {}{}\n", printable(entry.instrument.name), visit.number, visit.day,
                       visit.ended_at ? "" : " (open)");
}

std::string conditions(const Visit& visit) {
    std::string text = line_of("by", visit.who) + line_of("strings", visit.strings);
    if (visit.strings_fitted_on) text += line_of("fitted on", *visit.strings_fitted_on);
    std::vector<std::string> room;
    if (visit.temperature) room.push_back(fmt::format("{:g} degrees C", visit.temperature->value()));
    if (visit.humidity) room.push_back(fmt::format("{:g} % humidity", visit.humidity->value()));
    text += line_of("room", fmt::format("{}", fmt::join(room, ", ")));
    return text + line_of("work done", visit.work_done) + line_of("notes", visit.notes);
}

/// A table with a title, or nothing when it has no rows but the head.
std::string titled(std::string_view title, const std::vector<Cells>& rows) {
    return rows.size() < 2 ? std::string{} : fmt::format("\n{}\n", title) + in_columns(rows);
}

std::string first_or_dash(const BenchMeasurement* measurement, LengthUnit unit) {
    return measurement == nullptr ? "-" : measured_in_words(*measurement, unit);
}

/// The last word of a visit on a thing.
const BenchMeasurement* last_of(const Visit& visit, const BenchMeasurement& thing) {
    const auto found = std::find_if(visit.measurements.rbegin(), visit.measurements.rend(),
                                    [&thing](const BenchMeasurement& m) { return same_thing(m, thing); });
    return found == visit.measurements.rend() ? nullptr : &*found;
}

/// What a visit no longer counts, but can have back.
class Removed {
public:
    /// Whether it was removed; remembers it then.
    bool takes(VisitItem item, std::size_t index, const std::optional<Moment>& removed_at) {
        if (removed_at) items_.push_back(fmt::format("{} {}", name_of(item), index + 1));
        return removed_at.has_value();
    }
    [[nodiscard]] std::string line() const {
        if (items_.empty()) return {};
        return fmt::format("\nRemoved: {}; midspan visit restore brings back.\n", fmt::join(items_, ", "));
    }

private:
    std::vector<std::string> items_;
};

}  // namespace

std::string instruments_page(std::span<const ListedInstrument> instruments) {
    if (instruments.empty()) return "No instrument is in the record; midspan instrument add adds one.\n";
    std::vector<Cells> rows{{"instrument", "kind", "visits", "last", ""}};
    for (const ListedInstrument& each : instruments) {
        rows.push_back({printable(each.entry.instrument.name), std::string{name_of(each.entry.kind)},
                        std::to_string(each.visits), each.last_visit.value_or("-"),
                        each.open_visit ? fmt::format("visit {} open", *each.open_visit) : ""});
    }
    return in_columns(rows);
}

std::string deleted_page(std::span<const InstrumentEntry> instruments) {
    if (instruments.empty()) return "No instrument was deleted.\n";
    std::vector<Cells> rows{{"instrument", "kind", "deleted"}};
    for (const InstrumentEntry& entry : instruments) {
        rows.push_back({printable(entry.instrument.name), std::string{name_of(entry.kind)},
                        day_of(entry.deleted_at.value_or("-"))});
    }
    return in_columns(rows);
}

std::string instrument_page(const InstrumentEntry& entry, std::span<const LearnedScrew> screws,
                            LengthUnit unit) {
    const Instrument& instrument = entry.instrument;
    std::string text = printable(instrument.name) + '\n';
    text += line_of("kind",
                    fmt::format("{}{}", name_of(entry.kind), instrument.left_handed ? ", left-handed" : ""));
    text += line_of("strings", entry.strings);
    if (entry.frets) text += line_of("frets", std::to_string(*entry.frets));
    if (entry.fingerboard_radius)
        text += line_of("fingerboard radius", bench_length_in_both(*entry.fingerboard_radius, unit));
    text += line_of("bridge", std::string{in_words(entry.bridge)});
    text += line_of("A4", fmt::format("{:g} Hz", instrument.a4.value()));
    text += line_of("notes", entry.notes);

    std::vector<Cells> rows{{"string", "note", "scale", "gauge", "saddle screw"}};
    for (std::size_t i = instrument.strings.size(); i-- > 0;) {
        const InstrumentString& string = instrument.strings[i];
        rows.push_back({std::to_string(string.number), string.open_note.text(),
                        bench_length(string.scale_length, unit),
                        i < entry.fitted.size() ? gauge_in_words(entry.fitted[i], unit) : "",
                        saddle_in_words(string.saddle, unit)});
    }
    text += '\n' + in_columns(rows);

    std::vector<Cells> learned{{"string", "one turn", "from moves", "last"}};
    for (const LearnedScrew& screw : screws) {
        learned.push_back({std::to_string(screw.string),
                           with_uncertainty(screw.cents_per_turn.value(), 2.0 * screw.uncertainty.value(),
                                            "+-", Sign::when_negative) +
                               " cents",
                           std::to_string(screw.moves), day_of(screw.learned_at)});
    }
    return text + titled("What the saddle screws were learned to do", learned);
}

std::string visits_page(std::span<const ListedVisit> visits) {
    if (visits.empty()) return "No visits yet; midspan visit begin begins one.\n";
    std::vector<Cells> rows{{"visit", "day", "by", "measured", "read", "surveyed", "work done"}};
    for (const ListedVisit& each : visits) {
        rows.push_back({std::to_string(each.number), each.day, printable(each.who),
                        std::to_string(each.measurements), std::to_string(each.readings),
                        std::to_string(each.surveys), each.open ? "(open)" : printable(each.work_done)});
    }
    return in_columns(rows);
}

std::string visit_page(const InstrumentEntry& entry, const Visit& visit, const Look& look) {
    std::string text = title_of(entry, visit) + conditions(visit);

    Removed removed;
    std::vector<Cells> measured{{"no.", "at", "what", "value", "how"}};
    for (std::size_t i = 0; i < visit.measurements.size(); ++i) {
        const BenchMeasurement& each = visit.measurements[i];
        if (removed.takes(VisitItem::measurement, i, each.removed_at)) continue;
        std::string how = in_words(each.method);
        if (!each.note.empty()) how += (how.empty() ? "" : "; ") + each.note;
        measured.push_back({std::to_string(i + 1), time_of(each.taken_at), thing_in_words(each),
                            measured_in_words(each, look.unit), printable(how)});
    }
    text += titled("Measured (times are UTC)", measured);

    std::vector<Cells> read{{"no.", "at", "string", "error, cents", "verdict", ""}};
    for (std::size_t i = 0; i < visit.readings.size(); ++i) {
        const IntonationReading& reading = visit.readings[i];
        if (removed.takes(VisitItem::reading, i, reading.removed_at)) continue;
        const auto& strings = reading.analysis.strings;
        for (auto string = strings.rbegin(); string != strings.rend(); ++string) {
            if (!string->comparison) continue;
            std::vector<std::string_view> reasons;
            for (const WarningCode code : string->warnings)
                reasons.push_back(reason_in_words(code));
            read.push_back({std::to_string(i + 1), time_of(reading.taken_at),
                            fmt::format("{} {}", string->string.number, string->string.open_note.text()),
                            error_of(&*string, look), std::string{verdict_in_words(string->verdict)},
                            fmt::format("{}", fmt::join(reasons, ", "))});
        }
    }
    text += titled("Intonation, fretted minus harmonic at fret 12", read);

    std::vector<Cells> moved{{"no.", "at", "string", "toward the tail", "turns", ""}};
    for (std::size_t i = 0; i < visit.moves.size(); ++i) {
        const RecordedMove& move = visit.moves[i];
        if (removed.takes(VisitItem::move, i, move.removed_at)) continue;
        moved.push_back({std::to_string(i + 1), time_of(move.made_at), std::to_string(move.string),
                         move.toward_tail ? bench_length(*move.toward_tail, look.unit) : "-",
                         move.turns ? rounded(move.turns->value(), 2, Sign::always) : "-",
                         printable(move.note)});
    }
    text += titled("Saddles moved", moved);
    for (std::size_t i = 0; i < visit.surveys.size(); ++i) {
        const NeckReading& survey = visit.surveys[i];
        if (removed.takes(VisitItem::survey, i, survey.removed_at)) continue;
        text += fmt::format("\nSurvey {} of the neck at {}\n", i + 1, time_of(survey.taken_at)) +
                neck_drawing(survey.analysis, look) + '\n' + neck_findings(survey.analysis, look) + '\n' +
                neck_places(survey.analysis, look);
    }
    return text + removed.line();
}

std::string before_and_after_page(const InstrumentEntry& entry, const Visit& visit, const Look& look) {
    std::string text = title_of(entry, visit);
    std::vector<Cells> measured{{"what", "as received", "after", "how"}};
    for (const MeasuredOverVisit& each : measured_over(visit)) {
        measured.push_back({thing_in_words(each.any()), first_or_dash(each.before, look.unit),
                            first_or_dash(each.after, look.unit), printable(in_words(each.any().method))});
    }
    text += titled("Measured", measured);

    std::vector<Cells> read{{"string", "as received", "after", "verdict"}};
    for (const StringOverVisit& each : strings_over(entry, visit)) {
        if (each.last() == nullptr) continue;
        read.push_back({fmt::format("{} {}", each.string.number, each.string.open_note.text()),
                        error_of(each.before, look), error_of(each.after, look),
                        std::string{verdict_in_words(each.last()->verdict)}});
    }
    text += titled("Intonation error at fret 12, cents", read);
    if (measured.size() < 2 && read.size() < 2) text += "Nothing was measured yet.\n";
    return text;
}

std::string two_visits_page(const InstrumentEntry& entry, const Visit& earlier, const Visit& later,
                            const Look& look) {
    const auto left_on = [](const Visit& visit) { return fmt::format("visit {}", visit.number); };
    std::string text =
        fmt::format("{}, as left on visit {} ({}) and on visit {} ({})\n", printable(entry.instrument.name),
                    earlier.number, earlier.day, later.number, later.day);
    std::vector<Cells> said{{"", left_on(earlier), left_on(later)}};
    const auto both = [&said](std::string label, const std::string& one, const std::string& other) {
        if (!one.empty() || !other.empty())
            said.push_back({std::move(label), one.empty() ? "-" : printable(one),
                            other.empty() ? "-" : printable(other)});
    };
    const auto degrees = [](const Visit& visit) {
        return visit.temperature ? fmt::format("{:g} degrees C", visit.temperature->value()) : "";
    };
    const auto humidity = [](const Visit& visit) {
        return visit.humidity ? fmt::format("{:g} %", visit.humidity->value()) : "";
    };
    both("by", earlier.who, later.who);
    both("strings", earlier.strings, later.strings);
    both("temperature", degrees(earlier), degrees(later));
    both("humidity", humidity(earlier), humidity(later));
    both("work done", earlier.work_done, later.work_done);
    text += titled("Conditions", said);

    std::vector<Cells> measured{{"what", left_on(earlier), left_on(later), "how"}};
    std::vector<const BenchMeasurement*> things;
    for (const Visit* visit : {&earlier, &later}) {
        for (const BenchMeasurement& each : visit->measurements) {
            const bool known = std::any_of(things.begin(), things.end(),
                                           [&](const auto* thing) { return same_thing(*thing, each); });
            if (!known) things.push_back(&each);
        }
    }
    for (const BenchMeasurement* thing : things) {
        measured.push_back({thing_in_words(*thing), first_or_dash(last_of(earlier, *thing), look.unit),
                            first_or_dash(last_of(later, *thing), look.unit),
                            printable(in_words(thing->method))});
    }
    text += titled("Measured", measured);

    std::vector<Cells> read{{"string", left_on(earlier), left_on(later), "change"}};
    const auto first = strings_over(entry, earlier);
    const auto second = strings_over(entry, later);
    for (std::size_t i = 0; i < first.size(); ++i) {
        const AnalysedString* one = first[i].last();
        const AnalysedString* other = second[i].last();
        if (one == nullptr && other == nullptr) continue;
        std::string change = "-";
        if (one != nullptr && other != nullptr) {
            const Uncertain<Cents> a = one->comparison->error;
            const Uncertain<Cents> b = other->comparison->error;
            change = with_uncertainty((b.value - a.value).value(),
                                      2.0 * std::hypot(a.uncertainty.value(), b.uncertainty.value()),
                                      look.utf8 ? "±" : "+-", Sign::always);
        }
        read.push_back({fmt::format("{} {}", first[i].string.number, first[i].string.open_note.text()),
                        error_of(one, look), error_of(other, look), change});
    }
    text += titled("Intonation error at fret 12, cents", read);
    return text;
}

std::string history_page(std::span<const PastReading> readings, const Look& look) {
    if (readings.empty()) return "This string was never read.\n";
    std::vector<Cells> rows{{"visit", "day", "at", "open note", "error, cents", "verdict"}};
    for (const PastReading& each : readings) {
        rows.push_back({std::to_string(each.visit), each.day, time_of(each.taken_at),
                        each.string.string.open_note.text(), error_of(&each.string, look),
                        std::string{verdict_in_words(each.string.verdict)}});
    }
    return in_columns(rows);
}

}  // namespace midspan
