// virtual_mic_plugin.cpp: a sound file as a microphone, for machines without a sound card.
//
// Room: tests/support.
//
// An ALSA I/O plugin: the samples of a file arrive through libasound, and so through PortAudio's own way to
// ALSA and its callback thread, at their time. Like a sound card it has a clock of its own that runs from the
// first start; whoever reads too late loses samples; it can be unplugged.
//
//     pcm_type.virtual_mic { lib "/path/of/this/module.so" }
//     pcm.mic { type virtual_mic  file "/path/take.wav" }
//
// Further fields; times are of the sound, counted from the first start:
//     speed "X"         the clock runs X times as fast
//     lead_ms N         silence before the file; behind it silence follows without end
//     unplug_ms N       it is unplugged then, and makes the unplug_file
//     unplug_file "P"   it is unplugged as soon as there is a file P
//     stall_ms N        nothing comes from then on, without any error
//     busy true         it is listed, but somebody else records
//     clings true       whoever tells it to stop waits for ever, as with some sound servers that died
//     mmap false        it can be read but not mapped, as some USB devices
//     patience_ms N     so much real time passes before a reader who is late loses samples, behind what the
//                       buffer holds; 0 unless given
//     began_file "P"    the time of its first start is written there, in ns of the monotonic clock
//     played_file "P"   the file P is made when all of the sound has been read and its reader comes for more
#define PIC 1  // what is defined here is a module and not linked in
#include <alsa/asoundlib.h>
#include <alsa/pcm_external.h>
#include <fcntl.h>
#include <poll.h>
#include <sndfile.h>
#include <sys/timerfd.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <ctime>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace {

struct Settings {
    std::string file;
    double speed = 1.0;
    long lead_ms = 0;
    long unplug_ms = -1;
    std::string unplug_file;
    long stall_ms = -1;
    bool busy = false;
    bool clings = false;
    bool mmap = true;
    long patience_ms = 0;
    std::string began_file;
    std::string played_file;
};

std::int64_t now_ns() {
    timespec time{};
    clock_gettime(CLOCK_MONOTONIC, &time);
    return std::int64_t{time.tv_sec} * 1'000'000'000 + time.tv_nsec;
}

bool exists(const std::string& path) { return !path.empty() && access(path.c_str(), F_OK) == 0; }

/// Makes a file, without any content unless told otherwise.
void make(const std::string& path, const std::string& content = {}) {
    if (path.empty()) return;
    const int file = open(path.c_str(), O_CREAT | O_WRONLY | O_CLOEXEC, 0600);
    if (file < 0) return;
    if (write(file, content.data(), content.size()) < 0)
        SNDERR("virtual_mic: %s is not written", path.c_str());
    close(file);
}

class VirtualMic {
public:
    explicit VirtualMic(Settings settings) : settings_{std::move(settings)} {}
    ~VirtualMic() {
        if (timer_ >= 0) ::close(timer_);
    }
    VirtualMic(const VirtualMic&) = delete;
    VirtualMic& operator=(const VirtualMic&) = delete;

    /// 0, or a negative error number. From then on libasound owns this, until it calls close.
    static int create(std::unique_ptr<VirtualMic> mic, const char* name, snd_pcm_stream_t stream, int mode,
                      snd_pcm_t** pcm);

    int prepare() {
        if (unplugged()) return -ENODEV;
        if (settings_.busy) return -EBUSY;
        return load();
    }

    int start() {
        if (unplugged()) return -ENODEV;
        const bool first = began_ns_ == 0;
        if (first) began_ns_ = now_ns();
        base_ = first ? 0 : produced() - plug_.appl_ptr;
        position_ = 0;
        wake_when_due();
        if (first) make(settings_.began_file, std::to_string(began_ns_));
        return 0;
    }

    int stop() {
        while (settings_.clings && began_ns_ != 0)
            pause();
        const itimerspec never{};
        timerfd_settime(timer_, TFD_TIMER_ABSTIME, &never, nullptr);
        return 0;
    }

    snd_pcm_sframes_t pointer() {
        if (unplugged()) return position_;  // its state makes libasound answer ENODEV
        if (too_late()) return -EPIPE;
        const std::uint64_t shown =
            plug_.appl_ptr + std::min<std::uint64_t>(available(), plug_.buffer_size - 1);
        position_ = static_cast<snd_pcm_sframes_t>(shown % plug_.buffer_size);
        return position_;
    }

    /// Mapped memory is asked for the same frames again, so the position comes from appl_ptr alone.
    snd_pcm_sframes_t transfer(const snd_pcm_channel_area_t* areas, snd_pcm_uframes_t offset,
                               snd_pcm_uframes_t frames) {
        if (unplugged()) return -ENODEV;
        const std::int64_t lead = frames_in(settings_.lead_ms);
        // What was read before has gone through the reader's hands when it comes for more.
        if (!played_ && static_cast<std::int64_t>(base_ + plug_.appl_ptr) - lead >= frames_) {
            make(settings_.played_file);
            played_ = true;
        }
        for (snd_pcm_uframes_t i = 0; i < frames; ++i) {
            const std::int64_t at = static_cast<std::int64_t>(base_ + plug_.appl_ptr + i) - lead;
            for (unsigned channel = 0; channel < channels_; ++channel) {
                const snd_pcm_channel_area_t& area = areas[channel];
                write(static_cast<char*>(area.addr) + (area.first + area.step * (offset + i)) / 8,
                      sample(at, channel));
            }
        }
        return static_cast<snd_pcm_sframes_t>(frames);
    }

    int settle(snd_pcm_sw_params_t* parameters) {
        const int error = snd_pcm_sw_params_get_avail_min(parameters, &wanted_);
        wanted_ = std::clamp<snd_pcm_uframes_t>(wanted_, 1, plug_.buffer_size);
        return error;
    }

    unsigned short events() {
        if (unplugged()) return POLLERR | POLLHUP;
        if (too_late()) return POLLIN | POLLERR;
        if (available() >= wanted_) return POLLIN;
        wake_when_due();
        return 0;
    }

    int delay(snd_pcm_sframes_t* frames) {
        if (unplugged()) return -ENODEV;
        *frames = static_cast<snd_pcm_sframes_t>(available());
        return 0;
    }

private:
    int open_file() {
        SF_INFO info{};
        SNDFILE* file = sf_open(settings_.file.c_str(), SFM_READ, &info);
        if (file == nullptr) return -ENOENT;
        sf_close(file);
        channels_ = static_cast<unsigned>(info.channels);
        rate_ = static_cast<unsigned>(info.samplerate);
        frames_ = info.frames;
        timer_ = timerfd_create(CLOCK_MONOTONIC, TFD_NONBLOCK | TFD_CLOEXEC);
        return timer_ < 0 ? -errno : 0;
    }

    /// The device is opened many times to be asked; its samples are read only when they are wanted.
    int load() {
        if (!samples_.empty()) return 0;
        SF_INFO info{};
        SNDFILE* file = sf_open(settings_.file.c_str(), SFM_READ, &info);
        if (file == nullptr) return -ENOENT;
        samples_.resize(static_cast<std::size_t>(frames_) * channels_);
        frames_ = sf_readf_float(file, samples_.data(), frames_);
        sf_close(file);
        return 0;
    }

    int restrict_to_the_file() {
        const unsigned mapped[] = {SND_PCM_ACCESS_MMAP_INTERLEAVED, SND_PCM_ACCESS_RW_INTERLEAVED};
        const std::span access{settings_.mmap ? mapped : mapped + 1, settings_.mmap ? 2U : 1U};
        const unsigned formats[] = {SND_PCM_FORMAT_S16, SND_PCM_FORMAT_S32, SND_PCM_FORMAT_FLOAT};
        const auto list = [this](int what, std::span<const unsigned> values) {
            return snd_pcm_ioplug_set_param_list(&plug_, what, static_cast<unsigned>(values.size()),
                                                 values.data());
        };
        const auto range = [this](int what, unsigned least, unsigned most) {
            return snd_pcm_ioplug_set_param_minmax(&plug_, what, least, most);
        };
        const int errors[] = {list(SND_PCM_IOPLUG_HW_ACCESS, access),
                              list(SND_PCM_IOPLUG_HW_FORMAT, formats),
                              range(SND_PCM_IOPLUG_HW_CHANNELS, channels_, channels_),
                              range(SND_PCM_IOPLUG_HW_RATE, rate_, rate_),
                              range(SND_PCM_IOPLUG_HW_PERIOD_BYTES, 64, 256 * 1024),
                              range(SND_PCM_IOPLUG_HW_PERIODS, 2, 64),
                              range(SND_PCM_IOPLUG_HW_BUFFER_BYTES, 256, 2 * 1024 * 1024)};
        return *std::min_element(std::begin(errors), std::end(errors));
    }

    [[nodiscard]] std::int64_t frames_in(long milliseconds) const {
        return std::int64_t{milliseconds} * rate_ / 1000;
    }

    /// Frames its clock has made since the first start.
    [[nodiscard]] std::uint64_t produced() const {
        if (began_ns_ == 0) return 0;
        double seconds = static_cast<double>(now_ns() - began_ns_) * 1e-9 * settings_.speed;
        if (settings_.stall_ms >= 0) {
            seconds = std::min(seconds, static_cast<double>(settings_.stall_ms) * 1e-3);
        }
        return static_cast<std::uint64_t>(seconds * rate_);
    }

    [[nodiscard]] std::uint64_t available() const { return produced() - base_ - plug_.appl_ptr; }

    [[nodiscard]] bool too_late() const {
        const double waiting = static_cast<double>(settings_.patience_ms) * 1e-3 * settings_.speed * rate_;
        return available() > plug_.buffer_size + static_cast<std::uint64_t>(waiting);
    }

    bool unplugged() {
        if (gone_ || began_ns_ == 0) return gone_;
        const bool due = settings_.unplug_ms >= 0 &&
                         produced() >= static_cast<std::uint64_t>(frames_in(settings_.unplug_ms));
        if (due) make(settings_.unplug_file);
        gone_ = due || exists(settings_.unplug_file);
        if (gone_) snd_pcm_ioplug_set_state(&plug_, SND_PCM_STATE_DISCONNECTED);
        return gone_;
    }

    /// Wakes the reader when the frames it waits for are there; a new time also takes back the last wake-up.
    void wake_when_due() {
        const double due_s = static_cast<double>(base_ + plug_.appl_ptr + wanted_) / rate_ / settings_.speed;
        std::int64_t due = began_ns_ + static_cast<std::int64_t>(due_s * 1e9) + 20'000;
        const std::int64_t now = now_ns();
        if (due <= now) due = now + 20'000'000;  // stalled: look again soon, without spinning
        itimerspec time{};
        time.it_value.tv_sec = due / 1'000'000'000;
        time.it_value.tv_nsec = static_cast<long>(due % 1'000'000'000);
        timerfd_settime(timer_, TFD_TIMER_ABSTIME, &time, nullptr);
    }

    [[nodiscard]] float sample(std::int64_t frame, unsigned channel) const {
        if (frame < 0 || frame >= frames_) return 0.0F;
        return samples_[static_cast<std::size_t>(frame) * channels_ + channel];
    }

    void write(char* to, float sample) const {
        const auto scaled = [sample](double full_scale) {
            return std::lrint(std::clamp(sample * full_scale, -full_scale, full_scale - 1.0));
        };
        if (plug_.format == SND_PCM_FORMAT_FLOAT) {
            *reinterpret_cast<float*>(to) = sample;
        } else if (plug_.format == SND_PCM_FORMAT_S32) {
            *reinterpret_cast<std::int32_t*>(to) = static_cast<std::int32_t>(scaled(2147483648.0));
        } else {
            *reinterpret_cast<std::int16_t*>(to) = static_cast<std::int16_t>(scaled(32768.0));
        }
    }

    Settings settings_;
    snd_pcm_ioplug_t plug_{};
    int timer_ = -1;
    unsigned channels_ = 1;
    unsigned rate_ = 48000;
    std::int64_t frames_ = 0;
    std::vector<float> samples_;
    std::int64_t began_ns_ = 0;
    std::uint64_t base_ = 0;  // frames made before this start; appl_ptr counts those read since
    snd_pcm_sframes_t position_ = 0;
    snd_pcm_uframes_t wanted_ = 1;
    bool played_ = false;
    bool gone_ = false;
};

VirtualMic& mic_of(snd_pcm_ioplug_t* plug) { return *static_cast<VirtualMic*>(plug->private_data); }

const snd_pcm_ioplug_callback_t callbacks = [] {
    snd_pcm_ioplug_callback_t all{};
    all.prepare = [](snd_pcm_ioplug_t* plug) { return mic_of(plug).prepare(); };
    all.start = [](snd_pcm_ioplug_t* plug) { return mic_of(plug).start(); };
    all.stop = [](snd_pcm_ioplug_t* plug) { return mic_of(plug).stop(); };
    all.pointer = [](snd_pcm_ioplug_t* plug) { return mic_of(plug).pointer(); };
    all.transfer = [](snd_pcm_ioplug_t* plug, const snd_pcm_channel_area_t* areas, snd_pcm_uframes_t offset,
                      snd_pcm_uframes_t frames) { return mic_of(plug).transfer(areas, offset, frames); };
    all.sw_params = [](snd_pcm_ioplug_t* plug, snd_pcm_sw_params_t* parameters) {
        return mic_of(plug).settle(parameters);
    };
    all.poll_revents = [](snd_pcm_ioplug_t* plug, pollfd*, unsigned, unsigned short* events) {
        *events = mic_of(plug).events();
        return 0;
    };
    all.delay = [](snd_pcm_ioplug_t* plug, snd_pcm_sframes_t* frames) { return mic_of(plug).delay(frames); };
    all.close = [](snd_pcm_ioplug_t* plug) {
        delete &mic_of(plug);
        return 0;
    };
    return all;
}();

int VirtualMic::create(std::unique_ptr<VirtualMic> mic, const char* name, snd_pcm_stream_t stream, int mode,
                       snd_pcm_t** pcm) {
    if (exists(mic->settings_.unplug_file)) return -ENODEV;
    if (const int error = mic->open_file(); error < 0) return error;
    snd_pcm_ioplug_t& plug = mic->plug_;
    plug.version = SND_PCM_IOPLUG_VERSION;
    plug.name = "virtual microphone";
    plug.poll_fd = mic->timer_;
    plug.poll_events = POLLIN;
    plug.flags = SND_PCM_IOPLUG_FLAG_MONOTONIC;
    plug.callback = &callbacks;
    plug.private_data = mic.get();
    if (const int error = snd_pcm_ioplug_create(&plug, name, stream, mode); error < 0) return error;
    VirtualMic* owned_by_plug = mic.release();
    if (const int error = owned_by_plug->restrict_to_the_file(); error < 0) {
        snd_pcm_ioplug_delete(&plug);
        return error;
    }
    *pcm = plug.pcm;
    return 0;
}

/// False when the configuration holds a field that is not known.
bool read_settings(snd_config_t* configuration, Settings& settings) {
    snd_config_iterator_t at;
    snd_config_iterator_t next;
    snd_config_for_each(at, next, configuration) {
        snd_config_t* field = snd_config_iterator_entry(at);
        const char* id = nullptr;
        if (snd_config_get_id(field, &id) < 0) continue;
        const std::string key = id;
        const char* text = "";
        static_cast<void>(snd_config_get_string(field, &text));  // leaves it alone where there is a number
        if (key == "file") {
            settings.file = text;
        } else if (key == "unplug_file") {
            settings.unplug_file = text;
        } else if (key == "began_file") {
            settings.began_file = text;
        } else if (key == "played_file") {
            settings.played_file = text;
        } else if (key == "speed") {
            settings.speed = std::max(0.01, std::atof(text));
        } else if (key == "lead_ms") {
            snd_config_get_integer(field, &settings.lead_ms);
        } else if (key == "unplug_ms") {
            snd_config_get_integer(field, &settings.unplug_ms);
        } else if (key == "stall_ms") {
            snd_config_get_integer(field, &settings.stall_ms);
        } else if (key == "patience_ms") {
            snd_config_get_integer(field, &settings.patience_ms);
        } else if (key == "busy") {
            settings.busy = snd_config_get_bool(field) == 1;
        } else if (key == "clings") {
            settings.clings = snd_config_get_bool(field) == 1;
        } else if (key == "mmap") {
            settings.mmap = snd_config_get_bool(field) == 1;
        } else if (key != "type" && key != "comment" && key != "hint") {
            SNDERR("virtual_mic: unknown field %s", id);
            return false;
        }
    }
    return true;
}

}  // namespace

extern "C" {
SND_PCM_PLUGIN_DEFINE_FUNC(virtual_mic);
SND_PCM_PLUGIN_DEFINE_FUNC(virtual_mic) {
    static_cast<void>(root);
    if (stream != SND_PCM_STREAM_CAPTURE) return -ENODEV;
    Settings settings;
    if (!read_settings(conf, settings)) return -EINVAL;
    return VirtualMic::create(std::make_unique<VirtualMic>(std::move(settings)), name, stream, mode, pcmp);
}
SND_PCM_PLUGIN_SYMBOL(virtual_mic);
}
