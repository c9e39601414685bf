// instrument_file.cpp: the TOML text that describes an instrument.
//
// Room: instrument. Pure.
#include <fmt/core.h>
#include <toml++/toml.h>

#include <algorithm>
#include <initializer_list>
#include <optional>
#include <string>
#include <vector>

#include "instrument/typed_text.hpp"
#include "midspan/instrument/instrument.hpp"
#include "midspan/instrument/length.hpp"

namespace midspan {
namespace {

/// Reads the keys of one file. The first thing wrong is kept, and reading goes on with harmless values.
class InstrumentFile {
public:
    explicit InstrumentFile(std::string_view file_name) : file_name_{file_name} {}

    Result<Instrument> read(const toml::table& file) {
        refuse_other_keys(file, "",
                          {"name", "tuning", "scale_length", "a4", "left_handed", "bridge", "string"});
        const auto tuning = tuning_of(file);
        const auto scale_lengths = scale_lengths_of(file);
        const double a4 = number_of(file, "a4").value_or(440.0);
        const Saddle shared = saddle_in(file, "bridge");
        if (error_) return *error_;

        auto made = make_instrument(tuning, scale_lengths, Hertz{a4}, shared);
        if (!made) {
            refuse_as(made.error());
            return *error_;
        }
        Instrument instrument = std::move(made).value();
        instrument.name = text_of(file, "name").value_or("");
        instrument.left_handed = flag_of(file, "left_handed").value_or(false);
        read_own_saddles(file, instrument);
        if (error_) return *error_;
        return instrument;
    }

private:
    void refuse(const std::string& key, const std::string& problem, const std::string& remedy) {
        if (!error_) error_ = Error{Fault::input, file_name_, key + ": " + problem, remedy};
    }

    /// What a parser of options refused, said of this file.
    void refuse_as(const Error& refused) { refuse(refused.subject, refused.problem, refused.remedy); }

    template <class Value>
    std::optional<Value> taken(Result<Value> result, const char* key) {
        if (result) return std::move(result).value();
        refuse(key, result.error().subject + ", " + result.error().problem, result.error().remedy);
        return std::nullopt;
    }

    void refuse_other_keys(const toml::table& table, const std::string& where,
                           std::initializer_list<std::string_view> known) {
        for (const auto& [key, value] : table) {
            if (std::find(known.begin(), known.end(), key.str()) != known.end()) continue;
            std::string names;
            for (const auto name : known) {
                names += (names.empty() ? "" : ", ") + std::string{name};
            }
            refuse(quoted(key.str()), "no such key" + (where.empty() ? "" : " in " + where),
                   "the keys are " + names);
        }
    }

    std::optional<std::string> text_of(const toml::table& table, const char* key) {
        if (!table.contains(key)) return std::nullopt;
        auto text = table[key].value_exact<std::string>();
        if (!text) refuse(key, "not a text", fmt::format("write it in quotes: {} = \"...\"", key));
        return text;
    }

    std::optional<bool> flag_of(const toml::table& table, const char* key) {
        if (!table.contains(key)) return std::nullopt;
        const auto flag = table[key].value_exact<bool>();
        if (!flag) refuse(key, "neither true nor false", fmt::format("write {} = true or false", key));
        return flag;
    }

    std::optional<double> number_of(const toml::table& table, const char* key) {
        if (!table.contains(key)) return std::nullopt;
        if (!table[key].is_number()) {
            refuse(key, "not a number", fmt::format("write the bare number: {} = 440", key));
            return std::nullopt;
        }
        return table[key].value<double>();
    }

    /// A number, as text, or a text: so that both go through the door for typed lengths.
    std::optional<std::string> typed_of(const toml::node& node, const char* key) {
        if (auto text = node.value_exact<std::string>()) return text;
        if (node.is_number()) return fmt::format("{}", node.value<double>().value_or(0.0));
        refuse(key, "neither a number nor a text", "write millimetres as 628.65, inches as \"25.5in\"");
        return std::nullopt;
    }

    std::string tuning_of(const toml::table& file) {
        const toml::array* const names = file["tuning"].as_array();
        if (names == nullptr) return text_of(file, "tuning").value_or(std::string{standard_tuning});
        std::string tuning;
        for (const toml::node& node : *names) {
            const auto name = node.value_exact<std::string>();
            if (!name) refuse("tuning", "holds something that is no text", R"(write ["E2", "A2", ...])");
            if (!tuning.empty()) tuning += ',';
            tuning += name.value_or("");
        }
        return tuning;
    }

    std::vector<Millimetres> scale_lengths_of(const toml::table& file) {
        std::vector<Millimetres> lengths;
        const auto add = [&](const toml::node& node) {
            const auto typed = typed_of(node, "scale_length");
            if (!typed) return;
            if (const auto length = taken(parse_scale_length(*typed), "scale_length")) {
                lengths.push_back(*length);
            }
        };
        const toml::node* const node = file.get("scale_length");
        if (node == nullptr) {
            refuse("scale_length", "missing", "measure from the nut to the saddle line and write it down");
        } else if (const toml::array* const several = node->as_array()) {
            for (const toml::node& one : *several) {
                add(one);
            }
        } else {
            add(*node);
        }
        return lengths;
    }

    std::optional<Millimetres> travel_of(const toml::table& table, const char* key) {
        const toml::node* const node = table.get(key);
        if (node == nullptr) return std::nullopt;
        const auto typed = typed_of(*node, key);
        if (!typed) return std::nullopt;
        const auto travel = taken(parse_length(*typed), key);
        if (travel && (*travel < Millimetres{0.0} || *travel > longest_travel)) {
            refuse(key, quoted(*typed) + " is outside 0 to 50 mm", "measure the free way left on that side");
        }
        return travel;
    }

    /// `known` with what `table` says put over it.
    Saddle saddle_of(const toml::table& table, Saddle known) {
        if (const toml::node* const thread = table.get("thread")) {
            if (const auto typed = typed_of(*thread, "thread")) {
                if (const auto pitch = taken(parse_thread_pitch(*typed), "thread"))
                    known.thread_pitch = pitch;
            }
        }
        if (const auto clockwise = text_of(table, "clockwise")) {
            if (*clockwise != "toward_tail" && *clockwise != "toward_nut") {
                refuse("clockwise", quoted(*clockwise) + " is no direction",
                       "write \"toward_tail\" or \"toward_nut\", where a clockwise turn moves the saddle");
            }
            known.clockwise_is_toward_tail = *clockwise == "toward_tail";
        }
        if (const auto travel = travel_of(table, "travel_toward_nut")) known.travel_toward_nut = travel;
        if (const auto travel = travel_of(table, "travel_toward_tail")) known.travel_toward_tail = travel;
        return known;
    }

    Saddle saddle_in(const toml::table& file, const char* key) {
        const toml::node* const node = file.get(key);
        if (node == nullptr) return {};
        const toml::table* const table = node->as_table();
        if (table == nullptr) {
            refuse(key, "not a section", fmt::format("write [{}] on a line of its own", key));
            return {};
        }
        refuse_other_keys(*table, fmt::format("[{}]", key),
                          {"thread", "clockwise", "travel_toward_nut", "travel_toward_tail"});
        return saddle_of(*table, {});
    }

    void read_own_saddles(const toml::table& file, Instrument& instrument) {
        const toml::node* const node = file.get("string");
        if (node == nullptr) return;
        const toml::array* const sections = node->as_array();
        if (sections == nullptr) {
            refuse("string", "not a list of sections",
                   "write [[string]] on a line of its own, twice bracketed");
            return;
        }
        std::vector<bool> said(instrument.strings.size(), false);
        for (const toml::node& section : *sections) {
            const toml::table* const table = section.as_table();
            if (table == nullptr) {
                refuse("string", "not a section", "write [[string]] on a line of its own");
                return;
            }
            refuse_other_keys(*table, "[[string]]",
                              {"number", "thread", "clockwise", "travel_toward_nut", "travel_toward_tail"});
            const auto number = (*table)["number"].value_exact<std::int64_t>().value_or(0);
            const auto strings = static_cast<std::int64_t>(said.size());
            if (number < 1 || number > strings) {
                refuse("string", "a [[string]] without a number of its own",
                       fmt::format("write number = 1 to {}, 1 is the highest-pitched", strings));
                return;
            }
            const auto index = static_cast<std::size_t>(number - 1);
            if (said[index]) {
                refuse("string", fmt::format("number {} stands there twice", number), "put both into one");
            }
            said[index] = true;
            Saddle& saddle = instrument.strings[index].saddle;
            saddle = saddle_of(*table, saddle);
        }
    }

    std::string file_name_;
    std::optional<Error> error_;
};

}  // namespace

Result<Instrument> parse_instrument(std::string_view toml, std::string_view file_name) {
    toml::table file;
    try {
        file = toml::parse(toml);
    } catch (const toml::parse_error& fault) {  // its own errors go no further than here
        return Error{
            Fault::input, std::string{file_name},
            fmt::format("line {}: no TOML: {}", fault.source().begin.line, quoted(fault.description())),
            "mend that line; texts stand in quotes, numbers do not"};
    }
    return InstrumentFile{file_name}.read(file);
}

}  // namespace midspan
