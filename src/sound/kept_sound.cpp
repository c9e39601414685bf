// kept_sound.cpp: samples to libsndfile as they come, and a header that is true twice a second.
//
// Room: sound. Edge: the disk.
#include "midspan/sound/kept_sound.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sndfile.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

namespace midspan {
namespace {

constexpr double made_whole_every_s = 0.5;
constexpr float steps_of_24_bits = 8388608.0F;

struct CloseSound {
    void operator()(SNDFILE* sound) const { sf_close(sound); }
};
using Sound = std::unique_ptr<SNDFILE, CloseSound>;

Error write_error(const std::string& path, const std::string& why) {
    return {Fault::record, path, fmt::format("cannot be written ({})", why),
            "make room, or keep it in another folder"};
}

/// The nearest number of 24 bits.
int in_24_bits(float sample) {
    return static_cast<int>(
        std::clamp(std::nearbyint(sample * steps_of_24_bits), -steps_of_24_bits, steps_of_24_bits - 1.0F));
}

}  // namespace

class KeptSound::Work {
public:
    Work(std::string path, Sound sound, AudioFormat format, bool flac)
        : path_{std::move(path)}, sound_{std::move(sound)}, format_{format}, flac_{flac} {}

    Result<AudioBlock> keep(const AudioBlock& block) {
        const auto count = static_cast<sf_count_t>(block.samples.size());
        AudioBlock kept = block;
        if (flac_) {
            round(block.samples);
            kept.samples = rounded_;
            if (sf_write_int(sound_.get(), numbers_.data(), count) != count) return failed();
        } else if (sf_write_float(sound_.get(), block.samples.data(), count) != count) {
            return failed();
        }
        since_whole_ += block.frames();
        if (static_cast<double>(since_whole_) >= made_whole_every_s * format_.sample_rate.value()) {
            since_whole_ = 0;
            sf_command(sound_.get(), SFC_UPDATE_HEADER_NOW, nullptr, 0);
        }
        return kept;
    }

    std::optional<Error> finish() {
        if (sf_close(sound_.release()) == 0) return std::nullopt;
        return write_error(path_, "at its end");
    }

private:
    void round(std::span<const float> samples) {
        numbers_.clear();
        rounded_.clear();
        for (const float sample : samples) {
            const int number = std::isfinite(sample) ? in_24_bits(sample) : 0;
            numbers_.push_back(number * 256);  // libsndfile takes the upper 24 of 32 bits
            rounded_.push_back(std::isfinite(sample) ? static_cast<float>(number) / steps_of_24_bits
                                                     : sample);
        }
    }

    Error failed() { return write_error(path_, sf_strerror(sound_.get())); }

    std::string path_;
    Sound sound_;
    AudioFormat format_;
    bool flac_;
    std::vector<int> numbers_;    // as FLAC takes them
    std::vector<float> rounded_;  // as it gives them back
    std::size_t since_whole_ = 0;
};

Result<KeptSound> KeptSound::create(const std::string& path, AudioFormat format) {
    const bool flac = std::string_view{path}.ends_with(".flac");
    if (!flac && !std::string_view{path}.ends_with(".wav")) {
        return Error{Fault::usage, path, "is not a name of a WAV or FLAC file",
                     "let it end in .wav or .flac"};
    }
    const int file = ::open(path.c_str(), O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC, 0666);
    if (file < 0 && errno == EEXIST) {
        return Error{Fault::usage, path, "exists already", "name another file, or remove that one"};
    }
    if (file < 0) return write_error(path, std::strerror(errno));
    SF_INFO info{};
    info.samplerate = static_cast<int>(std::lround(format.sample_rate.value()));
    info.channels = format.channels;
    info.format = flac ? SF_FORMAT_FLAC | SF_FORMAT_PCM_24 : SF_FORMAT_RF64 | SF_FORMAT_FLOAT;
    Sound sound{sf_open_fd(file, SFM_WRITE, &info, SF_TRUE)};
    if (!sound) return write_error(path, sf_strerror(nullptr));
    // What ends before 4 GB becomes a plain WAV file.
    sf_command(sound.get(), SFC_RF64_AUTO_DOWNGRADE, nullptr, SF_TRUE);
    return KeptSound{std::make_unique<Work>(path, std::move(sound), format, flac)};
}

KeptSound::KeptSound(std::unique_ptr<Work> work) : work_{std::move(work)} {}
KeptSound::~KeptSound() = default;
KeptSound::KeptSound(KeptSound&&) noexcept = default;
KeptSound& KeptSound::operator=(KeptSound&&) noexcept = default;

Result<AudioBlock> KeptSound::keep(const AudioBlock& block) { return work_->keep(block); }
std::optional<Error> KeptSound::finish() { return work_->finish(); }

}  // namespace midspan
