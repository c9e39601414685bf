// command_listen.cpp: block by block from the microphone into the file that is kept and into the session.
//
// Room: program. Edge: sound devices, the disk, the screen.
#include "program/command_listen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "midspan/measurement/bench_session.hpp"
#include "midspan/record/session_record.hpp"
#include "midspan/sound/kept_sound.hpp"
#include "midspan/sound/microphone.hpp"
#include "midspan/view/analysis_json.hpp"
#include "midspan/view/bench_events.hpp"
#include "program/clock.hpp"
#include "program/end_signals.hpp"
#include "program/measured_text.hpp"
#include "program/screen_view.hpp"
#include "program/session_view.hpp"
#include "program/speech.hpp"

namespace midspan::program {
namespace {

/// "input 1 'USB Audio', 48 kHz, stereo"
std::string source_in_words(const Microphone& microphone) {
    const AudioFormat format = microphone.format();
    const char* channels = format.channels == 1 ? "mono" : format.channels == 2 ? "stereo" : "many channels";
    return fmt::format("{}, {:g} kHz, {}", device_title(microphone.device()),
                       format.sample_rate.value() / 1000.0, channels);
}

/// A session and all that goes with it, from the first block to the last.
class Listener {
public:
    Listener(Microphone microphone, std::optional<KeptSound> kept, BenchSession session, Look look, bool json,
             std::optional<Speech> speech)
        : microphone_{std::move(microphone)},
          kept_{std::move(kept)},
          session_{std::move(session)},
          look_{look},
          speech_{std::move(speech)},
          view_{view_of(json)} {}

    /// Until somebody wants the end or something fails; gives back the fault, if that was it.
    [[nodiscard]] std::optional<Error> listen(const EndSignals& signals) {
        std::optional<Error> fault =
            show(session_.begin(device_title(microphone_.device()), microphone_.format()));
        bool over = fault.has_value();
        while (!over) {
            if (signals.end_wanted()) microphone_.stop();
            const Result<AudioBlock> block = microphone_.next();
            if (!block) {
                fault = block.error();
                break;
            }
            over = block.value().frames() == 0;
            fault = over ? std::nullopt : hear(block.value());
            over = over || fault.has_value();
            if (!over) fault = obey(view_->key());
            over = over || fault.has_value();
        }
        microphone_.stop();
        // What failed first is told; an end that cannot be shown any more is no reason to hide it.
        std::optional<Error> unshown = show(session_.finish());
        std::optional<Error> unfinished = kept_ ? kept_->finish() : std::nullopt;
        if (!fault) fault = std::move(unfinished);
        return fault ? fault : unshown;
    }

    [[nodiscard]] BenchWork work(std::span<const KnownScrew> known) const {
        return work_of(session_, known, rounds_ended_, now());
    }

private:
    [[nodiscard]] std::unique_ptr<SessionView> view_of(bool json) const {
        if (json) return json_view();
        if (auto screen = screen_view(session_, look_)) return screen;
        return lines_view(source_in_words(microphone_), session_.instrument(), look_);
    }

    std::optional<Error> hear(AudioBlock sound) {
        if (auto fault = pass_on_warnings()) return fault;
        if (microphone_.at_gap()) {
            if (auto fault = show(session_.lose())) return fault;
        }
        if (kept_) {
            // What is measured is what is kept, so that the file gives the same result again.
            const Result<AudioBlock> kept = kept_->keep(sound);
            if (!kept) return kept.error();
            sound = kept.value();
        }
        return show(session_.feed(sound));
    }

    std::optional<Error> pass_on_warnings() {
        for (; warned_ < microphone_.warnings().size(); ++warned_) {
            Warning warning = microphone_.warnings()[warned_];
            warning.recording = 0;
            if (auto fault = view_->show(warning)) return fault;
            session_.add_warning(std::move(warning));
        }
        return std::nullopt;
    }

    std::optional<Error> obey(std::optional<SessionKey> key) {
        if (!key) return std::nullopt;
        switch (*key) {
            case SessionKey::undo_pluck:
                return show(session_.undo_last_pluck());
            case SessionKey::restart_string:
                return show(session_.restart_string());
            case SessionKey::finish:
                microphone_.stop();
        }
        return std::nullopt;
    }

    std::optional<Error> show(const std::vector<BenchEvent>& events) {
        for (const BenchEvent& event : events) {
            const auto* began = std::get_if<RoundBegan>(&event.what);
            if (began != nullptr && static_cast<std::size_t>(began->round) > rounds_ended_.size() + 1)
                rounds_ended_.push_back(now());
        }
        if (speech_) {
            std::string spoken;
            for (const BenchEvent& event : events) {
                const std::string sentence = bench_event_spoken(event, session_.instrument(), look_);
                if (!sentence.empty()) spoken += sentence + ' ';
            }
            if (!spoken.empty()) speech_->say(std::move(spoken));
            speech_->go_on();
        }
        return view_->show(events, session_.state());
    }

    Microphone microphone_;
    std::optional<KeptSound> kept_;
    BenchSession session_;
    Look look_;
    std::optional<Speech> speech_;
    std::unique_ptr<SessionView> view_;
    std::vector<Moment> rounds_ended_;  // by the first string
    std::size_t warned_ = 0;            // of the microphone's warnings
};

std::string one_line(const std::string& json) { return nlohmann::ordered_json::parse(json).dump() + '\n'; }

}  // namespace

Result<Outcome> listen(const ListenOptions& options, const Screen& screen) {
    Result<OnBench> bench = on_bench(options.instrument, options.record);
    if (!bench) return bench.error();
    if (options.bench.string) {
        if (auto fault = fault_of_strings({&*options.bench.string, 1}, bench.value().instrument)) {
            return *std::move(fault);
        }
    }
    std::optional<Speech> speech;
    if (options.say) {
        auto started = Speech::start();
        if (!started) return started.error();
        speech = std::move(started).value();
    }
    auto microphone = Microphone::open({options.device, options.bench.channel});
    if (!microphone) return microphone.error();
    std::optional<KeptSound> kept;
    if (options.keep) {
        auto created = KeptSound::create(*options.keep, microphone.value().format());
        if (!created) return created.error();
        kept = std::move(created).value();
    }

    const Look look{options.unit, screen.utf8, screen.emphasis};
    const EndSignals signals;
    BenchOptions how = options.bench;
    how.screws = bench.value().screws;
    BenchWork work;
    std::optional<Error> fault;
    {
        // The microphone silences stderr, so it is gone before anything is told there.
        Listener listener{std::move(microphone).value(),
                          std::move(kept),
                          BenchSession{bench.value().instrument, how},
                          look,
                          options.json,
                          std::move(speech)};
        fault = listener.listen(signals);
        work = listener.work(how.screws);
    }
    const Analysis& analysis = work.readings.back().analysis;
    Outcome outcome{options.json ? one_line(analysis_json(analysis)) : '\n' + measured_text(analysis, look),
                    std::move(fault)};
    // A round that has only begun takes nothing away from those before it.
    const bool any = std::ranges::any_of(work.readings, [](const IntonationReading& reading) {
        return !nothing_measured(reading.analysis).has_value();
    });
    if (!outcome.error && !any) outcome.error = nothing_measured(analysis);
    log_work(bench.value(), work, options.json, outcome);
    return outcome;
}

}  // namespace midspan::program
