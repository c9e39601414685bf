// record_csv.cpp: flat tables, one field behind the other.
//
// Room: record. Pure.
#include <fmt/format.h>

#include <concepts>
#include <optional>

#include "midspan/record/record_names.hpp"
#include "midspan/record/record_text.hpp"

namespace midspan {
namespace {

/// One row; fields are added in the order of the names above them.
class Row {
public:
    Row& add(std::string_view text) {
        if (any_) line_ += ',';
        any_ = true;
        if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
            line_ += text;
            return *this;
        }
        line_ += '"';
        for (const char c : text)
            line_ += c == '"' ? std::string{"\"\""} : std::string{c};
        line_ += '"';
        return *this;
    }
    Row& add(const std::string& text) { return add(std::string_view{text}); }
    Row& add(const char* text) { return add(std::string_view{text}); }
    /// The shortest digits that give the same number back.
    Row& add(std::floating_point auto number) { return add(fmt::format("{}", number)); }
    Row& add(std::same_as<int> auto number) { return add(std::to_string(number)); }
    Row& add(std::same_as<bool> auto yes) { return add(yes ? "true" : "false"); }
    template <class Unit>
    Row& add(Quantity<Unit> quantity) {
        return add(quantity.value());
    }
    template <class T>
    Row& add(const std::optional<T>& value) {
        return value ? add(*value) : add("");
    }
    [[nodiscard]] std::string line() const { return line_ + "\r\n"; }

private:
    std::string line_;
    bool any_ = false;
};

/// What stands in a field that holds several, with blanks between.
template <class Range, class Name>
std::string several(const Range& range, Name name) {
    std::string text;
    for (const auto& one : range) {
        if (!text.empty()) text += ' ';
        text += name(one);
    }
    return text;
}

Row beginning(const InstrumentEntry& entry, const Visit& visit) {
    Row row;
    row.add(entry.instrument.name).add(visit.number).add(visit.day);
    return row;
}

void add_comparison(Row& row, const std::optional<OctaveComparison>& c) {
    if (!c) {
        for (int i = 0; i < 8; ++i)
            row.add("");
        return;
    }
    row.add(c->error.value).add(c->error.uncertainty).add(c->harmonic.value).add(c->harmonic_uncertainty);
    row.add(c->harmonics).add(c->fretted.value).add(c->fretted_uncertainty).add(c->fretted_notes);
}

std::string reading_row(Row row, const IntonationReading& reading, const AnalysedString& s) {
    row.add(reading.taken_at)
        .add(name_of(reading.source))
        .add(s.string.number)
        .add(s.string.open_note.text());
    row.add(s.string.scale_length).add(reading.analysis.tolerance).add(name_of(s.verdict));
    add_comparison(row, s.comparison);
    row.add(s.move ? std::optional{s.move->toward_tail} : std::nullopt);
    row.add(s.move ? std::optional{s.move->uncertainty} : std::nullopt);
    row.add(s.turns).add(s.turns_uncertainty);
    row.add(s.tuning ? std::optional{s.tuning->off} : std::nullopt).add(s.inharmonicity);
    row.add(several(s.warnings, [](WarningCode code) { return name_of(code); }));
    return row.line();
}

std::string note_row(Row row, const NeckReading& survey, const SurveyedNote& n) {
    const InstrumentString& string = survey.analysis.instrument.string(n.string);
    row.add(survey.taken_at).add(name_of(survey.source)).add(n.string).add(string.open_note.text());
    row.add(string.scale_length).add(survey.analysis.options.capo).add(n.fret).add(n.plucks).add(n.bent);
    row.add(n.error.value).add(n.error.uncertainty).add(n.fitted).add(n.after_saddle);
    row.add(n.after_saddle_and_nut);
    return row.line();
}

std::string measurement_row(Row row, const BenchMeasurement& m) {
    row.add(m.taken_at).add(name_of(m.quantity)).add(m.string).add(m.value).add(m.as_typed);
    row.add(several(m.method.held, [](int fret) { return std::to_string(fret); }))
        .add(m.method.last_fret_held);
    row.add(m.method.capo).add(m.method.read_at).add(m.method.pickup).add(m.method.tool).add(m.note);
    return row.line();
}

/// Calls `each` with every instrument that is not deleted and every visit of it.
template <class Each>
void over_visits(const SetupRecord& record, Each each) {
    for (const InstrumentRecord& one : record.instruments) {
        if (one.entry.deleted_at) continue;
        for (const Visit& visit : one.visits)
            each(one.entry, as_it_stands(visit));
    }
}

}  // namespace

std::string readings_csv(const SetupRecord& record) {
    std::string text =
        "instrument,visit,day,taken_at,source,string,open_note,scale_length_mm,tolerance_cents,verdict,"
        "error_cents,uncertainty_cents,harmonic_hz,harmonic_uncertainty_cents,harmonics,fretted_hz,"
        "fretted_uncertainty_cents,fretted_notes,move_mm,move_uncertainty_mm,turns,turns_uncertainty,"
        "tuning_off_cents,inharmonicity,warnings\r\n";
    over_visits(record, [&text](const InstrumentEntry& entry, const Visit& visit) {
        for (const IntonationReading& reading : visit.readings) {
            for (const AnalysedString& s : reading.analysis.strings)
                text += reading_row(beginning(entry, visit), reading, s);
        }
    });
    return text;
}

std::string surveys_csv(const SetupRecord& record) {
    std::string text =
        "instrument,visit,day,taken_at,source,string,open_note,scale_length_mm,capo,fret,plucks,left_out,"
        "error_cents,uncertainty_cents,fitted_cents,after_saddle_cents,after_saddle_and_nut_cents\r\n";
    over_visits(record, [&text](const InstrumentEntry& entry, const Visit& visit) {
        for (const NeckReading& survey : visit.surveys) {
            for (const SurveyedNote& note : survey.analysis.neck.notes)
                text += note_row(beginning(entry, visit), survey, note);
        }
    });
    return text;
}

std::string measurements_csv(const SetupRecord& record) {
    std::string text =
        "instrument,visit,day,taken_at,quantity,string,value_mm,as_typed,held,last_fret_held,capo,read_at,"
        "pickup,tool,note\r\n";
    over_visits(record, [&text](const InstrumentEntry& entry, const Visit& visit) {
        for (const BenchMeasurement& m : visit.measurements)
            text += measurement_row(beginning(entry, visit), m);
    });
    return text;
}

}  // namespace midspan
