// detectable_sizes.cpp: by what is known of each cause once everything else is allowed for.
//
// Room: comparison. Pure.
#include "comparison/detectable_sizes.hpp"

#include <cmath>
#include <map>
#include <optional>

#include "comparison/cause_search.hpp"
#include "comparison/neck_shapes.hpp"

namespace midspan {
namespace {

constexpr double ninety_five = 1.645;  // normal quantile

/// Amplitude, in units of the prior, that 95 of 100 surveys would find: it has to gain more than it costs.
double detectable_amplitude(double information, double cost, double observations) {
    const double gain = 2.0 * cost + std::log1p(information);
    const double threshold = std::sqrt((1.0 + information) * observations * std::expm1(gain / observations));
    return (threshold + ninety_five * std::sqrt(information)) / information;
}

}  // namespace

std::vector<DetectableSize> detectable_sizes(const NeckModel& model, double scatter) {
    const CauseSearch now{model, scatter, scatter};
    const CauseSearch thrice{model, scatter, scatter, 3.0};
    std::vector<DetectableSize> sizes;
    std::map<NeckCause, DetectableSize> worst;  // of one string: the string where least shows
    for (const CauseCandidate& c : now.candidates()) {
        if (!c.cause || c.cause->cause == NeckCause::string || c.cause->cause == NeckCause::fret_on_string) {
            continue;
        }
        const NamedCause& cause = *c.cause;
        // A nut is looked for beside saddles that may all be off.
        const CauseEvidence::Chosen beside =
            cause.cause == NeckCause::saddle ? CauseEvidence::Chosen{} : now.saddles();
        const auto size_in = [&](const CauseSearch& search) {
            const double information = search.evidence().information(c.number, beside);
            if (information < 1e-6) return std::optional<double>{};
            double size = c.size * detectable_amplitude(information, search.evidence().cost(c.number),
                                                        search.evidence().observations());
            if (cause.fret) {
                size /= fret_cents_per_millimetre(model.string(*model.strings_at().at(*cause.fret).begin()),
                                                  *cause.fret);
            }
            return std::optional{size};
        };
        const auto once = size_in(now);
        const auto three = size_in(thrice);
        if (!once || !three) continue;
        const DetectableSize size{cause.cause, !cause.string, cause.fret, Millimetres{*once},
                                  Millimetres{*three}};
        if (!cause.string) {
            sizes.push_back(size);
            continue;
        }
        const auto [it, fresh] = worst.emplace(cause.cause, size);
        if (!fresh && size.size > it->second.size) it->second = size;
    }
    for (const auto& [cause, size] : worst)
        sizes.push_back(size);
    return sizes;
}

}  // namespace midspan
