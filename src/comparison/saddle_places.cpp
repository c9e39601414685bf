// saddle_places.cpp: weighted linear least squares with one, two or three unknowns.
//
// Room: comparison. Pure.
#include "comparison/saddle_places.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

#include "comparison/neck_shapes.hpp"

namespace midspan {
namespace {

constexpr Millimetres separable{0.5};
constexpr std::size_t frets_for_height = 4;

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

struct Solution {
    VectorXd x;
    MatrixXd covariance;
};

/// x = (A'WA)^-1 A'W y with the covariance that the uncertainties of y give it; nothing where A'WA is
/// singular. All errors share that of their reference note.
std::optional<Solution> solved(const MatrixXd& shapes, std::span<const WeightedError> errors,
                               Cents reference) {
    const auto n = static_cast<Index>(errors.size());
    VectorXd y(n);
    VectorXd w(n);
    VectorXd variance(n);
    for (Index i = 0; i < n; ++i) {
        const WeightedError& e = errors[static_cast<std::size_t>(i)];
        y[i] = e.error;
        w[i] = e.weight;
        variance[i] = e.uncertainty * e.uncertainty;
    }
    const MatrixXd normal = shapes.transpose() * w.asDiagonal() * shapes;
    const Eigen::FullPivHouseholderQR<MatrixXd> qr{normal};
    if (n == 0 || !qr.isInvertible()) return std::nullopt;
    const MatrixXd to_x = qr.solve(shapes.transpose() * w.asDiagonal());
    const VectorXd together = reference.value() * to_x.rowwise().sum();
    return Solution{to_x * y,
                    to_x * variance.asDiagonal() * to_x.transpose() + together * together.transpose()};
}

Uncertain<Millimetres> length_of(const Solution& solution, Index i) {
    return {Millimetres{solution.x[i]}, Millimetres{std::sqrt(solution.covariance(i, i))}};
}

std::size_t frets_in(std::span<const WeightedError> errors) {
    std::set<int> frets;
    for (const WeightedError& e : errors) {
        if (e.weight > 0.0) frets.insert(e.fret);
    }
    return frets.size();
}

/// Columns: what a millimetre of saddle, of nut and of height over the nut does, as many of them as asked
/// for.
MatrixXd shapes_of(const SurveyedString& string, std::span<const WeightedError> errors, Index columns) {
    const double k = cents_per_millimetre(string);
    MatrixXd shapes(static_cast<Index>(errors.size()), columns);
    for (Index i = 0; i < shapes.rows(); ++i) {
        const int fret = errors[static_cast<std::size_t>(i)].fret;
        shapes(i, 0) = k * saddle_share(fret);
        if (columns > 1) shapes(i, 1) = k;
        if (columns > 2) shapes(i, 2) = nut_height_effect(string, fret);
    }
    return shapes;
}

/// Which of the bridge's unknowns move a string, and by how much of them: a row for each string.
MatrixXd freedom_of(SaddleSharing bridge, std::span<const SurveyedString> strings) {
    const auto n = static_cast<Index>(strings.size());
    if (bridge == SaddleSharing::individual) return MatrixXd::Identity(n, n);
    if (bridge == SaddleSharing::one_piece) {
        MatrixXd line(n, n > 1 ? 2 : 1);
        line.col(0).setOnes();
        for (Index i = 0; n > 1 && i < n; ++i)
            line(i, 1) = strings[static_cast<std::size_t>(i)].number;
        return line;
    }
    std::map<int, Index> pieces;
    for (const SurveyedString& string : strings)
        pieces.emplace((string.number + 1) / 2, static_cast<Index>(pieces.size()));
    MatrixXd pairs = MatrixXd::Zero(n, static_cast<Index>(pieces.size()));
    for (Index i = 0; i < n; ++i)
        pairs(i, pieces.at((strings[static_cast<std::size_t>(i)].number + 1) / 2)) = 1.0;
    return pairs;
}

}  // namespace

Uncertain<Millimetres> best_saddle(const SurveyedString& string, std::span<const WeightedError> errors) {
    const auto solution = solved(shapes_of(string, errors, 1), errors, string.reference_uncertainty);
    if (!solution) return {Millimetres{0.0}, Millimetres{std::numeric_limits<double>::infinity()}};
    return length_of(*solution, 0);
}

std::optional<SaddleAndNut> best_saddle_and_nut(const SurveyedString& string,
                                                std::span<const WeightedError> errors) {
    if (frets_in(errors) < 2) return std::nullopt;
    const auto two = solved(shapes_of(string, errors, 2), errors, string.reference_uncertainty);
    if (!two) return std::nullopt;
    SaddleAndNut best{length_of(*two, 0), length_of(*two, 1), 0.0, {}, Cents{0.0}};
    if (best.nut_toward_bridge.uncertainty > separable) return std::nullopt;
    const double both = std::sqrt(two->covariance(0, 0) * two->covariance(1, 1));
    if (both > 0.0) best.correlation = two->covariance(0, 1) / both;
    if (frets_in(errors) >= frets_for_height) {
        if (const auto three = solved(shapes_of(string, errors, 3), errors, string.reference_uncertainty)) {
            best.nut_too_high = length_of(*three, 2);
        }
    }
    best.left =
        Cents{error_left(string, errors, best.saddle_toward_tail.value, best.nut_toward_bridge.value)};
    return best;
}

double error_left(const SurveyedString& string, std::span<const WeightedError> errors, Millimetres saddle,
                  Millimetres nut) {
    const double k = cents_per_millimetre(string);
    double squares = 0.0;
    double weights = 0.0;
    for (const WeightedError& e : errors) {
        const double left = e.error - k * (saddle_share(e.fret) * saddle.value() + nut.value());
        squares += e.weight * left * left;
        weights += e.weight;
    }
    return weights > 0.0 ? std::sqrt(squares / weights) : 0.0;
}

std::vector<Millimetres> best_on_bridge(std::span<const SurveyedString> strings,
                                        std::span<const std::vector<WeightedError>> errors,
                                        SaddleSharing bridge) {
    if (strings.empty()) return {};
    const MatrixXd freedom = freedom_of(bridge, strings);
    MatrixXd normal = MatrixXd::Zero(freedom.cols(), freedom.cols());
    VectorXd wanted = VectorXd::Zero(freedom.cols());
    for (Index i = 0; i < freedom.rows(); ++i) {
        const SurveyedString& string = strings[static_cast<std::size_t>(i)];
        for (const WeightedError& e : errors[static_cast<std::size_t>(i)]) {
            const double shape = cents_per_millimetre(string) * saddle_share(e.fret);
            const VectorXd row = shape * freedom.row(i).transpose();
            normal += e.weight * row * row.transpose();
            wanted += e.weight * e.error * row;
        }
    }
    // What no note speaks of stays where it is.
    const VectorXd x = normal.completeOrthogonalDecomposition().solve(wanted);
    const VectorXd moves = freedom * x;
    std::vector<Millimetres> result;
    for (Index i = 0; i < moves.size(); ++i)
        result.emplace_back(moves[i]);
    return result;
}

}  // namespace midspan
