// coupled_model.hpp: how a string whose planes drive each other sounds, and how its unknowns change that.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "ground/gram_matrix.hpp"
#include "pitch/coupled_planes.hpp"
#include "pitch/coupled_string.hpp"
#include "pitch/partial_tracks.hpp"

namespace midspan {

/// A coupled string laid beside its tracks, one partial after the other.
///
/// Allocates when it is made, never afterwards.
class CoupledModel {
public:
    /// What derivatives are made of. The first stand where the strings do that are swung a little otherwise;
    /// `_of_1` are decays of partial 1, by which the whole string stops gliding.
    enum Slope : std::size_t {
        left_over,
        by_drift,
        by_self,
        by_angle,
        by_phase,
        by_first_decay,
        by_second_decay,
        first_plane,
        first_plane_turned,
        second_plane,
        second_plane_turned,
        by_log_lowest,
        by_stretch,
        by_share,
        by_first_decay_of_1,
        by_second_decay_of_1
    };

    CoupledModel();

    /// For these tracks; `since_pluck` is how long ago the pluck was at t = 0, s.
    void lay_out(const PartialTracks& tracks, double since_pluck);

    /// By how much the string is stretched over time: to be called whenever it has changed.
    void stretch(const CoupledString& string);

    /// Lays the planes of one of its partials beside its track, each at the gain that fits best, and notes in
    /// it the gains and what they leave. `alike` is how much it costs, of those squares, that the gains
    /// differ by one.
    void compare(const PartialTracks& tracks, const CoupledString& string, CoupledPartial& partial,
                 double alike);

    /// What that partial left over, one a value.
    [[nodiscard]] std::span<const std::complex<double>> left(const CoupledPartial& partial) const {
        return std::span{left_}.first(partial.length);
    }
    /// What the slopes of that partial's values have in common, each with each.
    [[nodiscard]] GramMatrix common_of_slopes(const CoupledString& string, const CoupledPartial& partial);

    /// All that partial 1 glides by at t = 0, relative.
    [[nodiscard]] double glide(const CoupledString& string) const;

private:
    void swing(const CoupledString& string, CoupledPartial& partial);
    void turn(const PartialTracks& tracks, const CoupledString& string, const CoupledPartial& partial);
    void fill_slopes(const CoupledString& string, const CoupledPartial& partial);

    double since_pluck_ = 0.0;
    double hop_ = 0.0;
    std::vector<double> times_;
    std::vector<double> taken_out_;
    // What partial 1 and the others have stretched the string by since t = 0 and do now, a unit each, and how
    // the former changes with the decays of partial 1 and with the angle.
    struct Stretched {
        double ahead = 0.0, ahead_of_others = 0.0, now = 0.0, now_of_others = 0.0;
        double by_first_decay = 0.0, by_second_decay = 0.0, by_angle = 0.0;
    };
    std::vector<Stretched> stretched_;
    // Of the partial in hand, one a value: its planes swung, as they are and with each unknown that moves
    // them a little otherwise; what both turn by; planes turned, at gain one; and what is left.
    std::vector<SwungPlanes> swung_;
    std::vector<double> turns_;
    std::vector<double> cosines_;
    std::vector<double> sines_;
    std::array<std::vector<std::complex<double>>, 2> planes_;
    std::vector<std::complex<double>> left_;
    std::vector<GramRow> slopes_;  // real parts above imaginary ones
};

}  // namespace midspan
