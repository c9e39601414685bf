// cause_evidence.hpp: which of many possible causes are at work, by the evidence of a linear Gaussian model.
//
// Room: comparison. Pure. May include: nothing.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <vector>

namespace midspan {

/// What the noise was taken for before anything was observed.
struct NoiseBelief {
    double worth;     ///< of so many observations, > 0
    double variance;  ///< in units of that by which the observations were divided
};

/// Causes to choose from. Each is one column or several of a linear model
///
///     y = s (background b + sum over the causes at work (columns x) + noise),   b, x, noise ~ N(0, 1)
///
/// so that columns carry the prior size of their cause. s is near 1 and not known: the noise is what the
/// causes leave, so that a cause makes the noise smaller that it has to stand out of. Integrated over s^2
/// with its conjugate prior, the evidence of n observations is Student's:
///
///     log p = -log |I + Gram| / 2 - (worth + n) / 2 log(worth variance + y^T (1 + columns columns^T)^-1 y)
///
/// Source: the normal linear model with a scaled inverse chi-squared variance, from memory.
class CauseEvidence {
public:
    /// y           what was observed, each divided by about the standard deviation of its noise
    /// background  what is always in the model, likewise divided
    CauseEvidence(Eigen::VectorXd y, const Eigen::MatrixXd& background, NoiseBelief noise);

    /// A cause more. Returns its number, counted from 0.
    std::size_t add(const Eigen::MatrixXd& columns);

    /// A cause more that shows in one observation alone. After the first of these only such can be added.
    std::size_t add_single(Eigen::Index observation, double value);

    /// No cause can be added after this.
    void prepare();

    /// The logarithm of the odds against a cause before anything was observed; 0 unless set.
    void set_cost(std::size_t cause, double cost) { causes_[cause].cost = cost; }
    [[nodiscard]] double cost(std::size_t cause) const { return causes_[cause].cost; }

    /// Causes at work, by their numbers, in no order.
    using Chosen = std::vector<std::size_t>;

    /// Logarithm of the evidence, costs taken off, against background alone; -infinity never.
    [[nodiscard]] double evidence(const Chosen& chosen) const;

    /// How many, with what the belief is worth.
    [[nodiscard]] double observations() const;

    /// What `evidence` would gain from each cause were it added.
    [[nodiscard]] std::vector<double> gains(const Chosen& chosen) const;

    /// From `start` add, drop and exchange one cause at a time until nothing gains.
    [[nodiscard]] Chosen climb(Chosen start) const;

    /// How much is known of a cause of one column when those chosen are at work: the precision that the data
    /// alone give, in units of its prior.
    [[nodiscard]] double information(std::size_t cause, const Chosen& chosen) const;

    /// The same of every cause beside the background alone; of several columns the first counts.
    [[nodiscard]] std::vector<double> information() const;

    /// Means and covariance of the amplitudes of the chosen causes, in units of their priors, which are taken
    /// as ten times as wide so that they hardly shrink; and what the model says of every observation.
    struct Fit {
        Eigen::VectorXd amplitudes;  ///< in the order chosen, column by column
        Eigen::MatrixXd covariance;
        Eigen::VectorXd causes;  ///< of every observation: chosen causes alone
        Eigen::VectorXd all;     ///< with the background
        double parameters;       ///< effective number
    };
    [[nodiscard]] Fit fit(const Chosen& chosen) const;

private:
    struct Cause {
        Eigen::Index first;
        Eigen::Index count;
        double cost;
    };
    struct Single {
        Eigen::Index observation;
        double value;
    };
    struct Reduced;
    [[nodiscard]] Reduced reduced(const Chosen& chosen) const;
    [[nodiscard]] double noise_left(const Reduced& model) const;
    [[nodiscard]] std::vector<Eigen::Index> columns_of(const Chosen& chosen) const;

    Eigen::VectorXd y_;
    NoiseBelief noise_;
    Eigen::MatrixXd columns_;  // background first
    Eigen::Index background_;
    Eigen::Index used_;
    std::vector<Cause> causes_;
    std::vector<Single> singles_;  // the last columns
    Eigen::MatrixXd gram_;
    Eigen::VectorXd projected_;
};

}  // namespace midspan
