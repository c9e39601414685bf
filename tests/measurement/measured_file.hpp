// measured_file.hpp: a sound file, from the disk to what a measurement says about it.
//
// Room: tests/measurement.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <utility>

#include "midspan/measurement/measurement.hpp"
#include "midspan/sound/recording.hpp"

namespace midspan::test {

inline Analysis measured_file(const std::string& path, Instrument instrument) {
    auto opened = Recording::open(path);
    REQUIRE_MESSAGE(opened.ok(), path);
    Recording recording = std::move(opened).value();
    Measurement measurement{std::move(instrument), {}};
    measurement.begin_recording(path, recording.format(), std::nullopt);
    for (;;) {
        const auto block = recording.next();
        REQUIRE(block.ok());
        if (block.value().frames() == 0) break;
        measurement.feed(block.value());
    }
    measurement.end_recording();
    return measurement.analysis();
}

}  // namespace midspan::test
