// by_python.hpp: what another program says of a text that is written for others.
//
// Room: tests/support.
#pragma once

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include "support/temp_folder.hpp"

namespace midspan::test {

/// What a Python program has to say, run with a file that holds `text` and the folder of the schemas.
inline std::string said_by_python(const std::string& program, const std::string& text) {
    const TempFolder folder;
    std::ofstream{folder.file("program.py")} << program;
    std::ofstream{folder.file("text"), std::ios::binary} << text;
    const std::string command = "/usr/bin/python3 '" + folder.file("program.py") + "' '" +
                                folder.file("text") + "' '" MIDSPAN_SCHEMAS "' >'" + folder.file("said") +
                                "' 2>&1";
    const int status = std::system(command.c_str());
    std::ifstream file{folder.file("said")};
    const std::string said{std::istreambuf_iterator<char>{file}, {}};
    REQUIRE_MESSAGE(status == 0, said);
    return said;
}

/// What a schema that ships has against JSON texts, one a line or one in all; empty when it has nothing.
inline std::string against_schema(const std::string& schema, const std::string& text) {
    return said_by_python(
        "import json, sys, jsonschema\n"
        "schema = json.load(open(sys.argv[2] + '/" +
            schema +
            ".schema.json', encoding='utf-8'))\n"
            "jsonschema.Draft202012Validator.check_schema(schema)\n"
            "validator = jsonschema.Draft202012Validator(schema)\n"
            "text = open(sys.argv[1], encoding='utf-8').read()\n"
            "try:\n"
            "    values = [json.loads(text)]\n"
            "except json.JSONDecodeError:\n"
            "    values = [json.loads(line) for line in text.splitlines()]\n"
            "for value in values:\n"
            "    for error in list(validator.iter_errors(value))[:3]:\n"
            "        print(error.json_path, error.message[:200])\n",
        text);
}

}  // namespace midspan::test
