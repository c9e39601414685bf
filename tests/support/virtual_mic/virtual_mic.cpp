// virtual_mic.cpp: an ALSA configuration that knows the plugin and nothing else.
//
// Room: tests/support.
#include "support/virtual_mic/virtual_mic.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>

namespace midspan::test {

VirtualMic::VirtualMic(const std::string& sound_file, const VirtualMicSettings& settings) {
    std::ofstream file{folder_.file("asound.conf")};
    file << fmt::format("pcm_type.virtual_mic {{ lib \"{}\" }}\n", MIDSPAN_VIRTUAL_MIC);
    file << fmt::format("pcm.mic {{\n  type virtual_mic\n  file \"{}\"\n  speed \"{}\"\n",
                        std::filesystem::absolute(sound_file).string(), settings.speed);
    file << fmt::format("  unplug_file \"{}\"\n  played_file \"{}\"\n  busy {}\n  clings {}\n  mmap {}\n",
                        folder_.file("unplugged"), folder_.file("played"), settings.busy, settings.clings,
                        settings.mmap);
    file << fmt::format("  patience_ms {}\n  began_file \"{}\"\n", settings.patience_ms,
                        folder_.file("began"));
    if (settings.unplug_ms) file << fmt::format("  unplug_ms {}\n", *settings.unplug_ms);
    if (settings.stall_ms) file << fmt::format("  stall_ms {}\n", *settings.stall_ms);
    file << "}\n";
    file << "pcm.default { type plug  slave.pcm \"mic\" }\n";
}

std::vector<std::string> VirtualMic::variables() const {
    return {"LC_ALL=C", "JACK_NO_START_SERVER=1", "ALSA_CONFIG_PATH=" + folder_.file("asound.conf")};
}

void VirtualMic::unplug() const { std::ofstream{folder_.file("unplugged")}.flush(); }

std::optional<Seconds> VirtualMic::began() const {
    std::ifstream file{folder_.file("began")};
    double nanoseconds = 0.0;
    if (!(file >> nanoseconds)) return std::nullopt;
    return Seconds{1e-9 * nanoseconds};
}

bool VirtualMic::played() const { return std::filesystem::exists(folder_.path() / "played"); }

}  // namespace midspan::test
