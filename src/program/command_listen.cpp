// command_listen.cpp: block by block from the microphone into the file that is kept and into the measurement.
//
// Room: program. Edge: sound devices, the disk, the screen.
#include "program/command_listen.hpp"

#include <nlohmann/json.hpp>
#include <utility>

#include "midspan/sound/kept_sound.hpp"
#include "midspan/sound/microphone.hpp"
#include "midspan/view/analysis_json.hpp"
#include "program/end_signals.hpp"
#include "program/measured_text.hpp"

namespace midspan::program {
namespace {

/// Hears until the end; gives back the fault that was the end, if one was.
std::optional<Error> hear(Microphone& microphone, std::optional<KeptSound>& kept, Measurement& measurement,
                          const EndSignals& signals) {
    for (;;) {
        if (signals.end_wanted()) microphone.stop();
        Result<AudioBlock> block = microphone.next();
        if (!block) return block.error();
        if (block.value().frames() == 0) return std::nullopt;
        if (kept) {
            // What is measured is what is kept, so that the file gives the same result again.
            block = kept->keep(block.value());
            if (!block) return block.error();
        }
        measurement.feed(block.value());
    }
}

std::string one_line(const std::string& json) { return nlohmann::ordered_json::parse(json).dump() + '\n'; }

}  // namespace

Result<Outcome> listen(const ListenOptions& options, const Screen& screen) {
    Result<Instrument> instrument = instrument_of(options.instrument);
    if (!instrument) return instrument.error();
    if (options.string) {
        if (auto fault = fault_of_strings({&*options.string, 1}, instrument.value())) {
            return *std::move(fault);
        }
    }
    auto opened = Microphone::open({options.device, options.measurement.channel});
    if (!opened) return opened.error();
    Microphone& microphone = opened.value();
    std::optional<KeptSound> kept;
    if (options.keep) {
        auto created = KeptSound::create(*options.keep, microphone.format());
        if (!created) return created.error();
        kept = std::move(created).value();
    }

    Measurement measurement{std::move(instrument).value(), options.measurement};
    measurement.begin_recording(device_title(microphone.device()), microphone.format(), options.string);
    const EndSignals signals;
    std::optional<Error> fault = hear(microphone, kept, measurement, signals);
    measurement.end_recording();
    for (Warning warning : microphone.warnings()) {
        warning.recording = 0;
        measurement.add_warning(std::move(warning));
    }
    if (kept) {
        if (auto unfinished = kept->finish(); unfinished && !fault) fault = std::move(unfinished);
    }

    const Analysis analysis = measurement.analysis();
    const Look look{options.unit, screen.utf8, screen.emphasis};
    return Outcome{options.json ? one_line(analysis_json(analysis)) : measured_text(analysis, look),
                   fault ? fault : nothing_measured(analysis)};
}

}  // namespace midspan::program
