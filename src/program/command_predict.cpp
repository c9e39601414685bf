// command_predict.cpp: two setups from what was said of them, and what lies between.
//
// Room: program. Edge: the disk.
#include "program/command_predict.hpp"

#include "midspan/view/prediction_view.hpp"
#include "program/reading_log.hpp"

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

Result<Setup> setup_of(const Instrument& instrument, const SetupWords& words, const Setup* before,
                       std::string_view option) {
    Setup setup =
        before != nullptr ? *before : Setup{instrument, {}, usual_action, usual_nut_height, usual_relief};
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
    // A prediction is no reading: the record is asked who the instrument is, and nothing is written there.
    const auto bench = on_bench(options.instrument, {{}, false});
    if (!bench) return bench.error();
    const auto before = setup_of(bench.value().instrument, options.from, nullptr, "--gauges");
    if (!before) return before.error();
    const auto after = setup_of(bench.value().instrument, options.to, &before.value(), "--to-gauges");
    if (!after) return after.error();

    const SetupPrediction prediction = predict_setup(before.value(), after.value());
    if (options.json) return Outcome{prediction_json(before.value(), after.value(), prediction), {}};
    return Outcome{prediction_text(before.value(), after.value(), prediction,
                                   {options.unit, screen.utf8, screen.emphasis}),
                   {}};
}

}  // namespace midspan::program
