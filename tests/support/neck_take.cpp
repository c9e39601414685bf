// neck_take.cpp: one plucked string a note.
//
// Room: tests/support.
#include "support/neck_take.hpp"

#include <cmath>

#include "support/disturbances.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {

std::vector<float> neck_take(const std::vector<NeckPluck>& plucks, const Instrument& instrument,
                             Hertz sample_rate, Seconds ring, std::uint64_t seed) {
    const Seconds quiet{0.15};
    const Seconds lead{0.4};
    const Seconds each = ring + quiet;
    const Seconds length = lead + static_cast<double>(plucks.size()) * each;
    std::vector<double> sound(static_cast<std::size_t>(length.value() * sample_rate.value()));
    for (std::size_t i = 0; i < plucks.size(); ++i) {
        const NeckPluck& plucked = plucks[i];
        const InstrumentString& of = instrument.string(plucked.string);
        const double open = 2e-5 * plucked.string;  // B
        const int fret = plucked.harmonic ? 12 : plucked.fret;
        PluckedString string;
        string.inharmonicity = open * std::exp2(fret / 6.0);
        const Cents stiff{600.0 * std::log2((1.0 + string.inharmonicity) / (1.0 + open))};
        string.fundamental = raised(of.open_frequency, Cents{100.0 * fret} + plucked.error + stiff);
        if (plucked.harmonic) string.odd_partials = Decibels{-30.0};
        string.partials = 12;
        string.decay = Seconds{0.7};
        string.glide = Cents{2.0};
        string.duration = ring;
        string.seed = seed * 1000 + i;
        add_pluck(sound, sample_rate, lead + static_cast<double>(i) * each, string);
    }
    add_white_noise(sound, sample_rate, Decibels{50.0}, lead, seed + 1);
    return floats(sound);
}

std::vector<NeckPluck> plucks_over_a_sharp_fret_5() {
    std::vector<NeckPluck> plucks;
    for (const int string : {6, 5}) {
        for (const int fret : {0, 1, 2, 3, 5, 7, 9, 12})
            plucks.push_back({string, fret, Cents{fret == 5 ? 8.0 : 0.0}});
    }
    return plucks;
}

}  // namespace midspan::test
