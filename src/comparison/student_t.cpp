// student_t.cpp: the distribution by a continued fraction, its quantile by bisection.
//
// Room: comparison. Pure.
#include "comparison/student_t.hpp"

#include <cassert>
#include <cmath>
#include <initializer_list>

namespace midspan {
namespace {

/// The continued fraction of the incomplete beta function, evaluated from the front (Lentz); quick for
/// x < (a + 1) / (a + b + 2).
double beta_fraction(double a, double b, double x) {
    constexpr double tiny = 1e-300;  // stands in for a zero denominator
    const auto kept_from_zero = [](double v) { return std::abs(v) < tiny ? tiny : v; };
    double c = 1.0;
    double d = 1.0 / kept_from_zero(1.0 - (a + b) * x / (a + 1.0));
    double fraction = d;
    for (int m = 1; m <= 300; ++m) {
        const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        double change = 1.0;
        for (const double term : {even, odd}) {
            d = 1.0 / kept_from_zero(1.0 + term * d);
            c = kept_from_zero(1.0 + term / c);
            change = c * d;
            fraction *= change;
        }
        if (std::abs(change - 1.0) < 1e-14) break;
    }
    return fraction;
}

/// The regularised incomplete beta function I_x(a, b).
double incomplete_beta(double a, double b, double x) {
    if (x <= 0.0) return 0.0;
    if (x >= 1.0) return 1.0;
    const double front =
        std::exp(std::lgamma(a + b) - std::lgamma(a) - std::lgamma(b) + a * std::log(x) + b * std::log1p(-x));
    if (x < (a + 1.0) / (a + b + 2.0)) return front * beta_fraction(a, b, x) / a;
    return 1.0 - front * beta_fraction(b, a, 1.0 - x) / b;
}

}  // namespace

double share_within_t(double t, double degrees_of_freedom) {
    assert(t >= 0.0 && degrees_of_freedom > 0.0);
    return 1.0 -
           incomplete_beta(0.5 * degrees_of_freedom, 0.5, degrees_of_freedom / (degrees_of_freedom + t * t));
}

double t_for_two_sigma(double degrees_of_freedom) {
    assert(degrees_of_freedom >= 1.0);
    const double share = std::erf(std::sqrt(2.0));  // 95.45 %
    double low = 2.0;
    double high = 14.0;  // 13.97 for one degree of freedom
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (share_within_t(middle, degrees_of_freedom) < share ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

}  // namespace midspan
