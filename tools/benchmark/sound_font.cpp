// sound_font.cpp: the recordings inside a sound font, by the headers of its samples.
//
// Room: tools/benchmark. Edge: the disk. May include: ground.
#include "benchmark/sound_font.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <fstream>
#include <iterator>
#include <span>
#include <stdexcept>
#include <string_view>

namespace midspan::benchmark {
namespace {

using Bytes = std::span<const unsigned char>;

std::uint32_t number(Bytes bytes, std::size_t at, std::size_t size = 4) {
    std::uint32_t value = 0;
    for (std::size_t i = size; i-- > 0;)
        value = value << 8U | bytes[at + i];
    return value;
}

bool begins_with(Bytes bytes, std::string_view tag) {
    return bytes.size() >= tag.size() && std::equal(tag.begin(), tag.end(), bytes.begin());
}

// The chunk of that name inside a run of chunks, in lists too; nothing if there is none.
Bytes chunk(Bytes chunks, std::string_view name) {
    while (chunks.size() >= 8) {
        const std::size_t size = std::min<std::size_t>(number(chunks, 4), chunks.size() - 8);
        const Bytes content = chunks.subspan(8, size);
        if (begins_with(chunks, name)) return content;
        if (begins_with(chunks, "LIST") && size >= 4) {
            if (const Bytes inside = chunk(content.subspan(4), name); !inside.empty()) return inside;
        }
        chunks = chunks.subspan(std::min(chunks.size(), 8 + size + size % 2));
    }
    return {};
}

FontRecording recording(Bytes header, Bytes samples) {
    const std::size_t begin = number(header, 20);
    const std::size_t repeated_from = number(header, 28);
    if (begin > repeated_from || 2 * repeated_from > samples.size())
        throw std::runtime_error{"a recording of the sound font lies outside it"};
    FontRecording result{{}, Hertz{static_cast<double>(number(header, 36))}, {}};
    for (std::size_t i = 0; i < 20 && header[i] != 0; ++i)
        result.name += static_cast<char>(header[i]);
    for (std::size_t i = begin; i < repeated_from; ++i)
        result.samples.push_back(static_cast<float>(static_cast<std::int16_t>(number(samples, 2 * i, 2))) /
                                 32768.0F);
    return result;
}

}  // namespace

std::vector<FontRecording> font_recordings(const std::string& path) {
    constexpr std::size_t header_size = 46;
    constexpr std::size_t kind_at = 44;
    constexpr std::uint32_t one_channel = 1;

    std::ifstream file{path, std::ios::binary};
    const std::vector<char> content{std::istreambuf_iterator<char>{file}, {}};
    const Bytes bytes{reinterpret_cast<const unsigned char*>(content.data()), content.size()};
    if (bytes.size() < 12 || !begins_with(bytes, "RIFF") || !begins_with(bytes.subspan(8), "sfbk"))
        throw std::runtime_error{path + " is no sound font"};
    const Bytes samples = chunk(bytes.subspan(12), "smpl");
    const Bytes headers = chunk(bytes.subspan(12), "shdr");
    std::vector<FontRecording> recordings;
    // The last header only says that it is the last.
    for (std::size_t at = 0; at + 2 * header_size <= headers.size(); at += header_size) {
        const Bytes header = headers.subspan(at, header_size);
        if (number(header, kind_at, 2) == one_channel) recordings.push_back(recording(header, samples));
    }
    return recordings;
}

}  // namespace midspan::benchmark
