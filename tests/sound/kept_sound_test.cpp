// kept_sound_test.cpp: what was heard is in the file, whatever the end.
#include "midspan/sound/kept_sound.hpp"

#include <doctest/doctest.h>
#include <sys/resource.h>

#include <cmath>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "midspan/sound/recording.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {
namespace {

const AudioFormat stereo{Hertz{44'100.0}, 2};

std::vector<float> noise(std::size_t frames) {
    std::mt19937 random{4};
    std::uniform_real_distribution<float> range{-1.2F, 1.2F};
    std::vector<float> samples(2 * frames);
    for (float& sample : samples)
        sample = range(random);
    return samples;
}

/// All that is in a file.
std::vector<float> read(const std::string& path) {
    auto recording = Recording::open(path);
    REQUIRE(recording.ok());
    CHECK(recording.value().format().sample_rate == stereo.sample_rate);
    std::vector<float> samples;
    for (;;) {
        const auto block = recording.value().next();
        REQUIRE(block.ok());
        if (block.value().frames() == 0) return samples;
        samples.insert(samples.end(), block.value().samples.begin(), block.value().samples.end());
    }
}

/// Keeps samples in blocks of 500 frames; gives what the file is said to hold.
std::vector<float> keep_all(KeptSound& kept, const std::vector<float>& samples) {
    std::vector<float> said;
    for (std::size_t at = 0; at < samples.size(); at += 1000) {
        const auto part = std::span{samples}.subspan(at, std::min<std::size_t>(1000, samples.size() - at));
        const auto block = kept.keep({part, 2});
        REQUIRE(block.ok());
        said.insert(said.end(), block.value().samples.begin(), block.value().samples.end());
    }
    return said;
}

KeptSound created(const std::string& path) {
    auto kept = KeptSound::create(path, stereo);
    REQUIRE(kept.ok());
    return std::move(kept).value();
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("a WAV file holds every sample as it was heard, even beyond full scale") {
        const TempFolder folder;
        const std::string path = folder.file("kept.wav");
        const std::vector<float> samples = noise(50'000);
        KeptSound kept = created(path);
        CHECK(keep_all(kept, samples) == samples);
        CHECK(!kept.finish());
        CHECK(read(path) == samples);
        std::string kind(4, ' ');
        std::ifstream{path}.read(kind.data(), 4);
        CHECK(kind == "RIFF");
    }

    TEST_CASE("a FLAC file holds what keep() said it would: 24 bits, within full scale") {
        const TempFolder folder;
        const std::string path = folder.file("kept.flac");
        const std::vector<float> samples = noise(50'000);
        KeptSound kept = created(path);
        const std::vector<float> said = keep_all(kept, samples);
        CHECK(!kept.finish());
        CHECK(read(path) == said);
        float worst = 0.0F;
        for (std::size_t i = 0; i < samples.size(); ++i) {
            if (std::abs(samples[i]) < 1.0F) worst = std::max(worst, std::abs(samples[i] - said[i]));
        }
        CHECK(worst <= std::ldexp(1.0F, -24));
    }

    TEST_CASE("when the program is killed, less than a second is missing") {
        for (const char* name : {"killed.wav", "killed.flac"}) {
            CAPTURE(name);
            const TempFolder folder;
            const std::vector<float> samples = noise(5 * 44'100);
            KeptSound kept = created(folder.file(name));
            const std::vector<float> said = keep_all(kept, samples);
            // What stands on the disk now is what a kill would leave.
            std::filesystem::copy_file(folder.file(name), folder.file(std::string{"left-"} + name));
            const std::vector<float> left = read(folder.file(std::string{"left-"} + name));
            CHECK(left.size() > 2 * 4 * 44'100);
            CHECK(std::equal(left.begin(), left.end(), said.begin()));
        }
    }

    TEST_CASE("a frame that is no number stays one in a WAV file, and for whoever measures") {
        const TempFolder folder;
        const std::vector<float> hole(2, std::numeric_limits<float>::quiet_NaN());
        for (const char* name : {"hole.wav", "hole.flac"}) {
            KeptSound kept = created(folder.file(name));
            CHECK(std::isnan(keep_all(kept, hole)[1]));
            keep_all(kept, noise(10));
            CHECK(!kept.finish());
        }
        CHECK(std::isnan(read(folder.file("hole.wav"))[1]));
        CHECK(read(folder.file("hole.flac"))[1] == 0.0F);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a file that exists, another kind, and a folder that is not there are refused by name") {
        const TempFolder folder;
        const std::string path = folder.file("kept.wav");
        std::ofstream{path} << "precious";
        const auto refusal = [](const std::string& file) {
            const auto kept = KeptSound::create(file, stereo);
            REQUIRE(!kept.ok());
            CHECK(kept.error().subject == file);
            return kept.error();
        };
        CHECK(refusal(path).problem == "exists already");
        CHECK(std::filesystem::file_size(path) == 8);
        CHECK(refusal(folder.file("kept.mp3")).fault == Fault::usage);
        CHECK(refusal(folder.file("none/kept.wav")).fault == Fault::record);
        CHECK(!std::filesystem::exists(folder.file("kept.mp3")));
    }

    TEST_CASE("a disk that takes no more is a fault of the record, told when it happens") {
        const TempFolder folder;
        const std::string path = folder.file("full.wav");
        KeptSound kept = created(path);
        rlimit before{};
        getrlimit(RLIMIT_FSIZE, &before);
        const rlimit full{100'000, before.rlim_max};
        const auto handler = std::signal(SIGXFSZ, SIG_IGN);
        setrlimit(RLIMIT_FSIZE, &full);
        const std::vector<float> samples = noise(50'000);
        const auto block = kept.keep({samples, 2});
        setrlimit(RLIMIT_FSIZE, &before);
        std::signal(SIGXFSZ, handler);
        REQUIRE(!block.ok());
        CHECK(block.error().fault == Fault::record);
        CHECK(block.error().subject == path);
    }
}

}  // namespace midspan::test
