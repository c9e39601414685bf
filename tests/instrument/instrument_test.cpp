// instrument_test.cpp: instruments from options and from TOML.
#include "midspan/instrument/instrument.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <vector>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

const std::vector<Millimetres> one_length{648.0_mm};

Result<Instrument> tuned(std::string_view tuning) {
    return make_instrument(tuning, one_length, 440.0_hz, Saddle{});
}

// All keys there are, as the header describes them.
constexpr std::string_view whole_file = R"(
name = "Bench guitar"
tuning = "D2,A2,D3,G3,B3,E4"
scale_length = ["27in", "26.7in", 672, 666.5, "26 in", 650]
a4 = 442
left_handed = true

[bridge]
thread = "4-40"
clockwise = "toward_tail"
travel_toward_nut = 3.0
travel_toward_tail = "1/8in"

[[string]]
number = 6
travel_toward_tail = 0

[[string]]
number = 1
thread = 0.5
clockwise = "toward_nut"
)";

}  // namespace

TEST_SUITE("published") {
    // ISO 16:1975, A4 = 440 Hz; the step down to E2 is arithmetic.
    TEST_CASE(
        "ISO 16: the sixth string of the standard tuning is E2 at 82.407 Hz, the first E4 at 329.628 Hz") {
        const auto guitar = tuned(standard_tuning);
        REQUIRE(guitar.ok());
        CHECK(guitar.value().strings.size() == 6);
        CHECK(guitar.value().string(6).open_note.text() == "E2");
        CHECK(within(guitar.value().string(6).open_frequency, 82.406889_hz, 1e-6_hz));
        CHECK(guitar.value().string(1).open_note.text() == "E4");
        CHECK(within(guitar.value().string(1).open_frequency, 329.627557_hz, 1e-6_hz));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a tuning is named low to high and the last named is string 1, re-entrant tunings too") {
        const auto ukulele = tuned("G4,C4,E4,A4");
        REQUIRE(ukulele.ok());
        for (int number = 1; number <= 4; ++number) {
            CHECK(ukulele.value().string(number).number == number);
        }
        CHECK(ukulele.value().string(4).open_note.text() == "G4");
        CHECK(ukulele.value().string(3).open_note.text() == "C4");
        CHECK(ukulele.value().string(1).open_note.text() == "A4");
    }
    TEST_CASE("1 to 12 strings are an instrument") {
        std::string tuning;
        for (int strings = 1; strings <= 12; ++strings) {
            tuning += (strings == 1 ? "E2" : ",E3");
            REQUIRE(tuned(tuning).ok());
            CHECK(tuned(tuning).value().strings.size() == static_cast<std::size_t>(strings));
        }
    }
    TEST_CASE("all frequencies go with A4") {
        const auto low = make_instrument(standard_tuning, one_length, 415.0_hz, Saddle{});
        const auto standard = tuned(standard_tuning);
        for (int number = 1; number <= 6; ++number) {
            CHECK(within(interval(standard.value().string(number).open_frequency,
                                  low.value().string(number).open_frequency),
                         interval(440.0_hz, 415.0_hz), 1e-9_cents));
        }
    }
    TEST_CASE("the scale lengths of a multi-scale neck go with the tuning") {
        const std::vector<Millimetres> lengths{686.0_mm, 678.0_mm, 670.0_mm, 663.0_mm, 655.0_mm, 648.0_mm};
        const auto fanned = make_instrument(standard_tuning, lengths, 440.0_hz, Saddle{});
        REQUIRE(fanned.ok());
        CHECK(fanned.value().string(6).scale_length == 686.0_mm);
        CHECK(fanned.value().string(1).scale_length == 648.0_mm);
    }
    TEST_CASE("a file holds everything, and one string's own saddle goes over what all share") {
        const auto read = parse_instrument(whole_file, "bench.toml");
        REQUIRE(read.ok());
        const Instrument& guitar = read.value();
        CHECK(guitar.name == "Bench guitar");
        CHECK(guitar.left_handed);
        CHECK(guitar.a4 == 442.0_hz);
        CHECK(guitar.string(6).open_note.text() == "D2");
        CHECK(within(guitar.string(6).scale_length, 685.8_mm, 1e-9_mm));
        CHECK(within(guitar.string(3).scale_length, 666.5_mm, 1e-9_mm));
        CHECK(guitar.string(1).scale_length == 650.0_mm);
        CHECK(within(*guitar.string(3).saddle.thread_pitch, 0.635_mm, 1e-12_mm));
        CHECK(*guitar.string(3).saddle.clockwise_is_toward_tail);
        CHECK(within(*guitar.string(3).saddle.travel_toward_tail, 3.175_mm, 1e-12_mm));
        CHECK(*guitar.string(6).saddle.travel_toward_tail == 0.0_mm);
        CHECK(*guitar.string(6).saddle.travel_toward_nut == 3.0_mm);
        CHECK(within(*guitar.string(1).saddle.thread_pitch, 0.5_mm, 1e-12_mm));
        CHECK(!*guitar.string(1).saddle.clockwise_is_toward_tail);
    }
    TEST_CASE("a scale length alone makes a guitar in standard tuning of which nothing else is known") {
        const auto read = parse_instrument("scale_length = 628.65", "bench.toml");
        REQUIRE(read.ok());
        CHECK(read.value().strings.size() == 6);
        CHECK(read.value().name.empty());
        CHECK(!read.value().left_handed);
        CHECK(read.value().a4 == 440.0_hz);
        CHECK(!read.value().string(1).saddle.thread_pitch);
        CHECK(!read.value().string(1).saddle.clockwise_is_toward_tail);
        CHECK(!read.value().string(1).saddle.travel_toward_nut);
        CHECK(!read.value().string(1).saddle.travel_toward_tail);
    }
    TEST_CASE("a tuning may be a list") {
        const auto bass =
            parse_instrument("scale_length = 864\ntuning = [\"E1\", \"A1\", \"D2\", \"G2\"]", "b");
        REQUIRE(bass.ok());
        CHECK(bass.value().string(4).open_note.text() == "E1");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("no strings, 13 and 40 strings are refused with their number") {
        std::string many = "E2";
        for (int i = 1; i < 13; ++i) {
            many += ",E2";
        }
        CHECK(tuned("").error().problem == "0 strings");
        CHECK(tuned(" ").error().problem == "0 strings");
        CHECK(tuned(many).error().problem == "13 strings");
        for (int i = 13; i < 40; ++i) {
            many += ",E2";
        }
        CHECK(tuned(many).error().problem == "40 strings");
        CHECK(tuned(many).error().fault == Fault::usage);
    }
    TEST_CASE("a tuning with a note nobody knows or no string can have is refused by that note's name") {
        CHECK(tuned("E2,A2,H3").error().subject == "note 'H3'");
        CHECK(tuned("E2,,A2").error().subject == "note ''");
        CHECK(tuned("E2,A2,").error().subject == "note ''");
        CHECK(tuned("EADGBE").error().subject == "note 'EADGBE'");
        CHECK(tuned("E2,C-1").error().subject == "note 'C-1'");
        CHECK(tuned("E9").error().problem.find("Hz") != std::string::npos);
    }
    TEST_CASE("scale lengths and A4 out of range, and too many or too few lengths, are refused") {
        constexpr double nan = std::numeric_limits<double>::quiet_NaN();
        constexpr double inf = std::numeric_limits<double>::infinity();
        for (const double length : {nan, inf, -inf, -648.0, 0.0, 25.5, 199.0, 1501.0}) {
            const std::vector<Millimetres> lengths{Millimetres{length}};
            CAPTURE(length);
            CHECK(!make_instrument(standard_tuning, lengths, 440.0_hz, Saddle{}).ok());
        }
        for (const double a4 : {nan, inf, 0.0, -440.0, 44.0, 379.0, 501.0}) {
            CAPTURE(a4);
            CHECK(!make_instrument(standard_tuning, one_length, Hertz{a4}, Saddle{}).ok());
        }
        const std::vector<Millimetres> two{648.0_mm, 650.0_mm};
        const auto refused = make_instrument(standard_tuning, two, 440.0_hz, Saddle{});
        REQUIRE(!refused.ok());
        CHECK(refused.error().problem == "2 lengths for a tuning of 6 strings");
        CHECK(!make_instrument(standard_tuning, {}, 440.0_hz, Saddle{}).ok());
    }
    TEST_CASE("a file that is no TOML is refused with its line") {
        const auto refused = parse_instrument("scale_length = 648\ntuning = E2", "bench.toml");
        REQUIRE(!refused.ok());
        CHECK(refused.error().fault == Fault::input);
        CHECK(refused.error().subject == "bench.toml");
        CHECK(refused.error().problem.find("line 2") != std::string::npos);
        for (const std::string_view text : {"\xff\xfe\x00", "[[[[", "a = 1\na = 2", "= 4", "x = \"\n\""}) {
            CHECK(parse_instrument(text, "bench.toml").error().fault == Fault::input);
        }
        CHECK(!parse_instrument("x = " + std::string(5000, '['), "bench.toml").ok());
    }
    TEST_CASE("what a file says wrongly is refused by the name of its key") {
        struct Wrong {
            const char* text;
            const char* named;
        };
        for (const Wrong& wrong : std::initializer_list<Wrong>{
                 {"", "scale_length: missing"},
                 {"scale_length = 648\ncolour = 3", "'colour': no such key"},
                 {"scale_length = 648\n\"a\\nb\" = 3", "'a?b': no such key"},
                 {"scale_length = 25.5", "scale_length: scale length '25.5', too short"},
                 {"scale_length = \"25.5\"", "scale_length: scale length '25.5', too short"},
                 {"scale_length = -648", "not above zero"},
                 {"scale_length = nan", "scale_length: scale length 'nan', no length"},
                 {"scale_length = inf", "scale_length: scale length 'inf', no length"},
                 {"scale_length = true", "scale_length: neither a number nor a text"},
                 {"scale_length = []", "0 lengths"},
                 {"scale_length = [648, 650]", "2 lengths for a tuning of 6 strings"},
                 {"scale_length = 648\nname = 5", "name: not a text"},
                 {"scale_length = 648\ntuning = 5", "tuning: not a text"},
                 {"scale_length = 648\ntuning = [5]", "tuning: holds something that is no text"},
                 {"scale_length = 648\ntuning = []", "0 strings"},
                 {"scale_length = 648\ntuning = \"H2\"", "note 'H2'"},
                 {"scale_length = 648\na4 = \"440\"", "a4: not a number"},
                 {"scale_length = 648\na4 = nan", "A4 at nan Hz"},
                 {"scale_length = 648\na4 = 44", "A4 at 44 Hz"},
                 {"scale_length = 648\nleft_handed = 1", "left_handed: neither true nor false"},
                 {"scale_length = 648\nbridge = 1", "bridge: not a section"},
                 {"scale_length = 648\n[bridge]\npitch = 1", "'pitch': no such key in [bridge]"},
                 {"scale_length = 648\n[bridge]\nthread = \"M7\"", "thread: thread 'M7'"},
                 {"scale_length = 648\n[bridge]\nthread = []", "thread: neither"},
                 {"scale_length = 648\n[bridge]\nclockwise = \"up\"", "clockwise: 'up' is no direction"},
                 {"scale_length = 648\n[bridge]\ntravel_toward_nut = -1",
                  "travel_toward_nut: '-1' is outside"},
                 {"scale_length = 648\n[bridge]\ntravel_toward_tail = 51",
                  "travel_toward_tail: '51' is outside"},
                 {"scale_length = 648\n[bridge]\ntravel_toward_tail = nan",
                  "travel_toward_tail: length 'nan'"},
                 {"scale_length = 648\nstring = 3", "string: not a list"},
                 {"scale_length = 648\nstring = [3]", "string: not a section"},
                 {"scale_length = 648\n[[string]]\nthread = \"M3\"", "without a number"},
                 {"scale_length = 648\n[[string]]\nnumber = 7", "without a number"},
                 {"scale_length = 648\n[[string]]\nnumber = \"6\"", "without a number"},
                 {"scale_length = 648\n[[string]]\nnumber = 6\n[[string]]\nnumber = 6",
                  "number 6 stands there twice"},
                 {"scale_length = 648\n[[string]]\nnumber = 6\nscale_length = 3",
                  "'scale_length': no such key"},
             }) {
            CAPTURE(wrong.text);
            const auto refused = parse_instrument(wrong.text, "bench.toml");
            REQUIRE(!refused.ok());
            CHECK(refused.error().fault == Fault::input);
            CHECK(refused.error().subject == "bench.toml");
            CAPTURE(refused.error().problem);
            CHECK(refused.error().problem.find(wrong.named) != std::string::npos);
            CHECK(!refused.error().remedy.empty());
        }
    }
}

}  // namespace midspan::test
