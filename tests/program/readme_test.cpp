// readme_test.cpp: what the README promises is what the library does.
#include <doctest/doctest.h>

#include <cstdlib>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/view/analysis_json.hpp"
#include "midspan/warning.hpp"
#include "program/shipped_text.hpp"
#include "support/temp_folder.hpp"
#include "view/hand_made_analysis.hpp"

namespace midspan::test {

TEST_SUITE("properties") {
    TEST_CASE("the README explains every warning code, in the order of the code") {
        std::vector<std::string> explained;
        for (const std::string& line : lines(section(shipped("README.md"), "### Warnings\n", "\n## "))) {
            if (line.starts_with("| `")) explained.push_back(line.substr(3, line.find('`', 3) - 3));
        }
        std::vector<std::string> codes;
        for (const WarningCode code : all_warning_codes())
            codes.emplace_back(code_name(code));
        CHECK(explained == codes);
    }

    TEST_CASE("the README explains every key of the JSON") {
        const std::string json = section(shipped("README.md"), "## JSON\n", "\n### ");
        const std::function<void(const nlohmann::json&)> look = [&](const nlohmann::json& value) {
            if (value.is_array()) {
                for (const auto& element : value)
                    look(element);
            }
            if (!value.is_object()) return;
            for (const auto& item : value.items()) {
                CAPTURE(item.key());
                CHECK(json.find('`' + item.key() + '`') != std::string::npos);
                look(item.value());
            }
        };
        look(nlohmann::json::parse(analysis_json(hand_made_analysis())));
    }

    TEST_CASE("the README's visit can be had as it stands there") {
        const TempFolder folder;
        const std::string before = in_a_checkout(folder);
        int commands = 0;
        for (const std::string& line :
             lines(section(shipped("README.md"), "## The setup record\n", "\n## "))) {
            if (!line.starts_with("    midspan ")) continue;
            CAPTURE(line);
            CHECK(std::system((before + line + " >/dev/null").c_str()) == 0);
            ++commands;
        }
        CHECK(commands > 10);
    }

    TEST_CASE("the README's instrument file is one") {
        const std::string example = section(shipped("README.md"), "```toml\n", "```");
        const auto instrument = parse_instrument(example.substr(example.find('\n') + 1), "README.md");
        REQUIRE(instrument.ok());
        CHECK(instrument.value().name == "Bench guitar");
        CHECK(instrument.value().strings.size() == 6);
    }
}

}  // namespace midspan::test
