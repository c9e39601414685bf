// performance.cpp: a scene played: samples, and the truth about them.
//
// Room: tools/make_test_audio.
#include "performance.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>

#include "midspan/instrument/note_name.hpp"
#include "support/disturbances.hpp"
#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;

constexpr Seconds stopped = 0.1_s;  // from a note's end to the next pluck

NeckString neck_string(const Scene& scene, const SceneString& s) {
    NeckString neck;
    neck.open = raised(NoteName::parse(s.open_note).value().frequency(440.0_hz), s.off_pitch);
    neck.inharmonicity = s.inharmonicity;
    neck.error = s.error;
    neck.manner.amplitude = scene.loudness;
    neck.manner.decay = s.decay;
    neck.manner.odd_partials = scene.room.odd_partials;
    return neck;
}

// A player with a sound card, somewhere along the take.
class Player {
public:
    explicit Player(const Scene& scene)
        : scene_{scene},
          random_{scene.seed},
          sound_(static_cast<std::size_t>(longest(scene).value() * scene.sample_rate.value()), 0.0) {}

    void play_string(const SceneString& s) {
        get_ready(s);
        const NeckString neck = neck_string(scene_, s);
        if (scene_.open_first) pluck(s, neck, NoteKind::open, 0, scene_.open_ring);
        int harmonics = 0;
        int fretted = 0;
        for (int n = 0; n < 2 * scene_.pairs; ++n) {
            if ((n % 2 == 1) != s.fretted_first) {
                if (s.choked_fretted == fretted) choke(s, neck);
                pluck(s, neck, NoteKind::fretted, fretted++, scene_.ring);
            } else {
                pluck(s, neck, NoteKind::harmonic, harmonics++, scene_.ring);
            }
        }
    }

    void talk(Seconds duration) {
        if (duration <= 0.0_s) return;
        add_talk(sound_, scene_.sample_rate, 0.2_s, duration, 0.25, scene_.seed + 11);
        disturbances_.push_back({"talk", 0.2_s});
        now_ = now_ + duration + 0.4_s;
    }

    Performance finish() {
        const Seconds end = now_ + 0.4_s;
        sound_.resize(static_cast<std::size_t>(std::lround(end.value() * scene_.sample_rate.value())));
        const SceneRoom& room = scene_.room;
        add_white_noise(sound_, room.white_noise, scene_.seed + 12);
        add_coloured_noise(sound_, scene_.sample_rate, room.coloured_noise, scene_.seed + 13);
        add_hum(sound_, scene_.sample_rate, room.mains, room.hum, room.hum_harmonics, scene_.seed + 14);
        add_dc_offset(sound_, room.dc_offset);
        clip(sound_, 1.0);

        Performance result{{}, std::move(notes_), std::move(disturbances_), end};
        result.samples.reserve(sound_.size() * static_cast<std::size_t>(scene_.channels));
        for (const double x : sound_) {
            result.samples.push_back(static_cast<std::int16_t>(std::lround(32767.0 * x)));
            result.samples.insert(result.samples.end(), static_cast<std::size_t>(scene_.channels - 1), 0);
        }
        return result;
    }

private:
    static Seconds longest(const Scene& scene) {
        const Seconds each = 2.0_s + scene.open_ring + (2.0 * (scene.pairs + 1)) * (scene.ring + stopped);
        return 2.0_s + scene.room.talk + static_cast<double>(scene.strings.size()) * each;
    }

    // The hand moves over to the next string.
    void get_ready(const SceneString& s) {
        const SceneRoom& room = scene_.room;
        if (room.thumps > 0.0 && s.number % 2 == 0) {
            add_thump(sound_, scene_.sample_rate, now_, room.thumps, scene_.seed + 20 + notes_.size());
            disturbances_.push_back({"thump", now_});
            now_ = now_ + 0.35_s;
        }
        if (room.squeak_before == s.number) {
            add_squeak(sound_, scene_.sample_rate, now_, 0.22_s, 0.06, scene_.seed + 15);
            disturbances_.push_back({"squeak", now_});
            now_ = now_ + 0.35_s;
        }
    }

    void pluck(const SceneString& s, const NeckString& neck, NoteKind kind, int which, Seconds ring) {
        const bool overload = kind == NoteKind::harmonic && s.clipped_harmonic == which;
        PluckedString note = string_as_plucked(neck, kind);
        note.duration = Seconds{ring.value() * random_.uniform(0.97, 1.03)};
        if (overload) note.amplitude = 4.0;
        sound(s, kind, note, false, overload);
        let_others_ring(s, note);
        now_ = now_ + note.duration + stopped;
    }

    void choke(const SceneString& s, const NeckString& neck) {
        PluckedString note = choked(string_as_plucked(neck, NoteKind::fretted));
        note.duration = 0.35_s;
        sound(s, NoteKind::fretted, note, true, false);
        now_ = now_ + note.duration + stopped;
    }

    // No two plucks are alike: strength, place, glide, the plane it swings in, how the finger presses.
    PluckedString string_as_plucked(const NeckString& neck, NoteKind kind) {
        PluckedString note = neck.note(kind);
        const double strength = random_.uniform(0.75, 1.0);
        note.amplitude *= strength;
        note.pluck_position = random_.uniform(0.16, 0.24);
        note.pickup_position = 0.13;
        note.glide = Cents{strength * strength * random_.uniform(2.5, 8.0)};
        note.second_plane.detune = Cents{random_.uniform(-0.3, 0.3)};
        note.second_plane.ratio = random_.uniform(0.1, 0.35);
        if (kind != NoteKind::open) note.decay = Seconds{0.8 * note.decay.value()};
        note.second_plane.decay = Seconds{0.75 * note.decay.value()};
        if (kind == NoteKind::harmonic) note.glide = 0.6 * note.glide;
        const double press = random_.normal();
        if (kind == NoteKind::fretted) note.fundamental = raised(note.fundamental, press * scene_.scatter);
        note.seed = scene_.seed * 1000 + notes_.size();
        return note;
    }

    void sound(const SceneString& s, NoteKind kind, const PluckedString& note, bool choked, bool overload) {
        add_pluck(sound_, scene_.sample_rate, now_, note);
        notes_.push_back({s.number, {kind, now_, note.fundamental}, note.glide, choked, overload});
    }

    void let_others_ring(const SceneString& plucked, const PluckedString& note) {
        for (const SceneString& other : scene_.strings) {
            if (other.number == plucked.number) continue;
            PluckedString weak = neck_string(scene_, other).open_note();
            weak.amplitude = scene_.loudness * std::pow(10.0, scene_.room.sympathetic.value() / 20.0);
            if (weak.amplitude < 1e-6) return;
            weak.partials = 6;
            weak.rise = 0.25_s;
            weak.attack_noise = Decibels{-300.0};
            weak.duration = note.duration;
            weak.fade = 0.05_s;
            weak.seed = note.seed * 10 + static_cast<std::uint64_t>(other.number);
            add_pluck(sound_, scene_.sample_rate, now_, weak);
        }
    }

    const Scene& scene_;
    RandomNumbers random_;
    std::vector<double> sound_;
    std::vector<PlayedNote> notes_;
    std::vector<HeardDisturbance> disturbances_;
    Seconds now_ = 0.5_s;
};

}  // namespace

Performance play(const Scene& scene) {
    Player player{scene};
    player.talk(scene.room.talk);
    for (const SceneString& s : scene.strings)
        player.play_string(s);
    return player.finish();
}

}  // namespace midspan::test
