// neck_model.cpp: shapes put over the plucks, one column each.
//
// Room: comparison. Pure.
#include "comparison/neck_model.hpp"

#include <algorithm>
#include <cmath>

#include "comparison/neck_shapes.hpp"
#include "comparison/square.hpp"

namespace midspan {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// What is on every neck and is no fault: standard deviations. Common practice, no source.
// Of the way from a saddle's best place for the 12th, where most set it, to that for all frets, where some
// do.
constexpr double usual_place = 0.5;
constexpr double between_places = 0.8;
constexpr double saddle_at_random = 0.05;  // cents at the 12th
constexpr double saddle_unknown = 0.15;    // where the make of its string is not known
constexpr double fret_at_random = 0.03;    // mm along the string, a well-made fret
constexpr double usual_relief = 0.2;       // mm
constexpr double relief_unknown = 0.1;     // mm
constexpr double relief_measured = 0.04;   // mm
constexpr double usual_finger = 5.0;       // mm behind the fret
constexpr double finger_unknown = 2.5;     // mm
constexpr double slot_unknown = 0.08;      // mm from string to string
constexpr double slot_measured = 0.03;     // mm, by a feeler gauge
constexpr double make_unknown = 0.35;      // of the stretch: a string's gauge and core
constexpr double make_stated = 0.06;       // and the core where the gauge was stated
constexpr double heights_unknown = 0.25;   // of the stretch, on all strings together
constexpr double elasticity = 0.05;        // of the stretch; it remains where heights were measured

// A nut's height where its effect is reckoned before any is known: a fault that is worth mending. And the
// bounds within which it makes sense.
constexpr double first_nut_height = 0.3;  // mm
constexpr double lowest_nut_height = -0.4;
constexpr double highest_nut_height = 1.5;

}  // namespace

template <class Effect>
VectorXd NeckModel::over_plucks(Effect effect) const {
    VectorXd values(size());
    for (Index i = 0; i < size(); ++i)
        values[i] = effect(at(i).string, at(i).fret);
    return values;
}

template <class Effect>
VectorXd NeckModel::over_plucks_of(int string, Effect effect) const {
    return over_plucks([&](int s, int fret) { return s == string ? effect(fret) : 0.0; });
}

NeckModel::NeckModel(const std::vector<SurveyedString>& strings,
                     const std::vector<NeckObservation>& observations, const NeckSurveyOptions& options)
    : observations_{observations}, options_{options} {
    for (const SurveyedString& string : strings)
        of_number_[string.number] = &string;
    for (std::size_t i = 0; i < observations.size(); ++i) {
        const NeckObservation& o = observations[i];
        plucks_[{o.string, o.fret}].push_back(static_cast<Index>(i));
        strings_at_[o.fret].insert(o.string);
        frets_of_[o.string].insert(o.fret);
    }
    usual_ = VectorXd::Zero(size());
    for (const auto& [string, frets] : frets_of_)
        expect_usual(string, frets);
}

VectorXd NeckModel::errors() const {
    VectorXd y(size());
    for (Index i = 0; i < size(); ++i)
        y[i] = at(i).error.value();
    return y - usual_;
}

double NeckModel::effect(const NamedCause& cause, int of_string, int fret) const {
    if (cause.string && *cause.string != of_string) return 0.0;
    if (cause.fret && *cause.fret != fret) return 0.0;
    switch (cause.cause) {
        case NeckCause::saddle:
            return cents_per_millimetre(string(of_string)) * saddle_share(fret);
        case NeckCause::nut_position:
            return cents_per_millimetre(string(of_string));
        case NeckCause::nut_height: {
            const auto found = nut_too_high_.find(cause.string.value_or(0));
            return nut_height_effect(string(of_string), fret,
                                     found == nut_too_high_.end() ? first_nut_height : found->second);
        }
        case NeckCause::fret:
        case NeckCause::fret_on_string:
            return 1.0;
        case NeckCause::string:
            break;
    }
    return 0.0;
}

VectorXd NeckModel::column(const NamedCause& cause) const {
    return over_plucks([&](int s, int fret) { return effect(cause, s, fret); });
}

MatrixXd NeckModel::uneven(int of_string) const {
    MatrixXd columns(size(), waves_of_mass);
    for (int k = 1; k <= waves_of_mass; ++k)
        columns.col(k - 1) = over_plucks_of(of_string, [k](int fret) { return uneven_mass_effect(k, fret); });
    const auto notes =
        static_cast<double>(std::count_if(observations_.begin(), observations_.end(),
                                          [&](const NeckObservation& o) { return o.string == of_string; }));
    const double rms = std::sqrt(columns.squaredNorm() / notes);
    const auto found = unevenness_.find(of_string);
    const double times = found == unevenness_.end() ? 1.0 : found->second;
    return rms > 0.0 ? MatrixXd{times / rms * columns} : columns;
}

MatrixXd NeckModel::background() const {
    std::vector<VectorXd> columns;
    for (const auto& [number, frets] : frets_of_)
        add_background_of(number, columns);
    // Whoever set the saddles set them all alike.
    columns.push_back(between_places * over_plucks([&](int s, int fret) {
                          return between_places_.at(s) * saddle_share(fret);
                      }));
    const bool stated = stated_.size() == frets_of_.size();
    columns.push_back((stated && options_.heights_known ? elasticity : heights_unknown) * usual_);
    columns.push_back((stated && options_.relief_known ? relief_measured : relief_unknown) *
                      over_plucks([&](int s, int fret) { return relief_effect(string(s), fret); }));
    columns.push_back(finger_unknown *
                      over_plucks([&](int s, int fret) { return finger_effect(string(s), fret); }));
    for (const auto& entry : strings_at_) {
        columns.push_back(over_plucks([&](int s, int fret) {
            return fret == entry.first ? fret_at_random * fret_cents_per_millimetre(string(s), fret) : 0.0;
        }));
    }
    MatrixXd all(size(), static_cast<Index>(columns.size()));
    for (std::size_t i = 0; i < columns.size(); ++i)
        all.col(static_cast<Index>(i)) = columns[i];
    return all;
}

void NeckModel::add_background_of(int number, std::vector<VectorXd>& columns) const {
    const SurveyedString& mine = string(number);
    const bool stated = stated_.contains(number);
    const double reference = mine.reference_uncertainty.value();
    if (reference > 0.0) columns.push_back(over_plucks_of(number, [&](int) { return reference; }));
    const double placed = stated ? saddle_at_random : saddle_unknown;
    columns.push_back(over_plucks_of(number, [&](int fret) { return placed * saddle_share(fret); }));
    const double share = stated ? make_stated : make_unknown;
    columns.push_back(over_plucks_of(number, [&](int) { return share; }).cwiseProduct(stretch()));
    const double slot = stated && options_.heights_known ? slot_measured : slot_unknown;
    columns.push_back(over_plucks_of(number, [&](int fret) { return slot * nut_height_effect(mine, fret); }));
}

void NeckModel::set_nut_too_high(const NamedCause& cause, Millimetres height) {
    nut_too_high_[cause.string.value_or(0)] =
        std::clamp(height.value(), lowest_nut_height, highest_nut_height);
}

/// What stretching does beyond what a saddle removes: more where the nut was found too high under all
/// strings. Under one string alone it cannot be told from how high that is.
VectorXd NeckModel::stretch() const {
    const auto found = nut_too_high_.find(0);
    if (found == nut_too_high_.end()) return usual_;
    return usual_ + over_plucks([&, too_high = found->second](int s, int fret) {
               return too_high * nut_height_effect(string(s), fret, too_high);
           });
}

/// What physics knows of the string, or what is usual, less the part that its saddle removes.
void NeckModel::expect_usual(int number, const std::set<int>& frets) {
    std::map<int, double> expected;
    for (const KnownError& k : options_.known) {
        if (k.string == number) expected[k.fret] = k.error.value();
    }
    const bool stated =
        std::all_of(frets.begin(), frets.end(), [&](int fret) { return expected.contains(fret); });
    if (stated) stated_.insert(number);
    double along = 0.0;
    double length = 0.0;
    for (const int fret : frets) {
        if (!stated) {
            expected[fret] = usual_stretch(string(number), fret) +
                             usual_relief * relief_effect(string(number), fret) +
                             usual_finger * finger_effect(string(number), fret);
        }
        along += expected[fret] * saddle_share(fret);
        length += square(saddle_share(fret));
    }
    // A saddle is right where its string is best over all frets, or where the 12th is, as most set it.
    const double for_all = along / length;
    const double for_12th = expected.contains(12) ? expected.at(12) : for_all;
    between_places_[number] = for_12th - for_all;
    const double removed = for_12th + usual_place * (for_all - for_12th);
    usual_ +=
        over_plucks_of(number, [&](int fret) { return expected.at(fret) - removed * saddle_share(fret); });
}

}  // namespace midspan
