// cause_evidence.cpp: everything happens among the columns' inner products, however many observations there
// are.
//
// Room: comparison. Pure.
#include "comparison/cause_evidence.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cassert>
#include <cmath>

namespace midspan {
namespace {

constexpr double least_gain = 1e-9;
constexpr double most_taken = 1.0 - 1e-12;  // of the noise, by a cause of which it consists
constexpr int most_steps = 400;             // far more than there are causes: only a guard

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

double log_determinant(const Eigen::LLT<MatrixXd>& cholesky) {
    return 2.0 * cholesky.matrixLLT().diagonal().array().log().sum();
}

CauseEvidence::Chosen without(CauseEvidence::Chosen chosen, std::size_t cause) {
    std::erase(chosen, cause);
    return chosen;
}

}  // namespace

/// The model of the background and some causes, factored.
struct CauseEvidence::Reduced {
    Eigen::LLT<MatrixXd> cholesky;  // of I + Gram
    std::vector<Index> columns;
    VectorXd half;  // L^-1 projected data
};

CauseEvidence::CauseEvidence(VectorXd y, const MatrixXd& background, NoiseBelief noise)
    : y_{std::move(y)},
      noise_{noise},
      columns_{background},
      background_{background.cols()},
      used_{background.cols()} {
    assert(background.rows() == y_.size());
    assert(noise.worth > 0.0 && noise.variance > 0.0);
}

std::size_t CauseEvidence::add(const MatrixXd& columns) {
    assert(singles_.empty());
    if (used_ + columns.cols() > columns_.cols()) {
        columns_.conservativeResize(Eigen::NoChange, 2 * (used_ + columns.cols()));
    }
    columns_.middleCols(used_, columns.cols()) = columns;
    causes_.push_back({used_, columns.cols(), 0.0});
    used_ += columns.cols();
    return causes_.size() - 1;
}

std::size_t CauseEvidence::add_single(Index observation, double value) {
    causes_.push_back({used_ + static_cast<Index>(singles_.size()), 1, 0.0});
    singles_.push_back({observation, value});
    return causes_.size() - 1;
}

void CauseEvidence::prepare() {
    const Index all = used_ + static_cast<Index>(singles_.size());
    columns_.conservativeResize(Eigen::NoChange, all);
    columns_.rightCols(all - used_).setZero();
    gram_.resize(all, all);
    gram_.topLeftCorner(used_, used_) = columns_.leftCols(used_).transpose() * columns_.leftCols(used_);
    for (std::size_t i = 0; i < singles_.size(); ++i) {
        const Index column = used_ + static_cast<Index>(i);
        columns_(singles_[i].observation, column) = singles_[i].value;
        gram_.col(column) = singles_[i].value * columns_.row(singles_[i].observation).transpose();
        gram_.row(column) = gram_.col(column).transpose();
    }
    projected_ = columns_.transpose() * y_;
}

std::vector<Index> CauseEvidence::columns_of(const Chosen& chosen) const {
    std::vector<Index> columns;
    for (Index i = 0; i < background_; ++i)
        columns.push_back(i);
    for (const std::size_t cause : chosen) {
        for (Index i = 0; i < causes_[cause].count; ++i)
            columns.push_back(causes_[cause].first + i);
    }
    return columns;
}

CauseEvidence::Reduced CauseEvidence::reduced(const Chosen& chosen) const {
    Reduced model;
    model.columns = columns_of(chosen);
    MatrixXd precision = gram_(model.columns, model.columns);
    precision.diagonal().array() += 1.0;
    model.cholesky.compute(precision);
    model.half = projected_(model.columns);
    model.cholesky.matrixL().solveInPlace(model.half);
    return model;
}

/// The belief's share and what the model leaves, which is never nothing.
double CauseEvidence::noise_left(const Reduced& model) const {
    return noise_.worth * noise_.variance + std::max(0.0, y_.squaredNorm() - model.half.squaredNorm());
}

double CauseEvidence::observations() const { return noise_.worth + static_cast<double>(y_.size()); }

double CauseEvidence::evidence(const Chosen& chosen) const {
    const Reduced model = reduced(chosen);
    double value =
        -0.5 * observations() * std::log(noise_left(model)) - 0.5 * log_determinant(model.cholesky);
    for (const std::size_t cause : chosen)
        value -= causes_[cause].cost;
    return value;
}

std::vector<double> CauseEvidence::gains(const Chosen& chosen) const {
    const Reduced model = reduced(chosen);
    MatrixXd across = gram_(model.columns, Eigen::all);
    model.cholesky.matrixL().solveInPlace(across);
    const VectorXd left = projected_ - across.transpose() * model.half;
    const double noise = noise_left(model);
    std::vector<double> gained;
    for (const Cause& cause : causes_) {
        const auto mine = across.middleCols(cause.first, cause.count);
        MatrixXd precision = gram_.block(cause.first, cause.first, cause.count, cause.count);
        precision -= mine.transpose() * mine;
        precision.diagonal().array() += 1.0;
        const Eigen::LLT<MatrixXd> cholesky{precision};
        const VectorXd target = left.segment(cause.first, cause.count);
        const double taken = std::min(target.dot(cholesky.solve(target)) / noise, most_taken);
        gained.push_back(-0.5 * observations() * std::log1p(-taken) - 0.5 * log_determinant(cholesky) -
                         cause.cost);
    }
    return gained;
}

CauseEvidence::Chosen CauseEvidence::climb(Chosen start) const {
    Chosen chosen = std::move(start);
    double now = evidence(chosen);
    const auto best_addition = [&](const Chosen& to) {
        const std::vector<double> gained = gains(to);
        std::size_t best = gained.size();
        for (std::size_t cause = 0; cause < gained.size(); ++cause) {
            if (std::find(to.begin(), to.end(), cause) != to.end()) continue;
            if (best == gained.size() || gained[cause] > gained[best]) best = cause;
        }
        return best == gained.size() ? std::pair{best, 0.0} : std::pair{best, gained[best]};
    };
    for (int step = 0; step < most_steps; ++step) {
        Chosen better = chosen;
        double gain = least_gain;
        const auto [added, added_gain] = best_addition(chosen);
        if (added_gain > gain) {
            better.push_back(added);
            gain = added_gain;
        }
        for (const std::size_t cause : chosen) {
            const Chosen rest = without(chosen, cause);
            const double dropped = evidence(rest) - now;
            if (dropped > gain) {
                better = rest;
                gain = dropped;
            }
        }
        if (gain <= least_gain) {
            // Nothing to add or drop: perhaps one stands in another's place.
            for (const std::size_t cause : chosen) {
                Chosen rest = without(chosen, cause);
                const double dropped = evidence(rest) - now;
                const auto [other, other_gain] = best_addition(rest);
                if (other != cause && dropped + other_gain > gain) {
                    rest.push_back(other);
                    better = rest;
                    gain = dropped + other_gain;
                }
            }
            // Or one in the place of two: half a saddle and half a high nut make up a nut that is off.
            for (auto one = chosen.begin(); one != chosen.end(); ++one) {
                for (auto two = one + 1; two != chosen.end(); ++two) {
                    Chosen rest = without(without(chosen, *one), *two);
                    const double dropped = evidence(rest) - now;
                    const auto [other, other_gain] = best_addition(rest);
                    if (other != *one && other != *two && dropped + other_gain > gain) {
                        rest.push_back(other);
                        better = rest;
                        gain = dropped + other_gain;
                    }
                }
            }
        }
        if (gain <= least_gain) break;
        chosen = better;
        now = evidence(chosen);
    }
    return chosen;
}

double CauseEvidence::information(std::size_t cause, const Chosen& chosen) const {
    assert(causes_[cause].count == 1);
    const Reduced model = reduced(chosen);
    VectorXd across = gram_(model.columns, causes_[cause].first);
    model.cholesky.matrixL().solveInPlace(across);
    return std::max(0.0, gram_(causes_[cause].first, causes_[cause].first) - across.squaredNorm());
}

std::vector<double> CauseEvidence::information() const {
    const Reduced model = reduced({});
    MatrixXd across = gram_(model.columns, Eigen::all);
    model.cholesky.matrixL().solveInPlace(across);
    std::vector<double> known;
    for (const Cause& cause : causes_) {
        known.push_back(
            std::max(0.0, gram_(cause.first, cause.first) - across.col(cause.first).squaredNorm()));
    }
    return known;
}

CauseEvidence::Fit CauseEvidence::fit(const Chosen& chosen) const {
    constexpr double wide = 0.01;  // precision of a prior ten times as wide
    const std::vector<Index> columns = columns_of(chosen);
    const MatrixXd gram = gram_(columns, columns);
    MatrixXd precision = gram;
    precision.diagonal().array() += wide;
    precision.diagonal().head(background_).array() += 1.0 - wide;
    const Eigen::LLT<MatrixXd> cholesky{precision};
    const Index n = precision.rows();
    const Index mine = n - background_;
    const MatrixXd covariance = cholesky.solve(MatrixXd::Identity(n, n));
    const VectorXd x = covariance * projected_(columns);
    const MatrixXd used = columns_(Eigen::all, columns);
    return {x.tail(mine), covariance.bottomRightCorner(mine, mine), used.rightCols(mine) * x.tail(mine),
            used * x, (covariance * gram).trace()};
}

}  // namespace midspan
