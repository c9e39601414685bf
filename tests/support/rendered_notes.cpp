// rendered_notes.cpp: writes a MIDI file and has fluidsynth play it.
//
// Room: tests/support. Edge: the disk and another program. May include: ground.
#include "support/rendered_notes.hpp"

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <fstream>
#include <initializer_list>
#include <stdexcept>
#include <vector>

namespace midspan::test {
namespace {

// 500 ticks a quarter note of 500,000 microseconds: a tick is a millisecond.
constexpr unsigned ticks_per_quarter = 500;
constexpr unsigned tempo_us = 500'000;

unsigned ticks(Seconds time) { return static_cast<unsigned>(std::lround(1000.0 * time.value())); }

/// A number of so many bytes, highest first.
void append_number(std::string& bytes, unsigned number, int count) {
    for (int i = count - 1; i >= 0; --i) {
        bytes.push_back(static_cast<char>((number >> (8 * i)) & 0xFFU));
    }
}

/// The one track of a standard MIDI file of format 0.
class Track {
public:
    /// `wait` ticks after the one before.
    void event(unsigned wait, std::initializer_list<unsigned> bytes) {
        // Seven bits a byte, highest first; all but the last have the eighth bit set.
        for (int shift = 28; shift > 0; shift -= 7) {
            if (wait >> shift) content_.push_back(static_cast<char>(((wait >> shift) & 0x7FU) | 0x80U));
        }
        content_.push_back(static_cast<char>(wait & 0x7FU));
        for (const unsigned byte : bytes) {
            content_.push_back(static_cast<char>(byte));
        }
    }

    [[nodiscard]] std::string file() const {
        std::string bytes = "MThd";
        append_number(bytes, 6, 4);
        append_number(bytes, 0, 2);  // format
        append_number(bytes, 1, 2);  // tracks
        append_number(bytes, ticks_per_quarter, 2);
        bytes += "MTrk";
        append_number(bytes, static_cast<unsigned>(content_.size()), 4);
        return bytes + content_;
    }

private:
    std::string content_;
};

std::string midi_file(int instrument, std::span<const PlayedKey> keys, KeyTiming timing) {
    constexpr unsigned controller = 0xB0;
    constexpr unsigned velocity = 100;
    Track track;
    track.event(0, {0xFF, 0x51, 3, tempo_us >> 16, (tempo_us >> 8) & 0xFFU, tempo_us & 0xFFU});
    track.event(0, {0xC0, static_cast<unsigned>(instrument)});
    unsigned wait = ticks(timing.pause);
    for (const PlayedKey& played : keys) {
        const auto key = static_cast<unsigned>(played.key);
        const auto tuning = static_cast<unsigned>(8192 + fine_tuning_steps(played.cents));
        track.event(wait, {controller, 101, 0});
        track.event(0, {controller, 100, 1});
        // The low bits first: what takes the value is the high ones.
        track.event(0, {controller, 38, tuning & 0x7FU});
        track.event(0, {controller, 6, tuning >> 7});
        track.event(0, {0x90, key, velocity});
        track.event(ticks(timing.held), {0x80, key, 64});
        wait = ticks(timing.pause);
    }
    track.event(wait, {0xFF, 0x2F, 0});  // end of track
    return track.file();
}

}  // namespace

int fine_tuning_steps(int cents) { return static_cast<int>(std::ceil(8192.0 * cents / 100.0)); }

std::string rendered_notes(const std::filesystem::path& folder, const std::filesystem::path& sound_font,
                           int instrument, std::span<const PlayedKey> keys, KeyTiming timing) {
    const std::string midi = (folder / "notes.mid").string();
    const std::string wav = (folder / "notes.wav").string();
    const std::string log = (folder / "notes.log").string();
    const std::string needed = "; install the Debian packages fluidsynth and timgm6mb-soundfont";
    if (!std::filesystem::exists(sound_font)) {
        throw std::runtime_error{sound_font.string() + " is missing" + needed};
    }
    if (!(std::ofstream{midi, std::ios::binary} << midi_file(instrument, keys, timing))) {
        throw std::runtime_error{midi + " cannot be written"};
    }
    const std::string command = "fluidsynth -ni -F '" + wav + "' -T wav -O float -r 48000 -R 0 -C 0 '" +
                                sound_font.string() + "' '" + midi + "' >'" + log + "' 2>&1";
    std::filesystem::remove(wav);
    if (std::system(command.c_str()) != 0 || !std::filesystem::exists(wav)) {
        throw std::runtime_error{"fluidsynth did not play " + sound_font.string() + needed};
    }
    return wav;
}

}  // namespace midspan::test
