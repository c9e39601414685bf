// cramer_rao.cpp: the Fisher matrix of a sum of partials, sample by sample.
//
// Room: tools/benchmark. Pure. May include: ground.
#include "benchmark/cramer_rao.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace midspan::benchmark {
namespace {

/// Rows of derivatives that are multiplied at a time.
constexpr Eigen::Index rows_at_once = 512;

class Derivatives {
public:
    Derivatives(const PartialModel& model, const Unknowns& unknowns) : model_{model}, unknowns_{unknowns} {
        next_ = 1;
        if (unknowns.inharmonicity) inharmonicity_ = next_++;
        if (unknowns.glide) glide_ = next_++;
        if (unknowns.glide_time) glide_time_ = next_++;
        first_partial_ = next_;
        per_partial_ = unknowns.decay_rates ? 3 : 2;
    }

    [[nodiscard]] Eigen::Index count() const {
        return first_partial_ + per_partial_ * static_cast<Eigen::Index>(model_.partials.size());
    }
    [[nodiscard]] Eigen::Index inharmonicity() const { return inharmonicity_; }

    /// d x(t) by ln f_1, B, epsilon, T, and of each partial ln A, phi, alpha. `row` holds zeros.
    template <class Row>
    void at(double t, Row&& row) const {
        const double B = model_.inharmonicity;
        const double T = model_.glide_time.value();
        const double gone = std::exp(-2.0 * t / T);
        const double run = t + model_.glide * 0.5 * T * (1.0 - gone);  // what of time the phase has seen
        const double run_by_glide = 0.5 * T * (1.0 - gone);
        const double run_by_time = model_.glide * (0.5 * (1.0 - gone) - t / T * gone);
        Eigen::Index column = first_partial_;
        for (const ModelPartial& partial : model_.partials) {
            const double k = partial.number;
            const double omega =
                2.0 * std::numbers::pi * k * model_.pitch.value() * std::sqrt((1.0 + B * k * k) / (1.0 + B));
            const double envelope = partial.amplitude * std::exp(-partial.decay_rate * t);
            const double angle = omega * run + partial.phase;
            const double value = envelope * std::cos(angle);
            const double by_phase = -envelope * std::sin(angle);
            row[0] += by_phase * omega * run;
            if (unknowns_.inharmonicity) {
                row[inharmonicity_] +=
                    by_phase * omega * run * 0.5 * (k * k / (1.0 + B * k * k) - 1.0 / (1.0 + B));
            }
            if (unknowns_.glide) row[glide_] += by_phase * omega * run_by_glide;
            if (unknowns_.glide_time) row[glide_time_] += by_phase * omega * run_by_time;
            row[column] = value;
            row[column + 1] = by_phase;
            if (unknowns_.decay_rates) row[column + 2] = -t * value;
            column += per_partial_;
        }
    }

private:
    const PartialModel& model_;
    Unknowns unknowns_;
    Eigen::Index next_ = 0;
    Eigen::Index inharmonicity_ = 0;
    Eigen::Index glide_ = 0;
    Eigen::Index glide_time_ = 0;
    Eigen::Index first_partial_ = 0;
    Eigen::Index per_partial_ = 0;
};

}  // namespace

Cents PitchBound::pitch() const { return Cents{1200.0 / std::numbers::ln2 * std::sqrt(log_pitch_variance)}; }

PitchBound cramer_rao_bound(const PartialModel& model, const Unknowns& unknowns, const ObservedSpan& span) {
    const Derivatives derivatives{model, unknowns};
    const Eigen::Index size = derivatives.count();
    const double rate = span.sample_rate.value();
    const auto samples = static_cast<Eigen::Index>(std::lround((span.end - span.begin).value() * rate));

    Eigen::MatrixXd information = Eigen::MatrixXd::Zero(size, size);
    Eigen::MatrixXd rows{size, rows_at_once};
    for (Eigen::Index at = 0; at < samples; at += rows_at_once) {
        const Eigen::Index count = std::min(rows_at_once, samples - at);
        rows.setZero();
        for (Eigen::Index i = 0; i < count; ++i) {
            derivatives.at(span.begin.value() + static_cast<double>(at + i) / rate, rows.col(i));
        }
        information.selfadjointView<Eigen::Lower>().rankUpdate(rows);
    }
    information = information.selfadjointView<Eigen::Lower>();

    // Unknowns of very different size: each is measured in units of its own bound, were it alone.
    const Eigen::VectorXd scale = information.diagonal().cwiseSqrt().cwiseInverse();
    const Eigen::MatrixXd scaled = scale.asDiagonal() * information * scale.asDiagonal();
    const Eigen::LDLT<Eigen::MatrixXd> solver{scaled};
    const auto covariance = [&](Eigen::Index a, Eigen::Index b) {
        const Eigen::VectorXd column = solver.solve(Eigen::VectorXd::Unit(size, b));
        return column[a] * scale[a] * scale[b] * span.noise * span.noise;
    };
    PitchBound bound{covariance(0, 0), 0.0, 0.0};
    if (unknowns.inharmonicity) {
        const Eigen::Index B = derivatives.inharmonicity();
        bound.inharmonicity_variance = covariance(B, B);
        bound.covariance = covariance(0, B);
    }
    return bound;
}

}  // namespace midspan::benchmark
