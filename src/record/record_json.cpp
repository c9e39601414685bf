// record_json.cpp: one walk over the fields writes, another reads.
//
// Room: record. Pure.
#include <fmt/format.h>

#include <cassert>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <set>

#include "midspan/record/record_names.hpp"
#include "midspan/record/record_text.hpp"
#include "record/neck_analysis_text.hpp"
#include "record/record_check.hpp"
#include "record/record_fields.hpp"

namespace midspan {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view schema_name = "midspan/record/1";

template <class T>
concept Enumeration = std::is_enum_v<T>;

class Writer {
public:
    template <class T>
    void operator()(const char* name, const T& value) {
        object_[name] = written(value);
    }
    [[nodiscard]] Json object() && { return std::move(object_); }

private:
    static Json written(bool value) { return value; }
    static Json written(int value) { return value; }
    static Json written(double value) {
        assert(std::isfinite(value));
        return value;
    }
    static Json written(const std::string& value) { return value; }
    static Json written(const NoteName& value) { return value.text(); }
    template <Enumeration T>
    static Json written(const T& value) {
        return name_of(value);
    }
    template <class Unit>
    static Json written(Quantity<Unit> value) {
        return written(value.value());
    }
    template <class T>
    static Json written(const std::optional<T>& value) {
        return value ? written(*value) : Json(nullptr);
    }
    template <class T>
    static Json written(const std::vector<T>& values) {
        Json all = Json::array();
        for (const T& value : values)
            all.push_back(written(value));
        return all;
    }
    template <class T>
    static Json written(const T& value) {
        Writer writer;
        fields(writer, value);
        return std::move(writer).object();
    }

    Json object_ = Json::object();
};

/// Reads one object; the first fault, with its place, ends all further reading.
class Reader {
public:
    Reader(const Json& object, std::string place, std::optional<std::string>& fault)
        : object_{object}, place_{std::move(place)}, fault_{fault} {}

    template <class T>
    void operator()(const char* name, T& value) {
        known_.insert(name);
        if (fault_) return;
        const auto found = object_.find(name);
        if (found == object_.end()) {
            fault_ = fmt::format("{}: no {}", place_, name);
            return;
        }
        read(*found, fmt::format("{}.{}", place_, name), value);
    }

    /// To be called behind the last field.
    void want_no_other() {
        for (const auto& item : object_.items()) {
            if (!fault_ && !known_.contains(item.key())) {
                fault_ = fmt::format("{}: {} is not known", place_, item.key());
            }
        }
    }

private:
    void want(bool holds, const std::string& place, std::string_view what) {
        if (!holds && !fault_) fault_ = fmt::format("{}: {}", place, what);
    }

    void read(const Json& json, const std::string& place, bool& value) {
        want(json.is_boolean(), place, "neither true nor false");
        if (!fault_) value = json.get<bool>();
    }
    void read(const Json& json, const std::string& place, int& value) {
        constexpr std::int64_t least = std::numeric_limits<int>::min();
        constexpr std::int64_t most = std::numeric_limits<int>::max();
        const bool fits = json.is_number_integer() &&
                          (!json.is_number_unsigned() || json.get<std::uint64_t>() <= most) &&
                          json.get<std::int64_t>() >= least && json.get<std::int64_t>() <= most;
        want(fits, place, "no whole number");
        if (!fault_) value = json.get<int>();
    }
    void read(const Json& json, const std::string& place, double& value) {
        want(json.is_number(), place, "no number");
        if (!fault_) value = json.get<double>();
    }
    void read(const Json& json, const std::string& place, std::string& value) {
        want(json.is_string(), place, "no text");
        if (!fault_) value = json.get<std::string>();
    }
    void read(const Json& json, const std::string& place, NoteName& value) {
        std::string text;
        read(json, place, text);
        if (fault_) return;
        const Result<NoteName> note = NoteName::parse(text);
        want(note.ok(), place, "no note such as F#3");
        if (note.ok()) value = note.value();
    }
    template <Enumeration T>
    void read(const Json& json, const std::string& place, T& value) {
        std::string text;
        read(json, place, text);
        if (fault_) return;
        const std::optional<T> found = from_name<T>(text);
        want(found.has_value(), place, "none of the words that may stand there");
        if (found) value = *found;
    }
    template <class Unit>
    void read(const Json& json, const std::string& place, Quantity<Unit>& value) {
        double number = 0.0;
        read(json, place, number);
        value = Quantity<Unit>{number};
    }
    template <class T>
    void read(const Json& json, const std::string& place, std::optional<T>& value) {
        value.reset();
        if (json.is_null()) return;
        value = blank(Type<T>{});
        read(json, place, *value);
    }
    template <class T>
    void read(const Json& json, const std::string& place, std::vector<T>& values) {
        want(json.is_array(), place, "no list");
        values.clear();
        for (std::size_t i = 0; !fault_ && i < json.size(); ++i) {
            values.push_back(blank(Type<T>{}));
            read(json[i], fmt::format("{}[{}]", place, i), values.back());
        }
    }
    template <class T>
    void read(const Json& json, const std::string& place, T& value) {
        want(json.is_object(), place, "no object");
        if (fault_) return;
        Reader reader{json, place, fault_};
        fields(reader, value);
        reader.want_no_other();
    }

    const Json& object_;
    std::string place_;
    std::optional<std::string>& fault_;
    std::set<std::string> known_;
};

Error refused(std::string_view file_name, std::string problem) {
    return {Fault::input, std::string{file_name}, std::move(problem),
            "give a file that 'midspan export' wrote, as it wrote it"};
}

std::optional<std::string> schema_fault(const Json& json) {
    if (!json.is_object()) return "no setup record";
    const auto schema = json.find("schema");
    if (schema == json.end() || !schema->is_string()) return "says no schema, so it is no setup record";
    if (*schema != schema_name) {
        return fmt::format("has the schema {}, and this midspan reads {}", schema->get<std::string>(),
                           schema_name);
    }
    return std::nullopt;
}

}  // namespace

std::string record_json(const SetupRecord& record) {
    Writer writer;
    writer("schema", std::string{schema_name});
    fields(writer, record);
    return std::move(writer).object().dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

Result<SetupRecord> parse_record(std::string_view text, std::string_view file_name) {
    Json json;
    try {
        json = Json::parse(text);
    } catch (const Json::parse_error& error) {
        return refused(file_name, fmt::format("is no JSON from byte {} on", error.byte));
    } catch (const Json::exception&) {
        return refused(file_name, "holds a number that is too large");
    }
    if (auto fault = schema_fault(json)) return refused(file_name, *std::move(fault));

    SetupRecord record;
    std::optional<std::string> fault;
    std::string schema;
    Reader reader{json, "record", fault};
    reader("schema", schema);
    fields(reader, record);
    reader.want_no_other();
    if (!fault) fault = nonsense_in(record);
    if (fault) return refused(file_name, *std::move(fault));
    return record;
}

std::string neck_analysis_text(const NeckAnalysis& analysis) {
    Writer writer;
    fields(writer, analysis);
    return std::move(writer).object().dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::optional<NeckAnalysis> neck_analysis_in(std::string_view text) {
    const Json json = Json::parse(text, nullptr, false);
    if (!json.is_object()) return std::nullopt;
    NeckAnalysis analysis = blank(Type<NeckAnalysis>{});
    std::optional<std::string> fault;
    Reader reader{json, "survey", fault};
    fields(reader, analysis);
    reader.want_no_other();
    if (!fault) fault = nonsense_in(analysis);
    return fault ? std::nullopt : std::optional{std::move(analysis)};
}

}  // namespace midspan
