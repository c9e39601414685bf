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
#include <utility>
#include <vector>

#include "neck_scene.hpp"
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

/// What is written for a take.
struct Made {
    std::string file;
    double sample_rate;
    int channels;
    std::vector<std::int16_t> samples;
    std::string truth;
};

std::vector<Made> all_takes() {
    std::vector<Made> takes;
    for (const Scene& scene : all_scenes()) {
        Performance performance = play(scene);
        std::string truth = truth_json(scene, performance);
        takes.push_back({scene.file, scene.sample_rate.value(), scene.channels,
                         std::move(performance.samples), std::move(truth)});
    }
    PlayedNeck neck = play_neck();
    takes.push_back({neck.file, neck.sample_rate.value(), 1, std::move(neck.samples), std::move(neck.truth)});
    return takes;
}

bool write_take(const std::filesystem::path& path, const Made& take) {
    SF_INFO info{};
    info.samplerate = static_cast<int>(take.sample_rate);
    info.channels = take.channels;
    info.format = SF_FORMAT_PCM_16 | (path.extension() == ".wav" ? SF_FORMAT_WAV : SF_FORMAT_FLAC);
    const Sound sound{sf_open(path.c_str(), SFM_WRITE, &info)};
    if (!sound) return false;
    double smallest = 1.0;
    if (path.extension() == ".flac") {
        sf_command(sound.get(), SFC_SET_COMPRESSION_LEVEL, &smallest, sizeof smallest);
    }
    const auto count = static_cast<sf_count_t>(take.samples.size());
    if (sf_write_short(sound.get(), take.samples.data(), count) != count) return false;

    std::ofstream truth{truth_path(path), std::ios::binary};
    truth << take.truth;
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
bool same_take(const std::filesystem::path& path, const Made& take) {
    std::ifstream file{truth_path(path), std::ios::binary};
    const std::string truth{std::istreambuf_iterator<char>{file}, {}};
    if (truth != take.truth) return false;
    const std::vector<std::int16_t> samples = read_samples(path);
    if (samples.size() != take.samples.size()) return false;
    std::size_t different = 0;
    for (std::size_t n = 0; n < samples.size(); ++n) {
        if (std::abs(samples[n] - take.samples[n]) > 1) return false;
        if (samples[n] != take.samples[n]) ++different;
    }
    return 1000 * different <= samples.size();
}

int run(bool check, const std::filesystem::path& folder) {
    int faults = 0;
    for (const Made& take : all_takes()) {
        const std::filesystem::path path = folder / take.file;
        if (check ? same_take(path, take) : write_take(path, take)) continue;
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
