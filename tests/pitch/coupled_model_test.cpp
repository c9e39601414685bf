// coupled_model_test.cpp: a coupled string laid beside a note: its slopes against what small changes do.
//
// Room: tests/pitch.
#include "pitch/coupled_model.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "pitch/given_pluck.hpp"
#include "pitch/partial_tracks.hpp"
#include "support/allocations.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {
namespace {

constexpr double since_pluck = 0.05;

/// A note that no coupled string explains to the end, so that every unknown would gain by moving.
PartialTracks tracks_of_a_note() {
    PluckedString string;
    string.fundamental = Hertz{196.0};
    string.glide = Cents{6.0};
    string.duration = Seconds{2.0};
    string.second_plane = {Cents{0.6}, 0.4, Seconds{0.7}};
    GivenPluck given{string};
    PartialTracks raw;
    raw.follow(given.pluck().usable(), GivenPluck::sample_rate, string.fundamental);
    StringLaw law;
    law.log_lowest = std::log(string.fundamental.value());
    law.inharmonicity = string.inharmonicity;
    PartialTracks tracks;
    tracks.settle(raw, law, 1);
    return tracks;
}

CoupledString some_string(const PartialTracks& tracks) {
    CoupledString string;
    string.law = tracks.guess();
    string.law.split = 3e-4;
    string.angle = 0.4;
    string.phase = 0.2;
    string.stretch = 0.003;
    string.share = 0.8;
    string.count = 3;
    for (std::size_t p = 0; p < string.count; ++p) {
        CoupledPartial& partial = string.places[p];
        partial.track = p;
        partial.number = tracks.tracks()[p].number;
        partial.length = tracks.length();
        partial.first_decay = 1.0 + 0.3 * static_cast<double>(p);
        partial.second_decay = 1.6 + 0.2 * static_cast<double>(p);
        partial.self = 0.001 / static_cast<double>(p + 1);
    }
    return string;
}

/// What partial p leaves over, its gains free.
double squares_left(CoupledModel& model, const PartialTracks& tracks, CoupledString string, std::size_t p) {
    model.stretch(string);
    model.compare(tracks, string, string.places[p], 0.0);
    return string.places[p].squares;
}

/// An unknown, and the slopes that its derivative is made of.
struct Unknown {
    std::string name;
    std::function<double&(CoupledString&)> place;
    double step;
    std::vector<std::pair<CoupledModel::Slope, double>> slopes;
};

/// Gains that fit best do not matter to first order: squares fall by twice what is left over has in common
/// with the slope.
void check_slope(CoupledModel& model, const PartialTracks& tracks, std::size_t p, const Unknown& unknown) {
    CAPTURE(unknown.name);
    CAPTURE(p);
    CoupledString string = some_string(tracks);
    CoupledString more = string;
    CoupledString less = string;
    unknown.place(more) += unknown.step;
    unknown.place(less) -= unknown.step;
    const double rise =
        (squares_left(model, tracks, more, p) - squares_left(model, tracks, less, p)) / (2.0 * unknown.step);
    model.stretch(string);
    model.compare(tracks, string, string.places[p], 0.0);
    const GramMatrix common = model.common_of_slopes(string, string.places[p]);
    double by_slopes = 0.0;
    double size = 0.0;
    for (const auto& [slope, factor] : unknown.slopes) {
        by_slopes -= 2.0 * factor * common[CoupledModel::left_over][slope];
        size += factor * factor * common[slope][slope];
    }
    // Of what the slope could do at most, were it what is left over.
    const double most = 2.0 * std::sqrt(size * common[CoupledModel::left_over][CoupledModel::left_over]);
    CHECK(most > 0.0);
    CHECK(std::abs(rise - by_slopes) < 1e-4 * most);
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("what is left over changes with every unknown as the slopes say") {
        using Model = CoupledModel;
        const PartialTracks tracks = tracks_of_a_note();
        REQUIRE(tracks.tracks()[0].number == 1);
        CoupledModel model;
        model.lay_out(tracks, since_pluck);
        const double by_b = some_string(tracks).law.by_inharmonicity(2);
        const std::vector<Unknown> of_the_string{
            {"lowest",
             [](auto& s) -> double& { return s.law.log_lowest; },
             1e-6,
             {{Model::by_log_lowest, 1.0}}},
            {"split", [](auto& s) -> double& { return s.law.split; }, 1e-6, {{Model::by_drift, 1.0}}},
            {"angle", [](auto& s) -> double& { return s.angle; }, 1e-4, {{Model::by_angle, 1.0}}},
            {"phase", [](auto& s) -> double& { return s.phase; }, 1e-4, {{Model::by_phase, 1.0}}},
            {"share", [](auto& s) -> double& { return s.share; }, 1e-3, {{Model::by_share, 1.0}}},
        };
        for (const Unknown& unknown : of_the_string) {
            for (const std::size_t p : {0U, 1U, 2U})
                check_slope(model, tracks, p, unknown);
        }
        // What drives partial 1 is what stretches the string, and its decays are the string's too.
        const auto stretch = [](auto& s) -> double& { return s.stretch; };
        check_slope(model, tracks, 0,
                    {"stretch", stretch, 1e-6, {{Model::by_stretch, 1.0}, {Model::by_self, 0.5}}});
        check_slope(model, tracks, 1, {"stretch", stretch, 1e-6, {{Model::by_stretch, 1.0}}});
        const auto decay = [](auto& s) -> double& { return s.places[0].first_decay; };
        check_slope(
            model, tracks, 0,
            {"decay", decay, 1e-4, {{Model::by_first_decay_of_1, 1.0}, {Model::by_first_decay, 1.0}}});
        check_slope(model, tracks, 1, {"decay of 1", decay, 1e-4, {{Model::by_first_decay_of_1, 1.0}}});
        const auto second = [](auto& s) -> double& { return s.places[0].second_decay; };
        check_slope(model, tracks, 0,
                    {"second decay",
                     second,
                     1e-4,
                     {{Model::by_second_decay_of_1, 1.0}, {Model::by_second_decay, 1.0}}});
        check_slope(model, tracks, 1,
                    {"offset",
                     [](auto& s) -> double& { return s.places[1].offset; },
                     1e-6,
                     {{Model::by_log_lowest, 1.0}}});
        check_slope(
            model, tracks, 1,
            {"self", [](auto& s) -> double& { return s.places[1].self; }, 1e-6, {{Model::by_self, 1.0}}});
        check_slope(model, tracks, 1,
                    {"stiffness",
                     [](auto& s) -> double& { return s.law.inharmonicity; },
                     1e-6,
                     {{Model::by_log_lowest, by_b}}});
    }
}

TEST_SUITE("properties") {
    TEST_CASE("to lay a string beside a note allocates nothing") {
        const PartialTracks tracks = tracks_of_a_note();
        CoupledModel model;
        CoupledString string = some_string(tracks);
        const std::size_t before = allocations_so_far();
        model.lay_out(tracks, since_pluck);
        model.stretch(string);
        model.compare(tracks, string, string.places[1], 0.1);
        const GramMatrix common = model.common_of_slopes(string, string.places[1]);
        CHECK(allocations_so_far() == before);
        CHECK(common[CoupledModel::left_over][CoupledModel::left_over] ==
              doctest::Approx(string.places[1].squares));
    }
    TEST_CASE("gains that may differ freely leave least; held together they come closer and leave more") {
        const PartialTracks tracks = tracks_of_a_note();
        CoupledModel model;
        model.lay_out(tracks, since_pluck);
        CoupledString string = some_string(tracks);
        model.stretch(string);
        CoupledPartial& partial = string.places[0];
        double before = 0.0;
        double apart = 1e300;
        for (const double alike : {0.0, 0.1, 1.0, 10.0}) {
            model.compare(tracks, string, partial, alike);
            CHECK(partial.squares >= before);
            CHECK(std::abs(partial.gain[0] - partial.gain[1]) < apart);
            before = partial.squares;
            apart = std::abs(partial.gain[0] - partial.gain[1]);
        }
    }
}

}  // namespace midspan::test
