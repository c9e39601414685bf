// cause_search.cpp: a candidate for all that could be, and the search among them.
//
// Room: comparison. Pure.
#include "comparison/cause_search.hpp"

#include <cmath>

#include "comparison/cause_priors.hpp"
#include "comparison/square.hpp"

namespace midspan {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t frets_to_judge_a_string = 5;

VectorXd deviations(const NeckModel& model, double scatter, double plucks_each) {
    VectorXd deviation(model.size());
    for (Index i = 0; i < model.size(); ++i)
        deviation[i] = std::sqrt((square(scatter) + square(model.at(i).uncertainty.value())) / plucks_each);
    return deviation;
}

/// The odds against a cause by which it begins to gain where it stands out by so many standard deviations.
/// Student's evidence asks for a little more where the plucks are few, very nearly what is as rare there.
double cost_of_standing_out(double deviations, double information) {
    return 0.5 * square(deviations) * information / (1.0 + information) - 0.5 * std::log1p(information);
}

}  // namespace

CauseSearch::CauseSearch(const NeckModel& model, double scatter, double expected, double plucks_each)
    : model_{model},
      deviation_{deviations(model, scatter, plucks_each)},
      evidence_{model.errors().cwiseQuotient(deviation_),
                over_deviation(model.background()),
                {plucks_of_prior_scatter, square(expected / scatter)}} {
    for (const auto& [number, frets] : model.frets_of())
        add({NeckCause::saddle, number, {}});
    for (const NeckCause cause : {NeckCause::nut_position, NeckCause::nut_height}) {
        if (model.several_strings()) add({cause, {}, {}});
        for (const auto& [number, frets] : model.frets_of())
            add({cause, number, {}});
    }
    for (const auto& [fret, strings] : model.strings_at()) {
        if (strings.size() > 1) add({NeckCause::fret, {}, fret});
    }
    for (const auto& [note, plucks] : model.plucks()) {
        if (plucks.size() > 1) add({NeckCause::fret_on_string, note.first, note.second});
    }
    for (const auto& [number, frets] : model.frets_of()) {
        if (frets.size() >= frets_to_judge_a_string) add({NeckCause::string, number, {}});
    }
    const double bent = prior_of_bent_pluck().size;
    for (Index i = 0; i < model.size(); ++i)
        candidates_.push_back({{}, i, evidence_.add_single(i, bent / deviation_[i]), bent});
    evidence_.prepare();
    weigh();
}

void CauseSearch::add(const NamedCause& cause) {
    const double size = prior_of(cause, plucked()).size;
    const MatrixXd columns =
        cause.cause == NeckCause::string ? model_.uneven(*cause.string) : MatrixXd{model_.column(cause)};
    candidates_.push_back({cause, {}, evidence_.add(over_deviation(size * columns)), size});
}

NeckExtent CauseSearch::plucked() const {
    return {model_.several_strings(), static_cast<int>(model_.strings_at().size())};
}

/// Odds against each, such that it has to stand out as far as its kind should.
void CauseSearch::weigh() {
    const std::vector<double> information = evidence_.information();
    for (const CauseCandidate& c : candidates_) {
        const CausePrior prior = c.cause ? prior_of(*c.cause, plucked()) : prior_of_bent_pluck();
        const bool uneven = c.cause && c.cause->cause == NeckCause::string;
        evidence_.set_cost(c.number, uneven ? odds_against_uneven_string
                                            : cost_of_standing_out(prior.stands_out, information[c.number]));
    }
}

CauseEvidence::Chosen CauseSearch::chosen() const {
    const auto from_nothing = evidence_.climb({});
    const auto from_saddles = evidence_.climb(saddles());
    return evidence_.evidence(from_nothing) >= evidence_.evidence(from_saddles) ? from_nothing : from_saddles;
}

CauseEvidence::Chosen CauseSearch::saddles() const {
    CauseEvidence::Chosen all;
    for (const CauseCandidate& c : candidates_) {
        if (c.cause && c.cause->cause == NeckCause::saddle) all.push_back(c.number);
    }
    return all;
}

MatrixXd CauseSearch::over_deviation(MatrixXd columns) const {
    columns.array().colwise() /= deviation_.array();
    return columns;
}

}  // namespace midspan
