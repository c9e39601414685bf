// reference_pitch.cpp: aubio's pitch methods, and Praat by a script.
//
// Room: tools/benchmark. Edge: the disk and another program (Praat). May include: ground.
#include "benchmark/reference_pitch.hpp"

#include <aubio/aubio.h>
#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <stdexcept>

#include "benchmark/statistics.hpp"

namespace midspan::benchmark {

std::optional<Hertz> aubio_pitch(const AubioMethod& method, std::span<const float> note, Hertz sample_rate) {
    const uint_t hop = method.window / 4;
    const std::unique_ptr<aubio_pitch_t, void (*)(aubio_pitch_t*)> pitch{
        new_aubio_pitch(method.name, method.window, hop, static_cast<uint_t>(sample_rate.value())),
        del_aubio_pitch};
    if (!pitch) throw std::runtime_error{fmt::format("aubio knows no method {}", method.name)};
    const std::unique_ptr<fvec_t, void (*)(fvec_t*)> in{new_fvec(hop), del_fvec};
    const std::unique_ptr<fvec_t, void (*)(fvec_t*)> out{new_fvec(1), del_fvec};
    aubio_pitch_set_unit(pitch.get(), "Hz");
    std::vector<double> frames;
    for (std::size_t at = 0; at + hop <= note.size(); at += hop) {
        std::copy_n(note.begin() + static_cast<std::ptrdiff_t>(at), hop, in->data);
        aubio_pitch_do(pitch.get(), in.get(), out.get());
        const bool full = at + hop >= method.window;
        if (full && out->data[0] > 0.0F) frames.push_back(static_cast<double>(out->data[0]));
    }
    if (frames.empty()) return std::nullopt;
    return Hertz{quantile(std::move(frames), 0.5)};
}

bool praat_is_installed() { return std::system("command -v praat >/dev/null 2>&1") == 0; }

std::vector<std::optional<Hertz>> praat_pitches(const std::vector<std::string>& paths, Hertz lowest,
                                                Hertz highest, const std::string& folder) {
    const std::string script = folder + "/pitch.praat";
    const std::string answers = folder + "/pitch.txt";
    {
        std::ofstream file{script};
        for (const std::string& path : paths) {
            file << "sound = Read from file: \"" << path << "\"\n"
                 << fmt::format(
                        "pitch = To Pitch (ac): 0, {}, 15, \"no\", 0.03, 0.45, 0.01, 0.35, 0.14, {}\n",
                        lowest.value(), highest.value())
                 << "median = Get quantile: 0, 0, 0.5, \"Hertz\"\n"
                 << "appendFileLine: \"" << answers << "\", fixed$ (median, 9)\n"
                 << "removeObject: sound, pitch\n";
        }
    }
    const std::string command = fmt::format("praat --run '{}' >'{}/praat.log' 2>&1", script, folder);
    if (std::system(command.c_str()) != 0) throw std::runtime_error{"praat did not run its script"};
    std::vector<std::optional<Hertz>> pitches;
    std::ifstream file{answers};
    for (std::string line; std::getline(file, line);) {
        // What has no pitch is "--undefined--".
        char* end = nullptr;
        const double value = std::strtod(line.c_str(), &end);
        pitches.push_back(end != line.c_str() && value > 0.0 ? std::optional{Hertz{value}} : std::nullopt);
    }
    if (pitches.size() != paths.size()) throw std::runtime_error{"praat answered for too few notes"};
    return pitches;
}

}  // namespace midspan::benchmark
