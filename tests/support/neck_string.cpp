// neck_string.cpp: a string on a neck, with a known error at the 12th fret, and whole takes of it.
//
// Room: tests/support.
#include "support/neck_string.hpp"

#include <cassert>
#include <cmath>
#include <cstddef>

#include "support/disturbances.hpp"
#include "support/random_numbers.hpp"

namespace midspan::test {

Hertz NeckString::harmonic_frequency() const {
    PluckedString string;
    string.fundamental = open;
    string.inharmonicity = inharmonicity;
    return partial_frequency(string, 2.0);
}

PluckedString NeckString::open_note() const {
    PluckedString string = manner;
    string.fundamental = open;
    string.inharmonicity = inharmonicity;
    string.odd_partials.reset();
    return string;
}

PluckedString NeckString::harmonic() const {
    PluckedString string = manner;
    string.fundamental = harmonic_frequency();
    string.inharmonicity = 4.0 * inharmonicity;
    string.odd_partials = manner.odd_partials.value_or(Decibels{-45.0});
    return string;
}

PluckedString NeckString::fretted() const {
    PluckedString string = open_note();
    string.fundamental = fretted_frequency();
    string.inharmonicity = 4.0 * inharmonicity;
    return string;
}

PluckedString NeckString::note(NoteKind kind) const {
    switch (kind) {
        case NoteKind::harmonic:
            return harmonic();
        case NoteKind::fretted:
            return fretted();
        case NoteKind::open:
            break;
    }
    return open_note();
}

Cents Take::played_error() const {
    double sums[2] = {0.0, 0.0};
    int counts[2] = {0, 0};
    for (const TakenPluck& pluck : plucks) {
        if (pluck.kind == NoteKind::open) continue;
        const int which = pluck.kind == NoteKind::fretted ? 1 : 0;
        sums[which] += interval(Hertz{1.0}, pluck.frequency).value();
        ++counts[which];
    }
    assert(counts[0] > 0 && counts[1] > 0);
    return Cents{sums[1] / counts[1] - sums[0] / counts[0]};
}

std::vector<NoteKind> kinds_in_order(const TakeOptions& options) {
    std::vector<NoteKind> kinds;
    if (options.open_first) kinds.push_back(NoteKind::open);
    for (int n = 0; n < 2 * options.pairs; ++n) {
        const bool fretted = options.order == PluckOrder::alternate ? n % 2 == 1 : n >= options.pairs;
        kinds.push_back(fretted ? NoteKind::fretted : NoteKind::harmonic);
    }
    return kinds;
}

Take take_of(const NeckString& string, const TakeOptions& options) {
    const std::vector<NoteKind> kinds = kinds_in_order(options);
    const Seconds each = options.ring + options.gap;
    const Seconds length = options.lead + static_cast<double>(kinds.size()) * each;
    Take take{options.sample_rate,
              std::vector<double>(static_cast<std::size_t>(length.value() * options.sample_rate.value())),
              {}};
    RandomNumbers random{options.seed};
    for (std::size_t n = 0; n < kinds.size(); ++n) {
        PluckedString pluck = string.note(kinds[n]);
        const Cents off{kinds[n] == NoteKind::fretted ? options.scatter.value() * random.normal() : 0.0};
        pluck.fundamental = raised(pluck.fundamental, off);
        pluck.duration = options.ring;
        pluck.seed = options.seed * 1000 + n;
        const Seconds start = options.lead + static_cast<double>(n) * each;
        add_pluck(take.samples, options.sample_rate, start, pluck);
        take.plucks.push_back({kinds[n], start, pluck.fundamental});
    }
    add_white_noise(take.samples, options.sample_rate, options.snr, options.lead, options.seed + 1);
    return take;
}

}  // namespace midspan::test
