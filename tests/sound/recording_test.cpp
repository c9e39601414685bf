// recording_test.cpp: what a sound file gives, whole or damaged.
#include "midspan/sound/recording.hpp"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <limits>
#include <random>
#include <string_view>
#include <thread>
#include <vector>

#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;
namespace {

constexpr AudioFormat mono{48'000.0_hz, 1};

/// A ringing tone, other in every channel, never beyond +-0.9.
std::vector<float> tone(int frames, int channels = 1) {
    std::vector<float> samples;
    for (int frame = 0; frame < frames; ++frame) {
        for (int channel = 0; channel < channels; ++channel) {
            samples.push_back(0.9F * std::sin(0.05F * static_cast<float>(frame * (channel + 1))));
        }
    }
    return samples;
}

/// Every block to the end, one behind the other.
std::vector<float> read_all(Recording& recording) {
    std::vector<float> samples;
    for (;;) {
        const auto block = recording.next();
        REQUIRE(block.ok());
        if (block.value().frames() == 0) return samples;
        samples.insert(samples.end(), block.value().samples.begin(), block.value().samples.end());
    }
}

Recording opened(const std::string& path) {
    auto recording = Recording::open(path);
    REQUIRE_MESSAGE(recording.ok(), path);
    return std::move(recording).value();
}

float largest_difference(const std::vector<float>& a, const std::vector<float>& b) {
    REQUIRE(a.size() == b.size());
    float largest = 0.0F;
    for (std::size_t i = 0; i < a.size(); ++i) {
        largest = std::max(largest, std::abs(a[i] - b[i]));
    }
    return largest;
}

void write_text(const std::string& path, std::string_view text) {
    std::ofstream{path, std::ios::binary} << text;
}

/// Little-endian bytes of a number, for headers made by hand.
std::string bytes(std::uint64_t value, int count) {
    std::string text;
    for (int i = 0; i < count; ++i) {
        text.push_back(static_cast<char>(value >> (8 * i) & 0xFF));
    }
    return text;
}

std::string wav_format_chunk(int bytes_a_sample) {
    const auto size = static_cast<std::uint64_t>(bytes_a_sample);
    return "fmt " + bytes(16, 4) + bytes(1, 2) + bytes(1, 2) + bytes(48'000, 4) + bytes(48'000 * size, 4) +
           bytes(size, 2) + bytes(8 * size, 2);
}

std::string wav_header(int bytes_a_sample, std::uint64_t data_bytes) {
    const std::uint64_t whole = data_bytes == 0 ? 8 : 0xFFFFFFFF;  // 8: never filled in
    return "RIFF" + bytes(whole, 4) + "WAVE" + wav_format_chunk(bytes_a_sample) + "data" +
           bytes(data_bytes, 4);
}

void check_input_error(const std::string& path, std::string_view problem) {
    const auto recording = Recording::open(path);
    REQUIRE(!recording.ok());
    const Error& error = recording.error();
    CHECK(error.fault == Fault::input);
    CHECK(error.subject == path);
    CHECK(error.problem == problem);
    CHECK(!error.remedy.empty());
    CHECK((error.problem + error.remedy).find('\n') == std::string::npos);
}

/// Standard input for one test, and what it was before afterwards.
class StandardInput {
public:
    explicit StandardInput(int descriptor) : before_{dup(STDIN_FILENO)} { dup2(descriptor, STDIN_FILENO); }
    ~StandardInput() {
        dup2(before_, STDIN_FILENO);
        close(before_);
    }
    StandardInput(const StandardInput&) = delete;
    StandardInput& operator=(const StandardInput&) = delete;

private:
    int before_;
};

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("every format gives back the samples that were written, within half a step of its resolution") {
        struct Kind {
            int format;
            float step;
        };
        const TempFolder folder;
        const auto written = tone(20'000, 2);
        for (const Kind kind :
             {Kind{SF_FORMAT_WAV | SF_FORMAT_PCM_U8, 0x1p-7F},
              Kind{SF_FORMAT_WAV | SF_FORMAT_PCM_16, 0x1p-15F},
              Kind{SF_FORMAT_WAV | SF_FORMAT_PCM_24, 0x1p-23F},
              Kind{SF_FORMAT_WAV | SF_FORMAT_PCM_32, 0x1p-23F}, Kind{SF_FORMAT_WAV | SF_FORMAT_FLOAT, 0.0F},
              Kind{SF_FORMAT_WAV | SF_FORMAT_DOUBLE, 0.0F},
              Kind{SF_FORMAT_WAVEX | SF_FORMAT_PCM_24, 0x1p-23F},
              Kind{SF_FORMAT_RF64 | SF_FORMAT_PCM_24, 0x1p-23F},
              Kind{SF_FORMAT_AIFF | SF_FORMAT_PCM_16, 0x1p-15F},
              Kind{SF_FORMAT_AIFF | SF_FORMAT_PCM_24, 0x1p-23F}, Kind{SF_FORMAT_AIFF | SF_FORMAT_FLOAT, 0.0F},
              Kind{SF_FORMAT_FLAC | SF_FORMAT_PCM_16, 0x1p-15F},
              Kind{SF_FORMAT_FLAC | SF_FORMAT_PCM_24, 0x1p-23F}}) {
            CAPTURE(kind.format);
            const std::string path = folder.file("tone");
            write_sound_file(path, written, {44'100.0_hz, 2}, kind.format);
            Recording recording = opened(path);
            CHECK(within(recording.format().sample_rate, 44'100.0_hz, 0.0_hz));
            CHECK(recording.format().channels == 2);
            CHECK(recording.total_frames() == 20'000);
            // The scale of +-1 is 2^(bits-1) on one side and one less on the other: up to one step more.
            CHECK(largest_difference(read_all(recording), written) <= 1.5F * kind.step);
            CHECK(recording.frames_read() == 20'000);
            CHECK(within(recording.duration_read(), Seconds{20'000.0 / 44'100.0}, 1e-12_s));
            CHECK(recording.warnings().empty());
        }
    }
    TEST_CASE("Ogg gives back the tone as far as its compression leaves it") {
        const TempFolder folder;
        const auto written = tone(48'000);
        write_sound_file(folder.file("tone.ogg"), written, mono, SF_FORMAT_OGG | SF_FORMAT_VORBIS);
        Recording recording = opened(folder.file("tone.ogg"));
        const auto read = read_all(recording);
        CHECK(largest_difference(read, written) <= 0.1F);
        CHECK(recording.warnings().empty());
    }
    TEST_CASE("blocks are never longer than 8,192 frames, nor than 65,536 samples of all channels together") {
        const TempFolder folder;
        for (const int channels : {1, 2, 64, 1'000}) {
            CAPTURE(channels);
            write_sound_file(folder.file("many.wav"), tone(20'000, channels), {48'000.0_hz, channels});
            Recording recording = opened(folder.file("many.wav"));
            std::size_t frames = 0;
            for (;;) {
                const auto block = recording.next();
                REQUIRE(block.ok());
                if (block.value().frames() == 0) break;
                CHECK(block.value().channels == channels);
                CHECK(block.value().frames() <= 8'192);
                CHECK(block.value().samples.size() <= 65'536);
                frames += block.value().frames();
            }
            CHECK(frames == 20'000);
        }
    }
    TEST_CASE("memory does not grow with the length of a recording") {
        const TempFolder folder;
        const std::string path = folder.file("long.wav");
        constexpr std::uint64_t data_bytes = 200'000'000;
        write_text(path, wav_header(2, data_bytes));
        std::filesystem::resize_file(path, std::filesystem::file_size(path) + data_bytes);

        const auto peak_kilobytes = [] {
            rusage usage{};
            getrusage(RUSAGE_SELF, &usage);
            return usage.ru_maxrss;
        };
        Recording recording = opened(path);
        const auto before = peak_kilobytes();
        while (recording.next().value().frames() != 0) {
        }
        CHECK(recording.frames_read() == 100'000'000);
        CHECK(peak_kilobytes() - before < 4'000);
    }
    TEST_CASE("an RF64 file longer than four gigabytes knows its length") {
        const TempFolder folder;
        const std::string path = folder.file("endless.wav");
        constexpr std::uint64_t data_bytes = 5'000'000'000;
        write_text(path, "RF64" + bytes(0xFFFFFFFF, 4) + "WAVE" + "ds64" + bytes(28, 4) +
                             bytes(data_bytes + 72, 8) + bytes(data_bytes, 8) + bytes(data_bytes / 2, 8) +
                             bytes(0, 4) + wav_format_chunk(2) + "data" + bytes(0xFFFFFFFF, 4));
        std::filesystem::resize_file(path, std::filesystem::file_size(path) + data_bytes);
        Recording recording = opened(path);
        CHECK(recording.total_frames() == 2'500'000'000);
        CHECK(recording.next().value().frames() == 8'192);
    }
    TEST_CASE("a recording through a pipe is the same as from its file, in every format") {
        const TempFolder folder;
        const auto written = tone(30'000);
        for (const int format : {SF_FORMAT_WAV | SF_FORMAT_PCM_24, SF_FORMAT_FLAC | SF_FORMAT_PCM_24,
                                 SF_FORMAT_AIFF | SF_FORMAT_PCM_24}) {
            CAPTURE(format);
            write_sound_file(folder.file("tone"), written, mono, format);
            Recording from_file = opened(folder.file("tone"));

            int ends[2];
            REQUIRE(pipe(ends) == 0);
            std::jthread sender{[&folder, end = ends[1]] {
                std::ifstream file{folder.file("tone"), std::ios::binary};
                char part[4'096];
                while (file.read(part, sizeof part), file.gcount() > 0) {
                    if (write(end, part, static_cast<std::size_t>(file.gcount())) < 0) break;
                }
                close(end);
            }};
            const StandardInput input{ends[0]};
            Recording piped = opened("-");
            close(ends[0]);
            CHECK(piped.path() == "-");
            CHECK(read_all(piped) == read_all(from_file));
            CHECK(piped.warnings().empty());
        }
    }
    TEST_CASE("float samples beyond full scale, not a number or infinite come as they are") {
        constexpr float infinity = std::numeric_limits<float>::infinity();
        const TempFolder folder;
        for (const int encoding : {SF_FORMAT_FLOAT, SF_FORMAT_DOUBLE}) {
            const std::vector<float> written{2.5F, -7.0F, std::nanf(""), infinity, -infinity, 1e-9F};
            write_sound_file(folder.file("wild.wav"), written, mono, SF_FORMAT_WAV | encoding);
            Recording recording = opened(folder.file("wild.wav"));
            const auto read = read_all(recording);
            REQUIRE(read.size() == 6);
            CHECK(read[0] == 2.5F);
            CHECK(read[1] == -7.0F);
            CHECK(std::isnan(read[2]));
            CHECK(read[3] == infinity);
            CHECK(read[4] == -infinity);
            CHECK(read[5] == 1e-9F);
        }
    }
    TEST_CASE("the lowest and the highest sample rate are taken") {
        const TempFolder folder;
        for (const Hertz rate : {8'000.0_hz, 192'000.0_hz}) {
            write_sound_file(folder.file("rate.wav"), tone(1'000), {rate, 1});
            CHECK(within(opened(folder.file("rate.wav")).format().sample_rate, rate, 0.0_hz));
        }
    }
    TEST_CASE("a WAV file written as a stream, its length unknown, is read to its end without complaint") {
        const TempFolder folder;
        const std::string samples(96'000, '\x11');
        for (const std::uint64_t stated : {0x0ULL, 0x7FFFF000ULL, 0x80000000ULL, 0xFFFFFFFFULL}) {
            CAPTURE(stated);
            write_text(folder.file("stream.wav"), wav_header(2, stated) + samples);
            Recording recording = opened(folder.file("stream.wav"));
            CHECK(read_all(recording).size() == 48'000);
            CHECK(recording.warnings().empty());
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("no such file") {
        const TempFolder folder;
        check_input_error(folder.file("missing.wav"), "there is no such file");
        write_text(folder.file("file"), "x");
        check_input_error(folder.file("file") + "/inside.wav", "there is no such file");
    }
    TEST_CASE("a folder") {
        const TempFolder folder;
        check_input_error(folder.path().string(), "is a folder");
    }
    TEST_CASE("a device") { check_input_error("/dev/null", "is a device and no recording"); }
    TEST_CASE("a file that may not be read") {
        const TempFolder folder;
        const std::string path = folder.file("secret.wav");
        write_sound_file(path, tone(100), mono);
        std::filesystem::permissions(path, std::filesystem::perms::none);
        if (access(path.c_str(), R_OK) == 0) {
            MESSAGE("not checked: root may read everything");
            return;
        }
        check_input_error(path, "may not be read");
    }
    TEST_CASE("an empty file") {
        const TempFolder folder;
        write_text(folder.file("empty.wav"), "");
        check_input_error(folder.file("empty.wav"), "is empty");
    }
    TEST_CASE("a text file") {
        const TempFolder folder;
        write_text(folder.file("notes.wav"), "E2 was two cents sharp, A2 was fine.\n");
        check_input_error(folder.file("notes.wav"), "is not a kind of sound file that can be read");
    }
    TEST_CASE("random bytes, long and short, are refused by name") {
        const TempFolder folder;
        std::mt19937 random{20'240'611};
        for (const std::size_t size :
             std::initializer_list<std::size_t>{1U, 3U, 11U, 44U, 1'000U, 100'000U}) {
            std::string noise(size, '\0');
            for (char& byte : noise) {
                byte = static_cast<char>(random() & 0xFF);
            }
            write_text(folder.file("noise.wav"), noise);
            check_input_error(folder.file("noise.wav"), "is not a kind of sound file that can be read");
        }
    }
    TEST_CASE("a header without a single frame") {
        const TempFolder folder;
        for (const int format : {SF_FORMAT_WAV | SF_FORMAT_PCM_16, SF_FORMAT_AIFF | SF_FORMAT_PCM_16,
                                 SF_FORMAT_OGG | SF_FORMAT_VORBIS}) {
            CAPTURE(format);
            write_sound_file(folder.file("nothing"), {}, mono, format);
            check_input_error(folder.file("nothing"), "holds no sound");
        }
        write_text(folder.file("byte.wav"), wav_header(2, 1'000) + "x");
        check_input_error(folder.file("byte.wav"), "holds no sound");
    }
    TEST_CASE("a header cut through") {
        const TempFolder folder;
        write_text(folder.file("cut.wav"), wav_header(2, 1'000).substr(0, 30));
        check_input_error(folder.file("cut.wav"), "is damaged or cut short, and cannot be read");
    }
    TEST_CASE("a sample rate that no string needs, or too low for one") {
        const TempFolder folder;
        write_sound_file(folder.file("slow.wav"), tone(100), {7'999.0_hz, 1});
        check_input_error(folder.file("slow.wav"), "has a sample rate of 7999 Hz");
        write_sound_file(folder.file("fast.wav"), tone(100), {192'001.0_hz, 1});
        check_input_error(folder.file("fast.wav"), "has a sample rate of 192001 Hz");
    }
    TEST_CASE("nothing on standard input") {
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        close(ends[1]);
        const StandardInput input{ends[0]};
        close(ends[0]);
        const auto recording = Recording::open("-");
        REQUIRE(!recording.ok());
        CHECK(recording.error().subject == "standard input");
        CHECK(recording.error().problem == "is empty");
    }
    TEST_CASE("a file shorter than its header says is used as far as it goes, with a warning where it ends") {
        const TempFolder folder;
        const auto written = tone(480'000);
        for (const int format : {SF_FORMAT_WAV | SF_FORMAT_PCM_U8, SF_FORMAT_WAV | SF_FORMAT_PCM_16,
                                 SF_FORMAT_WAV | SF_FORMAT_FLOAT, SF_FORMAT_RF64 | SF_FORMAT_PCM_24,
                                 SF_FORMAT_AIFF | SF_FORMAT_PCM_16, SF_FORMAT_FLAC | SF_FORMAT_PCM_16,
                                 SF_FORMAT_OGG | SF_FORMAT_VORBIS}) {
            CAPTURE(format);
            const std::string path = folder.file("short");
            write_sound_file(path, written, mono, format);
            std::filesystem::resize_file(path, std::filesystem::file_size(path) / 2);
            Recording recording = opened(path);
            CHECK(recording.warnings().empty());
            const auto read = read_all(recording);
            CHECK(read.size() > 100'000);
            CHECK(read.size() < 480'000);
            REQUIRE(recording.warnings().size() == 1);
            const Warning& warning = recording.warnings().front();
            CHECK(warning.code == WarningCode::truncated);
            REQUIRE(warning.at.has_value());
            CHECK(within(*warning.at, Seconds{static_cast<double>(read.size()) / 48'000.0}, 1e-9_s));
            CHECK(warning.message.find(path) != std::string::npos);
            CHECK(recording.next().value().frames() == 0);
            CHECK(recording.warnings().size() == 1);
        }
    }
    TEST_CASE("a file that ends in the middle of a sample is used without that one") {
        const TempFolder folder;
        const std::string path = folder.file("middle.wav");
        struct Cut {
            std::uint64_t stated;
            std::size_t present;
        };
        // Shorter than stated; as long as stated, which is no whole number of samples; a cut stream.
        for (const Cut cut : {Cut{6'000, 3'001}, Cut{3'001, 3'001}, Cut{0xFFFFFFFF, 3'001}}) {
            CAPTURE(cut.stated);
            write_text(path, wav_header(3, cut.stated) + std::string(cut.present, '\x11'));
            Recording recording = opened(path);
            CHECK(read_all(recording).size() == 1'000);
            REQUIRE(recording.warnings().size() == 1);
            CHECK(recording.warnings().front().message.find("middle of a sample") != std::string::npos);
        }
    }
    TEST_CASE("a FLAC file damaged in its middle is used up to there") {
        const TempFolder folder;
        const std::string path = folder.file("scratched.flac");
        write_sound_file(path, tone(480'000), mono, SF_FORMAT_FLAC | SF_FORMAT_PCM_16);
        const auto middle = static_cast<std::streamoff>(std::filesystem::file_size(path) / 2);
        std::fstream{path, std::ios::in | std::ios::out | std::ios::binary}.seekp(middle)
            << std::string(2'000, '\x55');
        Recording recording = opened(path);
        const auto read = read_all(recording);
        CHECK(read.size() > 100'000);
        CHECK(read.size() < 300'000);
        for (const float sample : read) {
            REQUIRE(std::isfinite(sample));
        }
        REQUIRE(recording.warnings().size() == 1);
        CHECK(recording.warnings().front().code == WarningCode::truncated);
    }
}

}  // namespace midspan::test
