// survey_section.cpp: faults put into necks made by physics, and what the survey calls them.
//
// Room: tools/benchmark. May include: ground, comparison, tests/support.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "benchmark/power_curve.hpp"
#include "benchmark/section.hpp"
#include "midspan/comparison/neck_survey.hpp"
#include "support/neck_by_physics.hpp"

namespace midspan::benchmark {
namespace {

using test::InjectedFault;
using test::NeckTake;

/// A kind of fault and the size, in mm, at which 95 of 100 are to be noticed with one pluck a note and a cent
/// of scatter: frets 1 to 19, and ten of them.
struct Kind {
    const char* name;
    NamedCause cause;
    double goal_chromatic, goal_sparse;
};

const std::array kinds{
    Kind{"saddle", {NeckCause::saddle, 3, {}}, 0.5, 0.7},
    Kind{"nut, all strings", {NeckCause::nut_position, {}, {}}, 0.37, 0.40},
    Kind{"nut, one string", {NeckCause::nut_position, 4, {}}, 0.9, 1.2},
    Kind{"nut height, all strings", {NeckCause::nut_height, {}, {}}, 0.40, 0.42},
    Kind{"nut height, one string", {NeckCause::nut_height, 3, {}}, 0.8, 0.8},
    Kind{"fret 2", {NeckCause::fret, {}, 2}, 0.9, 0.9},
    Kind{"fret 7", {NeckCause::fret, {}, 7}, 0.6, 0.6},
    Kind{"fret 15", {NeckCause::fret, {}, 15}, 0.4, 0.4},
};

constexpr double bad_string_cents = 5.0;
constexpr double wanted = 0.95;
constexpr int necks_for_bound = 100;
constexpr std::array first_sizes{0.3, 0.6, 0.9, 1.2};  // of the goal
constexpr std::array then_noticed_in{0.5, 0.8, 0.95};  // of the surveys, as the first tell

NeckTake take_of(bool sparse, int plucks, double scatter = 1.0) {
    NeckTake take;
    take.frets = sparse ? test::sparse_frets() : test::chromatic_frets();
    take.plucks = plucks;
    take.scatter = Cents{scatter};
    return take;
}

bool named_among(const NeckFinding& finding, const NamedCause& cause) {
    return finding.cause == cause ||
           std::find(finding.rivals.begin(), finding.rivals.end(), cause) != finding.rivals.end();
}

std::string column_of(NeckCause cause) {
    switch (cause) {
        case NeckCause::saddle:
            return "saddle";
        case NeckCause::nut_position:
            return "nut";
        case NeckCause::nut_height:
            return "nut height";
        case NeckCause::fret:
        case NeckCause::fret_on_string:
            return "fret";
        case NeckCause::string:
            break;
    }
    return "string";
}

/// What a row of surveys found.
struct Found {
    int surveys = 0;
    int clean = 0;    ///< nothing
    int noticed = 0;  ///< every fault named, alone or as one of several
    int alone = 0;    ///< every fault named alone
    int right = 0;    ///< causes named alone that were at work
    int wrong = 0;    ///< and that were not
    std::map<std::string, int> named;

    [[nodiscard]] double share(int of) const { return static_cast<double>(of) / surveys; }
};

void survey_once(const std::vector<InjectedFault>& faults, const NeckTake& take, std::uint64_t seed,
                 Found& found) {
    const test::MadeSurvey made = test::neck_by_physics(faults, take, seed);
    const NeckSurvey survey = survey_neck(made.strings, made.observations, made.options);
    ++found.surveys;
    if (survey.findings.empty()) ++found.clean;
    const auto all = [&](auto holds) {
        return std::all_of(faults.begin(), faults.end(), [&](const InjectedFault& fault) {
            return std::any_of(survey.findings.begin(), survey.findings.end(),
                               [&](const NeckFinding& f) { return holds(f, fault.cause); });
        });
    };
    if (all(named_among)) ++found.noticed;
    if (all([](const NeckFinding& f, const NamedCause& c) { return f.cause == c && f.rivals.empty(); })) {
        ++found.alone;
    }
    for (const NeckFinding& finding : survey.findings) {
        if (!finding.rivals.empty()) {
            ++found.named["either or"];
            continue;
        }
        const bool right = std::any_of(faults.begin(), faults.end(), [&](const InjectedFault& fault) {
            return fault.cause == finding.cause;
        });
        ++(right ? found.right : found.wrong);
        ++found.named[column_of(finding.cause.cause)];
    }
}

Found survey_many(const std::vector<InjectedFault>& faults, const NeckTake& take, int trials,
                  std::uint64_t first_seed) {
    Found found;
    for (int i = 0; i < trials; ++i)
        survey_once(faults, take, first_seed + static_cast<std::uint64_t>(i), found);
    return found;
}

/// How a kind of fault is noticed the more often the larger it is: some surveys of very different sizes
/// first, then the rest of them where they say most of the size that is noticed often enough.
std::optional<PowerCurve> curve_of(const Kind& kind, double goal, const NeckTake& take, int surveys) {
    std::vector<PowerPoint> points;
    std::uint64_t seed = 2'350'000;
    const auto try_size = [&](double size, int times) {
        const Found found = survey_many({{kind.cause, size}}, take, times, seed);
        seed += static_cast<std::uint64_t>(times);  // another neck every time
        points.push_back({size, found.surveys, found.noticed});
    };
    const int first = std::max(1, surveys / 12);
    for (const double share : first_sizes)
        try_size(share * goal, first);
    const auto rough = power_curve(points);
    if (!rough) return rough;
    const int then = std::max(1, 2 * surveys / 9);
    for (const double share : then_noticed_in)
        try_size(rough->size_noticed_in(share), then);
    return power_curve(points);
}

double normal_share(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

/// How far a fault of that size stands out of the plucks' scatter, in standard deviations, to somebody who
/// knows all there is to know of a neck but whether it has this fault.
double stands_out(const NamedCause& cause, double size, const NeckTake& take, std::uint64_t seed) {
    const test::MadeSurvey good = test::neck_by_physics({}, take, seed);
    const test::MadeSurvey bad = test::neck_by_physics({{cause, size}}, take, seed);
    double squares = 0.0;
    for (std::size_t i = 0; i < good.observations.size(); ++i) {
        const double shown = (bad.observations[i].error - good.observations[i].error).value();
        const double pitch = good.observations[i].uncertainty.value();
        squares += shown * shown / (take.scatter.value() * take.scatter.value() + pitch * pitch);
    }
    return std::sqrt(squares);
}

/// The size that no test can do without: the likeliest one, that of the two likelihoods' ratio (Neyman and
/// Pearson), for this fault alone, which sees it on one good neck of a thousand and notices it on 95 of 100.
double least_size(const Kind& kind, double goal, const NeckTake& take, int necks) {
    constexpr double once_in_a_thousand = 3.29;
    std::vector<double> by_neck;
    for (int i = 0; i < necks; ++i)
        by_neck.push_back(stands_out(kind.cause, goal, take, 2'370'000 + static_cast<std::uint64_t>(i)));
    double low = 0.0;
    double high = 4.0;
    for (int i = 0; i < 40; ++i) {
        const double share_of_goal = 0.5 * (low + high);
        double noticed = 0.0;
        for (const double deviations : by_neck)
            noticed += normal_share(share_of_goal * deviations - once_in_a_thousand) / necks;
        (noticed < wanted ? low : high) = share_of_goal;
    }
    return 0.5 * (low + high) * goal;
}

struct Row {
    std::string name;
    std::vector<InjectedFault> faults;
    int bent = 0;
};

std::vector<Row> confusion_rows(bool sparse) {
    std::vector<Row> rows{{"nothing", {}}, {"one bent pluck", {}, 1}};
    for (const Kind& kind : kinds) {
        const double goal = sparse ? kind.goal_sparse : kind.goal_chromatic;
        rows.push_back({kind.name, {{kind.cause, 1.5 * goal}}});
    }
    rows.push_back({"string", {{{NeckCause::string, 2, {}}, bad_string_cents}}});
    rows.push_back(
        {"saddle and fret 9", {{{NeckCause::saddle, 5, {}}, 1.2}, {{NeckCause::fret, {}, 9}, 0.9}}});
    rows.push_back(
        {"nut and a saddle", {{{NeckCause::nut_position, {}, {}}, 0.7}, {{NeckCause::saddle, 2, {}}, 1.4}}});
    return rows;
}

void confusion(int trials, Report& report) {
    const std::vector<std::string> causes{"saddle", "nut", "nut height", "fret", "string", "either or"};
    Table table{
        "survey_confusion",
        "Necks made by physics, one pluck a note, 1 cent of scatter, strings and heights stated: what was "
        "put in (1.5 times the size to be noticed), and what was named",
        {"put in", "surveys", "nothing named"},
        {},
        true};
    for (const std::string& cause : causes)
        table.columns.push_back(cause);
    table.columns.insert(table.columns.end(), {"named wrongly", "noticed, also as either or %"});
    int right = 0, wrong = 0, clean = 0, good = 0;
    const std::vector<Row> chromatic = confusion_rows(false), sparse = confusion_rows(true);
    for (std::size_t i = 0; i < chromatic.size(); ++i) {
        Found found;
        for (const bool is_sparse : {false, true}) {
            const Row& row = is_sparse ? sparse[i] : chromatic[i];
            NeckTake take = take_of(is_sparse, 1);
            take.bent = row.bent;
            const int surveys = row.faults.empty() ? 4 * trials : trials;
            for (int t = 0; t < surveys; ++t) {
                survey_once(row.faults, take,
                            2'310'000 + 1000 * i + (is_sparse ? 500U : 0U) + static_cast<std::uint64_t>(t),
                            found);
            }
        }
        std::vector<Cell> cells{chromatic[i].name, static_cast<double>(found.surveys),
                                static_cast<double>(found.clean)};
        for (const std::string& cause : causes)
            cells.emplace_back(static_cast<double>(found.named[cause]));
        cells.emplace_back(static_cast<double>(found.wrong));
        cells.emplace_back(chromatic[i].faults.empty() ? Cell{std::string{"-"}}
                                                       : Cell{100.0 * found.share(found.noticed)});
        table.rows.push_back(std::move(cells));
        right += found.right;
        wrong += found.wrong;
        if (chromatic[i].faults.empty()) {
            clean += found.clean;
            good += found.surveys;
        }
    }
    report.tables.push_back(std::move(table));
    report.figures.push_back({"survey: causes named alone that were at work",
                              100.0 * right / std::max(1, right + wrong),
                              "%",
                              {},
                              95.0});
    report.figures.push_back({"survey: necks without a fault, with or without a bent pluck, left without one",
                              100.0 * clean / std::max(1, good),
                              "%",
                              {},
                              95.0});
}

void good_necks(int trials, Report& report) {
    Table table{"survey_good_necks",
                "Necks without a fault: how often nothing was found, in %",
                {"plucks", "scatter cents", "strings stated", "frets 1 to 19", "ten frets"},
                {}};
    for (const int plucks : {1, 3}) {
        for (const double scatter : {0.3, 1.0, 1.5}) {
            for (const bool known : {true, false}) {
                std::vector<Cell> cells{static_cast<double>(plucks), scatter,
                                        std::string{known ? "yes" : "no"}};
                for (const bool sparse : {false, true}) {
                    NeckTake take = take_of(sparse, plucks, scatter);
                    if (!known) take.stated = test::Stated::nothing;
                    const Found found = survey_many({}, take, trials, 2'330'000);
                    cells.emplace_back(100.0 * found.share(found.clean));
                }
                table.rows.push_back(std::move(cells));
            }
        }
    }
    report.tables.push_back(std::move(table));
}

/// What the saddles of good necks that were set in one way were called.
struct Judged {
    int surveys = 0;
    int clean = 0;
    int other_cause = 0;  ///< surveys that named, alone, anything but a saddle
    int saddles = 0;      ///< named alone
    int right_side = 0;   ///< of those: off to the side that was named
};

Judged judge_setter(NeckTake take, int surveys, std::uint64_t first_seed) {
    Judged judged;
    for (int i = 0; i < surveys; ++i) {
        const test::MadeSurvey made =
            test::neck_by_physics({}, take, first_seed + static_cast<std::uint64_t>(i));
        const NeckSurvey survey = survey_neck(made.strings, made.observations, made.options);
        ++judged.surveys;
        judged.clean += survey.findings.empty() ? 1 : 0;
        bool other = false;
        for (const NeckFinding& finding : survey.findings) {
            if (!finding.rivals.empty()) continue;
            if (finding.cause.cause != NeckCause::saddle) {
                other = true;
                continue;
            }
            const auto string = static_cast<std::size_t>(*finding.cause.string - 1);
            ++judged.saddles;
            const double missed_by = made.missed_by[string].value();
            judged.right_side += missed_by * finding.length->value.value() > 0.0 ? 1 : 0;
        }
        judged.other_cause += other ? 1 : 0;
    }
    return judged;
}

void setters(int trials, Report& report) {
    Table table{"survey_setters",
                "Necks without a fault but what whoever set the saddles left; one pluck a note, 1 cent of "
                "scatter, strings and heights stated. A saddle was missed by so much, standard deviation at "
                "the 12th; 0.5 cent is 0.19 mm",
                {"saddles set", "missed by cents", "frets", "surveys", "nothing named %",
                 "a cause that is no saddle %", "saddles named alone", "off to the side named %"},
                {},
                true};
    std::uint64_t seed = 2'390'000;
    int clean = 0, good = 0;
    for (const auto saddles : {test::SaddlesSet::at_12th, test::SaddlesSet::for_all_frets}) {
        for (const double off : {0.0, 0.5}) {
            for (const bool sparse : {false, true}) {
                NeckTake take = take_of(sparse, 1);
                take.saddles = saddles;
                take.setter_off = Cents{off};
                const Judged judged = judge_setter(take, trials, seed);
                seed += 10'000;
                const auto percent = [&](int of, int all) {
                    return all > 0 ? Cell{100.0 * of / all} : Cell{std::string{"-"}};
                };
                table.rows.push_back(
                    {std::string{saddles == test::SaddlesSet::at_12th ? "at the 12th" : "for all frets"}, off,
                     std::string{sparse ? "ten" : "1 to 19"}, static_cast<double>(judged.surveys),
                     percent(judged.clean, judged.surveys), percent(judged.other_cause, judged.surveys),
                     static_cast<double>(judged.saddles),
                     off > 0.0 ? percent(judged.right_side, judged.saddles) : Cell{std::string{"-"}}});
                if (saddles == test::SaddlesSet::for_all_frets && off == 0.0) {
                    clean += judged.clean;
                    good += judged.surveys;
                }
            }
        }
    }
    report.tables.push_back(std::move(table));
    report.figures.push_back({"survey: necks whose saddles were set for all frets, left without a fault",
                              100.0 * clean / std::max(1, good),
                              "%",
                              {},
                              95.0});
    Found found;
    const Kind& saddle = kinds.front();
    for (const bool sparse : {false, true}) {
        NeckTake take = take_of(sparse, 1);
        take.saddles = test::SaddlesSet::for_all_frets;
        for (const double side : {1.0, -1.0}) {
            const double size = side * (sparse ? saddle.goal_sparse : saddle.goal_chromatic);
            for (int i = 0; i < trials; ++i)
                survey_once({{saddle.cause, size}}, take, seed + static_cast<std::uint64_t>(i), found);
            seed += 10'000;
        }
    }
    report.figures.push_back(
        {"survey: one saddle off by 0.5 mm (ten frets: 0.7 mm), to either side, noticed "
         "where all were set for all frets",
         100.0 * found.share(found.noticed),
         "%",
         {},
         95.0});
}

void sizes(int trials, Report& report) {
    Table table{
        "survey_sizes",
        "Size noticed in 95 of 100 surveys, mm, by a probit curve through surveys of seven sizes, ± its "
        "standard uncertainty; 1 cent of scatter, strings and heights stated, open strings plucked before "
        "and after their frets and straying by 0.2 cent. Bound: what the best test of this one fault would "
        "need on a neck of which all else is known, the scatter and the frets' places too",
        {"fault", "frets 1 to 19", "±", "bound", "ten frets", "±", "bound", "frets 1 to 19, 3 plucks", "±",
         "ten frets, 3 plucks", "±"},
        {},
        true};
    for (const Kind& kind : kinds) {
        std::vector<Cell> cells{std::string{kind.name}};
        for (const int plucks : {1, 3}) {
            for (const bool sparse : {false, true}) {
                const double goal = sparse ? kind.goal_sparse : kind.goal_chromatic;
                const auto curve =
                    curve_of(kind, goal, take_of(sparse, plucks), trials / (plucks > 1 ? 4 : 1));
                const double size = curve ? curve->size_noticed_in(wanted) : std::nan("");
                cells.emplace_back(size);
                cells.emplace_back(curve ? curve->uncertainty_of_size(wanted) : std::nan(""));
                if (plucks > 1) continue;
                cells.emplace_back(least_size(kind, goal, take_of(sparse, plucks), necks_for_bound));
                report.figures.push_back({fmt::format("survey: {} noticed in 95 of 100, {}", kind.name,
                                                      sparse ? "ten frets" : "frets 1 to 19"),
                                          size, "mm", goal});
            }
        }
        table.rows.push_back(std::move(cells));
    }
    report.tables.push_back(std::move(table));
}

}  // namespace

void survey_section(const Settings& settings, Report& report) {
    const int trials = settings.trials_or(40);
    confusion(trials, report);
    good_necks(6 * trials, report);
    setters(8 * trials, report);
    sizes(24 * trials, report);
}

}  // namespace midspan::benchmark
