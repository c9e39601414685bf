// trial.cpp: draws strings, plucks and disturbances.
//
// Room: tools/benchmark. Pure. May include: ground, tests/support.
#include "benchmark/trial.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>

#include "support/disturbances.hpp"
#include "support/neck_string.hpp"
#include "support/random_numbers.hpp"
#include "support/stiff_string.hpp"

namespace midspan::benchmark {
namespace {

using test::RandomNumbers;

struct SteelString {
    Hertz open;
    double inharmonicity;  ///< of the open string
};

// Plain strings and wound strings on a guitar of 648 mm; common values, from memory.
constexpr std::array<SteelString, 6> steel_strings{{{Hertz{82.407}, 1.37e-4},
                                                    {Hertz{110.0}, 9.3e-5},
                                                    {Hertz{146.832}, 5.1e-5},
                                                    {Hertz{195.998}, 3.0e-5},
                                                    {Hertz{246.942}, 6.1e-5},
                                                    {Hertz{329.628}, 2.2e-5}}};

std::uint64_t draw_seed(RandomNumbers& random) { return static_cast<std::uint64_t>(random.uniform() * 1e15); }

SteelString draw_string(RandomNumbers& random) {
    SteelString string = steel_strings[static_cast<std::size_t>(random.uniform(0.0, 6.0))];
    string.open = raised(string.open, Cents{random.uniform(-30.0, 30.0)});
    string.inharmonicity *= std::exp(random.uniform(-0.4, 0.4));
    return string;
}

Conditions draw_conditions(Physics physics, Hardship hardship, Company company, RandomNumbers& random) {
    const bool mixed = hardship == Hardship::mixed;
    const bool modes = physics != Physics::finite_differences;
    Conditions conditions{physics,
                          Seconds{random.uniform(mixed ? 0.5 : 2.0, 4.0)},
                          Decibels{random.uniform(mixed ? 10.0 : 40.0, 60.0)},
                          Cents{random.uniform(mixed ? 0.0 : 0.5, 20.0)},
                          mixed && random.uniform() < (modes ? 0.6 : 0.5),
                          mixed && random.uniform() < 0.4,
                          company};
    if (company == Company::loud_hum) conditions.hum = true;
    if (!modes) conditions.glide = Cents{0.0};  // follows from the pluck
    return conditions;
}

test::StiffString draw_stiff_string(const SteelString& string, Hardship hardship,
                                    const Conditions& conditions, RandomNumbers& random) {
    test::StiffString stiff;
    stiff.ideal_fundamental = string.open;
    stiff.inharmonicity = string.inharmonicity;
    stiff.ends = random.uniform() < 0.5 ? test::StringEnds::clamped : test::StringEnds::pinned;
    stiff.stretch_stiffness = random.uniform(140.0, 400.0);
    stiff.pluck_height = Millimetres{random.uniform(0.3, hardship == Hardship::mixed ? 2.5 : 1.5)};
    stiff.pluck_position = random.uniform(0.1, 0.35);
    stiff.pickup_position = random.uniform(0.07, 0.3);
    stiff.decay = Seconds{random.uniform(0.5, 1.4)};
    stiff.decay_at_3_khz = Seconds{random.uniform(0.08, 0.3)};
    stiff.duration = conditions.duration;
    stiff.touch_for = Seconds{0.03};
    if (conditions.beating) stiff.second_plane = draw_second_plane(stiff.decay, random);
    return stiff;
}

/// The tension rises by half the mean square slope times EA/T; averaged over a swing from a triangle of
/// height h at p of length L, h^2 / (2 L^2 p (1 - p)), and half of that in frequency.
Cents glide_of(const test::StiffString& string) {
    const double slope = string.pluck_height / string.length;
    const double mean = 0.5 * slope * slope / (string.pluck_position * (1.0 - string.pluck_position));
    return Cents{1200.0 / std::numbers::ln2 * 0.25 * string.stretch_stiffness * mean};
}

std::vector<double> silence(Seconds duration) {
    const Seconds whole = trial_lead + duration + Seconds{0.4};
    return std::vector<double>(static_cast<std::size_t>(whole.value() * trial_rate.value()));
}

TrialNote disturbed(std::vector<double> sound, Hertz truth, const Conditions& conditions,
                    RandomNumbers& random) {
    const std::uint64_t noise = draw_seed(random);
    if (conditions.company == Company::pink_noise) {
        test::add_coloured_noise(sound, trial_rate, conditions.snr, trial_lead, noise);
    } else {
        test::add_white_noise(sound, trial_rate, conditions.snr, trial_lead, noise);
    }
    if (conditions.hum) {
        const bool loud = conditions.company == Company::loud_hum;
        const double below = loud ? random.uniform(20.0, 40.0) : random.uniform(25.0, 60.0);
        const double level = std::pow(10.0, -below / 20.0);
        test::add_hum(sound, trial_rate, Hertz{random.uniform() < 0.5 ? 50.0 : 60.0}, 0.5 * level, 20,
                      draw_seed(random));
    }
    return {test::floats(sound), truth};
}

/// Of a guitar whose strings are in tune with the one that is plucked. They ring on when that is stopped.
void add_open_strings(std::span<double> sound, const SteelString& plucked, RandomNumbers& random) {
    std::vector<SteelString> others;
    Cents tuned{0.0};
    for (const SteelString& string : steel_strings) {
        const Cents off = interval(string.open, plucked.open);
        if (magnitude(off) < Cents{100.0}) {
            tuned = off;
        } else {
            others.push_back(string);
        }
    }
    const int count = random.uniform() < 0.5 ? 2 : 3;
    for (int i = 0; i < count; ++i) {
        const auto other = others.begin() + static_cast<std::ptrdiff_t>(
                                                random.uniform(0.0, static_cast<double>(others.size())));
        test::PluckedString string = draw_manner(Seconds{5.0}, random);  // beyond the longest sound
        string.fundamental = raised(other->open, tuned + Cents{random.uniform(-3.0, 3.0)});
        string.inharmonicity = other->inharmonicity;
        string.partials = 10;
        string.decay = Seconds{random.uniform(1.0, 2.0)};
        test::add_pluck(sound, trial_rate, trial_lead,
                        test::ringing_along(string, Decibels{random.uniform(25.0, 50.0)}));
        others.erase(other);
    }
}

TrialNote modal_note(const SteelString& string, NoteKind kind, const Conditions& conditions,
                     RandomNumbers& random) {
    test::NeckString neck{string.open, string.inharmonicity, Cents{random.uniform(-10.0, 10.0)},
                          draw_manner(conditions.duration, random)};
    neck.manner.glide = random.uniform(0.7, 1.3) * conditions.glide;
    if (conditions.beating) neck.manner.second_plane = draw_second_plane(neck.manner.decay, random);
    if (conditions.physics == Physics::astray) {
        neck.manner.astray = Cents{random.uniform(0.3, 3.0)};
        neck.manner.second_plane.spread = Cents{random.uniform(0.0, 3.0)};
    }
    const test::PluckedString note = neck.note(kind);
    std::vector<double> sound = silence(conditions.duration);
    test::add_pluck(sound, trial_rate, trial_lead, note);
    if (conditions.company == Company::open_strings) add_open_strings(sound, string, random);
    return disturbed(std::move(sound), note.fundamental, conditions, random);
}

TrialNote stiff_note(const SteelString& plucked, const test::StiffString& string,
                     const Conditions& conditions, RandomNumbers& random) {
    const test::StiffNote note = test::sound_of(string, trial_rate);
    std::vector<double> sound = silence(conditions.duration);
    const auto start = static_cast<std::size_t>(trial_lead.value() * trial_rate.value());
    constexpr std::size_t fade = 480;  // the finger takes 10 ms
    const std::size_t count = std::min(note.samples.size(), sound.size() - start);
    for (std::size_t i = 0; i < count; ++i) {
        const double stopped = static_cast<double>(std::min(count - i, fade)) / fade;
        sound[start + i] = stopped * note.samples[i];
    }
    if (conditions.company == Company::open_strings) add_open_strings(sound, plucked, random);
    return disturbed(std::move(sound), note.fundamental, conditions, random);
}

}  // namespace

test::SecondPlane draw_second_plane(Seconds decay, test::RandomNumbers& random) {
    return {Cents{random.uniform(-1.0, 1.0)}, random.uniform(0.05, 0.5), random.uniform(0.5, 1.0) * decay};
}

test::PluckedString draw_manner(Seconds duration, test::RandomNumbers& random) {
    test::PluckedString manner;
    manner.duration = duration;
    manner.decay = Seconds{random.uniform(0.5, 1.4)};
    manner.pluck_position = random.uniform(0.1, 0.35);
    manner.pickup_position = random.uniform(0.07, 0.3);
    manner.loss_rise = random.uniform(0.003, 0.02);
    manner.seed = draw_seed(random);
    return manner;
}

TrialPair draw_pair(Physics physics, Hardship hardship, std::uint64_t seed, Company company) {
    RandomNumbers random{seed};
    const SteelString string = draw_string(random);
    Conditions conditions = draw_conditions(physics, hardship, company, random);
    if (physics != Physics::finite_differences) {
        TrialNote harmonic = modal_note(string, NoteKind::harmonic, conditions, random);
        TrialNote fretted = modal_note(string, NoteKind::fretted, conditions, random);
        return {conditions, std::move(harmonic), std::move(fretted)};
    }
    const Cents pressing{random.uniform(-5.0, 5.0)};
    const test::StiffString touched =
        test::touched_at_12th(draw_stiff_string(string, hardship, conditions, random));
    const test::StiffString pressed =
        test::pressed_at_12th(draw_stiff_string(string, hardship, conditions, random), pressing);
    conditions.glide = std::max(glide_of(touched), glide_of(pressed));
    TrialNote harmonic = stiff_note(string, touched, conditions, random);
    TrialNote fretted = stiff_note(string, pressed, conditions, random);
    return {conditions, std::move(harmonic), std::move(fretted)};
}

test::PluckedString draw_plain_note(bool gliding, Seconds duration, std::uint64_t seed) {
    RandomNumbers random{seed};
    const SteelString string = draw_string(random);
    test::NeckString neck{string.open, string.inharmonicity, Cents{0.0}, draw_manner(duration, random)};
    if (gliding) neck.manner.glide = Cents{random.uniform(2.0, 20.0)};
    return neck.fretted();
}

}  // namespace midspan::benchmark
