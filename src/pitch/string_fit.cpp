// string_fit.cpp: the joint least-squares fit of a plucked string to its partials.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/string_fit.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace midspan {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;
constexpr double negligible = 0.005;  // of the weighted sum of squares: a fourteenth of a standard deviation

// Order of the shared unknowns.
enum Shared : int { log_lowest, inharmonicity, glide, log_glide_time, split, fast_glide };

constexpr double squared(double x) { return x * x; }

// How a partial turns against its track's centre, and how that depends on the law.
//
// A window sees a partial that glides and dies a little early: its own weight and the falling amplitude
// shift the phase by the window's spread times (decay + 1 / T), second order in the window's length.
class Turning {
public:
    Turning(const PartialTracks& tracks, const FittedPartial& partial, const StringLaw& law)
        : Turning{tracks, partial, tracks.tracks()[partial.track], law} {}

    struct At {
        double elapsed;      // t + glide ahead
        double ahead;        // seconds per unit of glide
        double by_log_time;  // d ahead / d log_glide_time
        double reference;    // turns of what has been taken out
    };
    [[nodiscard]] At at(double t, double fast_ahead) const {
        const double faded = std::exp(-2.0 * t * rate_);
        const double half = 0.5 * (1.0 - faded) / rate_;
        const double ahead = half - early_ * faded;
        return {t + glide_ * ahead + fast_glide_ * fast_ahead, ahead, half - t * faded,
                centre_ * taken_out_.elapsed(t)};
    }
    [[nodiscard]] double frequency() const { return frequency_; }
    [[nodiscard]] double glide() const { return glide_; }

private:
    Turning(const PartialTracks& tracks, const FittedPartial& partial, const PartialTrack& track,
            const StringLaw& law)
        : taken_out_{tracks.taken_out()},
          frequency_{law.frequency(track.number) * std::exp(partial.offset)},
          glide_{law.glide + partial.own_glide},
          fast_glide_{law.fast_glide},
          centre_{track.centre},
          rate_{std::exp(-law.log_glide_time)},
          early_{tracks.window_spread() * (partial.planes[0].decay + rate_)} {}

    const StringLaw& taken_out_;
    double frequency_;
    double glide_;
    double fast_glide_;
    double centre_;
    double rate_;
    double early_;
};

Complex plane_value(const DecayingPlane& plane, double t, double turns) {
    const double size = std::exp(plane.log_amplitude - plane.decay * t);
    const double angle = plane.phase + tau * turns;
    return {size * std::cos(angle), size * std::sin(angle)};
}

}  // namespace

StringFit::StringFit() : normal_(PartialTracks::most_partials), right_(PartialTracks::most_partials) {
    partials_.reserve(PartialTracks::most_partials);
    partials_before_.reserve(PartialTracks::most_partials);
    fast_ahead_.resize(PartialTracks::most_values);
}

// The tension a string gains by its swing is the sum over its partials of k^2 a_k^2. A pluck gives them
// about 1/k^2 of the energy each, and each dies at its own rate; what partial 1 adds is the common glide.
void StringFit::prepare_fast_glide(const PartialTracks& tracks, std::size_t length) {
    double weights = 0.0;
    std::fill_n(fast_ahead_.begin(), length, 0.0);
    for (const FittedPartial& partial : partials_) {
        const int number = tracks.tracks()[partial.track].number;
        if (number == 1) continue;
        const double weight = 1.0 / squared(number);
        const double rate = 2.0 * std::max(partial.planes[0].decay, 0.05);
        weights += weight;
        for (std::size_t m = 0; m < length; ++m) {
            fast_ahead_[m] += weight * (1.0 - std::exp(-rate * tracks.time(m))) / rate;
        }
    }
    for (std::size_t m = 0; m < length && weights > 0.0; ++m) {
        fast_ahead_[m] /= weights;
    }
}

void StringFit::take_in(const PartialTracks& tracks, std::size_t length, std::size_t index, double variance) {
    const PartialTrack& track = tracks.tracks()[index];
    FittedPartial partial;
    partial.track = index;
    partial.variance = variance;
    // Decay and amplitude: a line through the logarithm, weighted by the power, as it should be.
    double s = 0.0, st = 0.0, stt = 0.0, sy = 0.0, sty = 0.0;
    for (std::size_t m = 0; m < length; ++m) {
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
    // Phase: where the model, turned on, agrees best.
    const Turning turning{tracks, partial, law_};
    Complex sum{};
    for (std::size_t m = 0; m < length; ++m) {
        const double t = tracks.time(m);
        const auto at = turning.at(t, fast_ahead_[m]);
        sum += track.values[m] * std::conj(plane_value({0.0, 0.0, plane.decay}, t,
                                                       turning.frequency() * at.elapsed - at.reference));
    }
    plane.phase = std::arg(sum);
    partials_.push_back(partial);
}

void StringFit::begin(const PartialTracks& tracks, std::size_t length, int highest) {
    law_ = tracks.guess();
    partials_.clear();
    for (std::size_t i = 0; i < tracks.tracks().size(); ++i) {
        const PartialTrack& track = tracks.tracks()[i];
        if (track.fits && track.number <= highest) take_in(tracks, length, i, 1.0);
    }
    if (partials_.empty()) return;
    // Until the scatter is known all partials are taken for equally noisy, as in white noise.
    double strongest = -1e9;
    for (const FittedPartial& partial : partials_) {
        strongest = std::max(strongest, partial.planes[0].log_amplitude);
    }
    for (FittedPartial& partial : partials_) {
        partial.variance = 1e-4 * std::exp(2.0 * strongest);
    }
    beliefs_.log_glide_time = -std::log(std::clamp(partials_[0].planes[0].decay, 0.1, 20.0));
    law_.log_glide_time = beliefs_.log_glide_time;
}

void StringFit::widen(const PartialTracks& tracks, std::size_t length, int highest) {
    double variance = 0.0;
    int number = 0;
    for (const FittedPartial& partial : partials_) {
        variance = std::max(variance, partial.variance);
        number = std::max(number, tracks.tracks()[partial.track].number);
    }
    for (std::size_t i = 0; i < tracks.tracks().size(); ++i) {
        const PartialTrack& track = tracks.tracks()[i];
        if (track.fits && track.number > number && track.number <= highest) {
            take_in(tracks, length, i, variance);
        }
    }
}

void StringFit::restart(const PartialTracks& tracks, const StringLaw& law, int highest) {
    const Beliefs kept = beliefs_;
    begin(tracks, tracks.length(), highest);
    beliefs_ = kept;
    law_ = law;
}

Complex StringFit::model(const PartialTracks& tracks, const FittedPartial& partial, std::size_t m,
                         bool second_plane) const {
    const Turning turning{tracks, partial, law_};
    const double t = tracks.time(m);
    const auto at = turning.at(t, fast_ahead_[m]);
    Complex value = plane_value(partial.planes[0], t, turning.frequency() * at.elapsed - at.reference);
    if (second_plane) {
        value += plane_value(partial.planes[1], t,
                             turning.frequency() * (1.0 + law_.split) * at.elapsed - at.reference);
    }
    return value;
}

// One pass over the data: the normal equations of every partial, and the weighted sum of squares.
template <int Planes>
double StringFit::assemble(const PartialTracks& tracks, std::size_t length, const FreeParts& free) {
    constexpr std::size_t offset = 3 * Planes;  // behind the planes: what is the partial's own
    constexpr std::size_t own_glide = offset + 1;
    constexpr std::size_t own = offset + 2;
    constexpr std::size_t all = own + shared;

    // Beliefs first. What is not free has no derivative; a one keeps the matrix invertible.
    believed_.setZero();
    believed_right_.setZero();
    double cost = 0.0;
    const auto believe = [&](int i, bool active, double off, double deviation) {
        believed_(i, i) = active ? 1.0 / squared(deviation) : 1.0;
        if (!active) return;
        believed_right_(i) = -off / squared(deviation);
        cost += squared(off / deviation);
    };
    believe(inharmonicity, true, law_.inharmonicity - beliefs_.inharmonicity,
            beliefs_.inharmonicity_deviation);
    believe(glide, free.glide, law_.glide, beliefs_.glide_deviation);
    believe(log_glide_time, free.glide, law_.log_glide_time - beliefs_.log_glide_time,
            beliefs_.log_glide_time_deviation);
    believe(split, Planes == 2, law_.split, beliefs_.split_deviation);
    believe(fast_glide, free.loose, law_.fast_glide, beliefs_.glide_deviation);

    const double glide_spread = beliefs_.own_glide_deviation * glide_size_;
    for (std::size_t p = 0; p < partials_.size(); ++p) {
        const FittedPartial& partial = partials_[p];
        const PartialTrack& track = tracks.tracks()[partial.track];
        const Turning turning{tracks, partial, law_};
        const double by_B = law_.by_inharmonicity(track.number);
        const bool loose = free.loose && track.number > 1;
        std::array<double, all*(all + 1) / 2> normal{};
        std::array<double, all> right{};
        double squares = 0.0;
        for (std::size_t m = 0; m < length; ++m) {
            const double t = tracks.time(m);
            const auto at = turning.at(t, fast_ahead_[m]);
            std::array<double, all> re{};
            std::array<double, all> im{};
            Complex value{};
            for (std::size_t plane = 0; plane < Planes; ++plane) {
                const double f = turning.frequency() * (plane == 0 ? 1.0 : 1.0 + law_.split);
                const Complex v = plane_value(partial.planes[plane], t, f * at.elapsed - at.reference);
                value += v;
                const std::size_t base = 3 * plane;
                re[base] = v.real();
                im[base] = v.imag();
                re[base + 1] = -v.imag();  // by phase
                im[base + 1] = v.real();
                re[base + 2] = -t * v.real();
                im[base + 2] = -t * v.imag();
                const auto turn = [&](std::size_t i, double radians) {
                    re[i] -= radians * v.imag();
                    im[i] += radians * v.real();
                };
                turn(own + log_lowest, tau * f * at.elapsed);
                turn(own + inharmonicity, tau * f * at.elapsed * by_B);
                if (free.glide) {
                    turn(own + glide, tau * f * at.ahead);
                    turn(own + log_glide_time, tau * f * turning.glide() * at.by_log_time);
                }
                if (free.loose) turn(own + fast_glide, tau * f * fast_ahead_[m]);
                if (loose) {
                    turn(offset, tau * f * at.elapsed);
                    turn(own_glide, tau * f * at.ahead);
                }
                if (plane == 1) turn(own + split, tau * turning.frequency() * at.elapsed);
            }
            const Complex left = track.values[m] - value;
            squares += std::norm(left);
            std::size_t entry = 0;
            for (std::size_t i = 0; i < all; ++i) {
                right[i] += re[i] * left.real() + im[i] * left.imag();
                for (std::size_t j = 0; j <= i; ++j) {
                    normal[entry++] += re[i] * re[j] + im[i] * im[j];
                }
            }
        }
        const double weight = 2.0 / partial.variance;
        cost += weight * squares;
        std::size_t entry = 0;
        for (std::size_t i = 0; i < all; ++i) {
            const auto row = static_cast<Eigen::Index>(i);
            right_[p](row) = weight * right[i];
            for (std::size_t j = 0; j <= i; ++j) {
                const auto column = static_cast<Eigen::Index>(j);
                normal_[p](row, column) = normal_[p](column, row) = weight * normal[entry++];
            }
        }
        const auto believe_own = [&](std::size_t i, double off, double deviation) {
            const auto row = static_cast<Eigen::Index>(i);
            normal_[p](row, row) += loose ? 1.0 / squared(deviation) : 1.0;
            if (!loose) return;
            right_[p](row) -= off / squared(deviation);
            cost += squared(off / deviation);
        };
        believe_own(offset, partial.offset, beliefs_.offset_deviation);
        believe_own(own_glide, partial.own_glide, glide_spread);
    }
    return cost;
}

// Solves the normal equations and moves; returns what the cost should fall by.
template <int Planes>
double StringFit::change(const FreeParts& free, double damping) {
    constexpr int own = 3 * Planes + 2;
    using Own = Eigen::Matrix<double, own, own>;
    using OwnVector = Eigen::Matrix<double, own, 1>;
    using Cross = Eigen::Matrix<double, own, shared>;

    SharedMatrix information = believed_;
    SharedVector gradient = believed_right_;
    SharedMatrix damped = believed_;
    std::array<Own, PartialTracks::most_partials> inverses;
    for (std::size_t p = 0; p < partials_.size(); ++p) {
        Own mine = normal_[p].template topLeftCorner<own, own>();
        const Cross cross = normal_[p].template block<own, shared>(0, own);
        const OwnVector right = right_[p].template head<own>();
        // A log-amplitude or an angle is never worth less than a belief of thirty units: a plane that is
        // not there must not make the matrix singular.
        mine.template topLeftCorner<3 * Planes, 3 * Planes>().diagonal().array() += 1e-3;
        information +=
            normal_[p].template block<shared, shared>(own, own) - cross.transpose() * mine.llt().solve(cross);
        damped += normal_[p].template block<shared, shared>(own, own);
        mine.diagonal() *= 1.0 + damping;
        inverses[p] = mine.llt().solve(Own::Identity());
        damped -= cross.transpose() * inverses[p] * cross;
        gradient += right_[p].template segment<shared>(own) - cross.transpose() * (inverses[p] * right);
    }
    damped.diagonal() *= 1.0 + damping;
    const SharedVector law_change = damped.ldlt().solve(gradient);

    // No leap beyond where the model is nearly linear: the whole step is shortened, its direction kept.
    double longest =
        std::max({std::abs(law_change(log_lowest)) / 0.01, std::abs(law_change(glide)) / 0.01,
                  std::abs(law_change(log_glide_time)) / 0.7, std::abs(law_change(split)) / 0.0006,
                  std::abs(law_change(fast_glide)) / 0.01});
    std::array<OwnVector, PartialTracks::most_partials> own_changes;
    double fall = gradient.dot(law_change);
    for (std::size_t p = 0; p < partials_.size(); ++p) {
        const Cross cross = normal_[p].template block<own, shared>(0, own);
        const OwnVector right = right_[p].template head<own>();
        own_changes[p] = inverses[p] * (right - cross * law_change);
        fall += right.dot(inverses[p] * right);
        for (int plane = 0; plane < Planes; ++plane) {
            longest = std::max({longest, std::abs(own_changes[p](3 * plane)) / 1.0,
                                std::abs(own_changes[p](3 * plane + 1)) / 1.0,
                                std::abs(own_changes[p](3 * plane + 2)) / 5.0});
        }
    }
    const double scale = longest > 1.0 ? 1.0 / longest : 1.0;
    law_.log_lowest += scale * law_change(log_lowest);
    law_.inharmonicity = std::clamp(law_.inharmonicity + scale * law_change(inharmonicity), 0.0, 0.05);
    if (free.glide) {
        law_.glide = std::clamp(law_.glide + scale * law_change(glide), -0.03, 0.03);
        law_.log_glide_time += scale * law_change(log_glide_time);
    }
    if (Planes == 2) law_.split += scale * law_change(split);
    if (free.loose) law_.fast_glide += scale * law_change(fast_glide);
    for (std::size_t p = 0; p < partials_.size(); ++p) {
        for (int plane = 0; plane < Planes; ++plane) {
            DecayingPlane& mine = partials_[p].planes[static_cast<std::size_t>(plane)];
            mine.log_amplitude += scale * own_changes[p](3 * plane);
            mine.phase += scale * own_changes[p](3 * plane + 1);
            mine.decay = std::clamp(mine.decay + scale * own_changes[p](3 * plane + 2), -1.0, 100.0);
        }
        partials_[p].offset += scale * own_changes[p](3 * Planes);
        partials_[p].own_glide += scale * own_changes[p](3 * Planes + 1);
    }
    const SharedMatrix covariance = information.ldlt().solve(SharedMatrix::Identity());
    const auto deviation = [&](int i) { return std::sqrt(std::max(0.0, covariance(i, i))); };
    deviations_ = {deviation(log_lowest),     deviation(inharmonicity), deviation(glide),
                   deviation(log_glide_time), deviation(split),         deviation(fast_glide)};
    return fall;
}

void StringFit::run(const PartialTracks& tracks, std::size_t length, const FreeParts& free, int iterations) {
    const auto assembled = [&] {
        return free.second_plane ? assemble<2>(tracks, length, free) : assemble<1>(tracks, length, free);
    };
    const auto changed = [&](double damping) {
        return free.second_plane ? change<2>(free, damping) : change<1>(free, damping);
    };
    if (free.loose) prepare_fast_glide(tracks, length);
    glide_size_ = std::max(std::abs(law_.glide), 1e-5);
    double damping = 0.0;
    double before = assembled();
    for (int i = 0; i < iterations; ++i) {
        partials_before_ = partials_;
        law_before_ = law_;
        const double promised = changed(damping);
        if (promised < negligible) break;
        const double after = assembled();
        if (after <= before) {
            const bool still = before - after < negligible && damping == 0.0;
            before = after;
            damping = damping > 1e-4 ? 0.1 * damping : 0.0;
            if (still) break;
        } else {
            partials_ = partials_before_;
            law_ = law_before_;
            before = assembled();
            damping = damping == 0.0 ? 1e-3 : 10.0 * damping;
            if (damping > 1e3) break;
        }
    }
    weigh(tracks, length, free);
    const double factor = std::sqrt(tracks.overlap());
    deviations_ = {factor * deviations_.log_lowest, factor * deviations_.inharmonicity,
                   factor * deviations_.glide,      factor * deviations_.log_glide_time,
                   factor * deviations_.split,      factor * deviations_.fast_glide};
}

// Each partial's own scatter about the model decides how much it counts: one that beats, or that hum or
// another string sings into, counts less.
void StringFit::weigh(const PartialTracks& tracks, std::size_t length, const FreeParts& free) {
    const double unknowns = tracks.overlap() * ((free.second_plane ? 3.0 : 1.5) + (free.loose ? 1.0 : 0.0));
    misfit_ = 0.0;
    for (FittedPartial& partial : partials_) {
        const auto& values = tracks.tracks()[partial.track].values;
        double squares = 0.0;
        double power = 0.0;
        for (std::size_t m = 0; m < length; ++m) {
            squares += std::norm(values[m] - model(tracks, partial, m, free.second_plane));
            power += std::norm(values[m]);
        }
        const double n = static_cast<double>(length);
        const double floor = 1e-12 * power / n;  // single precision on the way here
        partial.variance = std::max(squares / std::max(n - unknowns, 0.3 * n), floor);
        misfit_ += 2.0 / tracks.overlap() * n * std::log(std::max(squares / n, floor));
    }
}

double StringFit::split_planes(const PartialTracks& tracks, std::size_t length, double split) {
    law_.split = split;
    double misfit = 0.0;
    for (FittedPartial& partial : partials_) {
        const PartialTrack& track = tracks.tracks()[partial.track];
        const Turning turning{tracks, partial, law_};
        const DecayingPlane first{0.0, 0.0, partial.planes[0].decay};
        // Two complex amplitudes by linear least squares.
        double aa = 0.0, bb = 0.0, power = 0.0;
        Complex ab{}, az{}, bz{};
        for (std::size_t m = 0; m < length; ++m) {
            const double t = tracks.time(m);
            const auto at = turning.at(t, fast_ahead_[m]);
            const Complex a = plane_value(first, t, turning.frequency() * at.elapsed - at.reference);
            const double turned = tau * turning.frequency() * split * at.elapsed;
            const Complex b = a * Complex{std::cos(turned), std::sin(turned)};
            const Complex z = track.values[m];
            aa += std::norm(a);
            bb += std::norm(b);
            ab += std::conj(a) * b;
            az += std::conj(a) * z;
            bz += std::conj(b) * z;
            power += std::norm(z);
        }
        bb *= 1.0 + 1e-6;
        const double determinant = aa * bb - std::norm(ab);
        const Complex one = (bb * az - ab * bz) / determinant;
        const Complex two = (aa * bz - std::conj(ab) * az) / determinant;
        const double explained = (std::conj(one) * az + std::conj(two) * bz).real();
        const double n = static_cast<double>(length);
        misfit += 2.0 / tracks.overlap() * n * std::log(std::max(power - explained, 1e-12 * power) / n);
        const double smallest = 1e-4 * std::sqrt(power / aa);
        partial.planes[0] = {std::log(std::max(std::abs(one), smallest)), std::arg(one), first.decay};
        partial.planes[1] = {std::log(std::max(std::abs(two), smallest)), std::arg(two), first.decay};
    }
    return misfit;
}

void StringFit::order_planes() {
    double first = 0.0;
    double second = 0.0;
    for (const FittedPartial& partial : partials_) {
        first += std::exp(2.0 * partial.planes[0].log_amplitude);
        second += std::exp(2.0 * partial.planes[1].log_amplitude);
    }
    if (first >= second) return;
    law_.log_lowest += std::log1p(law_.split);
    law_.split = -law_.split / (1.0 + law_.split);
    for (FittedPartial& partial : partials_) {
        std::swap(partial.planes[0], partial.planes[1]);
    }
}

double StringFit::structure_left(const PartialTracks& tracks, bool second_plane) const {
    // Noise has nothing in common with itself a few values later, a beat or a hum line has.
    double strongest = 0.0;
    const double n = static_cast<double>(tracks.length());
    for (const FittedPartial& partial : partials_) {
        const auto& values = tracks.tracks()[partial.track].values;
        std::array<Complex, 3> last{};
        Complex common{};
        double power = 0.0;
        for (std::size_t m = 0; m < tracks.length(); ++m) {
            const Complex left = values[m] - model(tracks, partial, m, second_plane);
            common += left * std::conj(last[m % 3]);
            power += std::norm(left);
            last[m % 3] = left;
        }
        if (power > 0.0) strongest = std::max(strongest, std::abs(common) / power - 2.0 / std::sqrt(n));
    }
    return std::max(0.0, strongest);
}

}  // namespace midspan
