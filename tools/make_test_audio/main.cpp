// main.cpp: writes the takes in test_audio/ and the truth beside each, or checks that they are what it
// writes.
//
// Room: tools/make_test_audio. Edge: the disk.
#include <fmt/core.h>
#include <sndfile.h>

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "performance.hpp"
#include "scene.hpp"

namespace midspan::test {
namespace {

struct CloseSound {
    void operator()(SNDFILE* sound) const { sf_close(sound); }
};
using Sound = std::unique_ptr<SNDFILE, CloseSound>;

std::filesystem::path truth_path(const std::filesystem::path& take) {
    return std::filesystem::path{take}.replace_extension(".json");
}

bool write_take(const std::filesystem::path& path, const Scene& scene, const Performance& performance) {
    SF_INFO info{};
    info.samplerate = static_cast<int>(scene.sample_rate.value());
    info.channels = scene.channels;
    info.format = SF_FORMAT_PCM_16 | (path.extension() == ".wav" ? SF_FORMAT_WAV : SF_FORMAT_FLAC);
    const Sound sound{sf_open(path.c_str(), SFM_WRITE, &info)};
    if (!sound) return false;
    double smallest = 1.0;
    if (path.extension() == ".flac") {
        sf_command(sound.get(), SFC_SET_COMPRESSION_LEVEL, &smallest, sizeof smallest);
    }
    const auto count = static_cast<sf_count_t>(performance.samples.size());
    if (sf_write_short(sound.get(), performance.samples.data(), count) != count) return false;

    std::ofstream truth{truth_path(path), std::ios::binary};
    truth << truth_json(scene, performance);
    return truth.good();
}

std::vector<std::int16_t> read_samples(const std::filesystem::path& path) {
    SF_INFO info{};
    const Sound sound{sf_open(path.c_str(), SFM_READ, &info)};
    if (!sound) return {};
    std::vector<std::int16_t> samples(static_cast<std::size_t>(info.frames * info.channels));
    const auto count = static_cast<sf_count_t>(samples.size());
    if (sf_read_short(sound.get(), samples.data(), count) != count) return {};
    return samples;
}

// The truth must be the same to the byte. A sample may differ by one step of 16 bits where sine or
// exponential round differently here than where the take was made, which is rare: one in a thousand.
bool same_take(const std::filesystem::path& path, const Scene& scene, const Performance& performance) {
    std::ifstream file{truth_path(path), std::ios::binary};
    const std::string truth{std::istreambuf_iterator<char>{file}, {}};
    if (truth != truth_json(scene, performance)) return false;
    const std::vector<std::int16_t> samples = read_samples(path);
    if (samples.size() != performance.samples.size()) return false;
    std::size_t different = 0;
    for (std::size_t n = 0; n < samples.size(); ++n) {
        if (std::abs(samples[n] - performance.samples[n]) > 1) return false;
        if (samples[n] != performance.samples[n]) ++different;
    }
    return 1000 * different <= samples.size();
}

int run(bool check, const std::filesystem::path& folder) {
    int faults = 0;
    for (const Scene& scene : all_scenes()) {
        const Performance performance = play(scene);
        const std::filesystem::path path = folder / scene.file;
        if (check ? same_take(path, scene, performance) : write_take(path, scene, performance)) continue;
        fmt::print(stderr, "make_test_audio: {}: {}\n", path.string(),
                   check ? "is not what this program makes" : "cannot be written");
        ++faults;
    }
    return faults == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

}  // namespace
}  // namespace midspan::test

int main(int argc, char** argv) {
    const bool check = argc == 3 && std::string_view{argv[1]} == "--check";
    if (argc != 2 && !check) {
        fmt::print(stderr, "Usage: make_test_audio [--check] FOLDER\n");
        return 2;
    }
    return midspan::test::run(check, argv[argc - 1]);
}
