// virtual_mic.hpp: the surroundings in which a program finds a virtual microphone and nothing else.
//
// Room: tests/support.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "midspan/units.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {

/// How much faster than life tests may play: whoever listens has to keep up, and a sanitizer slows it down.
#if defined(MIDSPAN_SANITIZED)
inline constexpr double quick = 3.0;
#else
inline constexpr double quick = 16.0;
#endif

struct VirtualMicSettings {
    double speed = quick;     ///< of its clock; faster than life, so that tests are quick
    int patience_ms = 30000;  ///< with a reader who is late; on a busy machine a fast clock needs some
    std::optional<int> unplug_ms{};
    std::optional<int> stall_ms{};
    bool busy = false;
    bool clings = false;
    bool mmap = true;
};

/// Plays a sound file as the input `mic`, which is like hardware, and as `default`, which converts. See
/// virtual_mic_plugin.cpp.
class VirtualMic {
public:
    explicit VirtualMic(const std::string& sound_file, const VirtualMicSettings& settings = {});

    /// What has to stand in the environment of the program that shall find it.
    [[nodiscard]] std::vector<std::string> variables() const;

    /// From now on it is no longer there.
    void unplug() const;

    /// When the program began to listen, in seconds of the monotonic clock; nothing before that.
    [[nodiscard]] std::optional<Seconds> began() const;

    /// Whether the program has read all of the sound.
    [[nodiscard]] bool played() const;

private:
    TempFolder folder_;
};

}  // namespace midspan::test
