// recording_fuzz.cpp: any bytes as a sound file, read to the end.
#include <sys/mman.h>
#include <unistd.h>

#include <cstddef>
#include <cstdint>
#include <string>

#include "fuzz/must.hpp"
#include "midspan/sound/recording.hpp"

using namespace midspan;
using midspan::fuzz::must;

// libsndfile 1.2.0 forgets what libvorbis allocated when an Ogg file is damaged in its header.
extern "C" const char* __lsan_default_suppressions() { return "leak:libvorbis\n"; }

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    static const int file = memfd_create("recording", 0);
    static const std::string path = "/proc/self/fd/" + std::to_string(file);
    must(ftruncate(file, 0) == 0 && pwrite(file, bytes, size, 0) == static_cast<ssize_t>(size),
         "there is memory for a file");

    auto opened = Recording::open(path);
    if (!opened) {
        fuzz::must_be_readable(opened.error());
        must(opened.error().fault == Fault::input, "a bad file is a fault of the input");
        return 0;
    }
    Recording recording = std::move(opened).value();
    const AudioFormat format = recording.format();
    must(format.sample_rate >= Hertz{8'000.0} && format.sample_rate <= Hertz{192'000.0},
         "the sample rate is in its range");
    must(format.channels >= 1, "there is a channel");

    // A few bytes of a compressed format can stand for hours of silence; some seconds show what there is.
    std::int64_t frames = 0;
    while (frames < 500'000) {
        const auto block = recording.next();
        if (!block) {
            fuzz::must_be_readable(block.error());
            break;
        }
        must(block.value().channels == format.channels, "the number of channels stays");
        must(block.value().frames() <= 8'192, "a block is no longer than promised");
        if (block.value().frames() == 0) break;
        frames += static_cast<std::int64_t>(block.value().frames());
        must(recording.frames_read() == frames, "frames are counted");
    }
    must(recording.warnings().size() <= 1, "a file ends once");
    return 0;
}
