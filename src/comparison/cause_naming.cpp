// cause_naming.cpp: what stands beside each cause, and where they would differ.
//
// Room: comparison. Pure.
#include "comparison/cause_naming.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "comparison/cause_priors.hpp"
#include "comparison/square.hpp"

namespace midspan {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t frets_to_clear_a_string = 7;
constexpr double rival_odds = 2.944;  // 19 : 1
constexpr int highest_asked = 19;
constexpr double nut_height_right_to = 0.03;  // mm: its shape along the neck, against exact lengths

int rank(NeckCause cause) { return static_cast<int>(cause); }

/// Names, sizes and rivals for what was chosen.
class Naming {
public:
    Naming(const NeckModel& model, const CauseSearch& search, const CauseEvidence::Chosen& chosen,
           const NeckSurveyOptions& options)
        : model_{model},
          search_{search},
          chosen_{chosen},
          options_{options},
          fit_{search.evidence().fit(with_all_saddles(chosen, search))} {}

    [[nodiscard]] std::vector<NeckFinding> findings() const {
        std::vector<NeckFinding> found;
        Index column = 0;
        for (const std::size_t number : chosen_) {
            const CauseCandidate& candidate = search_.candidate(number);
            const bool whole_string = candidate.cause && candidate.cause->cause == NeckCause::string;
            if (candidate.cause && !beside_bad_string(*candidate.cause)) {
                found.push_back(finding(candidate, column));
            }
            column += whole_string ? NeckModel::waves_of_mass : 1;
        }
        std::stable_sort(found.begin(), found.end(), [](const NeckFinding& a, const NeckFinding& b) {
            if (a.cause.cause != b.cause.cause) return rank(a.cause.cause) < rank(b.cause.cause);
            return std::abs(a.effect.value.value()) > std::abs(b.effect.value.value());
        });
        return found;
    }

private:
    /// How large causes are is asked beside saddles that may all be off: one that does not stand out is not
    /// proved right, and took the others along if it were held to be.
    static CauseEvidence::Chosen with_all_saddles(CauseEvidence::Chosen chosen, const CauseSearch& search) {
        for (const std::size_t saddle : search.saddles()) {
            if (std::find(chosen.begin(), chosen.end(), saddle) == chosen.end()) chosen.push_back(saddle);
        }
        return chosen;
    }

    /// A string that fits nothing shows saddle and nut wherever they are; they are judged with the next
    /// string.
    [[nodiscard]] bool beside_bad_string(const NamedCause& cause) const {
        if (!cause.string || cause.cause == NeckCause::string) return false;
        const NamedCause bad{NeckCause::string, cause.string, {}};
        return std::any_of(chosen_.begin(), chosen_.end(),
                           [&](std::size_t number) { return search_.candidate(number).cause == bad; });
    }

    [[nodiscard]] NeckFinding finding(const CauseCandidate& candidate, Index column) const {
        const NamedCause& cause = *candidate.cause;
        NeckFinding result{cause, {}, {Cents{0.0}, Cents{0.0}}, 1.0, {}, {}};
        if (cause.cause == NeckCause::string) {
            result.effect = unevenness(cause, candidate.size, column);
        } else {
            const double amplitude = candidate.size * fit_.amplitudes[column];
            double deviation = candidate.size * std::sqrt(fit_.covariance(column, column));
            if (cause.cause == NeckCause::nut_height) deviation = std::hypot(deviation, nut_height_right_to);
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

    [[nodiscard]] Uncertain<Cents> unevenness(const NamedCause& cause, double size, Index column) const {
        const MatrixXd shapes = size * model_.uneven(*cause.string);
        const VectorXd shown = shapes * fit_.amplitudes.segment(column, NeckModel::waves_of_mass);
        const MatrixXd covariance =
            fit_.covariance.block(column, column, NeckModel::waves_of_mass, NeckModel::waves_of_mass);
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
    void find_rivals(const CauseCandidate& candidate, NeckFinding& result) const {
        CauseEvidence::Chosen rest = chosen_;
        std::erase(rest, candidate.number);
        const std::vector<double> gains = search_.evidence().gains(rest);
        const double mine = gains[candidate.number];
        std::vector<std::pair<double, NamedCause>> weighed;
        const auto weigh = [&](double gain, const NamedCause& cause) {
            for (auto& [known, other] : weighed) {
                if (other != cause) continue;
                known = std::max(known, gain);
                return;
            }
            weighed.emplace_back(gain, cause);
        };
        for (const CauseCandidate& other : search_.candidates()) {
            if (!other.cause || other.number == candidate.number) continue;
            if (std::find(rest.begin(), rest.end(), other.number) != rest.end()) continue;
            // Where these plucks show both alike, only that one is rarer speaks against it.
            const double least =
                shown_alike(*candidate.cause, *other.cause) ? mine - rarer_than_a_place : gains[other.number];
            weigh(std::max(gains[other.number], least), *other.cause);
        }
        weigh_in_place_of_two(candidate, rest, weigh);
        weigh_groups(candidate, rest, weigh);
        // On few frets an uneven string shows whatever its saddle or nut would, and only that it is rarer
        // speaks against it.
        if (on_few_frets_of_one_string(candidate)) {
            const NamedCause uneven{NeckCause::string, candidate.cause->string, {}};
            weigh(mine - rarer_than_a_place, uneven);
        }
        double others = 0.0;
        std::vector<std::pair<double, NamedCause>> rivals;
        for (const auto& [gain, cause] : weighed) {
            others += std::exp(std::min(gain - mine, 50.0));
            if (mine - gain < rival_odds) rivals.emplace_back(gain, cause);
        }
        result.probability = 1.0 / (1.0 + others);
        std::stable_sort(rivals.begin(), rivals.end(),
                         [](const auto& a, const auto& b) { return a.first > b.first; });
        for (const auto& [gain, cause] : rivals)
            result.rivals.push_back(cause);
        if (!rivals.empty()) result.deciding = deciding(candidate, rest, result.rivals);
    }

    /// Two places that no scatter at all would tell apart at the plucked notes.
    [[nodiscard]] bool shown_alike(const NamedCause& one, const NamedCause& other) const {
        if (!is_place(one) || !is_place(other) || one.string != other.string) return false;
        const VectorXd a = model_.column(one);
        const VectorXd b = model_.column(other);
        constexpr double all_but_parallel = 0.9999;
        return std::abs(a.dot(b)) > all_but_parallel * a.norm() * b.norm();
    }

    /// A place can be taken for two others: a saddle and a high nut make up a nut that is off.
    template <class Weigh>
    void weigh_in_place_of_two(const CauseCandidate& candidate, const CauseEvidence::Chosen& rest,
                               Weigh weigh) const {
        if (!is_place(*candidate.cause)) return;
        const double base = search_.evidence().evidence(rest);
        for (const std::size_t also : rest) {
            const CauseCandidate& second = search_.candidate(also);
            if (!second.cause || !is_place(*second.cause)) continue;
            if (second.cause->string != candidate.cause->string) continue;
            CauseEvidence::Chosen without = rest;
            std::erase(without, also);
            const double lost = search_.evidence().evidence(without) - base;
            const std::vector<double> gains = search_.evidence().gains(without);
            for (const CauseCandidate& other : search_.candidates()) {
                if (!other.cause || !is_place(*other.cause) || other.number == candidate.number) continue;
                if (std::find(rest.begin(), rest.end(), other.number) != rest.end()) continue;
                weigh(lost + gains[other.number], *other.cause);
            }
        }
    }

    /// Of saddle or nut.
    [[nodiscard]] static bool is_place(const NamedCause& cause) {
        return cause.cause == NeckCause::saddle || cause.cause == NeckCause::nut_position ||
               cause.cause == NeckCause::nut_height;
    }

    [[nodiscard]] bool on_few_frets_of_one_string(const CauseCandidate& candidate) const {
        const NamedCause& cause = *candidate.cause;
        return is_place(cause) && cause.string &&
               model_.frets_of().at(*cause.string).size() < frets_to_clear_a_string;
    }

    /// A nut can be taken for all saddles at once, and all saddles for a nut.
    template <class Weigh>
    void weigh_groups(const CauseCandidate& candidate, const CauseEvidence::Chosen& rest, Weigh weigh) const {
        const CauseEvidence::Chosen saddles = search_.saddles();
        if (saddles.size() < 2) return;
        const bool saddle = candidate.cause->cause == NeckCause::saddle;
        const bool nut = !saddle && !candidate.cause->string &&
                         (candidate.cause->cause == NeckCause::nut_position ||
                          candidate.cause->cause == NeckCause::nut_height);
        const double base = search_.evidence().evidence(rest);
        double saddle_odds = 0.0;
        for (const std::size_t s : saddles)
            saddle_odds += search_.evidence().cost(s) / static_cast<double>(saddles.size());
        const double together = saddle_odds * static_cast<double>(saddles.size()) - odds_against_all_saddles;
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
        for (const CauseCandidate& other : search_.candidates()) {
            if (!other.cause || other.cause->string || other.cause->fret) continue;
            if (std::find(without.begin(), without.end(), other.number) != without.end()) continue;
            CauseEvidence::Chosen nut_instead = without;
            nut_instead.push_back(other.number);
            const double dropped =
                saddle_odds * static_cast<double>(chosen_.size() - without.size()) - odds_against_all_saddles;
            weigh(search_.evidence().evidence(nut_instead) - base - std::max(0.0, dropped), *other.cause);
        }
    }

    /// The low fret and the high one, or one of them, at which the explanations differ most from each other.
    [[nodiscard]] std::vector<NeckNote> deciding(const CauseCandidate& mine,
                                                 const CauseEvidence::Chosen& rest,
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
        for (const CauseCandidate& c : search_.candidates()) {
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
    const CauseSearch& search_;
    const CauseEvidence::Chosen& chosen_;
    const NeckSurveyOptions& options_;
    CauseEvidence::Fit fit_;
};

}  // namespace

std::vector<NeckFinding> name_causes(const NeckModel& model, const CauseSearch& search,
                                     const CauseEvidence::Chosen& chosen, const NeckSurveyOptions& options) {
    return Naming{model, search, chosen, options}.findings();
}

}  // namespace midspan
