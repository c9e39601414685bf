// partial_tracks.hpp: each partial of a note brought down to rest, at a low rate.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "midspan/units.hpp"
#include "pitch/string_law.hpp"
#include "pitch/window_response.hpp"

namespace midspan {

/// One partial, multiplied by exp(-2 pi i centre t) and averaged over short overlapping windows: a slow
/// complex number whose length is the partial's amplitude and whose angle is its phase against `centre`.
struct PartialTrack {
    int number = 0;                            ///< 1 is the lowest
    double centre = 0.0;                       ///< Hz, brought down to rest
    bool fits = true;                          ///< false: it follows no string and is left out
    std::vector<std::complex<double>> values;  ///< one every `hop`
};

/// The partials of one note that tell most about its pitch. Allocates when it is made, never afterwards.
class PartialTracks {
public:
    static constexpr std::size_t most_partials = 12;
    static constexpr std::size_t most_heard = 24;     ///< of which those are chosen
    static constexpr std::size_t most_values = 1024;  ///< of one track

    PartialTracks();

    /// Looks for the partials of a string one after the other, each where those below it say, and measures
    /// the lowest few and those of the others that tell most.
    ///
    /// samples      one channel, attack over
    /// coarse       its lowest partial within 3 %
    ///
    /// Windows are four-term Blackman-Harris, eight periods (30 ms at least) long, and overlap by
    /// half: what is a whole or half partial away is 92 dB down.
    void follow(std::span<const float> samples, Hertz sample_rate, Hertz coarse);

    /// The same partials with `law` taken out of their phase, so that they hardly turn any more, and every
    /// `count` values averaged to one.
    void settle(const PartialTracks& raw, const StringLaw& law, std::size_t count);

    /// What settle() multiplied a track's raw values by; until the next call.
    [[nodiscard]] std::span<const std::complex<double>> settling(const PartialTracks& raw, std::size_t track);

    /// By how much, at most and relative, amplitudes would come out otherwise had `law` been taken out.
    [[nodiscard]] double strayed_from(const PartialTracks& raw, const StringLaw& law) const;

    [[nodiscard]] std::span<PartialTrack> tracks() { return {tracks_.data(), count_}; }
    [[nodiscard]] std::span<const PartialTrack> tracks() const { return {tracks_.data(), count_}; }

    /// Values in each track.
    [[nodiscard]] std::size_t length() const { return length_; }
    /// Seconds from one value to the next.
    [[nodiscard]] double hop() const { return hop_; }
    /// When value m was: seconds since the middle of the first window ever measured.
    [[nodiscard]] double time(std::size_t m) const { return first_ + static_cast<double>(m) * hop_; }
    /// Seconds from the first sample to there.
    [[nodiscard]] double first_middle() const { return first_middle_; }

    /// First guess of the string law, without a glide.
    [[nodiscard]] const StringLaw& guess() const { return guess_; }

    /// How far the low partials that sound clearly stand from that guess, RMS of ln f; 0 with fewer than
    /// four.
    [[nodiscard]] double astray() const { return astray_; }

    /// The glide that has been taken out of the phases, of every partial at its centre.
    [[nodiscard]] const StringLaw& taken_out() const { return taken_out_; }

    /// Mean square distance from the middle of a window, weighted by it, s^2: times its decay, what a dying
    /// partial is seen too early by.
    [[nodiscard]] double window_spread() const { return window_spread_; }
    /// The same for a partial whose turning slows down: times twice the rate at which its glide dies. Nothing
    /// once the glide has been taken out.
    [[nodiscard]] double slowing_spread() const { return settled_ ? 0.0 : window_spread_; }

    /// The variance of a slowly weighted sum of values against that of independent ones: windows overlap.
    [[nodiscard]] double overlap() const { return overlap_; }

private:
    /// One half of the window, outwards from its middle, on a wave of one frequency.
    class Wave {
    public:
        Wave();

        /// turn    of the wave, radians a sample
        /// window  the first one to be asked for
        void tune(std::span<const float> half_window, double turn, std::size_t window);
        /// What the next window's folded samples hold of the wave, at its phase against the first window.
        [[nodiscard]] std::complex<double> next(std::span<const float> folded);

    private:
        std::size_t half_ = 0;
        std::vector<float> cosine_;
        std::vector<float> sine_;
        std::complex<double> turned_;
        std::complex<double> one_window_;
    };

    void fold(std::span<const float> samples, std::size_t m, std::span<float> folded) const;
    [[nodiscard]] std::span<float> folded(std::size_t place) {
        return std::span{folded_}.subspan(2 * place * hop_samples_, 2 * hop_samples_);
    }
    [[nodiscard]] double told_about_pitch(const PartialTrack& track) const;
    void choose_partials();
    void fit_law(std::span<const double> frequencies, std::span<const double> weights);
    void shape_window(double rate);

    std::vector<PartialTrack> tracks_;  // those in use come first
    std::size_t count_ = 0;
    std::size_t length_ = 0;
    std::size_t hop_samples_ = 0;
    std::size_t raw_values_ = 0;  // that settled ones come from
    double hop_ = 0.0;
    double first_ = 0.0;
    double first_middle_ = 0.0;
    double window_spread_ = 0.0;
    WindowResponse response_;
    bool settled_ = false;
    double overlap_ = 1.0;
    double neighbour_correlation_ = 0.0;  // of noise, one hop apart
    StringLaw guess_;
    double astray_ = 0.0;
    StringLaw taken_out_;
    std::vector<float> window_;
    std::vector<float> folded_;  // windows, one after the other
    std::vector<Wave> waves_;
    // One a raw value: what the law taken out makes of its time and leaves of the glide, what the track in
    // hand turns by, and what settles it.
    std::vector<double> elapsed_;
    std::vector<double> faded_;
    std::vector<double> turns_;
    std::vector<double> cosines_;
    std::vector<double> sines_;
    std::vector<std::complex<double>> settling_;
};

}  // namespace midspan
