// coupled_fit.cpp: the fit of a string whose two planes of vibration drive each other.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/coupled_fit.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace midspan {
namespace {

using Complex = std::complex<double>;
using Model = CoupledModel;
constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
constexpr double quarter_turn = 0.5 * std::numbers::pi;

// Order of a partial's unknowns: logarithm and phase of what is heard of each plane, then
enum Own : std::size_t { first_gain, second_gain = 2, first_decay = 4, second_decay, offset, self };
// Order of the string's; the decays are those of partial 1, by which the string stops gliding.
enum Shared : std::size_t {
    log_lowest,
    inharmonicity,
    split,
    angle,
    phase,
    stretch,
    share,
    first_decay_of_1,
    second_decay_of_1
};

// What is believed beforehand, as mean and standard deviation.
constexpr Beliefs usual;
constexpr double usual_angle = 0.3;
constexpr double angle_deviation = 0.4;
constexpr double phase_deviation = 0.3;  // the string is let go in one direction, nearly
constexpr double share_deviation = 1.0;
constexpr double decay_deviation = 1.0;  // between the planes, of the first one's
constexpr double self_deviation = 1.0;   // of the usual one
constexpr double gain_deviation = 0.3;   // between the planes, of the usual amplitude
constexpr double any_decay = 100.0;      // 1/s
constexpr double least_decay = 0.3;      // 1/s: slower ones' planes may differ by as much
constexpr double held = 0.3;             // of those, while a start is searched for

// Damping, relative: never less, and what a step in the wrong direction asks for at least.
constexpr double least_damping = 1e-5;
constexpr double careful = 1e-4;

constexpr double squared(double x) { return x * x; }

bool fits_better(const CoupledString& a, const CoupledString& b) { return a.misfit < b.misfit; }

}  // namespace

bool CoupledFit::find(const FoundString& plain, const FoundString& rival, const PartialTracks& tracks,
                      double since_pluck) {
    if (plain.partials.size() < 2 || tracks.tracks()[plain.partials[0].track].number != 1) return false;
    assert(rival.partials.size() == plain.partials.size());
    since_pluck_ = since_pluck;
    model_.lay_out(tracks, since_pluck);
    if (!search(plain, rival, tracks)) return false;
    name_planes();
    assembled(tracks);
    state_deviation(tracks.overlap());
    state_structure(tracks);
    return std::isfinite(string_.law.log_lowest) && std::isfinite(string_.deviation);
}

// A string in one plane, split.
void CoupledFit::start(const FoundString& plain, const PartialTracks& tracks, double relative_split,
                       double pluck_angle) {
    string_ = {};
    string_.law.log_lowest = plain.law.log_lowest;
    string_.law.inharmonicity = plain.law.inharmonicity;
    string_.law.split = relative_split;
    string_.angle = pluck_angle;
    double others = 0.0;
    for (const FoundPartial& partial : plain.partials) {
        const int number = tracks.tracks()[partial.track].number;
        if (number > 1) others += CoupledString::share_of(number);
    }
    // Half as much again by partial 1's own swing.
    string_.stretch =
        std::max(0.0, plain.law.glide * std::exp(since_pluck_ * plain.law.fading())) / (1.5 + others);
}

// More partials, up to `count`; they die like partial 1's planes do, as far as one plane says.
void CoupledFit::take_in(const FoundString& plain, const PartialTracks& tracks, std::size_t count) {
    count = std::min({count, plain.partials.size(), most_partials});
    for (std::size_t p = string_.count; p < count; ++p) {
        const FoundPartial& heard = plain.partials[p];
        CoupledPartial& partial = string_.places[p];
        partial = {};
        partial.track = heard.track;
        partial.length = heard.length;
        partial.number = tracks.tracks()[heard.track].number;
        const double decay = std::max(heard.planes[0].decay, 0.05);
        const CoupledPartial& first = string_.places[0];
        const double slower =
            p == 0 ? 1.0 : first.first_decay / std::max(plain.partials[0].planes[0].decay, 0.05);
        const double between = p == 0 ? 1.0 : first.second_decay / first.first_decay;
        partial.first_decay = slower * decay;
        partial.second_decay = between * partial.first_decay;
        partial.self = 0.5 * string_.stretch * CoupledString::share_of(partial.number);
        partial.usual = std::exp(heard.planes[0].log_amplitude + heard.planes[0].decay * since_pluck_);
        partial.variance = heard.variance;
        for (std::size_t m = 0; m < partial.length; ++m)
            partial.power += std::norm(tracks.tracks()[heard.track].values[m]);
    }
    string_.count = std::max(string_.count, count);
}

// Few partials from several starts, then more of them from where that has led best. False once that is
// hopeless: so far behind the rival few have been seen that caught up.
bool CoupledFit::search(const FoundString& plain, const FoundString& rival, const PartialTracks& tracks) {
    struct Stage {
        std::size_t partials;
        int iterations;
        std::size_t keep;
        Decibels hopeless;  // more than the rival leaves
    };
    constexpr std::array<Stage, 6> stages{{{3, 0, 4, Decibels{46.0}},
                                           {3, 2, 3, Decibels{28.0}},
                                           {4, 3, 2, Decibels{20.0}},
                                           {4, 6, 1, Decibels{11.0}},
                                           {4, 6, 1, Decibels{11.0}},
                                           {most_partials, 4, 1, Decibels{11.0}}}};
    constexpr double usual_split = 0.6 / cents_per_log;
    constexpr std::array<double, 2> angles{0.15, 0.45};
    static_assert(2 * angles.size() == starts);
    const double apart = rival.law.split != 0.0 ? rival.law.split : usual_split;
    auto next = candidates_.begin();
    for (const double relative_split : {apart, -apart}) {
        for (const double pluck : angles) {
            start(plain, tracks, relative_split, pluck);
            *next++ = string_;
        }
    }
    std::size_t kept = starts;
    for (const Stage& stage : stages) {
        held_ = stage.partials < most_partials ? held : 1.0;
        const auto candidates = std::span{candidates_}.first(kept);
        for (CoupledString& candidate : candidates) {
            string_ = candidate;
            take_in(plain, tracks, stage.partials);
            improve(tracks, stage.iterations, roughly);
            candidate = string_;
        }
        std::sort(candidates.begin(), candidates.end(), fits_better);
        kept = std::min(kept, stage.keep);
        // What is no number is hopeless.
        while (kept > 0 && !(behind(candidates_[kept - 1], rival, tracks) <= stage.hopeless))
            --kept;
        if (kept == 0) return false;
    }
    string_ = candidates_[0];
    improve(tracks, 28, 5.0 * closely);
    return true;
}

// How much more the string leaves over than the rival, on average over its partials' values.
Decibels CoupledFit::behind(const CoupledString& string, const FoundString& rival,
                            const PartialTracks& tracks) const {
    double misfit = 0.0, values = 0.0;
    for (std::size_t p = 0; p < string.count; ++p) {
        misfit += string.places[p].misfit(tracks.overlap()) - rival.partials[p].misfit;
        values += 2.0 / tracks.overlap() * static_cast<double>(string.places[p].length);
    }
    return Decibels{10.0 / std::numbers::ln10 * misfit / values};
}

// What it costs that the gains of its planes differ by one.
double CoupledFit::alike_of(const CoupledPartial& partial) const {
    return 2.0 / squared(gain_deviation * held_ * partial.usual);
}

void CoupledFit::compare(const PartialTracks& tracks, CoupledPartial& partial) {
    model_.compare(tracks, string_, partial, 0.5 * partial.variance * alike_of(partial));
}

// The normal equations of one partial; what it and its own beliefs cost.
double CoupledFit::assemble(const PartialTracks& tracks, std::size_t index) {
    CoupledPartial& partial = string_.places[index];
    compare(tracks, partial);
    const GramMatrix common = model_.common_of_slopes(string_, partial);

    // Derivatives by the unknowns: so much of one slope, and so much of another.
    struct Derivative {
        Model::Slope one;
        double factor = 0.0;
        Model::Slope other = Model::left_over;
        double other_factor = 0.0;

        [[nodiscard]] double of(const GramRow& row) const {
            return factor * row[one] + other_factor * row[other];
        }
    };
    const bool first = partial.number == 1;
    const double if_first = first ? 1.0 : 0.0;
    const double if_higher = 1.0 - if_first;
    const std::array<Derivative, most> derivatives{{
        {Model::first_plane, 1.0},
        {Model::first_plane_turned, 1.0},
        {Model::second_plane, 1.0},
        {Model::second_plane_turned, 1.0},
        {Model::by_first_decay, if_higher},
        {Model::by_second_decay, if_higher},
        {Model::by_log_lowest, if_higher},
        {Model::by_self, if_higher},
        {Model::by_log_lowest, 1.0},
        {Model::by_log_lowest, string_.law.by_inharmonicity(partial.number)},
        {Model::by_drift, 1.0},
        {Model::by_angle, 1.0},
        {Model::by_phase, 1.0},
        {Model::by_stretch, 1.0, Model::by_self, 0.5 * if_first},
        {Model::by_share, 1.0},
        {Model::by_first_decay_of_1, 1.0, Model::by_first_decay, if_first},
        {Model::by_second_decay_of_1, 1.0, Model::by_second_decay, if_first},
    }};
    OfPartial& normal = equations_.partials[index];
    // Weighed by its own scatter, as it is by now.
    const auto n = static_cast<double>(partial.length);
    const double held_to =
        std::max(n - 4.0 * tracks.overlap(), 0.3 * n);  // gains and decays take their share
    partial.variance = std::max(partial.squares / held_to, partial.least());
    const double weight = 2.0 / partial.variance;
    for (std::size_t i = 0; i < most; ++i) {
        const Derivative& mine = derivatives[i];
        GramRow with_mine;
        for (std::size_t k = 0; k < gram_functions; ++k)
            with_mine[k] = weight * mine.of(common[k]);
        normal.right(i) = with_mine[Model::left_over];
        for (std::size_t j = i; j < most; ++j)
            normal.at(i, j) = derivatives[j].of(with_mine);
    }
    const double apart = std::norm(partial.gain[0] - partial.gain[1]);
    return 2.0 * held_to * std::log(partial.variance) + alike_of(partial) * apart + believe_of(index);
}

// What is believed of one partial.
double CoupledFit::believe_of(std::size_t index) {
    const CoupledPartial& partial = string_.places[index];
    OfPartial& normal = equations_.partials[index];
    const Complex first = partial.gain[0];
    const Complex second = partial.gain[1];
    const double alike = alike_of(partial);
    const std::array<Complex, 4> apart{first, quarter_turned(first), -second, -quarter_turned(second)};
    for (std::size_t i = 0; i < apart.size(); ++i) {
        const Complex here = apart[i];
        normal.right(i) += alike * turned_back(here, second - first).real();
        for (std::size_t j = i; j < apart.size(); ++j)
            normal.at(i, j) += alike * turned_back(here, apart[j]).real();
        // A plane of which nothing is heard must not make the matrix singular.
        normal.at(i, i) += 1e-3;
    }
    if (partial.number == 1) {
        for (std::size_t i = first_decay; i < own; ++i)
            normal.at(i, i) = 1.0;
        return 0.0;
    }
    double cost = 0.0;
    const auto believe = [&](std::size_t i, double off, double deviation) {
        normal.at(i, i) += 1.0 / squared(deviation);
        normal.right(i) -= off / squared(deviation);
        cost += squared(off / deviation);
    };
    const double as_much = 0.5 * string_.stretch * CoupledString::share_of(partial.number);
    believe(second_decay, partial.second_decay - partial.first_decay,
            held_ * decay_deviation * std::max(partial.first_decay, least_decay));
    believe(offset, partial.offset, held_ * usual.offset_deviation);
    believe(self, partial.self - as_much, held_ * self_deviation * as_much + 1e-6);
    normal.at(first_decay, first_decay) += 1.0 / squared(any_decay);
    return cost;
}

// What is believed of the string.
double CoupledFit::believe() {
    OfString& all = equations_.believed;
    all.clear();
    double cost = 0.0;
    const auto believed = [&](std::size_t i, double off, double deviation) {
        all.at(i, i) = 1.0 / squared(deviation);
        all.right(i) = -off / squared(deviation);
        cost += squared(off / deviation);
    };
    const CoupledPartial& lowest = string_.places[0];
    believed(inharmonicity, string_.law.inharmonicity - usual.inharmonicity, usual.inharmonicity_deviation);
    believed(split, string_.law.split, usual.split_deviation);
    believed(angle, string_.angle - usual_angle, angle_deviation);
    believed(phase, string_.phase, held_ * phase_deviation);
    believed(stretch, string_.stretch, usual.glide_deviation);
    believed(share, string_.share - 1.0, held_ * share_deviation);
    believed(second_decay_of_1, lowest.second_decay - lowest.first_decay,
             held_ * decay_deviation * std::max(lowest.first_decay, least_decay));
    all.at(first_decay_of_1, first_decay_of_1) = 1.0 / squared(any_decay);
    return cost;
}

double CoupledFit::assembled(const PartialTracks& tracks) {
    model_.stretch(string_);
    double cost = believe();
    for (std::size_t p = 0; p < string_.count; ++p)
        cost += assemble(tracks, p);
    return cost;
}

// Solves the normal equations, each partial's own unknowns first.
CoupledFit::Step CoupledFit::step(double damping) {
    Step result;
    OfString whole = equations_.believed;
    for (std::size_t p = 0; p < string_.count; ++p) {
        followed_[p] = equations_.partials[p];
        followed_[p].eliminate(own, most, damping);
        result.fall += followed_[p].fall(own);
        whole.add_rest(followed_[p], own);
    }
    whole.eliminate(shared, shared, damping);
    whole.follow(result.string, shared);
    result.fall += whole.fall(shared);
    for (std::size_t p = 0; p < string_.count; ++p) {
        std::copy(result.string.begin(), result.string.end(), &result.partials[p][own]);
        followed_[p].follow(result.partials[p], own);
    }
    return result;
}

void CoupledFit::take(const Step& step) {
    const auto& by = step.string;
    // No leap: the whole step is shortened, its direction kept.
    const double leap =
        std::max({1.0, std::abs(by[log_lowest]) / 0.01, std::abs(by[split]) / 0.0003,
                  std::abs(by[angle]) / 0.3, std::abs(by[phase]) / 0.5, std::abs(by[stretch]) / 0.005});
    const double scale = 1.0 / leap;
    const auto moved = [scale](double value, double change, double least, double most) {
        return std::clamp(value + scale * change, least, most);
    };
    string_.law.log_lowest += scale * by[log_lowest];
    string_.law.inharmonicity = moved(string_.law.inharmonicity, by[inharmonicity], -2e-4, 0.05);
    string_.law.split += scale * by[split];
    string_.angle = moved(string_.angle, by[angle], 0.01, quarter_turn - 0.01);
    string_.phase += scale * by[phase];
    string_.stretch = moved(string_.stretch, by[stretch], 0.0, 0.03);
    string_.share = moved(string_.share, by[share], -0.2, 5.0);
    for (std::size_t p = 0; p < string_.count; ++p) {
        CoupledPartial& partial = string_.places[p];
        const auto& mine = step.partials[p];
        const bool first = partial.number == 1;
        const auto decay = [&](double value, double change) { return moved(value, change, 0.01, any_decay); };
        partial.first_decay = decay(partial.first_decay, first ? by[first_decay_of_1] : mine[first_decay]);
        partial.second_decay =
            decay(partial.second_decay, first ? by[second_decay_of_1] : mine[second_decay]);
        if (first) continue;
        partial.offset = moved(partial.offset, mine[offset], -0.02, 0.02);
        partial.self = moved(partial.self, mine[self], -0.03, 0.03);
    }
}

// At most `iterations` steps, or until the cost falls by less than `enough`. The less a step keeps what it
// promised, the shorter the next (H. B. Nielsen 1999, from memory).
void CoupledFit::improve(const PartialTracks& tracks, int iterations, double enough) {
    double growth = 2.0;
    double cost = assembled(tracks);
    for (int i = 0; i < iterations; ++i) {
        before_ = string_;
        const Step next = step(string_.damping);
        if (!std::isfinite(next.fall)) break;
        take(next);
        std::swap(equations_, equations_before_);
        const double after = assembled(tracks);
        if (after <= cost) {
            const bool still = std::max(cost - after, next.fall) < enough;
            const double off = 2.0 * (cost - after) / next.fall - 1.0;
            string_.damping =
                std::max(least_damping, string_.damping * std::max(1.0 / 3.0, 1.0 - off * off * off));
            cost = after;
            growth = 2.0;
            if (still) break;
        } else {
            string_ = before_;
            std::swap(equations_, equations_before_);
            string_.damping = std::max(careful, growth * string_.damping);
            growth *= 2.0;
        }
    }
    state_misfit(tracks.overlap());
}

void CoupledFit::state_misfit(double overlap) {
    string_.misfit = 0.0;
    for (const CoupledPartial& partial : string_.partials())
        string_.misfit += partial.misfit(overlap);
    // No number, no candidate.
    if (!std::isfinite(string_.misfit)) string_.misfit = std::numeric_limits<double>::infinity();
}

// The plane of which more is heard is the first.
void CoupledFit::name_planes() {
    double first = 0.0, second = 0.0;
    for (const CoupledPartial& partial : string_.partials()) {
        first += std::norm(partial.gain[0]) / partial.first_decay;
        second += std::norm(partial.gain[1]) / partial.second_decay;
    }
    if (first * squared(std::cos(string_.angle)) >= second * squared(std::sin(string_.angle))) return;
    StringLaw& law = string_.law;
    law.log_lowest += std::log1p(law.split);
    law.split = -law.split / (1.0 + law.split);
    string_.angle = quarter_turn - string_.angle;
    string_.phase = -string_.phase;
    for (CoupledPartial& partial : string_.partials()) {
        std::swap(partial.first_decay, partial.second_decay);
        std::swap(partial.gain[0], partial.gain[1]);
    }
}

void CoupledFit::state_deviation(double overlap) {
    OfString information = equations_.believed;
    for (std::size_t p = 0; p < string_.count; ++p) {
        followed_[p] = equations_.partials[p];
        followed_[p].eliminate(own, most, 0.0);
        information.add_rest(followed_[p], own);
    }
    // Windows overlap, so that the values are fewer than they seem.
    string_.deviation =
        std::sqrt(overlap * std::max(0.0, information.inverse_column(log_lowest)[log_lowest]));
}

void CoupledFit::state_structure(const PartialTracks& tracks) {
    structure_ = 0.0;
    for (CoupledPartial& partial : string_.partials()) {
        compare(tracks, partial);
        structure_ = std::max(structure_, structure_of(model_.left(partial), partial.squares));
    }
}

}  // namespace midspan
