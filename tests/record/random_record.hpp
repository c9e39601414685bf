// random_record.hpp: setup records that could be, full of what is hard to write down.
//
// Room: tests/record.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

#include "midspan/record/setup_record.hpp"
#include "record/record_fields.hpp"
#include "support/random_numbers.hpp"

namespace midspan::test {

/// Texts people type, paste, and attack with.
inline const std::array<std::string, 12>& hard_texts() {
    static const std::array<std::string, 12> texts{"",
                                                   "Bench guitar",
                                                   "<script>alert(1)</script>",
                                                   "a,b;c\"d\"'e'",
                                                   "two\r\nlines\n",
                                                   "  blanks  ",
                                                   "吉他 🎸",
                                                   "Zoë's \\ half/way",
                                                   "null",
                                                   "=1+1",
                                                   std::string{"\0", 1},
                                                   "\t\x1b[2J\x7f"};
    return texts;
}

/// Fills every field with anything its type can hold.
class AnyValues {
public:
    explicit AnyValues(RandomNumbers& random) : random_{random} {}

    template <class T>
    void operator()(const char* /*name*/, T& value) {
        fill(value);
    }

    int below(int count) { return static_cast<int>(random_.uniform() * count); }
    const std::string& text() { return hard_texts()[static_cast<std::size_t>(below(12))]; }
    double number() {
        constexpr std::array special{0.0,
                                     -0.0,
                                     0.1,
                                     -1.5,
                                     1e15 / 3.0,
                                     std::numeric_limits<double>::max(),
                                     std::numeric_limits<double>::denorm_min()};
        const int choice = below(10);
        if (choice < 7) return special[static_cast<std::size_t>(choice)];
        return random_.normal() * std::pow(10.0, random_.uniform(-300.0, 300.0));
    }

private:
    void fill(bool& value) { value = below(2) == 1; }
    void fill(int& value) { value = below(2) == 1 ? below(9) : std::numeric_limits<int>::min() + below(9); }
    void fill(double& value) { value = number(); }
    void fill(std::string& value) { value = text(); }
    void fill(NoteName& value) {
        constexpr std::array notes{"E2", "F#3", "Bb1", "C##4", "Abb4"};
        value = NoteName::parse(notes[static_cast<std::size_t>(below(5))]).value();
    }
    void fill(InstrumentKind& value) { value = static_cast<InstrumentKind>(below(5)); }
    void fill(BridgeKind& value) { value = static_cast<BridgeKind>(below(3)); }
    void fill(Winding& value) { value = static_cast<Winding>(below(2)); }
    void fill(BenchQuantity& value) { value = static_cast<BenchQuantity>(below(5)); }
    void fill(ReadingSource& value) { value = static_cast<ReadingSource>(below(2)); }
    void fill(NoteKind& value) { value = static_cast<NoteKind>(below(3)); }
    void fill(Verdict& value) { value = static_cast<Verdict>(below(3)); }
    void fill(NeckCause& value) { value = static_cast<NeckCause>(below(6)); }
    void fill(SaddleSharing& value) { value = static_cast<SaddleSharing>(below(3)); }
    void fill(SurveyReference& value) { value = static_cast<SurveyReference>(below(3)); }
    void fill(WarningCode& value) {
        value = all_warning_codes()[static_cast<std::size_t>(
            below(static_cast<int>(all_warning_codes().size())))];
    }
    template <class Unit>
    void fill(Quantity<Unit>& value) {
        value = Quantity<Unit>{number()};
    }
    template <class T>
    void fill(std::optional<T>& value) {
        value.reset();
        if (below(2) == 0) return;
        value = blank(Type<T>{});
        fill(*value);
    }
    template <class T>
    void fill(std::vector<T>& values) {
        values.clear();
        for (int i = below(4); i > 0; --i) {
            values.push_back(blank(Type<T>{}));
            fill(values.back());
        }
    }
    template <class T>
    void fill(T& value) {
        fields(*this, value);
    }

    RandomNumbers& random_;
};

/// Brings what has bounds within them; all else stays as it came.
class MadeSensible {
public:
    explicit MadeSensible(AnyValues& any) : any_{any} {}

    void operator()(InstrumentRecord& record, int index) {
        InstrumentEntry& entry = record.entry;
        Instrument& instrument = entry.instrument;
        instrument.name += std::to_string(index);
        strung(instrument);
        fitted(entry.fitted, instrument.strings.size());
        if (entry.frets) entry.frets = any_.below(37);
        entry.added_at = moment();
        if (entry.deleted_at) entry.deleted_at = moment();
        int number = 0;
        record.screws.resize(std::min(record.screws.size(), instrument.strings.size()),
                             blank(Type<LearnedScrew>{}));
        for (LearnedScrew& screw : record.screws) {
            screw.string = ++number;
            screw.cents_per_turn = CentsPerTurn{1e-3 + any_.below(4000) / 3.0};
            screw.uncertainty = magnitude(screw.uncertainty);
            screw.moves = any_.below(100);
            screw.learned_at = moment();
        }
        number = 0;
        for (Visit& v : record.visits) {
            v.number = ++number;
            visit(v);
        }
    }

private:
    void strung(Instrument& instrument) {
        instrument.a4 = Hertz{415.0};
        if (instrument.strings.empty()) instrument.strings.push_back(blank(Type<InstrumentString>{}));
        int number = 0;
        for (InstrumentString& s : instrument.strings) {
            s.number = ++number;
            s.open_frequency = Hertz{25.0 + 0.1 * any_.below(8000)};
            s.scale_length = Millimetres{201.0 + 0.3 * any_.below(4000)};
            saddle(s.saddle);
        }
    }
    Moment moment() {
        constexpr std::array moments{"2026-03-14T09:26:53Z", "1999-12-31T23:59:59Z", "2024-02-29T00:00:00Z"};
        return moments[static_cast<std::size_t>(any_.below(3))];
    }
    int fret() { return any_.below(37); }
    void fitted(std::vector<FittedString>& strings, std::size_t count) {
        strings.resize(any_.below(2) == 1 ? count : 0);
        for (FittedString& f : strings) {
            if (f.gauge) f.gauge = Millimetres{0.254};
            if (f.core) f.core = Millimetres{0.1 + any_.below(100) / 30.0};
        }
    }
    void visit(Visit& v) {
        v.day = "2024-02-29";
        v.begun_at = moment();
        v.ended_at = moment();
        if (v.strings_fitted_on) v.strings_fitted_on = "2026-11-30";
        fitted(v.fitted, 4);
        if (v.temperature) v.temperature = Celsius{any_.below(300) / 7.0};
        if (v.humidity) v.humidity = RelativeHumidity{any_.below(101) / 1.0};
        for (BenchMeasurement& m : v.measurements) {
            m.taken_at = moment();
            if (m.removed_at) m.removed_at = moment();
            if (m.string) m.string = 1 + any_.below(12);
            if (m.method.capo) m.method.capo = fret();
            if (m.method.read_at) m.method.read_at = fret();
            for (int& held : m.method.held)
                held = fret();
            std::ranges::sort(m.method.held);
        }
        for (IntonationReading& r : v.readings)
            reading(r);
        for (NeckReading& s : v.surveys)
            survey(s);
        for (RecordedMove& m : v.moves) {
            m.made_at = moment();
            if (m.removed_at) m.removed_at = moment();
            m.string = 1 + any_.below(12);
        }
    }
    void reading(IntonationReading& r) {
        r.taken_at = moment();
        if (r.removed_at) r.removed_at = moment();
        Analysis& a = r.analysis;
        a.tolerance = Cents{0.1 + any_.below(100) / 7.0};
        if (a.recordings.empty()) a.recordings.push_back(blank(Type<AnalysedRecording>{}));
        if (a.strings.empty()) a.strings.push_back(blank(Type<AnalysedString>{}));
        const int recordings = static_cast<int>(a.recordings.size());
        const int strings = static_cast<int>(a.strings.size());
        int number = 0;
        for (AnalysedString& s : a.strings) {
            s.string.number = ++number;
            saddle(s.string.saddle);
        }
        for (AnalysedPluck& p : a.plucks) {
            p.recording = any_.below(recordings);
            if (p.string) p.string = 1 + any_.below(strings);
        }
        for (Warning& w : a.warnings) {
            if (w.recording) w.recording = any_.below(recordings);
            if (w.string) w.string = 1 + any_.below(strings);
        }
    }
    void survey(NeckReading& s) {
        s.taken_at = moment();
        if (s.removed_at) s.removed_at = moment();
        NeckAnalysis& a = s.analysis;
        if (a.recordings.empty()) a.recordings.push_back(blank(Type<AnalysedRecording>{}));
        strung(a.instrument);
        const int recordings = static_cast<int>(a.recordings.size());
        const int strings = static_cast<int>(a.instrument.strings.size());
        a.options.neck.frets = 1 + any_.below(36);
        a.options.capo = any_.below(a.options.neck.frets);
        if (any_.below(2) == 0) a.options.stated.strings.clear();
        if (!a.options.stated.strings.empty())
            a.options.stated.strings.resize(a.instrument.strings.size(), {1, {}, {}, {}});
        for (SurveyedPluck& p : a.plucks) {
            p.recording = any_.below(recordings);
            if (p.string) p.string = 1 + any_.below(strings);
            if (p.fret) p.fret = fret();
        }
        for (Warning& w : a.warnings) {
            if (w.recording) w.recording = any_.below(recordings);
            if (w.string) w.string = 1 + any_.below(strings);
        }
        const auto on_neck = [&](auto& place) {
            place.string = 1 + any_.below(strings);
            place.fret = 1 + any_.below(36);
        };
        const auto all_on_neck = [&](auto& places) {
            for (auto& place : places)
                on_neck(place);
        };
        for (ReferenceNote& note : a.references)
            note.string = 1 + any_.below(strings);
        for (SurveyedStringFit& fit : a.neck.strings)
            fit.string = 1 + any_.below(strings);
        for (SurveyedFret& one : a.neck.frets)
            one.fret = 1 + any_.below(36);
        all_on_neck(a.neck.notes);
        all_on_neck(a.neck.bent);
        for (NeckFinding& finding : a.neck.findings) {
            on_neck(finding.cause);
            all_on_neck(finding.rivals);
            all_on_neck(finding.deciding);
        }
        for (Inseparable& pair : a.neck.inseparable) {
            pair.string = 1 + any_.below(strings);
            all_on_neck(pair.deciding);
        }
    }
    void saddle(Saddle& s) {
        if (s.thread_pitch) s.thread_pitch = Millimetres{0.7};
        if (s.travel_toward_nut) s.travel_toward_nut = Millimetres{any_.below(50) / 11.0};
        if (s.travel_toward_tail) s.travel_toward_tail = Millimetres{any_.below(50) / 13.0};
    }

    AnyValues& any_;
};

inline SetupRecord random_record(RandomNumbers& random) {
    AnyValues any{random};
    SetupRecord record;
    fields(any, record);
    MadeSensible sensible{any};
    int index = 0;
    for (InstrumentRecord& one : record.instruments)
        sensible(one, ++index);
    return record;
}

}  // namespace midspan::test
