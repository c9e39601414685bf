// given_instrument.hpp: the instrument a command line speaks of, described there or in a file.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <variant>

#include "midspan/instrument/instrument.hpp"
#include "midspan/result.hpp"

namespace midspan::program {

struct InstrumentFile {
    std::string path;
};

using GivenInstrument = std::variant<InstrumentFile, Instrument>;

/// The instrument itself; a file is read for it.
[[nodiscard]] Result<Instrument> instrument_of(const GivenInstrument& given);

/// What is wrong with string numbers that came as --string: one the instrument does not have.
[[nodiscard]] std::optional<Error> fault_of_strings(std::span<const int> strings,
                                                    const Instrument& instrument);

}  // namespace midspan::program
