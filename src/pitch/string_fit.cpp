// string_fit.cpp: the joint least-squares fit of a plucked string to its partials.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/string_fit.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "ground/unit_circle.hpp"
#include "pitch/left_over.hpp"

namespace midspan {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;

// Order of the shared unknowns.
enum Shared : std::size_t {
    log_lowest,
    inharmonicity,
    glide,
    log_glide_time,
    split,
    fast_glide,
    self_stretch
};

// A partial that has fallen by 61 dB has no more to say: what t^2 makes of its last values is a fiftieth of
// what it has said.
constexpr double died_away = 7.0;
// Room for what noise makes of a string that is not stiff at all.
constexpr double least_inharmonicity = -2e-4;

// Damping, relative: what two planes begin with, and what a step in the wrong direction asks for at least.
// With less than `hardly` a small step means that little is left to be gained.
constexpr double careful = 1e-3;
constexpr double hardly = 3e-4;

constexpr double squared(double x) { return x * x; }

constexpr std::array<double StringLaw::*, 7> law_parts{
    &StringLaw::log_lowest, &StringLaw::inharmonicity, &StringLaw::glide,       &StringLaw::log_glide_time,
    &StringLaw::split,      &StringLaw::fast_glide,    &StringLaw::self_stretch};

constexpr std::size_t planes(const FreeParts& free) { return free.second_plane ? 2 : 1; }
constexpr std::size_t own_unknowns(const FreeParts& free) {
    return 3 * planes(free) + (free.loose ? 2U : 0U);
}

// What an unknown does: its derivative is the sum over the planes of `on[plane]` times a base of time times
// the plane's own value, turned by a right angle if it is the angle that changes.
struct Column {
    bool angle;
    TimeBases::Base base;
    std::array<double, 2> on;
};

// The sum over time of what two columns have in common, from what the planes have.
double between(const PlanesBeside::InCommon& planes, const Column& a, const Column& b) {
    const std::size_t at = TimeBases::pair(a.base, b.base);
    if (a.angle != b.angle) {
        const double crossed =
            a.angle ? b.on[1] * a.on[0] - b.on[0] * a.on[1] : a.on[1] * b.on[0] - a.on[0] * b.on[1];
        return crossed * planes.odd[at];
    }
    return a.on[0] * b.on[0] * planes.first[at] + a.on[1] * b.on[1] * planes.second[at] +
           (a.on[0] * b.on[1] + a.on[1] * b.on[0]) * planes.even[at];
}

}  // namespace

void StringFit::lay_out(const PartialTracks& tracks, std::size_t length) {
    bases_.lay_out(tracks, length);
    bases_.set_log_glide_time(string_.law.log_glide_time);
}

void StringFit::take_in(const PartialTracks& tracks, std::size_t index, double variance) {
    const PartialTrack& track = tracks.tracks()[index];
    FoundPartial partial;
    partial.track = index;
    partial.variance = variance;
    // Decay and amplitude: a line through the logarithm, weighted by the power, as it should be.
    double s = 0.0, st = 0.0, stt = 0.0, sy = 0.0, sty = 0.0;
    for (std::size_t m = 0; m < bases_.length(); ++m) {
        const double power = std::norm(track.values[m]);
        if (!(power > 0.0)) continue;
        const double t = tracks.time(m);
        const double y = 0.5 * std::log(power);
        s += power;
        st += power * t;
        stt += power * t * t;
        sy += power * y;
        sty += power * t * y;
    }
    const double spread = s * stt - st * st;
    if (!(s > 0.0) || !(spread > 0.0)) return;
    DecayingPlane& plane = partial.planes[0];
    plane.decay = std::clamp(-(s * sty - st * sy) / spread, 0.0, 60.0);
    plane.log_amplitude = (sy + plane.decay * st) / s;
    const double alive = died_away / std::max(plane.decay, 1e-3) / tracks.hop();
    partial.length = std::min(bases_.length(), std::max(fewest_values, static_cast<std::size_t>(alive)));
    string_.partials.push_back(partial);
}

void StringFit::begin(const PartialTracks& tracks, std::size_t length, int highest) {
    restart(tracks, tracks.guess(), highest, length);
    beliefs_ = {};
    if (string_.partials.empty()) return;
    beliefs_.log_glide_time = log_time_of_dying();
    string_.law.log_glide_time = beliefs_.log_glide_time;
}

// A sound that hardly dies was held up by something else than a string: an amplifier, or two planes of it
// that beat.
double StringFit::log_time_of_dying() const {
    return -std::log(std::clamp(string_.partials[0].planes[0].decay, 0.25, 20.0));
}

void StringFit::restart(const PartialTracks& tracks, const StringLaw& law, int highest, std::size_t length) {
    string_.law = law;
    lay_out(tracks, length);
    string_.partials.clear();
    for (std::size_t i = 0; i < tracks.tracks().size(); ++i) {
        const PartialTrack& track = tracks.tracks()[i];
        if (track.fits && track.number <= highest) take_in(tracks, i, 1.0);
    }
    // Until the scatter is known all partials are taken for equally noisy, as in white noise.
    double strongest = -std::numeric_limits<double>::infinity();
    for (const FoundPartial& partial : string_.partials) {
        strongest = std::max(strongest, partial.planes[0].log_amplitude);
    }
    for (FoundPartial& partial : string_.partials) {
        partial.variance = 1e-4 * std::exp(2.0 * strongest);
    }
}

void StringFit::widen(const PartialTracks& tracks, std::size_t length, int highest) {
    lay_out(tracks, length);
    double variance = 0.0;
    int number = 0;
    for (const FoundPartial& partial : string_.partials) {
        variance = std::max(variance, partial.variance);
        number = std::max(number, tracks.tracks()[partial.track].number);
    }
    for (std::size_t i = 0; i < tracks.tracks().size(); ++i) {
        const PartialTrack& track = tracks.tracks()[i];
        if (track.fits && track.number > number && track.number <= highest) take_in(tracks, i, variance);
    }
}

// What is believed before looking. What is not free has no derivative; a one keeps the matrix invertible.
double StringFit::believe(const FreeParts& free) {
    OfLaw& law = equations_.believed;
    law.clear();
    double cost = 0.0;
    const auto believed = [&](std::size_t i, bool active, double off, double deviation) {
        law.at(i, i) = active ? 1.0 / squared(deviation) : 1.0;
        if (!active) return;
        law.right(i) = -off / squared(deviation);
        cost += squared(off / deviation);
    };
    believed(inharmonicity, true, string_.law.inharmonicity - beliefs_.inharmonicity,
             beliefs_.inharmonicity_deviation);
    believed(glide, free.glide, string_.law.glide, beliefs_.glide_deviation);
    believed(log_glide_time, free.glide, string_.law.log_glide_time - beliefs_.log_glide_time,
             free.as_partial_1 ? beliefs_.log_glide_time_deviation_as_partial_1
                               : beliefs_.log_glide_time_deviation);
    if (free.glide) {
        // A glide lives as long as the swing that makes it. Beyond three deviations the belief becomes a
        // wall, (off / 3 deviations)^6: against what is no string's glide a parabola holds nothing.
        const double far = 3.0 * beliefs_.log_glide_time_deviation;
        const double off = (string_.law.log_glide_time - beliefs_.log_glide_time) / far;
        const double wall = off * off * off;
        const double slope = 3.0 * off * off / far;
        law.at(log_glide_time, log_glide_time) += squared(slope);
        law.right(log_glide_time) -= slope * wall;
        cost += squared(wall);
    }
    believed(split, free.second_plane, string_.law.split, beliefs_.split_deviation);
    believed(fast_glide, free.fast_glide, string_.law.fast_glide, fast_glide_deviation());
    believed(self_stretch, free.self_stretch, string_.law.self_stretch - beliefs_.self_stretch,
             beliefs_.self_stretch_deviation);
    return cost;
}

// One pass over the data: the normal equations of every partial, and the weighted sum of squares.
//
// A derivative is a plane times a function of time, so the products of two of them, summed over time, are
// sums of |plane|^2 or of plane times plane over products of time bases: few, and the same for all unknowns.
template <int Planes>
double StringFit::assemble(const PartialTracks& tracks, const FreeParts& free) {
    constexpr std::size_t own = 3 * Planes;  // behind the planes: what is the partial's own
    constexpr std::size_t offset = own;
    constexpr std::size_t own_glide = own + 1;
    using Base = TimeBases::Base;

    double cost = believe(free);
    const double glide_spread = beliefs_.own_glide_deviation * glide_size_;
    std::array<Column, most> columns{};
    for (std::size_t plane = 0; plane < Planes; ++plane) {
        const std::array<double, 2> here{plane == 0 ? 1.0 : 0.0, plane == 1 ? 1.0 : 0.0};
        columns[3 * plane] = {false, Base::one, here};
        columns[3 * plane + 1] = {true, Base::one, here};
        columns[3 * plane + 2] = {false, Base::time, {-here[0], -here[1]}};
    }
    const std::size_t law = free.loose ? own + 2 : own;
    const std::size_t all = law + shared;

    for (std::size_t p = 0; p < string_.partials.size(); ++p) {
        FoundPartial& partial = string_.partials[p];
        const int number = tracks.tracks()[partial.track].number;
        const bool loose = free.loose && number > 1;
        equations_.squares[p] = beside_.lay(tracks, bases_, string_.law, partial, Planes);
        const PlanesBeside::InCommon common = beside_.in_common(bases_);

        const double omega = tau * beside_.frequency();
        const std::array<double, 2> radians{omega, Planes == 2 ? omega * (1.0 + string_.law.split) : 0.0};
        const auto turns = [&](Base base, double factor) {
            return Column{true, base, {factor * radians[0], factor * radians[1]}};
        };
        const double if_gliding = free.glide ? 1.0 : 0.0;
        if (free.loose) {
            columns[offset] = turns(Base::time, loose ? 1.0 : 0.0);
            columns[own_glide] = turns(Base::ahead, loose ? 1.0 : 0.0);
        }
        columns[law + log_lowest] = turns(Base::time, 1.0);
        columns[law + inharmonicity] = turns(Base::time, string_.law.by_inharmonicity(number));
        columns[law + glide] = turns(Base::ahead, if_gliding * string_.law.share_of_glide(number));
        columns[law + log_glide_time] = turns(Base::by_log_time, if_gliding * beside_.glide());
        columns[law + split] = {true, Base::time, {0.0, Planes == 2 ? omega : 0.0}};
        columns[law + fast_glide] = turns(Base::fast_ahead, free.fast_glide ? 1.0 : 0.0);
        columns[law + self_stretch] =
            turns(Base::ahead, free.self_stretch && number > 1 ? -string_.law.glide : 0.0);

        const double weight = 2.0 / partial.variance;
        cost += weight * equations_.squares[p];
        OfPartial& normal = equations_.partials[p];
        for (std::size_t i = 0; i < all; ++i) {
            const Column& column = columns[i];
            const auto& left = column.angle ? common.across : common.along;
            normal.right(i) =
                weight * (column.on[0] * left[0][column.base] + column.on[1] * left[1][column.base]);
            for (std::size_t j = i; j < all; ++j)
                normal.at(i, j) = weight * between(common, column, columns[j]);
        }
        const auto believe_own = [&](std::size_t i, double off, double deviation) {
            normal.at(i, i) += loose ? 1.0 / squared(deviation) : 1.0;
            if (!loose) return;
            normal.right(i) -= off / squared(deviation);
            cost += squared(off / deviation);
        };
        if (free.loose) {
            believe_own(offset, partial.offset, beliefs_.offset_deviation);
            believe_own(own_glide, partial.own_glide, glide_spread);
        }
        // A log-amplitude or an angle is never worth less than a belief of thirty units: a plane that is not
        // there must not make the matrix singular.
        for (std::size_t i = 0; i < own; ++i)
            normal.at(i, i) += 1e-3;
    }
    return cost;
}

double StringFit::assembled(const PartialTracks& tracks, const FreeParts& free) {
    return free.second_plane ? assemble<2>(tracks, free) : assemble<1>(tracks, free);
}

// Moves f, glide and T together, by changes that are right to first order.
//
// What a note tells is how high it stood in its middle, how fast it fell there and, with less certainty, how
// that slowed down. Straight steps in those three, and in f times glide, stay in the valley; straight steps
// in f, glide and T end on its wall, since a glide that is still going on trades all three for one another.
void StringFit::move_glide(double log_lowest_change, double glide_change, double log_time_change) {
    StringLaw& law = string_.law;
    const double last = bases_.at(bases_.length() - 1)[TimeBases::time];
    const double rate = 2.0 * std::exp(-law.log_glide_time);
    const double middle = std::min(0.5 * last, 1.0 / rate);
    const double change = (law.glide + glide_change) * std::exp(-log_lowest_change) - law.glide;
    const double fade = std::exp(-rate * middle);
    const double rise = law.glide * fade;
    const double rise_change = fade * (change + law.glide * rate * middle * log_time_change);
    const double height = law.log_lowest + log_lowest_change + rise + rise_change;
    const double fall = rate * (rise + rise_change - rise * log_time_change);

    const double new_rate = rate * (1.0 - log_time_change);
    law.log_glide_time = std::log(2.0 / new_rate);
    law.glide = std::clamp(fall / new_rate * std::exp(new_rate * middle), -0.03, 0.03);
    law.log_lowest = height - law.glide * std::exp(-new_rate * middle);
}

// Solves the normal equations.
StringFit::Step StringFit::step(const FreeParts& free, double damping) {
    const std::size_t own = own_unknowns(free);
    const std::size_t all = own + shared;
    Step result;
    OfLaw law = equations_.believed;
    for (std::size_t p = 0; p < string_.partials.size(); ++p) {
        followed_[p] = equations_.partials[p];
        followed_[p].eliminate(own, all, damping);
        result.fall += followed_[p].fall(own);
        law.add_rest(followed_[p], own);
    }
    law.eliminate(shared, shared, damping);
    law.follow(result.law, shared);
    result.fall += law.fall(shared);
    for (std::size_t p = 0; p < string_.partials.size(); ++p) {
        std::copy(result.law.begin(), result.law.end(), &result.partials[p][own]);
        followed_[p].follow(std::span{result.partials[p]}.first(all), own);
    }
    return result;
}

// By how much a step leaps beyond where the model is nearly linear; below 1 it does not.
double StringFit::too_long(const Step& step, const FreeParts& free) const {
    double longest = std::max({std::abs(step.law[log_lowest]) / 0.01, std::abs(step.law[glide]) / 0.01,
                               std::abs(step.law[log_glide_time]) / 0.7, std::abs(step.law[split]) / 0.0006,
                               std::abs(step.law[fast_glide]) / 0.01});
    for (std::size_t p = 0; p < string_.partials.size(); ++p) {
        for (std::size_t plane = 0; plane < planes(free); ++plane)
            longest = std::max(longest, std::abs(step.partials[p][3 * plane + 2]) / 5.0);
    }
    return longest;
}

void StringFit::take(const Step& step, const FreeParts& free, double scale) {
    StringLaw& law = string_.law;
    if (free.glide) {
        move_glide(scale * step.law[log_lowest], scale * step.law[glide], scale * step.law[log_glide_time]);
    } else {
        law.log_lowest += scale * step.law[log_lowest];
    }
    law.inharmonicity =
        std::clamp(law.inharmonicity + scale * step.law[inharmonicity], least_inharmonicity, 0.05);
    if (free.second_plane) law.split += scale * step.law[split];
    if (free.fast_glide) law.fast_glide += scale * step.law[fast_glide];
    if (free.self_stretch)
        law.self_stretch = std::clamp(law.self_stretch + scale * step.law[self_stretch], -0.5, 0.8);
    for (std::size_t p = 0; p < string_.partials.size(); ++p) {
        FoundPartial& partial = string_.partials[p];
        const auto& own = step.partials[p];
        for (std::size_t plane = 0; plane < planes(free); ++plane) {
            DecayingPlane& mine = partial.planes[plane];
            mine.decay = std::clamp(mine.decay + scale * own[3 * plane + 2], -1.0, 100.0);
        }
        if (free.loose) {
            partial.offset += scale * own[3 * planes(free)];
            partial.own_glide += scale * own[3 * planes(free) + 1];
        }
    }
}

void StringFit::state_deviations(const FreeParts& free, double overlap) {
    const std::size_t own = own_unknowns(free);
    OfLaw information = equations_.believed;
    for (std::size_t p = 0; p < string_.partials.size(); ++p) {
        followed_[p] = equations_.partials[p];
        followed_[p].eliminate(own, own + shared, 0.0);
        information.add_rest(followed_[p], own);
    }
    // Windows overlap, so that the values are fewer than they seem.
    for (std::size_t i = 0; i < shared; ++i) {
        covariance_[i] = information.inverse_column(i);
        string_.deviations.*law_parts[i] = std::sqrt(overlap * std::max(0.0, covariance_[i][i]));
    }
}

void StringFit::let_go(double StringLaw::*part) {
    const auto at = std::find(law_parts.begin(), law_parts.end(), part) - law_parts.begin();
    const auto k = static_cast<std::size_t>(at);
    const double change = -(string_.law.*part) / covariance_[k][k];
    for (std::size_t i = 0; i < shared; ++i)
        string_.law.*law_parts[i] += change * covariance_[k][i];
}

// What partial 1 alone had of the glide becomes every other one's own.
void StringFit::give_own_glides(const PartialTracks& tracks) {
    for (FoundPartial& partial : string_.partials) {
        const int number = tracks.tracks()[partial.track].number;
        partial.own_glide += string_.law.glide_of(number) - string_.law.glide;
    }
    string_.law.self_stretch = 0.0;
}

void StringFit::run(const PartialTracks& tracks, std::size_t length, const FreeParts& free, int iterations,
                    double enough) {
    lay_out(tracks, length);
    assert(!free.self_stretch || (free.glide && !free.loose));
    if (!free.self_stretch && !free.loose) string_.law.self_stretch = 0.0;
    if (free.loose) give_own_glides(tracks);
    if (!free.fast_glide) string_.law.glide += std::exchange(string_.law.fast_glide, 0.0);
    if (!free.glide) string_.law.glide = 0.0;
    if (free.fast_glide) {
        // The tension a string gains by its swing is the sum over its partials of k^2 a_k^2. A pluck gives
        // them about 1/k^2 of the energy each, and each dies at its own rate; what partial 1 adds is the
        // common glide.
        std::array<TimeBases::Driver, PartialTracks::most_partials> drivers{};
        std::size_t count = 0;
        for (const FoundPartial& partial : string_.partials) {
            const int number = tracks.tracks()[partial.track].number;
            if (number == 1) continue;
            drivers[count++] = {1.0 / squared(number), std::max(partial.planes[0].decay, 0.05)};
        }
        bases_.drive_fast_glide(std::span{drivers}.first(count));
        bases_.set_log_glide_time(string_.law.log_glide_time);
    }
    if (free.as_partial_1) beliefs_.log_glide_time = log_time_of_dying();
    glide_size_ = std::max(std::abs(string_.law.glide), 1e-5);
    // Undamped as long as that works; how much damping it takes otherwise, by how well the fall of the cost
    // was foreseen (H. B. Nielsen 1999, from memory).
    if (!free.second_plane) damping_ = 0.0;
    double damping = damping_;
    double growth = 2.0;
    double before = assembled(tracks, free);
    for (int i = 0; i < iterations; ++i) {
        before_ = string_;
        // No leap: the whole step is shortened, its direction kept.
        const Step next = step(free, damping);
        const double scale = 1.0 / std::max(1.0, too_long(next, free));
        take(next, free, scale);
        bases_.set_log_glide_time(string_.law.log_glide_time);
        std::swap(equations_, equations_before_);
        const double after = assembled(tracks, free);
        if (after <= before) {
            // A short damped step proves nothing.
            const bool still = std::min(next.fall, before - after) < enough && damping < hardly;
            const double foreseen = (before - after) / std::max(scale * (2.0 - scale) * next.fall, 1e-12);
            const double off = 2.0 * foreseen - 1.0;
            damping *= std::max(1.0 / 3.0, 1.0 - off * off * off);
            growth = 2.0;
            before = after;
            if (still) break;
        } else {
            string_ = before_;
            std::swap(equations_, equations_before_);
            if (next.fall < enough && damping < hardly) break;
            damping = std::max(hardly, growth * damping);
            growth *= 2.0;
        }
    }
    damping_ = std::min(damping, careful);
    bases_.set_log_glide_time(string_.law.log_glide_time);
    state_deviations(free, tracks.overlap());
    weigh(tracks, free);
}

// Each partial's own scatter about the model decides how much it counts: one that beats, or that hum or
// another string sings into, counts less.
void StringFit::weigh(const PartialTracks& tracks, const FreeParts& free) {
    const double unknowns = tracks.overlap() * ((free.second_plane ? 3.0 : 1.5) + (free.loose ? 1.0 : 0.0));
    string_.misfit = 0.0;
    for (std::size_t p = 0; p < string_.partials.size(); ++p) {
        const auto& values = tracks.tracks()[string_.partials[p].track].values;
        const auto n = static_cast<double>(string_.partials[p].length);
        double power = 0.0;
        for (std::size_t m = 0; m < string_.partials[p].length; ++m) {
            power += std::norm(values[m]);
        }
        const double floor = 1e-12 * power / n;  // single precision on the way here
        string_.partials[p].variance =
            std::max(equations_.squares[p] / std::max(n - unknowns, 0.3 * n), floor);
        string_.partials[p].misfit =
            misfit_of(equations_.squares[p], string_.partials[p].length, floor, tracks.overlap());
        string_.misfit += string_.partials[p].misfit;
    }
}

void StringFit::split_planes(const PartialTracks& tracks) {
    constexpr double cent = 1.0 / 1731.234049066756;  // ln 2 / 1200
    constexpr std::array<double, 12> tried{-2.0 * cent, -1.2 * cent, -0.7 * cent, -0.4 * cent,
                                           -0.2 * cent, -0.1 * cent, 0.1 * cent,  0.2 * cent,
                                           0.4 * cent,  0.7 * cent,  1.2 * cent,  2.0 * cent};
    lay_out(tracks, tracks.length());

    std::array<double, tried.size()> misfit{};
    std::array<double, tried.size()> squares{};
    for (const FoundPartial& partial : string_.partials) {
        const auto& values = tracks.tracks()[partial.track].values;
        double power = 0.0;
        for (std::size_t m = 0; m < partial.length; ++m)
            power += std::norm(values[m]);
        beside_.try_splits(tracks, bases_, string_.law, partial, tried, squares);
        for (std::size_t i = 0; i < tried.size(); ++i)
            misfit[i] += static_cast<double>(partial.length) * std::log(std::max(squares[i], 1e-12 * power));
    }
    const auto best =
        static_cast<std::size_t>(std::min_element(misfit.begin(), misfit.end()) - misfit.begin());
    string_.law.split = tried[best];
    damping_ = careful;
    for (FoundPartial& partial : string_.partials)
        partial.planes[1].decay = partial.planes[0].decay;
}

void StringFit::order_planes(const PartialTracks& tracks) {
    // By the energy heard: a plane that begins loudest and dies at once is not what a string is tuned by.
    std::array<double, 2> heard{};
    for (const FoundPartial& partial : string_.partials) {
        const double span = tracks.time(partial.length - 1);
        for (std::size_t plane = 0; plane < 2; ++plane) {
            const DecayingPlane& mine = partial.planes[plane];
            const double fall = std::max(2.0 * mine.decay * span, 1e-6);
            heard[plane] += std::exp(2.0 * mine.log_amplitude) * span * -std::expm1(-fall) / fall;
        }
    }
    if (heard[0] >= heard[1]) return;
    string_.law.log_lowest += std::log1p(string_.law.split);
    string_.law.split = -string_.law.split / (1.0 + string_.law.split);
    for (FoundPartial& partial : string_.partials) {
        std::swap(partial.planes[0], partial.planes[1]);
    }
}

std::span<const std::complex<double>> StringFit::left_over(const PartialTracks& tracks, std::size_t partial,
                                                           bool second_plane) {
    beside_.lay(tracks, bases_, string_.law, string_.partials[partial], second_plane ? 2 : 1);
    return beside_.left();
}

double StringFit::structure_left(const PartialTracks& tracks, bool second_plane) {
    double strongest = 0.0;
    for (FoundPartial& partial : string_.partials) {
        const double squares = beside_.lay(tracks, bases_, string_.law, partial, second_plane ? 2 : 1);
        strongest = std::max(strongest, structure_of(beside_.left(), squares));
    }
    return strongest;
}

}  // namespace midspan
