// clock.cpp: now, as the setup record writes it.
//
// Room: program. Edge: the clock.
#include "program/clock.hpp"

#include <time.h>

#include <ctime>

namespace midspan::program {
namespace {

std::string written(const std::tm& time, const char* format) {
    char text[32];
    return {text, std::strftime(text, sizeof text, format, &time)};
}

}  // namespace

Moment now() {
    const std::time_t seconds = std::time(nullptr);
    std::tm time{};
    gmtime_r(&seconds, &time);
    return written(time, "%Y-%m-%dT%H:%M:%SZ");
}

Day today() {
    const std::time_t seconds = std::time(nullptr);
    std::tm time{};
    localtime_r(&seconds, &time);
    return written(time, "%Y-%m-%d");
}

}  // namespace midspan::program
