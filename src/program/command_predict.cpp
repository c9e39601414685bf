// command_predict.cpp: two setups from what was said of them, and what lies between.
//
// Room: program. Edge: the disk.
#include "program/command_predict.hpp"

#include "midspan/view/prediction_view.hpp"
#include "program/reading_log.hpp"
#include "program/recorded_neck.hpp"

namespace midspan::program {
namespace {

/// The same instrument in another tuning.
Result<Instrument> retuned(const Instrument& instrument, const std::string& tuning) {
    std::vector<Millimetres> scale_lengths;
    for (auto string = instrument.strings.rbegin(); string != instrument.strings.rend(); ++string)
        scale_lengths.push_back(string->scale_length);
    const auto made = make_instrument(tuning, scale_lengths, instrument.a4, {});
    if (!made) return made.error();
    Instrument result = instrument;
    for (std::size_t i = 0; i < result.strings.size(); ++i) {
        result.strings[i].open_note = made.value().strings[i].open_note;
        result.strings[i].open_frequency = made.value().strings[i].open_frequency;
    }
    return result;
}

/// The mean over the strings of which it is stated.
template <class Height>
std::optional<Millimetres> mean_height(const StatedNeck& neck, Height height) {
    Millimetres sum{0.0};
    int stated = 0;
    for (const StatedString& string : neck.strings) {
        if (!height(string)) continue;
        sum = sum + *height(string);
        ++stated;
    }
    if (stated == 0) return std::nullopt;
    return Millimetres{sum.value() / stated};
}

/// As the record has it, the usual heights where it has none; without strings unless it has all of them.
Setup recorded_setup(const Instrument& instrument, const StatedNeck& neck) {
    Setup setup{instrument, {}, usual_action, usual_nut_height, neck.relief.value_or(usual_relief)};
    setup.action = mean_height(neck, [](const StatedString& s) { return s.action; }).value_or(usual_action);
    setup.nut_height =
        mean_height(neck, [](const StatedString& s) { return s.nut_height; }).value_or(usual_nut_height);
    for (const StatedString& string : neck.strings) {
        if (string.gauge) setup.strings.push_back(*string.gauge);
    }
    if (setup.strings.size() != instrument.strings.size()) setup.strings.clear();
    return setup;
}

Result<Setup> setup_of(Setup setup, const SetupWords& words, std::string_view option) {
    if (words.tuning) {
        auto other = retuned(setup.instrument, *words.tuning);
        if (!other) return other.error();
        setup.instrument = std::move(other).value();
    }
    if (!words.gauges.empty()) {
        auto gauges = gauges_by_number(words, setup.instrument, option);
        if (!gauges) return gauges.error();
        setup.strings = std::move(gauges).value();
    }
    setup.action = words.action.value_or(setup.action);
    setup.nut_height = words.nut_height.value_or(setup.nut_height);
    setup.relief = words.relief.value_or(setup.relief);
    return setup;
}

}  // namespace

Result<Outcome> predict(const PredictOptions& options, const Screen& screen) {
    // A prediction is no reading: the record is asked, and nothing is written there.
    auto bench = on_bench(options.instrument, {{}, true});
    if (!bench) return bench.error();
    const auto neck = recorded_neck(bench.value());
    if (!neck) return neck.error();
    const auto before =
        setup_of(recorded_setup(bench.value().instrument, neck.value()), options.from, "--gauges");
    if (!before) return before.error();
    if (before.value().strings.empty()) {
        return Error{Fault::usage, "predict",
                     bench.value().entry ? "the record does not say the gauge of every string" : "no gauges",
                     "name the strings that are on: --gauges 10,13,17,26w,36w,46w"};
    }
    const auto after = setup_of(before.value(), options.to, "--to-gauges");
    if (!after) return after.error();

    const SetupPrediction prediction = predict_setup(before.value(), after.value());
    if (options.json) return Outcome{prediction_json(before.value(), after.value(), prediction), {}};
    return Outcome{prediction_text(before.value(), after.value(), prediction,
                                   {options.unit, screen.utf8, screen.emphasis}),
                   {}};
}

}  // namespace midspan::program
