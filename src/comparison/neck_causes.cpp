// neck_causes.cpp: the scatter, the causes beyond it, and their names.
//
// Room: comparison. Pure.
#include "comparison/neck_causes.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

#include "comparison/cause_evidence.hpp"
#include "comparison/cause_naming.hpp"
#include "comparison/cause_search.hpp"
#include "comparison/detectable_sizes.hpp"
#include "comparison/neck_model.hpp"
#include "comparison/pluck_scatter.hpp"

namespace midspan {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

/// The effect of a nut's height is not proportional to it: from now on it is reckoned where it was found. And
/// a very bad string is expected to be one.
void reckon_as_found(const CauseSearch& search, const CauseEvidence::Chosen& chosen, NeckModel& model) {
    const CauseEvidence::Fit fit = search.evidence().fit(chosen);
    Index column = 0;
    for (const std::size_t number : chosen) {
        const CauseCandidate& candidate = search.candidate(number);
        const auto is = [&candidate](NeckCause cause) {
            return candidate.cause && candidate.cause->cause == cause;
        };
        if (is(NeckCause::nut_height))
            model.set_nut_too_high(*candidate.cause, Millimetres{candidate.size * fit.amplitudes[column]});
        const bool uneven = is(NeckCause::string);
        if (uneven) {
            const double times = fit.amplitudes.segment(column, NeckModel::waves_of_mass).norm() /
                                 std::sqrt(static_cast<double>(NeckModel::waves_of_mass));
            model.set_unevenness(*candidate.cause->string, std::max(1.0, times));
        }
        column += uneven ? NeckModel::waves_of_mass : 1;
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
        const CauseSearch first{model, scatter, prior};
        const CauseEvidence::Chosen chosen = first.chosen();
        scatter = scatter_beyond(first, chosen, model, prior);
        reckon_as_found(first, chosen, model);
    }
    const CauseSearch search{model, scatter, prior};
    const CauseEvidence::Chosen chosen = search.chosen();
    const CauseEvidence::Fit fit = search.evidence().fit(chosen);

    NeckCauses result;
    result.findings = name_causes(model, search, chosen, options);
    result.scatter = scatter;
    result.bent.assign(observations.size(), false);
    for (const std::size_t number : chosen) {
        if (const auto pluck = search.candidate(number).bent_pluck) {
            result.bent[static_cast<std::size_t>(*pluck)] = true;
        }
    }
    leave_out_disagreeing(observations, result.bent);
    const VectorXd causes = fit.causes.cwiseProduct(search.deviation()) + model.usual();
    const VectorXd all = fit.all.cwiseProduct(search.deviation()) + model.usual();
    for (Index i = 0; i < model.size(); ++i) {
        result.fitted.push_back(causes[i]);
        result.unexplained.push_back(model.at(i).error.value() - all[i]);
    }
    result.detectable = detectable_sizes(model, scatter);
    return result;
}

}  // namespace midspan
