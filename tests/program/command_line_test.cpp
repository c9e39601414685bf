// command_line_test.cpp: words in, values that make sense out, or one clear refusal.
#include "program/command_line.hpp"

#include <doctest/doctest.h>

#include "support/within.hpp"

namespace midspan::test {
namespace {

using namespace midspan::program;
using namespace midspan::literals;

Result<Command> parsed(std::vector<std::string> words) {
    words.insert(words.begin(), "analyze");
    return parse_command_line(words);
}

AnalyzeOptions options(std::vector<std::string> words) {
    const auto command = parsed(std::move(words));
    REQUIRE(command.ok());
    return std::get<AnalyzeOptions>(command.value());
}

Instrument instrument(std::vector<std::string> words) {
    return std::get<Instrument>(options(std::move(words)).instrument);
}

Error refusal(std::vector<std::string> words) {
    const auto command = parsed(std::move(words));
    REQUIRE(!command.ok());
    CHECK(command.error().fault == Fault::usage);
    return command.error();
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("a prediction takes what is, and what is to come, each where it was said") {
        const auto command = parse_command_line(std::vector<std::string>{
            "predict", "--scale-length", "25.5in", "--gauges", "10,13,17,26w/13,36w,46w", "--action", "2",
            "--nut-height=0.45", "--relief", "0.01in", "--to-tuning", "D2,A2,D3,G3,B3,E4", "--to-action",
            "1.5", "--units", "inch", "--json"});
        REQUIRE(command.ok());
        const auto& o = std::get<PredictOptions>(command.value());
        REQUIRE(o.from.gauges.size() == 6);
        CHECK(within(o.from.gauges[0].gauge, 0.254_mm, 1e-9_mm));
        REQUIRE(o.from.gauges[3].core);
        CHECK(within(*o.from.gauges[3].core, 0.3302_mm, 1e-9_mm));
        CHECK(within(o.from.action.value(), 2.0_mm, 1e-9_mm));
        CHECK(within(o.from.nut_height.value(), 0.45_mm, 1e-9_mm));
        CHECK(within(o.from.relief.value(), 0.254_mm, 1e-9_mm));
        CHECK(o.to.gauges.empty());
        CHECK(o.to.tuning == "D2,A2,D3,G3,B3,E4");
        CHECK(within(o.to.action.value(), 1.5_mm, 1e-9_mm));
        CHECK(!o.to.relief);
        CHECK(o.unit == LengthUnit::inches);
        CHECK(o.json);
    }

    TEST_CASE("a recording and a scale length are enough") {
        const AnalyzeOptions o = options({"take.wav", "--scale-length", "628.65"});
        CHECK(o.recordings == std::vector<std::string>{"take.wav"});
        CHECK(o.strings.empty());
        CHECK(o.measurement.order == PluckOrder::alternate);
        CHECK(within(o.measurement.tolerance, 1.5_cents, 0.0_cents));
        CHECK(!o.measurement.channel);
        CHECK(o.unit == LengthUnit::millimetres);
        CHECK(!o.json);
        const auto& guitar = std::get<Instrument>(o.instrument);
        CHECK(guitar.strings.size() == 6);
        CHECK(guitar.string(6).open_note.text() == "E2");
        CHECK(within(guitar.string(6).scale_length, 628.65_mm, 1e-9_mm));
        CHECK(within(guitar.a4, 440.0_hz, 0.0_hz));
    }

    TEST_CASE("every option reaches its value") {
        const AnalyzeOptions o = options({"--plucks",
                                          "grouped",
                                          "--string",
                                          "2,1",
                                          "--channel=2",
                                          "--tolerance",
                                          "0.5",
                                          "--units",
                                          "inch",
                                          "--json",
                                          "--no-record",
                                          "--scale-length",
                                          "25.5in",
                                          "--tuning",
                                          "E1,A1,D2,G2",
                                          "--a4",
                                          "442.5",
                                          "--thread",
                                          "M3",
                                          "--clockwise",
                                          "toward-nut",
                                          "a.wav",
                                          "-"});
        CHECK(o.recordings == std::vector<std::string>{"a.wav", "-"});
        CHECK(o.strings == std::vector<int>{2, 1});
        CHECK(o.measurement.order == PluckOrder::grouped);
        CHECK(o.measurement.channel == 2);
        CHECK(within(o.measurement.tolerance, 0.5_cents, 0.0_cents));
        CHECK(o.unit == LengthUnit::inches);
        CHECK(o.json);
        const auto& bass = std::get<Instrument>(o.instrument);
        REQUIRE(bass.strings.size() == 4);
        CHECK(within(bass.a4, 442.5_hz, 0.0_hz));
        CHECK(within(bass.string(4).scale_length, 647.7_mm, 1e-9_mm));
        REQUIRE(bass.string(4).saddle.thread_pitch);
        CHECK(within(*bass.string(4).saddle.thread_pitch, 0.5_mm, 0.0_mm));
        CHECK(bass.string(4).saddle.clockwise_is_toward_tail == false);
    }

    TEST_CASE("scale lengths come low to high, with commas or one after the other") {
        for (const std::vector<std::string>& words :
             {std::vector<std::string>{"a.wav", "--tuning", "E1,A1", "--scale-length", "864,850"},
              std::vector<std::string>{"a.wav", "--tuning", "E1,A1", "--scale-length", "864",
                                       "--scale-length", "850"}}) {
            const Instrument bass = instrument(words);
            CHECK(within(bass.string(2).scale_length, 864.0_mm, 1e-9_mm));
            CHECK(within(bass.string(1).scale_length, 850.0_mm, 1e-9_mm));
        }
    }

    TEST_CASE("one string number does for all recordings") {
        CHECK(options({"a.wav", "b.wav", "--scale-length", "648", "--string", "3"}).strings ==
              std::vector<int>{3});
    }

    TEST_CASE("what stands behind -- is a recording, even with a dash") {
        CHECK(options({"--scale-length", "648", "--", "-a.wav"}).recordings ==
              std::vector<std::string>{"-a.wav"});
    }

    TEST_CASE("listening takes what a measurement takes, a device, a file to keep and a voice") {
        const std::vector<std::string> words{"listen",      "--scale-length",
                                             "648",         "--device",
                                             "usb",         "--keep",
                                             "take.flac",   "--say",
                                             "--json",      "--no-record",
                                             "--string",    "6",
                                             "--channel",   "2",
                                             "--tolerance", "1",
                                             "--plucks",    "alternate",
                                             "--units",     "inch"};
        const auto command = parse_command_line(words);
        REQUIRE(command.ok());
        const auto& o = std::get<ListenOptions>(command.value());
        CHECK(o.device == "usb");
        CHECK(o.keep == "take.flac");
        CHECK(o.say);
        CHECK(o.json);
        CHECK(o.bench.string == 6);
        CHECK(o.bench.channel == 2);
        CHECK(within(o.bench.tolerance, 1.0_cents, 0.0_cents));
        CHECK(o.unit == LengthUnit::inches);
    }

    TEST_CASE("an instrument file is named and not yet read") {
        const AnalyzeOptions o = options({"a.wav", "--instrument", "bench.toml"});
        CHECK(std::get<InstrumentFile>(o.instrument).path == "bench.toml");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a prediction without strings, of no string or with heights no instrument has is refused") {
        using Words = std::vector<std::string>;
        for (const Words& words : {Words{}, Words{"--gauges", "10,13,x,26w,36w,46w"},
                                   Words{"--gauges", "10,13,17,26w,36w,46w", "--action", "80"},
                                   Words{"--gauges", "10,13,17,26w,36w,46w", "--to-relief", "-1"},
                                   Words{"--gauges", "10,13,17,26w,36w,46w", "--to-gauges", "10,,17"}}) {
            Words all{"predict", "--scale-length", "648"};
            all.insert(all.end(), words.begin(), words.end());
            const auto command = parse_command_line(all);
            REQUIRE(!command.ok());
            CHECK(command.error().fault == Fault::usage);
            CHECK(!command.error().remedy.empty());
        }
    }

    TEST_CASE("without a scale length the remedy says how to get one") {
        const Error error = refusal({"a.wav"});
        CHECK(error.problem == "no scale length");
        CHECK(error.remedy.find("12th fret") != std::string::npos);
        CHECK(error.remedy.find("--scale-length") != std::string::npos);
    }

    TEST_CASE("each refusal names the option and what was typed") {
        const std::vector<std::string> good{"a.wav", "--scale-length", "648"};
        const auto with = [&good](std::string option, std::string value) {
            std::vector<std::string> words = good;
            words.push_back(std::move(option));
            words.push_back(std::move(value));
            return refusal(words).subject;
        };
        CHECK(with("--a4", "forty") == "--a4 forty");
        CHECK(with("--a4", "nan") == "--a4 nan");
        CHECK(with("--a4", "300") == "--a4 300");
        CHECK(with("--plucks", "random") == "--plucks random");
        CHECK(with("--string", "0") == "--string 0");
        CHECK(with("--string", "1,2") == "--string 1,2");
        CHECK(with("--string", "low") == "--string low");
        CHECK(with("--channel", "0") == "--channel 0");
        CHECK(with("--channel", "1.5") == "--channel 1.5");
        CHECK(with("--tolerance", "0") == "--tolerance 0");
        CHECK(with("--tolerance", "-1") == "--tolerance -1");
        CHECK(with("--tolerance", "1e9") == "--tolerance 1e9");
        CHECK(with("--clockwise", "left") == "--clockwise left");
        CHECK(with("--units", "furlong") == "--units furlong");
        CHECK(with("--tuning", "H2").find("H2") != std::string::npos);
        CHECK(with("--thread", "9-99").find("9-99") != std::string::npos);
    }

    TEST_CASE("a scale length that is none is refused: in inches by mistake, negative, absurd, empty") {
        CHECK(refusal({"a.wav", "--scale-length", "25.5"}).remedy == "25.5 mm? write 25.5in");
        for (const char* text : {"-648", "0", "199", "1501", "1e999", "nan", "long", "", "648,", "648;650"}) {
            CAPTURE(text);
            CHECK(!refusal({"a.wav", "--scale-length", text}).problem.empty());
        }
    }

    TEST_CASE("0 and 40 strings are refused") {
        CHECK(!refusal({"a.wav", "--scale-length", "648", "--tuning", ""}).problem.empty());
        std::string forty = "E2";
        for (int i = 1; i < 40; ++i)
            forty += ",E2";
        CHECK(refusal({"a.wav", "--scale-length", "648", "--tuning", forty}).problem == "40 strings");
    }

    TEST_CASE("a number of scale lengths that fits neither one nor all strings is refused") {
        CHECK(refusal({"a.wav", "--scale-length", "648,650"}).subject == "scale length");
    }

    TEST_CASE("the instrument file and an option it already answers are one too many") {
        for (const char* option : {"--scale-length", "--tuning", "--a4", "--thread", "--clockwise"}) {
            CAPTURE(option);
            CHECK(refusal({"a.wav", "--instrument", "b.toml", option, "1"}).subject == option);
        }
    }

    TEST_CASE("options that do not exist, lack their value or come twice are refused by name") {
        CHECK(refusal({"a.wav", "--scale-length", "648", "--loud"}).subject == "--loud");
        CHECK(refusal({"a.wav", "--scale-length"}).subject == "--scale-length");
        CHECK(refusal({"a.wav", "--scale-length", "648", "--a4", "440", "--a4", "441"}).subject == "--a4");
        CHECK(refusal({"--scale-length", "648"}).problem == "no recording");
    }

    TEST_CASE("what only a recording can be asked for is refused when listening, and so are operands") {
        const auto refused = [](std::vector<std::string> words) {
            const auto command = parse_command_line(words);
            REQUIRE(!command.ok());
            return command.error();
        };
        CHECK(refused({"listen", "--scale-length", "648", "--plucks", "grouped"}).problem ==
              "is for recordings");
        CHECK(refused({"listen", "--scale-length", "648", "--string", "6,5"}).subject == "--string 6,5");
        CHECK(refused({"listen", "--scale-length", "648", "take.wav"}).subject == "take.wav");
        CHECK(refused({"listen"}).problem == "no scale length");
        CHECK(refused({"devices", "--loud"}).problem == "no such option");
    }

    TEST_CASE("no command and an unknown one are refused") {
        CHECK(!parse_command_line({}).ok());
        const std::vector<std::string> words{"take.wav"};
        const auto command = parse_command_line(words);
        REQUIRE(!command.ok());
        CHECK(command.error().subject == "take.wav");
    }
}

}  // namespace midspan::test
