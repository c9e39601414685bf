// result.hpp: what the world outside can do wrong, and a value that may be such a fault instead.
//
// Room: ground. Pure.
#pragma once

#include <cassert>
#include <string>
#include <utility>
#include <variant>

namespace midspan {

/// Whose fault it is; one exit code each.
enum class Fault {
    usage,   ///< 2: what was asked for makes no sense
    input,   ///< 3: input that cannot be read or holds no usable note
    device,  ///< 4: a microphone or sound card
    record,  ///< 5: the setup record
};

struct Error {
    Fault fault;
    std::string subject;  ///< the file, device or option, as the user named it
    std::string problem;  ///< what is wrong with it
    std::string remedy;   ///< what to do now
};

/// A value, or the Error that stands in its place.
template <class Value>
class [[nodiscard]] Result {
public:
    Result(Value value) : content_{std::move(value)} {}
    Result(Error error) : content_{std::move(error)} {}

    [[nodiscard]] bool ok() const { return std::holds_alternative<Value>(content_); }
    explicit operator bool() const { return ok(); }

    /// The value; calling it on an error is a caller's mistake and asserts.
    [[nodiscard]] const Value& value() const& {
        assert(ok());
        return std::get<Value>(content_);
    }
    [[nodiscard]] Value& value() & {
        assert(ok());
        return std::get<Value>(content_);
    }
    [[nodiscard]] Value&& value() && {
        assert(ok());
        return std::get<Value>(std::move(content_));
    }
    [[nodiscard]] const Error& error() const {
        assert(!ok());
        return std::get<Error>(content_);
    }

private:
    std::variant<Value, Error> content_;
};

}  // namespace midspan
