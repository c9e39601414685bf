// neck_model.hpp: what every cause would do to the plucks of a neck, and what is no fault on any.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <Eigen/Core>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// Columns over the plucks, in the order of the observations; in cents. `observations` and `options` stay the
/// caller's.
class NeckModel {
public:
    /// The shapes in which the mass along a string can be uneven.
    static constexpr Eigen::Index waves_of_mass = 6;

    NeckModel(const std::vector<SurveyedString>& strings, const std::vector<NeckObservation>& observations,
              const NeckSurveyOptions& options);

    [[nodiscard]] Eigen::Index size() const { return static_cast<Eigen::Index>(observations_.size()); }
    [[nodiscard]] const NeckObservation& at(Eigen::Index i) const {
        return observations_[static_cast<std::size_t>(i)];
    }
    [[nodiscard]] const SurveyedString& string(int number) const { return *of_number_.at(number); }
    [[nodiscard]] const std::map<int, std::set<int>>& frets_of() const { return frets_of_; }
    [[nodiscard]] const std::map<int, std::set<int>>& strings_at() const { return strings_at_; }
    [[nodiscard]] const std::map<std::pair<int, int>, std::vector<Eigen::Index>>& plucks() const {
        return plucks_;
    }
    [[nodiscard]] bool several_strings() const { return frets_of_.size() > 1; }

    /// What a string shows on any neck, beyond what its saddle removes.
    [[nodiscard]] const Eigen::VectorXd& usual() const { return usual_; }
    /// Errors less what is usual.
    [[nodiscard]] Eigen::VectorXd errors() const;

    /// What one millimetre (of a fret: one cent) of a cause does to a note.
    [[nodiscard]] double effect(const NamedCause& cause, int of_string, int fret) const;
    [[nodiscard]] Eigen::VectorXd column(const NamedCause& cause) const;

    /// What an uneven string can show: waves_of_mass columns, each as large as one makes them that are one
    /// cent together, by the root of their mean square over the string.
    [[nodiscard]] Eigen::MatrixXd uneven(int of_string) const;

    /// What is no fault, each column as large as its standard deviation.
    [[nodiscard]] Eigen::MatrixXd background() const;

    /// The effect of a nut's height is not proportional to it: from now on it is reckoned where it was found,
    /// and what is not known of one string's stretch against the others' goes for that much more of it.
    void set_nut_too_high(const NamedCause& cause, Millimetres height);

    /// A string was found to be so many times as uneven as a bad one is expected to be: what is far beyond
    /// its prior size would pass for scatter.
    void set_unevenness(int of_string, double times) { unevenness_[of_string] = times; }

private:
    template <class Effect>
    [[nodiscard]] Eigen::VectorXd over_plucks(Effect effect) const;
    template <class Effect>
    [[nodiscard]] Eigen::VectorXd over_plucks_of(int string, Effect effect) const;
    void expect_usual(int number, const std::set<int>& frets);
    [[nodiscard]] Eigen::VectorXd stretch() const;
    void add_background_of(int number, std::vector<Eigen::VectorXd>& columns) const;

    const std::vector<NeckObservation>& observations_;
    const NeckSurveyOptions& options_;
    std::map<int, const SurveyedString*> of_number_;
    std::map<std::pair<int, int>, std::vector<Eigen::Index>> plucks_;
    std::map<int, std::set<int>> strings_at_;
    std::map<int, std::set<int>> frets_of_;
    std::set<int> stated_;                  // strings of which all errors are known
    std::map<int, double> between_places_;  // cents at the 12th, from its best place to that for all frets
    std::map<int, double> unevenness_;      // as found, by string; 1 where none was
    std::map<int, double> nut_too_high_;    // mm, as found, by string; 0 is all of them
    Eigen::VectorXd usual_;
};

}  // namespace midspan
