// bench_session_test.cpp: what the session says while strings are plucked, moved and plucked again.
#include "midspan/measurement/bench_session.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "measurement/measured_file.hpp"
#include "midspan/measurement/measurement.hpp"
#include "midspan/view/analysis_json.hpp"
#include "support/disturbances.hpp"
#include "support/neck_string.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

constexpr Hertz rate{48000.0};

Instrument six_strings(Saddle saddle = {}) {
    const std::vector<Millimetres> length{648.0_mm};
    return make_instrument(standard_tuning, length, 440.0_hz, saddle).value();
}

NeckString string_of(Hertz open, Cents error) {
    NeckString string;
    string.open = open;
    string.error = error;
    string.manner.glide = 4.0_cents;
    string.manner.decay = 0.9_s;
    return string;
}

NeckString string_5(Cents error) { return string_of(110.0_hz, error); }
NeckString string_4(Cents error) { return string_of(146.832_hz, error); }

/// A bench to pluck at: sound goes into the session, what it says is gathered.
class Bench {
public:
    explicit Bench(BenchOptions options = {}, Saddle saddle = {}, std::size_t block = 512)
        : session{six_strings(saddle), options}, block_{block} {
        gather(session.begin("bench", {rate, 1}));
    }
    void hear(std::vector<double> sound) {
        add_white_noise(sound, 0.0003, ++seed_);
        const std::vector<float> samples = floats(sound);
        for (std::size_t at = 0; at < samples.size(); at += block_) {
            const std::size_t count = std::min(block_, samples.size() - at);
            gather(session.feed({std::span{samples}.subspan(at, count), 1}));
        }
        heard.insert(heard.end(), samples.begin(), samples.end());
    }
    void quiet(Seconds duration) {
        hear(std::vector<double>(static_cast<std::size_t>(duration.value() * rate.value())));
    }
    /// One note that is stopped before the next.
    void pluck(const NeckString& string, NoteKind kind, Seconds ring = 2.4_s) {
        std::vector<double> sound(static_cast<std::size_t>((ring.value() + 0.4) * rate.value()));
        PluckedString plucked = string.note(kind);
        plucked.seed = ++seed_;
        plucked.duration = ring;
        add_pluck(sound, rate, 0.2_s, plucked);
        hear(std::move(sound));
    }
    void pairs(const NeckString& string, int count) {
        for (int i = 0; i < count; ++i) {
            pluck(string, NoteKind::harmonic);
            pluck(string, NoteKind::fretted);
        }
    }
    void gather(std::vector<BenchEvent> more) { events.insert(events.end(), more.begin(), more.end()); }
    template <class What>
    [[nodiscard]] std::vector<What> all() const {
        std::vector<What> found;
        for (const BenchEvent& event : events) {
            if (const auto* what = std::get_if<What>(&event.what)) found.push_back(*what);
        }
        return found;
    }
    [[nodiscard]] const BenchString& at(int string) const {
        return session.state().strings[static_cast<std::size_t>(string - 1)];
    }

    BenchSession session;
    std::vector<BenchEvent> events;
    std::vector<float> heard;

private:
    std::size_t block_;
    std::uint64_t seed_ = 0;
};

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("two pairs state the move, and the awaited note alternates") {
        Bench bench;
        CHECK(bench.session.state().awaited == Awaited{std::nullopt, NoteKind::harmonic, false});
        bench.pluck(string_5(8.0_cents), NoteKind::harmonic);
        CHECK(bench.session.state().awaited == Awaited{5, NoteKind::fretted, false});
        bench.pluck(string_5(8.0_cents), NoteKind::fretted);
        CHECK(bench.session.state().awaited == Awaited{5, NoteKind::harmonic, false});
        REQUIRE(bench.at(5).result.has_value());
        CHECK(bench.at(5).result->verdict == Verdict::measure_again);
        bench.pairs(string_5(8.0_cents), 1);
        REQUIRE(bench.at(5).result.has_value());
        CHECK(bench.at(5).result->verdict == Verdict::move);
        CHECK(within(bench.at(5).result->error.value, 8.0_cents, 0.2_cents));
        CHECK(bench.session.state().awaited == Awaited{5, NoteKind::harmonic, true});
        CHECK(bench.all<RefusedNote>().empty());
    }
    TEST_CASE("a first reading comes within 0.3 s of the pluck and within 2 cents") {
        Bench bench;
        bench.pluck(string_5(8.0_cents), NoteKind::harmonic);
        bench.pluck(string_5(8.0_cents), NoteKind::fretted);
        const auto readings = bench.all<RingingReading>();
        REQUIRE_FALSE(readings.empty());
        CHECK(readings.front().age <= 0.3_s);
        for (const RingingReading& reading : readings) {
            CHECK(reading.string == 5);
            CHECK(within(reading.off, reading.kind == NoteKind::fretted ? 8.0_cents : 0.26_cents, 2.0_cents));
        }
        CHECK(readings.back().kind == NoteKind::fretted);
    }
    TEST_CASE("after a move and a retune the string begins a new round by itself") {
        Bench bench;
        bench.pairs(string_5(8.0_cents), 2);
        bench.pluck(string_of(raised(110.0_hz, -5.0_cents), 0.5_cents), NoteKind::open);
        CHECK(bench.at(5).round == 2);
        bench.pluck(string_5(0.5_cents), NoteKind::open);
        bench.pairs(string_5(0.5_cents), 2);
        REQUIRE(bench.at(5).earlier_rounds.size() == 1);
        CHECK(within(bench.at(5).earlier_rounds[0].error.value, 8.0_cents, 0.2_cents));
        REQUIRE(bench.at(5).result.has_value());
        CHECK(within(bench.at(5).result->error.value, 0.5_cents, 0.2_cents));
        CHECK(bench.at(5).stage == StringStage::done);
        CHECK(within(bench.at(5).tuning->off, 0.0_cents, 0.2_cents));
        CHECK(bench.all<RoundBegan>().size() == 1);
        REQUIRE(bench.all<ScrewLearned>().size() == 1);
        CHECK(bench.session.analysis().strings[4].comparison->fretted_notes == 2);
    }
    TEST_CASE(
        "a session goes on with what screws were learned to do before, and says the round before the last") {
        const KnownScrew known{5, {{2.5_cents, 0.05_cents}, 3}};
        Bench bench{{default_tolerance, {}, {}, {known}}, {0.5_mm, {}, {}, {}}};
        bench.pairs(string_5(8.0_cents), 2);
        REQUIRE(bench.at(5).result.has_value());
        CHECK(bench.at(5).result->turns_from == TurnsFrom::moves);
        CHECK(within(bench.at(5).result->turns.value, bench.at(5).result->error.value / 2.5_cents * 1.0_turns,
                     1e-9_turns));
        const AnalysedString before = bench.session.analysis().strings[4];
        CHECK(before.turns == bench.at(5).result->turns.value);
        CHECK(before.turns_uncertainty == bench.at(5).result->turns.uncertainty);
        CHECK(before.turns_learned);
        CHECK_FALSE(bench.session.analysis().strings[3].turns_learned);
        bench.quiet(10.0_s);
        bench.pairs(string_5(0.4_cents), 2);
        REQUIRE(bench.at(5).outcomes.size() == 1);
        CHECK(bench.at(5).outcomes[0] == MoveOutcome::as_expected);
        REQUIRE(bench.session.screws().size() == 1);
        CHECK(bench.session.screws()[0].response.moves == 4);
        CHECK(bench.session.screws()[0].response.cents_per_turn.uncertainty < 0.05_cents);
        // The first round as it was, the second as it is.
        const AnalysedString first = bench.session.analysis_of_round(1).strings[4];
        REQUIRE(first.comparison.has_value());
        CHECK(first.comparison->error.value == before.comparison->error.value);
        CHECK(first.turns == before.turns);
        CHECK(analysis_json(bench.session.analysis_of_round(2)) == analysis_json(bench.session.analysis()));
    }
    TEST_CASE("coming back from another string, or after ten seconds, begins a new round too") {
        Bench bench;
        bench.pairs(string_5(8.0_cents), 2);
        bench.pairs(string_4(0.0_cents), 1);
        bench.pluck(string_5(1.0_cents), NoteKind::harmonic);
        CHECK(bench.at(5).round == 2);
        Bench other;
        other.pairs(string_5(8.0_cents), 2);
        other.pairs(string_5(8.0_cents), 1);
        CHECK(other.at(5).round == 1);
        other.quiet(10.0_s);
        other.pluck(string_5(1.0_cents), NoteKind::harmonic);
        CHECK(other.at(5).round == 2);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("two harmonics in a row are refused as a pair, and so is fretted before harmonic") {
        NeckString string = string_5(4.0_cents);
        string.manner.odd_partials = -30.0_db;
        NeckString no_odd = string_5(4.0_cents);
        for (const bool swapped : {false, true}) {
            Bench bench;
            bench.pluck(swapped ? no_odd : string, swapped ? NoteKind::fretted : NoteKind::harmonic);
            bench.pluck(string, NoteKind::harmonic);
            CAPTURE(swapped);
            REQUIRE(bench.all<RefusedNote>().size() == 1);
            CHECK(bench.all<RefusedNote>()[0].reason == Refusal::wrong_kind);
            CHECK(bench.session.state().awaited == Awaited{5, NoteKind::harmonic, false});
            CHECK_FALSE(bench.at(5).result.has_value());
        }
    }
    TEST_CASE("an octave note of a string that is out of tune is refused, its open note says how far to go") {
        Bench bench;
        const NeckString flat = string_of(raised(110.0_hz, -75.0_cents), 0.0_cents);
        bench.pluck(flat, NoteKind::harmonic);
        REQUIRE(bench.all<RefusedNote>().size() == 1);
        CHECK(bench.all<RefusedNote>()[0].reason == Refusal::off_pitch);
        bench.pluck(flat, NoteKind::open);
        REQUIRE(bench.at(5).tuning.has_value());
        CHECK(within(bench.at(5).tuning->off, -75.0_cents, 0.5_cents));
        // Tuned: the newer open note replaces the older.
        bench.pluck(string_5(0.0_cents), NoteKind::open);
        CHECK(within(bench.at(5).tuning->off, 0.0_cents, 0.5_cents));
    }
    TEST_CASE("a note somebody talks into is refused within a second, or read from what came before") {
        int refused = 0;
        for (unsigned seed = 1; seed <= 12; ++seed) {
            CAPTURE(seed);
            Bench bench;
            std::vector<double> sound(3 * 48000);
            add_pluck(sound, rate, 0.2_s, string_5(0.0_cents).harmonic());
            add_thump(sound, rate, 0.45_s, 0.5, 2 * seed);
            add_talk(sound, rate, 0.45_s, 2.0_s, 0.5, 2 * seed + 1);
            bench.hear(sound);
            bench.quiet(1.0_s);
            if (bench.at(5).harmonics == 0) {
                REQUIRE_FALSE(bench.all<RefusedNote>().empty());
                const Refusal reason = bench.all<RefusedNote>()[0].reason;
                CHECK((reason == Refusal::talked_over || reason == Refusal::no_pitch));
                ++refused;
            } else {
                REQUIRE_FALSE(bench.all<FinishedNote>().empty());
                const FinishedNote note = bench.all<FinishedNote>()[0];
                CHECK(within(note.off, 0.0_cents, 1.5_cents));
            }
        }
        CHECK(refused >= 8);
    }
    TEST_CASE("while a screw is turned, knocks are no mis-plucks") {
        Bench bench;
        bench.pairs(string_5(8.0_cents), 2);
        NeckString knock = string_5(0.0_cents);
        knock.manner.decay = 0.01_s;
        bench.pluck(knock, NoteKind::open);
        CHECK(bench.all<RefusedNote>().empty());
        CHECK(bench.session.state().awaited.after_move);
    }
    TEST_CASE("silence for minutes says nothing and asks for nothing") {
        Bench bench;
        bench.quiet(150.0_s);
        CHECK(bench.events.size() == 1);
    }
    TEST_CASE("what cannot count is refused by name within a second, and asked for again") {
        Bench bench;
        bench.pluck(string_5(3.0_cents), NoteKind::harmonic);
        Refusal expected{};
        NeckString wrong = string_5(3.0_cents);
        SUBCASE("another fret") {
            wrong = string_5(110.0_cents);
            expected = Refusal::wrong_note;
        }
        SUBCASE("overload") {
            wrong.manner.amplitude = 4.0;
            expected = Refusal::overload;
        }
        SUBCASE("no string rang") {
            wrong.manner.decay = 0.01_s;
            expected = Refusal::no_pitch;
        }
        const std::size_t before = bench.events.size();
        const Seconds pluck_at = bench.session.state().now + 0.2_s;
        bench.pluck(wrong, NoteKind::fretted);
        const auto refused = bench.all<RefusedNote>();
        REQUIRE(refused.size() == 1);
        CHECK(refused[0].reason == expected);
        for (std::size_t i = before; i < bench.events.size(); ++i) {
            if (std::holds_alternative<RefusedNote>(bench.events[i].what))
                CHECK(bench.events[i].at - pluck_at < 1.0_s);
        }
        CHECK(std::holds_alternative<Awaited>(bench.events.back().what));
        CHECK(bench.session.state().awaited == Awaited{5, NoteKind::fretted, false});
        // The pair is made all the same.
        bench.pluck(string_5(3.0_cents), NoteKind::fretted);
        CHECK(bench.at(5).result.has_value());
    }
    TEST_CASE("samples that never arrived void the note they fall into") {
        Bench bench;
        std::vector<double> sound(24000);
        add_pluck(sound, rate, 0.2_s, string_5(0.0_cents).harmonic());
        bench.hear(sound);
        bench.gather(bench.session.lose());
        bench.quiet(0.5_s);
        REQUIRE(bench.all<RefusedNote>().size() == 1);
        CHECK(bench.all<RefusedNote>()[0].reason == Refusal::samples_lost);
        CHECK(bench.at(5).harmonics == 0);
    }
    TEST_CASE("a harmonic left alone for another string does not count") {
        Bench bench;
        bench.pluck(string_5(3.0_cents), NoteKind::harmonic);
        bench.pairs(string_4(3.0_cents), 1);
        REQUIRE(bench.all<RefusedNote>().size() == 1);
        CHECK(bench.all<RefusedNote>()[0].reason == Refusal::left_alone);
        bench.pairs(string_5(3.0_cents), 2);
        REQUIRE(bench.at(5).result.has_value());
        CHECK(bench.at(5).result->pairs == 2);
        CHECK(within(bench.at(5).result->error.value, 3.0_cents, 0.2_cents));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("of a shipped recording a session says what analyze says, to the last digit") {
        const std::string path = std::string{MIDSPAN_TEST_AUDIO} + "/six-strings.wav";
        auto opened = Recording::open(path);
        REQUIRE(opened.ok());
        Recording recording = std::move(opened).value();
        BenchSession session{six_strings(), {}};
        session.begin(path, recording.format());
        for (auto block = recording.next(); block && block.value().frames() > 0; block = recording.next())
            session.feed(block.value());
        session.finish();
        CHECK(analysis_json(session.analysis()) == analysis_json(measured_file(path, six_strings())));
    }
    TEST_CASE("the sound of a session of several rounds gives the same session again") {
        Bench bench;
        bench.pairs(string_5(8.0_cents), 2);
        bench.pluck(string_5(2.0_cents), NoteKind::open);
        bench.pairs(string_5(2.2_cents), 2);
        bench.quiet(10.0_s);
        bench.pairs(string_5(0.1_cents), 2);
        bench.gather(bench.session.finish());
        REQUIRE(bench.at(5).earlier_rounds.size() == 2);
        BenchSession again{six_strings(), {}};
        again.begin("bench", {rate, 1});
        again.feed({bench.heard, 1});
        again.finish();
        CHECK(analysis_json(again.analysis()) == analysis_json(bench.session.analysis()));
    }
    TEST_CASE("undo takes the last pluck back, restart the round of the string") {
        Bench bench;
        bench.pairs(string_5(8.0_cents), 2);
        bench.gather(bench.session.undo_last_pluck());
        CHECK(bench.session.state().awaited == Awaited{5, NoteKind::fretted, false});
        bench.pluck(string_5(8.0_cents), NoteKind::fretted);
        CHECK(bench.at(5).result->pairs == 2);
        // A round that began by mistake is taken back with its only note.
        bench.pluck(string_5(8.0_cents), NoteKind::open);
        REQUIRE(bench.at(5).round == 2);
        bench.gather(bench.session.undo_last_pluck());
        CHECK(bench.at(5).round == 1);
        CHECK(bench.at(5).result->pairs == 2);
        bench.gather(bench.session.restart_string());
        CHECK_FALSE(bench.at(5).result.has_value());
        CHECK(bench.session.state().awaited == Awaited{5, NoteKind::harmonic, false});
        bench.gather(bench.session.finish());
        CHECK_FALSE(bench.session.analysis().strings[4].comparison.has_value());
    }
    TEST_CASE("how the sound is cut into blocks changes no event") {
        std::vector<std::vector<BenchEvent>> told;
        for (const std::size_t block : {64U, 1001U, 48000U}) {
            Bench bench{{}, {}, block};
            bench.pairs(string_5(5.0_cents), 1);
            told.push_back(bench.events);
        }
        for (const auto& other : told) {
            REQUIRE(other.size() == told[0].size());
            for (std::size_t i = 0; i < other.size(); ++i) {
                CHECK(other[i].at == told[0][i].at);
                CHECK(other[i].what.index() == told[0][i].what.index());
            }
        }
    }
    TEST_CASE("a session nobody corrected says what analyze says of its sound, to the last digit") {
        Bench bench;
        bench.pluck(string_5(5.0_cents), NoteKind::open);
        bench.pairs(string_5(5.0_cents), 2);
        bench.pairs(string_4(-6.0_cents), 2);
        bench.gather(bench.session.finish());
        Measurement measurement{six_strings(), {}};
        measurement.begin_recording("bench", {rate, 1}, std::nullopt);
        measurement.feed({bench.heard, 1});
        measurement.end_recording();
        CHECK(analysis_json(bench.session.analysis()) == analysis_json(measurement.analysis()));
    }
}

}  // namespace midspan::test
