// record_check.cpp: names, numbers and days, one rule a line.
//
// Room: record. Pure.
#include "record/record_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string_view>

#include "midspan/instrument/length.hpp"

namespace midspan {
namespace {

constexpr std::size_t most_strings = 12;
constexpr int most_frets = 36;

bool digits(std::string_view text) {
    return std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

/// Both of the same length; a 0 stands for any digit.
bool has_shape(std::string_view text, std::string_view shape) {
    return text.size() == shape.size() &&
           std::equal(text.begin(), text.end(), shape.begin(), [](char c, char s) {
               return s == '0' ? digits({&c, 1}) : c == s;
           });
}

int number(std::string_view text) {
    int value = 0;
    for (const char c : text)
        value = 10 * value + (c - '0');
    return value;
}

bool is_day(std::string_view text) {
    if (!has_shape(text, "0000-00-00")) return false;
    const int year = number(text.substr(0, 4));
    const int month = number(text.substr(5, 2));
    const int day = number(text.substr(8, 2));
    constexpr int lengths[] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    if (month < 1 || month > 12 || day < 1 || day > lengths[month - 1]) return false;
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month != 2 || day < 29 || leap;
}

bool is_moment(std::string_view text) {
    return has_shape(text, "0000-00-00T00:00:00Z") && is_day(text.substr(0, 10)) &&
           number(text.substr(11, 2)) < 24 && number(text.substr(14, 2)) < 60 &&
           number(text.substr(17, 2)) <= 60;
}

/// Collects the first fault, with the place where it stands.
class Judge {
public:
    explicit Judge(std::string place) : place_{std::move(place)} {}

    void want(bool holds, std::string_view what) {
        if (!holds && !fault_) fault_ = fmt::format("{}: {}", place_, what);
    }
    void want_within(double value, double least, double most, std::string_view what) {
        if (!(value >= least && value <= most))
            want(false, fmt::format("{} outside {:g} to {:g}", what, least, most));
    }
    template <class Unit>
    void want_within(const std::optional<Quantity<Unit>>& value, Quantity<Unit> least, Quantity<Unit> most,
                     std::string_view what) {
        if (value) want_within(value->value(), least.value(), most.value(), what);
    }
    void want_moment(const std::optional<Moment>& moment, std::string_view what) {
        if (moment)
            want(is_moment(*moment), fmt::format("{} is no moment such as 2026-03-14T09:26:53Z", what));
    }
    void want_day(const std::optional<Day>& day, std::string_view what) {
        if (day) want(is_day(*day), fmt::format("{} is no day such as 2026-03-14", what));
    }
    void want_string(const std::optional<int>& string, std::size_t strings) {
        if (string) want_within(*string, 1, static_cast<double>(strings), "string");
    }
    void want_fret(const std::optional<int>& fret, std::string_view what) {
        if (fret) want_within(*fret, 0, most_frets, what);
    }
    [[nodiscard]] const std::optional<std::string>& fault() const { return fault_; }

private:
    std::string place_;
    std::optional<std::string> fault_;
};

void judge_fitted(Judge& judge, const std::vector<FittedString>& fitted, std::size_t strings) {
    judge.want(fitted.empty() || fitted.size() == strings,
               "fitted holds neither nothing nor one for each string");
    for (const FittedString& f : fitted) {
        judge.want_within(f.gauge, Millimetres{0.05}, Millimetres{10.0}, "gauge_mm");
        judge.want_within(f.core, Millimetres{0.05}, Millimetres{10.0}, "core_mm");
    }
}

void judge_saddle(Judge& judge, const Saddle& saddle) {
    judge.want_within(saddle.thread_pitch, finest_thread_pitch, coarsest_thread_pitch, "thread_pitch_mm");
    judge.want_within(saddle.travel_toward_nut, Millimetres{0.0}, longest_travel, "travel_toward_nut_mm");
    judge.want_within(saddle.travel_toward_tail, Millimetres{0.0}, longest_travel, "travel_toward_tail_mm");
}

void judge_instrument(Judge& judge, const Instrument& instrument) {
    judge.want_within(instrument.a4.value(), lowest_a4.value(), highest_a4.value(), "a4_hz");
    judge.want(!instrument.strings.empty() && instrument.strings.size() <= most_strings,
               "has not 1 to 12 strings");
    int number = 0;
    for (const InstrumentString& s : instrument.strings) {
        judge.want(s.number == ++number, "its strings are not numbered 1, 2, 3 and so on");
        judge.want_within(s.open_frequency.value(), lowest_open_note.value(), highest_open_note.value(),
                          "open_frequency_hz");
        judge.want_within(s.scale_length.value(), shortest_scale_length.value(), longest_scale_length.value(),
                          "scale_length_mm");
        judge_saddle(judge, s.saddle);
    }
}

void judge_entry(Judge& judge, const InstrumentEntry& entry) {
    judge.want(!entry.instrument.name.empty(), "has no name");
    judge_instrument(judge, entry.instrument);
    judge_fitted(judge, entry.fitted, entry.instrument.strings.size());
    if (entry.frets) judge.want_within(*entry.frets, 0, most_frets, "frets");
    judge.want_moment(entry.added_at, "added_at");
    judge.want_moment(entry.deleted_at, "deleted_at");
}

void judge_analysis(Judge& judge, const Analysis& analysis) {
    judge.want(analysis.tolerance > Cents{0.0}, "tolerance_cents is not above 0");
    judge.want(analysis.strings.size() <= most_strings, "a reading has more than 12 strings");
    int number = 0;
    for (const AnalysedString& s : analysis.strings) {
        judge.want(s.string.number == ++number,
                   "the strings of a reading are not numbered 1, 2, 3 and so on");
        judge_saddle(judge, s.string.saddle);
    }
    for (const AnalysedPluck& pluck : analysis.plucks) {
        judge.want(
            pluck.recording >= 0 && static_cast<std::size_t>(pluck.recording) < analysis.recordings.size(),
            "a pluck of no recording");
        judge.want_string(pluck.string, analysis.strings.size());
    }
    for (const Warning& warning : analysis.warnings) {
        judge.want_string(warning.string, analysis.strings.size());
        judge.want(
            !warning.recording || (*warning.recording >= 0 &&
                                   static_cast<std::size_t>(*warning.recording) < analysis.recordings.size()),
            "a warning of no recording");
    }
}

/// Everything in a survey that has a place on the neck has one of this neck.
class NeckJudge {
public:
    NeckJudge(Judge& judge, std::size_t strings) : judge_{judge}, strings_{strings} {}

    void want(const NeckNote& note) {
        judge_.want_string(note.string, strings_);
        judge_.want_within(note.fret, 1, most_frets, "fret");
    }
    void want(const std::vector<NeckNote>& notes) {
        for (const NeckNote& note : notes)
            want(note);
    }
    void want(const NamedCause& cause) {
        judge_.want_string(cause.string, strings_);
        if (cause.fret) judge_.want_within(*cause.fret, 1, most_frets, "fret");
        const bool at_fret = cause.cause == NeckCause::fret || cause.cause == NeckCause::fret_on_string;
        const bool of_string = cause.cause == NeckCause::string || cause.cause == NeckCause::fret_on_string;
        judge_.want(!at_fret || cause.fret, "a fret that is named by no number");
        judge_.want(!of_string || cause.string, "a string that is named by no number");
    }
    void want(const NeckFinding& finding) {
        want(finding.cause);
        judge_.want(
            finding.cause.cause != NeckCause::saddle || finding.cause.string || !finding.rivals.empty(),
            "a saddle of no string");
        for (const NamedCause& rival : finding.rivals)
            want(rival);
        want(finding.deciding);
    }

private:
    Judge& judge_;
    std::size_t strings_;
};

void judge_survey(Judge& judge, const NeckAnalysis& analysis) {
    const auto& on = analysis.instrument.strings;
    judge_instrument(judge, analysis.instrument);
    const SurveyOptions& options = analysis.options;
    judge.want_within(options.neck.frets, 1, most_frets, "frets");
    judge.want_within(options.capo, 0, options.neck.frets, "capo");
    judge.want(options.stated.strings.empty() || options.stated.strings.size() == on.size(),
               "judged_by is neither nothing nor one for each string");
    const auto recorded = [&](int recording) {
        return recording >= 0 && static_cast<std::size_t>(recording) < analysis.recordings.size();
    };
    for (const SurveyedPluck& pluck : analysis.plucks) {
        judge.want(recorded(pluck.recording), "a pluck of no recording");
        judge.want_string(pluck.string, on.size());
        judge.want_fret(pluck.fret, "fret");
    }
    for (const Warning& warning : analysis.warnings) {
        judge.want_string(warning.string, on.size());
        judge.want(!warning.recording || recorded(*warning.recording), "a warning of no recording");
    }
    for (const ReferenceNote& note : analysis.references)
        judge.want_string(note.string, on.size());
    NeckJudge neck{judge, on.size()};
    for (const SurveyedStringFit& fit : analysis.neck.strings)
        judge.want_string(fit.string, on.size());
    for (const SurveyedNote& note : analysis.neck.notes)
        neck.want(NeckNote{note.string, note.fret});
    for (const SurveyedFret& fret : analysis.neck.frets)
        judge.want_within(fret.fret, 1, most_frets, "fret");
    for (const NeckFinding& finding : analysis.neck.findings)
        neck.want(finding);
    for (const Inseparable& pair : analysis.neck.inseparable) {
        judge.want_string(pair.string, on.size());
        neck.want(pair.deciding);
    }
    neck.want(analysis.neck.bent);
}

void judge_visit(Judge& judge, const Visit& visit) {
    judge.want_day(visit.day, "day");
    judge.want_moment(visit.begun_at, "begun_at");
    judge.want_moment(visit.ended_at, "ended_at");
    judge.want_day(visit.strings_fitted_on, "strings_fitted_on");
    judge.want(visit.fitted.size() <= most_strings, "fitted holds more than 12 strings");
    judge_fitted(judge, visit.fitted, visit.fitted.size());
    judge.want_within(visit.temperature, Celsius{-50.0}, Celsius{60.0}, "temperature_c");
    judge.want_within(visit.humidity, RelativeHumidity{0.0}, RelativeHumidity{100.0}, "humidity_percent");
    for (const BenchMeasurement& m : visit.measurements) {
        judge.want_moment(m.taken_at, "taken_at");
        judge.want_string(m.string, most_strings);
        judge.want_fret(m.method.capo, "capo");
        judge.want_fret(m.method.read_at, "read_at");
        for (const int fret : m.method.held)
            judge.want_fret(fret, "held");
        judge.want(std::ranges::is_sorted(m.method.held), "held is not ascending");
        judge.want_moment(m.removed_at, "removed_at");
    }
    for (const IntonationReading& reading : visit.readings) {
        judge.want_moment(reading.taken_at, "taken_at");
        judge.want_moment(reading.removed_at, "removed_at");
        judge_analysis(judge, reading.analysis);
    }
    for (const NeckReading& survey : visit.surveys) {
        judge.want_moment(survey.taken_at, "taken_at");
        judge.want_moment(survey.removed_at, "removed_at");
        judge_survey(judge, survey.analysis);
    }
    for (const RecordedMove& move : visit.moves) {
        judge.want_moment(move.made_at, "made_at");
        judge.want_moment(move.removed_at, "removed_at");
        judge.want_string(move.string, most_strings);
    }
}

void judge_screws(Judge& judge, const InstrumentRecord& record) {
    int last = 0;
    for (const LearnedScrew& screw : record.screws) {
        judge.want_string(screw.string, record.entry.instrument.strings.size());
        judge.want(screw.string > last, "screws are not one a string, string 1 first");
        last = screw.string;
        judge.want(screw.cents_per_turn > CentsPerTurn{0.0}, "cents_per_turn is not above 0");
        judge.want(screw.uncertainty >= CentsPerTurn{0.0}, "uncertainty_cents_per_turn is below 0");
        judge.want(screw.moves >= 0, "moves is below 0");
        judge.want_moment(screw.learned_at, "learned_at");
    }
}

std::optional<std::string> nonsense_in(const InstrumentRecord& record) {
    const std::string name = fmt::format("instrument '{}'", record.entry.instrument.name);
    Judge entry{name};
    judge_entry(entry, record.entry);
    judge_screws(entry, record);
    if (entry.fault()) return entry.fault();
    int last = 0;
    bool open = false;
    for (const Visit& visit : record.visits) {
        Judge judge{fmt::format("{}, visit {}", name, visit.number)};
        judge.want(visit.number > last, "visits are not numbered upward from 1");
        judge.want(!open || visit.ended_at, "a second open visit");
        last = visit.number;
        open = open || !visit.ended_at;
        judge_visit(judge, visit);
        if (judge.fault()) return judge.fault();
    }
    return std::nullopt;
}

}  // namespace

std::optional<std::string> nonsense_in(const NeckAnalysis& analysis) {
    Judge judge{"survey"};
    judge_survey(judge, analysis);
    return judge.fault();
}

std::optional<std::string> nonsense_in(const SetupRecord& record) {
    std::set<std::string_view> names;
    for (const InstrumentRecord& one : record.instruments) {
        const std::string& name = one.entry.instrument.name;
        if (!one.entry.deleted_at && !names.insert(name).second) {
            return fmt::format("instrument '{}' stands there twice", name);
        }
        if (auto fault = nonsense_in(one)) return fault;
    }
    return std::nullopt;
}

}  // namespace midspan
