// sound_file.hpp: writes sound files for tests.
//
// Room: tests/support.
#pragma once

#include <sndfile.h>

#include <memory>
#include <span>
#include <stdexcept>
#include <string>

#include "midspan/sound/audio_block.hpp"

namespace midspan::test {

/// Writes interleaved samples to a file of any format libsndfile knows; 24-bit WAV unless told otherwise.
/// Integer formats clip beyond +-1.
inline void write_sound_file(const std::string& path, std::span<const float> samples, AudioFormat format,
                             int sndfile_format = SF_FORMAT_WAV | SF_FORMAT_PCM_24) {
    SF_INFO info{};
    info.samplerate = static_cast<int>(format.sample_rate.value());
    info.channels = format.channels;
    info.format = sndfile_format;
    const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file{sf_open(path.c_str(), SFM_WRITE, &info), sf_close};
    if (!file) throw std::runtime_error{path + ": " + sf_strerror(nullptr)};
    sf_command(file.get(), SFC_SET_CLIPPING, nullptr, SF_TRUE);
    const auto count = static_cast<sf_count_t>(samples.size());
    if (sf_write_float(file.get(), samples.data(), count) != count) {
        throw std::runtime_error{path + ": " + sf_strerror(file.get())};
    }
}

}  // namespace midspan::test
