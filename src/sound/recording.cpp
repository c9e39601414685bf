// recording.cpp: a sound file through libsndfile.
//
// Room: sound. Edge: the disk.
#include "midspan/sound/recording.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sndfile.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <utility>
#include <vector>

#include "sound/stated_length.hpp"

namespace midspan {
namespace {

constexpr int lowest_rate = 8'000;
constexpr int highest_rate = 192'000;
constexpr sf_count_t most_frames = 8'192;
constexpr sf_count_t most_samples = 65'536;  // of all channels together; many channels get shorter blocks

class Descriptor {
public:
    explicit Descriptor(int number) : number_{number} {}
    ~Descriptor() {
        if (number_ >= 0) close(number_);
    }
    Descriptor(Descriptor&& other) noexcept : number_{std::exchange(other.number_, -1)} {}
    Descriptor& operator=(Descriptor&& other) noexcept {
        std::swap(number_, other.number_);
        return *this;
    }
    [[nodiscard]] int number() const { return number_; }
    [[nodiscard]] bool valid() const { return number_ >= 0; }

private:
    int number_;
};

struct CloseSound {
    void operator()(SNDFILE* sound) const { sf_close(sound); }
};
using Sound = std::unique_ptr<SNDFILE, CloseSound>;

Error input_error(const std::string& name, std::string problem, std::string remedy) {
    return {Fault::input, name, std::move(problem), std::move(remedy)};
}

Error system_error(const std::string& name, int number) {
    switch (number) {
        case ENOENT:
        case ENOTDIR:
            return input_error(name, "there is no such file", "check its name and folder");
        case EACCES:
        case EPERM:
            return input_error(name, "may not be read", "make it readable (chmod +r) or copy it");
        default:
            return input_error(name, fmt::format("cannot be read ({})", std::strerror(number)),
                               "copy it to another disk and try that copy");
    }
}

/// Copies what comes out of a pipe to a file that has no name and goes when it is closed.
Result<Descriptor> wound_back(const Descriptor& pipe, const std::string& name) {
    const auto failed = [&](int number) {
        return input_error(name,
                           fmt::format("cannot be copied to a temporary file ({})", std::strerror(number)),
                           "save the sound as a file and name that");
    };
    std::FILE* temporary = std::tmpfile();
    if (!temporary) return failed(errno);
    Descriptor copy{dup(fileno(temporary))};
    std::fclose(temporary);
    if (!copy.valid()) return failed(errno);

    std::array<char, 65'536> bytes;
    for (;;) {
        const ssize_t got = read(pipe.number(), bytes.data(), bytes.size());
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return system_error(name, errno);
        if (got == 0) break;
        for (ssize_t done = 0; done < got;) {
            const ssize_t put =
                write(copy.number(), bytes.data() + done, static_cast<std::size_t>(got - done));
            if (put < 0 && errno == EINTR) continue;
            if (put < 0) return failed(errno);
            done += put;
        }
    }
    if (lseek(copy.number(), 0, SEEK_SET) < 0) return failed(errno);
    return copy;
}

/// The file behind a path, open and able to be wound back.
Result<Descriptor> open_file(const std::string& path, const std::string& name) {
    Descriptor file{path == "-" ? dup(STDIN_FILENO) : ::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
    if (!file.valid()) return system_error(name, errno);

    struct stat about {};
    if (fstat(file.number(), &about) != 0) return system_error(name, errno);
    if (S_ISDIR(about.st_mode)) {
        return input_error(name, "is a folder", "name the recordings in it one by one");
    }
    if (S_ISREG(about.st_mode)) return file;
    if (S_ISFIFO(about.st_mode) || S_ISSOCK(about.st_mode)) return wound_back(file, name);
    return input_error(name, "is a device and no recording", "name a sound file, or send one through a pipe");
}

Error damaged_error(const std::string& name) {
    return input_error(name, "is damaged or cut short, and cannot be read",
                       "copy it again or export it again as 16- or 24-bit WAV");
}

Error unopened_error(const std::string& name, int sndfile_error) {
    if (sndfile_error == SF_ERR_UNRECOGNISED_FORMAT || sndfile_error == SF_ERR_UNSUPPORTED_ENCODING) {
        return input_error(name, "is not a kind of sound file that can be read",
                           "export it as WAV, AIFF, FLAC or Ogg");
    }
    return damaged_error(name);
}

Error soundless_error(const std::string& name) {
    return input_error(name, "holds no sound", "check that the recording was saved, and copy it again");
}

}  // namespace

class Recording::Work {
public:
    Work(std::string path, std::string name, Descriptor file, Sound sound, const SF_INFO& info,
         bool ends_early, bool ends_in_mid_sample)
        : path_{std::move(path)},
          name_{std::move(name)},
          file_{std::move(file)},
          sound_{std::move(sound)},
          info_{info},
          ends_early_{ends_early},
          ends_in_mid_sample_{ends_in_mid_sample},
          block_frames_{std::clamp<sf_count_t>(most_samples / info.channels, 1, most_frames)},
          samples_(static_cast<std::size_t>(block_frames_ * info.channels)) {}

    Result<AudioBlock> next() {
        if (ended_) return AudioBlock{{}, info_.channels};
        const sf_count_t got =
            std::max<sf_count_t>(sf_readf_float(sound_.get(), samples_.data(), block_frames_), 0);
        const bool damaged = sf_error(sound_.get()) != SF_ERR_NO_ERROR;
        if (got == 0 && frames_read_ == 0) return damaged_error(name_);
        frames_read_ += got;
        // A decoder goes on behind damage and leaves a gap; what follows is no longer at its time.
        if (got < block_frames_ || damaged) end(damaged);
        return AudioBlock{std::span{samples_}.first(static_cast<std::size_t>(got * info_.channels)),
                          info_.channels};
    }

    [[nodiscard]] const std::string& path() const { return path_; }
    [[nodiscard]] AudioFormat format() const {
        return {Hertz{static_cast<double>(info_.samplerate)}, info_.channels};
    }
    [[nodiscard]] std::optional<std::int64_t> total_frames() const {
        if (info_.frames == SF_COUNT_MAX) return std::nullopt;
        return info_.frames;
    }
    [[nodiscard]] std::int64_t frames_read() const { return frames_read_; }
    [[nodiscard]] Seconds duration_read() const {
        return Seconds{static_cast<double>(frames_read_) / info_.samplerate};
    }
    [[nodiscard]] std::span<const Warning> warnings() const { return warnings_; }

private:
    void end(bool damaged) {
        ended_ = true;
        const bool fewer_than_stated = total_frames() && frames_read_ < *total_frames();
        const char* how = nullptr;
        if (ends_in_mid_sample_) {
            how = "ends in the middle of a sample";
        } else if (ends_early_ || fewer_than_stated) {
            how = damaged ? "is damaged or cut off" : "ends before its header says";
        } else if (damaged) {
            how = "is damaged";
        }
        if (!how) return;
        warnings_.push_back(
            {WarningCode::truncated, duration_read(), std::nullopt, std::nullopt,
             fmt::format("{} {}, at {:.1f} s; what comes before was used; copy or export it again", name_,
                         how, duration_read().value())});
    }

    std::string path_;
    std::string name_;
    Descriptor file_;  // outlives sound_, which reads from it
    Sound sound_;
    SF_INFO info_;
    bool ends_early_;
    bool ends_in_mid_sample_;
    sf_count_t block_frames_;
    std::vector<float> samples_;
    std::int64_t frames_read_ = 0;
    bool ended_ = false;
    std::vector<Warning> warnings_;
};

Result<Recording> Recording::open(const std::string& path) {
    const std::string name = path == "-" ? "standard input" : path;
    Result<Descriptor> opened = open_file(path, name);
    if (!opened) return opened.error();
    Descriptor file = std::move(opened).value();

    struct stat about {};
    if (fstat(file.number(), &about) != 0) return system_error(name, errno);
    const auto file_bytes = static_cast<std::uint64_t>(about.st_size);
    if (file_bytes == 0) return input_error(name, "is empty", "record it again or copy it again");
    const ReadAt read_at = [&](std::uint64_t offset, std::span<std::byte> to) {
        const ssize_t got = pread(file.number(), to.data(), to.size(), static_cast<off_t>(offset));
        return static_cast<std::size_t>(std::max<ssize_t>(got, 0));
    };
    const auto length = stated_length(read_at, file_bytes);

    SF_INFO info{};
    Sound sound{sf_open_fd(file.number(), SFM_READ, &info, SF_FALSE)};
    if (!sound) return unopened_error(name, sf_error(nullptr));
    if (info.frames <= 0) return soundless_error(name);
    if (info.samplerate < lowest_rate || info.samplerate > highest_rate) {
        return input_error(
            name, fmt::format("has a sample rate of {} Hz", info.samplerate),
            fmt::format("record or export it at {} to {} Hz; 48000 serves well", lowest_rate, highest_rate));
    }
    // An Ogg file knows its length from its last page; without that it was cut off.
    const bool is_ogg = (info.format & SF_FORMAT_TYPEMASK) == SF_FORMAT_OGG;
    const bool last_page_missing = is_ogg && info.frames == SF_COUNT_MAX;
    const bool ends_early = last_page_missing || (length && length->ends_early());
    const bool ends_in_mid_sample = length && length->ends_in_mid_sample();
    return Recording{std::make_unique<Work>(path, name, std::move(file), std::move(sound), info, ends_early,
                                            ends_in_mid_sample)};
}

Recording::Recording(std::unique_ptr<Work> work) : work_{std::move(work)} {}
Recording::~Recording() = default;
Recording::Recording(Recording&&) noexcept = default;
Recording& Recording::operator=(Recording&&) noexcept = default;

AudioFormat Recording::format() const { return work_->format(); }
Result<AudioBlock> Recording::next() { return work_->next(); }
const std::string& Recording::path() const { return work_->path(); }
std::optional<std::int64_t> Recording::total_frames() const { return work_->total_frames(); }
std::int64_t Recording::frames_read() const { return work_->frames_read(); }
Seconds Recording::duration_read() const { return work_->duration_read(); }
std::span<const Warning> Recording::warnings() const { return work_->warnings(); }

}  // namespace midspan
