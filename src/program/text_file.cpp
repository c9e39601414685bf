// text_file.cpp: read to the end; write beside it and only then take its place.
//
// Room: program. Edge: the disk.
#include "program/text_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

namespace midspan::program {
namespace {

/// A descriptor that is closed in any case.
class Descriptor {
public:
    explicit Descriptor(int number) : number_{number} {}
    ~Descriptor() {
        if (number_ > STDERR_FILENO) ::close(number_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    [[nodiscard]] int number() const { return number_; }

private:
    int number_;
};

/// 0, or the error number.
int write_and_sync(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(descriptor, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return errno;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    // A pipe or a terminal has nothing to sync.
    return ::fsync(descriptor) == 0 || errno == EINVAL || errno == EROFS ? 0 : errno;
}

Error cannot_write(const std::string& path, int number) {
    return {Fault::record, path, std::string{"cannot be written: "} + std::strerror(number),
            "make room, or name another place"};
}

/// Devices and pipes have no place to be taken.
std::optional<Error> write_through(const std::string& path, std::string_view text) {
    const Descriptor file{::open(path.c_str(), O_WRONLY | O_CLOEXEC)};
    if (file.number() < 0) return cannot_write(path, errno);
    if (const int number = write_and_sync(file.number(), text)) return cannot_write(path, number);
    return std::nullopt;
}

}  // namespace

Result<std::string> read_text(const std::string& path) {
    const auto refuse = [&path](int number) {
        const std::string name = path == "-" ? "standard input" : path;
        const std::string problem = number == ENOENT ? "there is no such file" : std::strerror(number);
        return Error{Fault::input, name, problem, "give the path of a file that can be read"};
    };
    const Descriptor file{path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
    if (file.number() < 0) return refuse(errno);
    std::string text;
    char piece[65536];
    for (;;) {
        const ssize_t got = ::read(file.number(), piece, sizeof piece);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return refuse(errno);
        if (got == 0) return text;
        text.append(piece, static_cast<std::size_t>(got));
    }
}

std::optional<Error> write_text(const std::string& path, std::string_view text) {
    struct stat there {};
    if (::stat(path.c_str(), &there) == 0 && !S_ISREG(there.st_mode)) {
        if (S_ISDIR(there.st_mode)) return cannot_write(path, EISDIR);
        return write_through(path, text);
    }
    const std::string beside = path + ".part";
    const Descriptor file{::open(beside.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666)};
    if (file.number() < 0) return cannot_write(path, errno);
    int number = write_and_sync(file.number(), text);
    if (number == 0 && std::rename(beside.c_str(), path.c_str()) != 0) number = errno;
    if (number == 0) return std::nullopt;
    ::unlink(beside.c_str());
    return cannot_write(path, number);
}

}  // namespace midspan::program
