// cause_search.hpp: which causes are at work in the plucks of a neck, for one size of their scatter.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "comparison/cause_evidence.hpp"
#include "comparison/cause_priors.hpp"
#include "comparison/neck_model.hpp"
#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// A cause among those that can be found, or a bent pluck.
struct CauseCandidate {
    std::optional<NamedCause> cause;
    std::optional<Eigen::Index> bent_pluck;  ///< of the observations; one of the two is there
    std::size_t number;                      ///< in CauseEvidence
    double size;                             ///< of one unit of amplitude there: mm; of a fret, a string and
                                             ///< a pluck cents
};

class CauseSearch {
public:
    /// scatter      standard deviation of one pluck, cents, as far as it is known
    /// expected     and as it was taken to be before anything was heard
    /// plucks_each  as if every pluck had been so many
    CauseSearch(const NeckModel& model, double scatter, double expected, double plucks_each = 1.0);

    /// From two starts, nothing at work and every saddle off, the likelier end.
    [[nodiscard]] CauseEvidence::Chosen chosen() const;

    [[nodiscard]] const std::vector<CauseCandidate>& candidates() const { return candidates_; }
    [[nodiscard]] const CauseCandidate& candidate(std::size_t number) const { return candidates_[number]; }
    [[nodiscard]] const CauseEvidence& evidence() const { return evidence_; }
    /// Standard deviation of every observation, by which the evidence has divided it.
    [[nodiscard]] const Eigen::VectorXd& deviation() const { return deviation_; }
    /// The saddles of all strings.
    [[nodiscard]] CauseEvidence::Chosen saddles() const;

private:
    [[nodiscard]] Eigen::MatrixXd over_deviation(Eigen::MatrixXd columns) const;
    void add(const NamedCause& cause);
    void weigh();
    [[nodiscard]] NeckExtent plucked() const;

    const NeckModel& model_;
    Eigen::VectorXd deviation_;
    CauseEvidence evidence_;
    std::vector<CauseCandidate> candidates_;
};

}  // namespace midspan
