// recording_seeds.cpp: writes small sound files of every kind into a folder, for the fuzzer to start from.
#include <cmath>
#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "support/sound_file.hpp"

int main(int count, char** arguments) try {
    if (count != 2) {
        std::fputs("usage: recording_seeds FOLDER\n", stderr);
        return 2;
    }
    std::vector<float> samples;
    for (int i = 0; i < 600; ++i) {
        samples.push_back(0.5F * std::sin(0.1F * static_cast<float>(i)));
    }
    constexpr midspan::AudioFormat stereo{midspan::Hertz{48'000.0}, 2};
    for (const int format : {SF_FORMAT_WAV | SF_FORMAT_PCM_U8, SF_FORMAT_WAV | SF_FORMAT_PCM_16,
                             SF_FORMAT_WAV | SF_FORMAT_PCM_24, SF_FORMAT_WAV | SF_FORMAT_FLOAT,
                             SF_FORMAT_WAVEX | SF_FORMAT_PCM_16, SF_FORMAT_RF64 | SF_FORMAT_PCM_16,
                             SF_FORMAT_AIFF | SF_FORMAT_PCM_16, SF_FORMAT_AIFF | SF_FORMAT_FLOAT,
                             SF_FORMAT_FLAC | SF_FORMAT_PCM_16, SF_FORMAT_OGG | SF_FORMAT_VORBIS}) {
        midspan::test::write_sound_file(arguments[1] + ("/" + std::to_string(format)), samples, stereo,
                                        format);
    }
} catch (const std::exception& problem) {
    std::fprintf(stderr, "recording_seeds: %s\n", problem.what());
    return 1;
}
