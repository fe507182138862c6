#pragma once

#include <gtest/gtest.h>

#include <string>

#include "parameters/walker.hpp"

namespace fitup::parameters {

inline Node read_sound(std::string_view text) {
    Document document = read_json(text, "sound.json");
    EXPECT_TRUE(document.root && document.faults.empty()) << text;
    return document.root.value_or(Node{});
}

/// The faults of a value under a schema of ours, a line each; a bare number is in `units`.
inline std::string told(std::string_view schema, std::string_view value,
                        std::optional<Units> units = Units::mm) {
    const Node schema_node = read_sound(schema);
    const Node value_node = read_sound(value);
    const References references(schema_node, "test.json");
    Walker walker(references, {.file = "f", .ours = true, .units = units});
    std::string lines;
    for (const Fault& fault : walker.judge(value_node, references.root(), "")) {
        lines += (lines.empty() ? "" : "\n") + to_text(fault);
    }
    return lines;
}

}  // namespace fitup::parameters
