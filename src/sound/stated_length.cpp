// stated_length.cpp: a walk along the chunks of RIFF, RF64 and AIFF files.
//
// Room: sound. Pure.
#include "sound/stated_length.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace midspan {
namespace {

constexpr std::uint64_t shortest_stream_mark = 0x7FFFF000;
constexpr int most_chunks = 1000;  // a file with more before its samples is not worth the walk

class Reader {
public:
    Reader(const ReadAt& read_at, bool big_endian) : read_at_{read_at}, big_endian_{big_endian} {}

    /// An unsigned number of `bytes` bytes; nothing behind the end of the file.
    [[nodiscard]] std::optional<std::uint64_t> number(std::uint64_t offset, std::size_t bytes) const {
        std::array<std::byte, 8> raw{};
        const auto wanted = std::span{raw}.first(bytes);
        if (read_at_(offset, wanted) != bytes) return std::nullopt;
        if (!big_endian_) std::reverse(wanted.begin(), wanted.end());
        std::uint64_t value = 0;
        for (const std::byte byte : wanted) {
            value = value << 8 | std::to_integer<std::uint64_t>(byte);
        }
        return value;
    }

    [[nodiscard]] bool says(std::uint64_t offset, std::string_view text) const {
        std::array<std::byte, 4> raw{};
        if (read_at_(offset, raw) != raw.size()) return false;
        return std::equal(raw.begin(), raw.end(), text.begin(), text.end(),
                          [](std::byte byte, char letter) { return byte == static_cast<std::byte>(letter); });
    }

private:
    const ReadAt& read_at_;
    bool big_endian_;
};

/// Calls `visit(offset of the content, stated size)` for one chunk after another until it answers false.
template <class Visit>
void walk_chunks(const Reader& reader, std::uint64_t file_bytes, Visit visit) {
    std::uint64_t offset = 12;  // behind the outer id, size and kind
    for (int chunk = 0; chunk < most_chunks && offset < file_bytes; ++chunk) {
        const auto size = reader.number(offset + 4, 4);
        if (!size || !visit(offset, *size)) return;
        offset += 8 + *size + *size % 2;
    }
}

/// stated  nothing: the file was written as a stream
StatedLength compared(std::optional<std::uint64_t> stated, std::uint64_t samples_begin,
                      std::uint64_t file_bytes, std::uint64_t frame_bytes) {
    const std::uint64_t present = file_bytes > samples_begin ? file_bytes - samples_begin : 0;
    return {stated.value_or(present), present, std::max<std::uint64_t>(frame_bytes, 1)};
}

/// What a length field of 32 bits says about `bytes_before` bytes and the samples behind them.
std::optional<std::uint64_t> stated_by(std::uint64_t field, std::uint64_t bytes_before) {
    if (field <= bytes_before || field >= shortest_stream_mark) return std::nullopt;
    return field - bytes_before;
}

std::optional<StatedLength> riff_length(const Reader& reader, std::uint64_t file_bytes) {
    std::optional<StatedLength> found;
    std::uint64_t frame_bytes = 1;
    std::optional<std::uint64_t> long_size;
    walk_chunks(reader, file_bytes, [&](std::uint64_t chunk, std::uint64_t size) {
        if (reader.says(chunk, "ds64")) {
            long_size = reader.number(chunk + 16, 8);
        } else if (reader.says(chunk, "fmt ")) {
            const std::uint64_t encoding = reader.number(chunk + 8, 2).value_or(0);
            constexpr std::uint64_t pcm = 1, floating = 3, extensible = 0xFFFE;
            if (encoding == pcm || encoding == floating || encoding == extensible) {
                frame_bytes = reader.number(chunk + 20, 2).value_or(1);
            }
        } else if (reader.says(chunk, "data")) {
            found = compared(long_size ? long_size : stated_by(size, 0), chunk + 8, file_bytes, frame_bytes);
            return false;
        }
        return true;
    });
    return found;
}

std::optional<StatedLength> aiff_length(const Reader& reader, std::uint64_t file_bytes, bool compressed) {
    std::optional<StatedLength> found;
    std::uint64_t frame_bytes = 1;
    walk_chunks(reader, file_bytes, [&](std::uint64_t chunk, std::uint64_t size) {
        if (reader.says(chunk, "COMM") && !compressed) {
            const std::uint64_t channels = reader.number(chunk + 8, 2).value_or(1);
            const std::uint64_t bits = reader.number(chunk + 14, 2).value_or(8);
            frame_bytes = channels * ((bits + 7) / 8);
        } else if (reader.says(chunk, "SSND")) {
            found = compared(stated_by(size, 8), chunk + 16, file_bytes, frame_bytes);
            return false;
        }
        return true;
    });
    return found;
}

}  // namespace

std::optional<StatedLength> stated_length(const ReadAt& read_at, std::uint64_t file_bytes) {
    const Reader little{read_at, false};
    const Reader big{read_at, true};
    if (little.says(8, "WAVE")) {
        if (little.says(0, "RIFF") || little.says(0, "RF64")) return riff_length(little, file_bytes);
        if (big.says(0, "RIFX")) return riff_length(big, file_bytes);
    }
    if (big.says(0, "FORM")) {
        if (big.says(8, "AIFF")) return aiff_length(big, file_bytes, false);
        if (big.says(8, "AIFC")) return aiff_length(big, file_bytes, true);
    }
    return std::nullopt;
}

}  // namespace midspan
