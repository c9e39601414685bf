// neck_causes.cpp: columns for all that could be, the search among them, and names for what it found.
//
// Room: comparison. Pure.
#include "comparison/neck_causes.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "comparison/cause_evidence.hpp"
#include "comparison/neck_shapes.hpp"
#include "comparison/square.hpp"

namespace midspan {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// What is on every neck and is no fault: standard deviations.
constexpr double between_places = 0.35;   // of the way from the best place for the 12th to that for all frets
constexpr double fret_at_random = 0.03;   // mm along the string, a well-made fret
constexpr double saddle_at_random = 0.1;  // cents at the 12th
constexpr double usual_relief = 0.2;      // mm
constexpr double relief_unknown = 0.1;    // mm
constexpr double relief_known = 0.04;     // mm
constexpr double usual_finger = 5.0;      // mm behind the fret
constexpr double finger_unknown = 2.5;    // mm
constexpr double make_unknown = 0.35;     // of the stretch, where the string's make is not known
constexpr double make_known = 0.12;       // and where it is
constexpr double heights_unknown = 0.25;  // of the stretch, on all strings together
constexpr double heights_known = 0.10;

// How large faults are before anything is known of them: standard deviations.
constexpr double saddle_size = 2.0;        // mm
constexpr double nut_position_size = 0.8;  // mm
constexpr double nut_height_size = 0.5;    // mm
constexpr double fret_size = 3.0;          // cents
constexpr double string_size = 6.0;        // cents
constexpr double bent_size = 8.0;          // cents

// How unlikely they are: logarithms of odds.
constexpr double saddle_odds = 2.7;
constexpr double all_saddles_odds = 3.0;
constexpr double nut_odds = 3.2;
constexpr double nut_of_one_odds = 4.0;
constexpr double fret_odds = 3.5;
constexpr double fret_on_string_odds = 4.5;
constexpr double string_odds = 5.0;
constexpr double bent_odds = 3.5;

// The nut's height where its effect is reckoned before any is known: a fault that is worth mending. And the
// bounds within which it makes sense.
constexpr double first_nut_height = 0.3;  // mm
constexpr double lowest_nut_height = -0.4;
constexpr double highest_nut_height = 1.5;

constexpr int waves_of_mass = 6;
constexpr std::size_t frets_to_judge_a_string = 5;
constexpr std::size_t frets_to_clear_a_string = 7;
constexpr double rival_odds = 2.944;   // 19 : 1
constexpr double prior_plucks = 2.0;   // what the given scatter is worth
constexpr double ninety_five = 1.645;  // normal quantile
constexpr int highest_asked = 19;

/// A cause among those that can be found, or a bent pluck.
struct Candidate {
    std::optional<NamedCause> cause;  // nothing: a bent pluck, or all saddles at once
    std::optional<Index> pluck;
    std::size_t number;  // in CauseEvidence
    double size;         // of one unit, in mm or cents
};

/// All that does not change while the scatter is made out.
class NeckModel {
public:
    NeckModel(const std::vector<SurveyedString>& strings, const std::vector<NeckObservation>& observations,
              const NeckSurveyOptions& options)
        : observations_{observations}, options_{options} {
        for (const SurveyedString& string : strings)
            of_number_[string.number] = &string;
        for (std::size_t i = 0; i < observations.size(); ++i) {
            const NeckObservation& o = observations[i];
            plucks_[{o.string, o.fret}].push_back(static_cast<Index>(i));
            strings_at_[o.fret].insert(o.string);
            frets_of_[o.string].insert(o.fret);
        }
        usual_ = VectorXd::Zero(size());
        for (const auto& [string, frets] : frets_of_)
            expect_usual(string, frets);
    }

    [[nodiscard]] Index size() const { return static_cast<Index>(observations_.size()); }
    [[nodiscard]] const SurveyedString& string(int number) const { return *of_number_.at(number); }
    [[nodiscard]] const std::map<int, std::set<int>>& frets_of() const { return frets_of_; }
    [[nodiscard]] const std::map<int, std::set<int>>& strings_at() const { return strings_at_; }
    [[nodiscard]] const std::map<std::pair<int, int>, std::vector<Index>>& plucks() const { return plucks_; }
    [[nodiscard]] const NeckObservation& at(Index i) const {
        return observations_[static_cast<std::size_t>(i)];
    }
    [[nodiscard]] const VectorXd& usual() const { return usual_; }

    /// Errors less what is usual.
    [[nodiscard]] VectorXd errors() const {
        VectorXd y(size());
        for (Index i = 0; i < size(); ++i)
            y[i] = at(i).error.value();
        return y - usual_;
    }

    /// A column from what a cause does to a note.
    template <class Effect>
    [[nodiscard]] VectorXd column(Effect effect) const {
        VectorXd values(size());
        for (Index i = 0; i < size(); ++i)
            values[i] = effect(at(i).string, at(i).fret);
        return values;
    }

    /// What one millimetre (of a fret: one cent) of a cause does to a note.
    [[nodiscard]] double effect(const NamedCause& cause, int of_string, int fret) const {
        if (cause.string && *cause.string != of_string) return 0.0;
        if (cause.fret && *cause.fret != fret) return 0.0;
        switch (cause.cause) {
            case NeckCause::saddle:
                return cents_per_millimetre(string(of_string)) * saddle_share(fret);
            case NeckCause::nut_position:
                return cents_per_millimetre(string(of_string));
            case NeckCause::nut_height:
                return nut_height_effect(string(of_string), fret, nut_too_high(cause));
            case NeckCause::fret:
            case NeckCause::fret_on_string:
                return 1.0;
            case NeckCause::string:
                break;
        }
        return 0.0;
    }
    [[nodiscard]] VectorXd column(const NamedCause& cause) const {
        return column([&](int s, int fret) { return effect(cause, s, fret); });
    }

    /// How far the nut is too high where its effect was reckoned; it is not proportional to it.
    [[nodiscard]] double nut_too_high(const NamedCause& cause) const {
        const auto found = nut_too_high_.find(cause.string.value_or(0));
        return found == nut_too_high_.end() ? first_nut_height : found->second;
    }
    /// From now on reckon there.
    void set_nut_too_high(const NamedCause& cause, double height) {
        nut_too_high_[cause.string.value_or(0)] = std::clamp(height, lowest_nut_height, highest_nut_height);
    }

    /// What an uneven string can show, scaled to the usual size of it.
    [[nodiscard]] MatrixXd uneven(int of_string) const {
        MatrixXd columns(size(), waves_of_mass);
        for (int k = 1; k <= waves_of_mass; ++k)
            columns.col(k - 1) =
                column([&](int s, int fret) { return s == of_string ? uneven_mass_effect(k, fret) : 0.0; });
        const auto notes = static_cast<double>(
            std::count_if(observations_.begin(), observations_.end(),
                          [&](const NeckObservation& o) { return o.string == of_string; }));
        const double rms = std::sqrt(columns.squaredNorm() / notes);
        return rms > 0.0 ? MatrixXd{string_size / rms * columns} : columns;
    }

    /// What is no fault, in cents.
    [[nodiscard]] MatrixXd background() const {
        std::vector<VectorXd> columns;
        for (const auto& [number, frets] : frets_of_) {
            const auto only = [of = number](auto effect) {
                return [of, effect](int s, int fret) { return s == of ? effect(fret) : 0.0; };
            };
            const double reference = string(number).reference_uncertainty.value();
            if (reference > 0.0) columns.push_back(column(only([&](int) { return reference; })));
            const double placed = saddle_at_random + between_places * between_places_.at(number);
            columns.push_back(column(only([&](int fret) { return placed * saddle_share(fret); })));
            const double share = known_.contains(number) ? make_known : make_unknown;
            VectorXd stretch = column(only([&](int) { return share; }));
            columns.push_back(stretch.cwiseProduct(usual_));
        }
        const bool known = known_.size() == frets_of_.size();
        columns.push_back((known && options_.heights_known ? heights_known : heights_unknown) * usual_);
        columns.push_back((known && options_.relief_known ? relief_known : relief_unknown) *
                          column([&](int s, int fret) { return relief_effect(string(s), fret); }));
        columns.push_back(finger_unknown *
                          column([&](int s, int fret) { return finger_effect(string(s), fret); }));
        for (const auto& entry : strings_at_) {
            columns.push_back(column([&](int s, int fret) {
                return fret == entry.first ? fret_at_random * fret_cents_per_millimetre(string(s), fret)
                                           : 0.0;
            }));
        }
        MatrixXd all(size(), static_cast<Index>(columns.size()));
        for (std::size_t i = 0; i < columns.size(); ++i)
            all.col(static_cast<Index>(i)) = columns[i];
        return all;
    }

private:
    /// What physics knows of the string, or what is usual, less the part that its saddle removes.
    void expect_usual(int number, const std::set<int>& frets) {
        std::map<int, double> expected;
        for (const KnownError& k : options_.known) {
            if (k.string == number) expected[k.fret] = k.error.value();
        }
        const bool known =
            std::all_of(frets.begin(), frets.end(), [&](int fret) { return expected.contains(fret); });
        if (known) known_.insert(number);
        double along = 0.0;
        double length = 0.0;
        for (const int fret : frets) {
            if (!known) {
                expected[fret] = usual_stretch(string(number), fret) +
                                 usual_relief * relief_effect(string(number), fret) +
                                 usual_finger * finger_effect(string(number), fret);
            }
            along += expected[fret] * saddle_share(fret);
            length += square(saddle_share(fret));
        }
        // A saddle is right where its string is best over all frets, or where the 12th is, as most set it.
        const double for_all = along / length;
        const double for_12th = expected.contains(12) ? expected.at(12) : for_all;
        between_places_[number] = std::abs(for_12th - for_all);
        const double removed = 0.5 * (for_all + for_12th);
        usual_ += column([&](int s, int fret) {
            return s == number ? expected.at(fret) - removed * saddle_share(fret) : 0.0;
        });
    }

    const std::vector<NeckObservation>& observations_;
    const NeckSurveyOptions& options_;
    std::map<int, const SurveyedString*> of_number_;
    std::map<std::pair<int, int>, std::vector<Index>> plucks_;
    std::map<int, std::set<int>> strings_at_;
    std::map<int, std::set<int>> frets_of_;
    std::set<int> known_;
    std::map<int, double> between_places_;  // cents at the 12th
    std::map<int, double> nut_too_high_;    // mm, by string; 0 is all of them
    VectorXd usual_;
};

/// The search, for one size of the scatter.
class Search {
public:
    Search(const NeckModel& model, double scatter, double plucks_each = 1.0)
        : model_{model},
          deviation_{deviations(model, scatter, plucks_each)},
          evidence_{model.errors().cwiseQuotient(deviation_), over_deviation(model.background())} {
        for (const auto& [number, frets] : model.frets_of())
            add({NeckCause::saddle, number, {}}, saddle_size, saddle_odds);
        for (const auto& [cause, size] : {std::pair{NeckCause::nut_position, nut_position_size},
                                          std::pair{NeckCause::nut_height, nut_height_size}}) {
            const bool several = model.frets_of().size() > 1;
            if (several) add({cause, {}, {}}, size, nut_odds);
            for (const auto& [number, frets] : model.frets_of())
                add({cause, number, {}}, size, several ? nut_of_one_odds : nut_odds);
        }
        for (const auto& [fret, strings] : model.strings_at()) {
            if (strings.size() > 1) add({NeckCause::fret, {}, fret}, fret_size, fret_odds);
        }
        for (const auto& [note, plucks] : model.plucks()) {
            if (plucks.size() > 1)
                add({NeckCause::fret_on_string, note.first, note.second}, fret_size, fret_on_string_odds);
        }
        for (const auto& [number, frets] : model.frets_of()) {
            if (frets.size() < frets_to_judge_a_string) continue;
            const std::size_t cause = evidence_.add(over_deviation(model.uneven(number)), string_odds);
            candidates_.push_back({NamedCause{NeckCause::string, number, {}}, {}, cause, 1.0});
        }
        for (Index i = 0; i < model.size(); ++i) {
            VectorXd one = VectorXd::Zero(model.size());
            one[i] = bent_size / deviation_[i];
            candidates_.push_back({{}, i, evidence_.add(one, bent_odds), bent_size});
        }
        evidence_.prepare();
    }

    [[nodiscard]] CauseEvidence::Chosen chosen() const {
        const auto from_nothing = evidence_.climb({});
        const auto from_saddles = evidence_.climb(saddles());
        return evidence_.evidence(from_nothing) >= evidence_.evidence(from_saddles) ? from_nothing
                                                                                    : from_saddles;
    }

    [[nodiscard]] const std::vector<Candidate>& candidates() const { return candidates_; }
    [[nodiscard]] const Candidate& candidate(std::size_t number) const { return candidates_[number]; }
    [[nodiscard]] const CauseEvidence& evidence() const { return evidence_; }
    [[nodiscard]] const VectorXd& deviation() const { return deviation_; }

    /// Saddles of all strings.
    [[nodiscard]] CauseEvidence::Chosen saddles() const {
        CauseEvidence::Chosen all;
        for (const Candidate& c : candidates_) {
            if (c.cause && c.cause->cause == NeckCause::saddle) all.push_back(c.number);
        }
        return all;
    }

private:
    static VectorXd deviations(const NeckModel& model, double scatter, double plucks_each) {
        VectorXd deviation(model.size());
        for (Index i = 0; i < model.size(); ++i)
            deviation[i] =
                std::sqrt((square(scatter) + square(model.at(i).uncertainty.value())) / plucks_each);
        return deviation;
    }
    [[nodiscard]] MatrixXd over_deviation(MatrixXd columns) const {
        columns.array().colwise() /= deviation_.array();
        return columns;
    }
    void add(const NamedCause& cause, double size, double cost) {
        const VectorXd column = size * model_.column(cause);
        candidates_.push_back({cause, {}, evidence_.add(over_deviation(column), cost), size});
    }

    const NeckModel& model_;
    VectorXd deviation_;
    CauseEvidence evidence_;
    std::vector<Candidate> candidates_;
};

/// How much one pluck scatters, from what all shapes together leave, robustly: the median of what is left,
/// made larger by what the shapes took.
double first_scatter(const NeckModel& model, double prior) {
    double scatter = prior;
    for (int round = 0; round < 3; ++round) {
        const Search search{model, scatter};
        CauseEvidence::Chosen all;
        for (const Candidate& c : search.candidates()) {
            if (c.cause && c.cause->cause != NeckCause::string && c.cause->cause != NeckCause::fret_on_string)
                all.push_back(c.number);
        }
        const CauseEvidence::Fit fit = search.evidence().fit(all);
        const VectorXd left = model.errors().cwiseQuotient(search.deviation()) - fit.all;
        std::vector<double> sizes;
        for (const double v : left)
            sizes.push_back(std::abs(v));
        const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
        std::nth_element(sizes.begin(), middle, sizes.end());
        const auto n = static_cast<double>(model.size());
        const double free = n - fit.parameters;
        if (free < 2.0) return prior;
        constexpr double normal_median = 0.6745;
        constexpr double worth = 0.37;  // of a median, against a root mean square
        const double seen = *middle / normal_median * std::sqrt(n / free) * scatter;
        const double weight = worth * free;
        scatter = std::sqrt((prior_plucks * square(prior) + weight * square(seen)) / (prior_plucks + weight));
    }
    return scatter;
}

/// And once the causes are known.
double scatter_beyond(const Search& search, const CauseEvidence::Chosen& chosen, const NeckModel& model,
                      double prior) {
    const CauseEvidence::Fit fit = search.evidence().fit(chosen);
    const VectorXd left = model.errors() - fit.all.cwiseProduct(search.deviation());
    double squares = prior_plucks * square(prior);
    for (Index i = 0; i < model.size(); ++i)
        squares += square(left[i]) - square(model.at(i).uncertainty.value());
    const double free = static_cast<double>(model.size()) - fit.parameters;
    // Readings can be no better than their own uncertainty; a hand can be no better than a twentieth of a
    // cent.
    constexpr double steadiest = 0.05;
    return std::sqrt(std::max(square(steadiest), squares / (prior_plucks + std::max(0.0, free))));
}

double odds_against(const NamedCause& cause, bool several_strings) {
    if (cause.cause == NeckCause::fret) return fret_odds;
    if (cause.cause == NeckCause::saddle) return saddle_odds;
    return cause.string && several_strings ? nut_of_one_odds : nut_odds;
}

int rank(NeckCause cause) { return static_cast<int>(cause); }

/// Names, sizes and rivals for what was chosen.
class Naming {
public:
    Naming(const NeckModel& model, const Search& search, const CauseEvidence::Chosen& chosen,
           const NeckSurveyOptions& options)
        : model_{model},
          search_{search},
          chosen_{chosen},
          options_{options},
          fit_{search.evidence().fit(chosen)} {}

    [[nodiscard]] std::vector<NeckFinding> findings() const {
        std::vector<NeckFinding> found;
        Index column = 0;
        for (const std::size_t number : chosen_) {
            const Candidate& candidate = search_.candidate(number);
            const bool whole_string = candidate.cause && candidate.cause->cause == NeckCause::string;
            if (candidate.cause && !beside_bad_string(*candidate.cause)) {
                found.push_back(finding(candidate, column));
            }
            column += whole_string ? waves_of_mass : 1;
        }
        std::stable_sort(found.begin(), found.end(), [](const NeckFinding& a, const NeckFinding& b) {
            if (a.cause.cause != b.cause.cause) return rank(a.cause.cause) < rank(b.cause.cause);
            return std::abs(a.effect.value.value()) > std::abs(b.effect.value.value());
        });
        return found;
    }

    [[nodiscard]] const CauseEvidence::Fit& fit() const { return fit_; }

private:
    /// A string that fits nothing shows saddle and nut wherever they are; they are judged with the next
    /// string.
    [[nodiscard]] bool beside_bad_string(const NamedCause& cause) const {
        if (!cause.string || cause.cause == NeckCause::string) return false;
        const NamedCause bad{NeckCause::string, cause.string, {}};
        return std::any_of(chosen_.begin(), chosen_.end(),
                           [&](std::size_t number) { return search_.candidate(number).cause == bad; });
    }

    [[nodiscard]] NeckFinding finding(const Candidate& candidate, Index column) const {
        const NamedCause& cause = *candidate.cause;
        NeckFinding result{cause, {}, {Cents{0.0}, Cents{0.0}}, 1.0, {}, {}};
        if (cause.cause == NeckCause::string) {
            result.effect = unevenness(cause, column);
        } else {
            const double amplitude = candidate.size * fit_.amplitudes[column];
            const double deviation = candidate.size * std::sqrt(fit_.covariance(column, column));
            const double most = most_effect(cause);
            result.effect = {Cents{most * amplitude}, Cents{std::abs(most) * deviation}};
            const bool is_fret = cause.cause == NeckCause::fret || cause.cause == NeckCause::fret_on_string;
            if (!is_fret) result.length = {Millimetres{amplitude}, Millimetres{deviation}};
        }
        find_rivals(candidate, result);
        return result;
    }

    [[nodiscard]] double most_effect(const NamedCause& cause) const {
        double most = 0.0;
        for (const auto& [note, plucks] : model_.plucks()) {
            const double effect = model_.effect(cause, note.first, note.second);
            if (std::abs(effect) > std::abs(most)) most = effect;
        }
        return most;
    }

    [[nodiscard]] Uncertain<Cents> unevenness(const NamedCause& cause, Index column) const {
        const MatrixXd shapes = model_.uneven(*cause.string);
        const VectorXd shown = shapes * fit_.amplitudes.segment(column, waves_of_mass);
        const MatrixXd covariance = fit_.covariance.block(column, column, waves_of_mass, waves_of_mass);
        double notes = 0.0;
        double variance = 0.0;
        for (Index i = 0; i < model_.size(); ++i) {
            if (model_.at(i).string != *cause.string) continue;
            notes += 1.0;
            variance += shapes.row(i).dot(covariance * shapes.row(i).transpose());
        }
        const double rms = std::sqrt(shown.squaredNorm() / notes);
        return {Cents{rms}, Cents{std::sqrt(variance) / notes}};
    }

    /// Every other cause that would take its place, and how likely each is.
    void find_rivals(const Candidate& candidate, NeckFinding& result) const {
        CauseEvidence::Chosen rest = chosen_;
        std::erase(rest, candidate.number);
        const std::vector<double> gains = search_.evidence().gains(rest);
        const double mine = gains[candidate.number];
        double others = 0.0;
        std::vector<std::pair<double, NamedCause>> rivals;
        const auto weigh = [&](double gain, const NamedCause& cause) {
            others += std::exp(std::min(gain - mine, 50.0));
            if (mine - gain < rival_odds) rivals.emplace_back(gain, cause);
        };
        for (const Candidate& other : search_.candidates()) {
            if (!other.cause || other.number == candidate.number) continue;
            if (std::find(rest.begin(), rest.end(), other.number) != rest.end()) continue;
            weigh(gains[other.number], *other.cause);
        }
        weigh_groups(candidate, rest, weigh);
        // On few frets an uneven string shows whatever its saddle or nut would, and only that it is rarer
        // speaks against it.
        if (on_few_frets_of_one_string(candidate)) {
            weigh(mine + odds_against(*candidate.cause, several_strings()) - string_odds,
                  NamedCause{NeckCause::string, candidate.cause->string, {}});
        }
        result.probability = 1.0 / (1.0 + others);
        std::stable_sort(rivals.begin(), rivals.end(),
                         [](const auto& a, const auto& b) { return a.first > b.first; });
        for (const auto& [gain, cause] : rivals)
            result.rivals.push_back(cause);
        if (!rivals.empty()) result.deciding = deciding(candidate, rest, result.rivals);
    }

    [[nodiscard]] bool several_strings() const { return model_.frets_of().size() > 1; }

    [[nodiscard]] bool on_few_frets_of_one_string(const Candidate& candidate) const {
        const NamedCause& cause = *candidate.cause;
        const bool place = cause.cause == NeckCause::saddle || cause.cause == NeckCause::nut_position ||
                           cause.cause == NeckCause::nut_height;
        return place && cause.string && model_.frets_of().at(*cause.string).size() < frets_to_clear_a_string;
    }

    /// A nut can be taken for all saddles at once, and all saddles for a nut.
    template <class Weigh>
    void weigh_groups(const Candidate& candidate, const CauseEvidence::Chosen& rest, Weigh weigh) const {
        const CauseEvidence::Chosen saddles = search_.saddles();
        if (saddles.size() < 2) return;
        const bool saddle = candidate.cause->cause == NeckCause::saddle;
        const bool nut = !saddle && !candidate.cause->string &&
                         (candidate.cause->cause == NeckCause::nut_position ||
                          candidate.cause->cause == NeckCause::nut_height);
        const double base = search_.evidence().evidence(rest);
        // All saddles off is one thing that happens, not as many as there are strings.
        const double together = saddle_odds * static_cast<double>(saddles.size()) - all_saddles_odds;
        if (nut) {
            CauseEvidence::Chosen other = rest;
            for (const std::size_t s : saddles) {
                if (std::find(other.begin(), other.end(), s) == other.end()) other.push_back(s);
            }
            const double already = static_cast<double>(saddles.size() + rest.size() - other.size());
            const double share = 1.0 - already / static_cast<double>(saddles.size());
            weigh(search_.evidence().evidence(other) - base + share * together,
                  NamedCause{NeckCause::saddle, {}, {}});
        }
        if (!saddle) return;
        CauseEvidence::Chosen without = rest;
        std::erase_if(without, [&](std::size_t c) {
            return std::find(saddles.begin(), saddles.end(), c) != saddles.end();
        });
        if (without.size() + 1 >= chosen_.size()) return;  // the only saddle: weighed already
        for (const Candidate& other : search_.candidates()) {
            if (!other.cause || other.cause->string || other.cause->fret) continue;
            if (std::find(without.begin(), without.end(), other.number) != without.end()) continue;
            CauseEvidence::Chosen nut_instead = without;
            nut_instead.push_back(other.number);
            const double dropped =
                saddle_odds * static_cast<double>(chosen_.size() - without.size()) - all_saddles_odds;
            weigh(search_.evidence().evidence(nut_instead) - base - std::max(0.0, dropped), *other.cause);
        }
    }

    /// The low fret and the high one, or one of them, at which the explanations differ most from each other.
    [[nodiscard]] std::vector<NeckNote> deciding(const Candidate& mine, const CauseEvidence::Chosen& rest,
                                                 const std::vector<NamedCause>& rivals) const {
        int string = mine.cause->string.value_or(0);
        for (const NamedCause& rival : rivals) {
            if (string == 0) string = rival.string.value_or(0);
        }
        if (string == 0) string = middle_string();
        std::vector<Eigen::VectorXd> profiles{profile(*mine.cause, rest, string)};
        for (const NamedCause& rival : rivals)
            profiles.push_back(profile(rival, rest, string));
        // The two that are hardest to tell apart count.
        const auto told_apart = [&](int low, int high) {
            double least = std::numeric_limits<double>::infinity();
            for (auto one = profiles.begin(); one != profiles.end(); ++one) {
                for (auto other = one + 1; other != profiles.end(); ++other) {
                    double squares = 0.0;
                    for (const int fret : {low, high}) {
                        if (fret > 0) squares += square((*one)[fret] - (*other)[fret]);
                    }
                    least = std::min(least, squares);
                }
            }
            return least;
        };
        const auto unheard = [&](int from, int to) {
            std::vector<int> frets;
            for (int fret = from; fret <= to; ++fret) {
                if (!model_.plucks().contains({string, fret})) frets.push_back(fret);
            }
            // Once more, where all have been heard.
            return frets.empty() ? std::vector{from, to} : frets;
        };
        const int last = std::min(options_.frets, highest_asked);
        std::pair best{1, last};
        for (const int low : unheard(1, std::min(5, last))) {
            for (const int high : unheard(std::min(9, last), last)) {
                if (told_apart(low, high) > told_apart(best.first, best.second) + 1e-9) best = {low, high};
            }
        }
        const double both = told_apart(best.first, best.second);
        constexpr double enough = 0.9;
        if (told_apart(best.first, 0) >= enough * both) return {{string, best.first}};
        if (told_apart(0, best.second) >= enough * both) return {{string, best.second}};
        return {{string, best.first}, {string, best.second}};
    }

    /// What a cause would show at every fret of a string, by its best fit beside the rest.
    [[nodiscard]] VectorXd profile(const NamedCause& cause, const CauseEvidence::Chosen& rest,
                                   int string) const {
        VectorXd shown = VectorXd::Zero(options_.frets + 1);
        NamedCause as_if = cause;
        if (cause.cause == NeckCause::saddle && !cause.string) as_if.string = string;
        for (const Candidate& c : search_.candidates()) {
            if (c.cause != as_if || cause.cause == NeckCause::string) continue;
            CauseEvidence::Chosen with = rest;
            if (std::find(with.begin(), with.end(), c.number) == with.end()) with.push_back(c.number);
            const double amplitude = c.size * search_.evidence().fit(with).amplitudes.tail(1)[0];
            for (int fret = 1; fret <= options_.frets; ++fret)
                shown[fret] = amplitude * model_.effect(as_if, string, fret);
        }
        return shown;
    }

    [[nodiscard]] int middle_string() const {
        auto it = model_.frets_of().begin();
        std::advance(it, static_cast<std::ptrdiff_t>(model_.frets_of().size() / 2));
        return it->first;
    }

    const NeckModel& model_;
    const Search& search_;
    const CauseEvidence::Chosen& chosen_;
    const NeckSurveyOptions& options_;
    CauseEvidence::Fit fit_;
};

/// Amplitude, in units of the prior, that 95 of 100 surveys would find.
double detectable_amplitude(double information, double odds) {
    const double threshold = std::sqrt((1.0 + information) * (2.0 * odds + std::log1p(information)));
    return (threshold + ninety_five * std::sqrt(information)) / information;
}

std::vector<DetectableSize> detectable_sizes(const NeckModel& model, double scatter) {
    const Search now{model, scatter};
    const Search thrice{model, scatter, 3.0};
    const bool several = model.frets_of().size() > 1;
    std::vector<DetectableSize> sizes;
    std::map<NeckCause, DetectableSize> worst;  // of one string: the string where least shows
    for (const Candidate& c : now.candidates()) {
        if (!c.cause || c.cause->cause == NeckCause::string || c.cause->cause == NeckCause::fret_on_string) {
            continue;
        }
        const NamedCause& cause = *c.cause;
        // A nut is looked for beside saddles that may all be off.
        const CauseEvidence::Chosen beside =
            cause.cause == NeckCause::saddle ? CauseEvidence::Chosen{} : now.saddles();
        const auto size_in = [&](const Search& search) {
            const double information = search.evidence().information(c.number, beside);
            if (information < 1e-6) return std::optional<double>{};
            double size = c.size * detectable_amplitude(information, odds_against(cause, several));
            if (cause.fret) {
                size /= fret_cents_per_millimetre(model.string(*model.strings_at().at(*cause.fret).begin()),
                                                  *cause.fret);
            }
            return std::optional{size};
        };
        const auto once = size_in(now);
        const auto three = size_in(thrice);
        if (!once || !three) continue;
        const DetectableSize size{cause.cause, !cause.string, cause.fret, Millimetres{*once},
                                  Millimetres{*three}};
        if (!cause.string) {
            sizes.push_back(size);
            continue;
        }
        const auto [it, fresh] = worst.emplace(cause.cause, size);
        if (!fresh && size.size > it->second.size) it->second = size;
    }
    for (const auto& [cause, size] : worst)
        sizes.push_back(size);
    return sizes;
}

/// The effect of a nut's height is not proportional to it: from now on it is reckoned where it was found.
void reckon_at_found_heights(const Search& search, const CauseEvidence::Chosen& chosen, NeckModel& model) {
    const CauseEvidence::Fit fit = search.evidence().fit(chosen);
    Index column = 0;
    for (const std::size_t number : chosen) {
        const Candidate& candidate = search.candidate(number);
        const auto is = [&candidate](NeckCause cause) {
            return candidate.cause && candidate.cause->cause == cause;
        };
        if (is(NeckCause::nut_height))
            model.set_nut_too_high(*candidate.cause, candidate.size * fit.amplitudes[column]);
        column += is(NeckCause::string) ? waves_of_mass : 1;
    }
}

/// Where as many plucks of a note were bent as were not, nobody knows which: harmonics among fretted notes
/// sound like that. None of them counts.
void leave_out_disagreeing(const std::vector<NeckObservation>& observations, std::vector<bool>& bent) {
    struct Plucks {
        int all = 0;
        int bent = 0;
    };
    std::map<std::pair<int, int>, Plucks> notes;
    for (std::size_t i = 0; i < observations.size(); ++i) {
        Plucks& plucks = notes[{observations[i].string, observations[i].fret}];
        plucks.all += 1;
        plucks.bent += bent[i] ? 1 : 0;
    }
    for (std::size_t i = 0; i < observations.size(); ++i) {
        const Plucks& plucks = notes[{observations[i].string, observations[i].fret}];
        if (2 * plucks.bent >= plucks.all) bent[i] = true;
    }
}

}  // namespace

NeckCauses find_causes(const std::vector<SurveyedString>& strings,
                       const std::vector<NeckObservation>& observations, const NeckSurveyOptions& options) {
    assert(!observations.empty());
    NeckModel model{strings, observations, options};
    const double prior = options.fretting_scatter.value();
    double scatter = first_scatter(model, prior);
    {
        const Search first{model, scatter};
        const CauseEvidence::Chosen chosen = first.chosen();
        scatter = scatter_beyond(first, chosen, model, prior);
        reckon_at_found_heights(first, chosen, model);
    }
    const Search search{model, scatter};
    const CauseEvidence::Chosen chosen = search.chosen();
    const Naming naming{model, search, chosen, options};

    NeckCauses result;
    result.findings = naming.findings();
    result.scatter = scatter;
    result.bent.assign(observations.size(), false);
    for (const std::size_t number : chosen) {
        if (const auto pluck = search.candidate(number).pluck) {
            result.bent[static_cast<std::size_t>(*pluck)] = true;
        }
    }
    leave_out_disagreeing(observations, result.bent);
    const VectorXd causes = naming.fit().causes.cwiseProduct(search.deviation()) + model.usual();
    const VectorXd all = naming.fit().all.cwiseProduct(search.deviation()) + model.usual();
    for (Index i = 0; i < model.size(); ++i) {
        result.fitted.push_back(causes[i]);
        result.unexplained.push_back(model.at(i).error.value() - all[i]);
    }
    result.detectable = detectable_sizes(model, scatter);
    return result;
}

}  // namespace midspan
