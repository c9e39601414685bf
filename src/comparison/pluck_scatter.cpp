// pluck_scatter.cpp: a median first, a root mean square then.
//
// Room: comparison. Pure.
#include "comparison/pluck_scatter.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "comparison/cause_priors.hpp"
#include "comparison/square.hpp"

namespace midspan {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

}  // namespace

double first_scatter(const NeckModel& model, double prior) {
    double scatter = prior;
    for (int round = 0; round < 3; ++round) {
        const CauseSearch search{model, scatter, prior};
        CauseEvidence::Chosen all;
        for (const CauseCandidate& c : search.candidates()) {
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
        scatter = std::sqrt((plucks_of_prior_scatter * square(prior) + weight * square(seen)) /
                            (plucks_of_prior_scatter + weight));
    }
    return scatter;
}

double scatter_beyond(const CauseSearch& search, const CauseEvidence::Chosen& chosen, const NeckModel& model,
                      double prior) {
    const CauseEvidence::Fit fit = search.evidence().fit(chosen);
    const VectorXd left = model.errors() - fit.all.cwiseProduct(search.deviation());
    double squares = plucks_of_prior_scatter * square(prior);
    for (Index i = 0; i < model.size(); ++i)
        squares += square(left[i]) - square(model.at(i).uncertainty.value());
    const double free = static_cast<double>(model.size()) - fit.parameters;
    // Readings can be no better than their own uncertainty; a hand can be no better than a twentieth of a
    // cent.
    constexpr double steadiest = 0.05;
    return std::sqrt(std::max(square(steadiest), squares / (plucks_of_prior_scatter + std::max(0.0, free))));
}

}  // namespace midspan
