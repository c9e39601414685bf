// device_choice_test.cpp: which input is meant.
#include <doctest/doctest.h>

#include <vector>

#include "midspan/sound/input_devices.hpp"

namespace midspan::test {
namespace {

InputDevice device(int number, std::string name, bool is_default = false) {
    return {number, std::move(name), "ALSA", 2, Hertz{48000.0}, {44'100, 48'000}, false, is_default, 0};
}

const std::vector<InputDevice> bench{device(1, "Internal: Analog (hw:2,0)"),
                                     device(2, "USB Audio: - (hw:1,0)", true), device(3, "default")};

int number_of(std::string_view wanted) {
    const auto chosen = chosen_device(bench, wanted);
    REQUIRE(chosen.ok());
    return chosen.value().number;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("without a wish the default is taken") { CHECK(chosen_device(bench, {}).value().number == 2); }

    TEST_CASE("a number is a number, and not a part of a name") { CHECK(number_of("2") == 2); }

    TEST_CASE("a part of a name is enough, whatever the case; the first that fits is taken") {
        CHECK(number_of("usb") == 2);
        CHECK(number_of("hw:1") == 2);
        CHECK(number_of("DEFAULT") == 3);
        CHECK(number_of("alsa") == 1);
    }

    TEST_CASE("a device is named by number and name") {
        CHECK(device_title(bench[1]) == "input 2 'USB Audio: - (hw:1,0)'");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("no such device, and no device at all, are faults of the device with a remedy") {
        for (const char* wanted : {"4", "0", "-1", "99999999999", "Bluetooth", ""}) {
            CAPTURE(wanted);
            const auto chosen = chosen_device(bench, wanted);
            REQUIRE(!chosen.ok());
            CHECK(chosen.error().fault == Fault::device);
            CHECK(chosen.error().subject == "input '" + std::string{wanted} + "'");
            CHECK(chosen.error().remedy.find("midspan devices") != std::string::npos);
        }
        const auto none = chosen_device({}, {});
        REQUIRE(!none.ok());
        CHECK(none.error().problem == "no input device");
    }
}

}  // namespace midspan::test
