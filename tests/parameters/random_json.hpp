#pragma once

#include <rapidcheck.h>

#include <string>
#include <vector>

#include "parameters/node.hpp"

namespace fitup::parameters {

/// A random JSON text with blanks and comments between its tokens, and where each value and key of it begins,
/// in the order of the text: counted while writing, by bytes and line ends alone.
struct RandomJson {
    struct Place {
        int line = 1;
        int column = 1;
    };
    std::string text;
    Node value;
    std::vector<Place> places;
};

/// Writes random JSON; every choice is rapidcheck's, so that a failure shrinks.
class RandomWriter {
  public:
    RandomJson write() {
        gap();
        result_.value = value(4);
        gap();
        return result_;
    }

  private:
    static int choose(int below) { return *rc::gen::inRange(0, below); }

    void put(const std::string& token) { result_.text += token; }

    void note_place() {
        RandomJson::Place place;
        for (std::size_t at = 0; at < result_.text.size(); ++at) {
            const char c = result_.text[at];
            const bool ends_line =
                c == '\n' || (c == '\r' && (at + 1 == result_.text.size() || result_.text[at + 1] != '\n'));
            const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
            if (ends_line) {
                place = {place.line + 1, 1};
            } else if (!continues && c != '\r') {
                ++place.column;
            }
        }
        result_.places.push_back(place);
    }

    void gap() {
        static const std::vector<std::string> gaps{
            "", "", "", " ", "\n", "\r\n", "\r", "\t", "// Ø {[\n", "// a\r", "/* \" \n ø */", "/**/"};
        for (int n = choose(3); n > 0; --n)
            put(gaps[static_cast<std::size_t>(choose(static_cast<int>(gaps.size())))]);
    }

    std::string plain_text() {
        static const std::vector<std::string> parts{"a", "B-3", "Ø", "\U0001F529", "/*", "//",
                                                    "{", ",",   ":", " ",          ""};
        std::string text;
        for (int n = choose(4); n > 0; --n)
            text += parts[static_cast<std::size_t>(choose(static_cast<int>(parts.size())))];
        return text;
    }

    /// The text written plainly, or with an escape behind it.
    std::string text_token(std::string& text) {
        static const std::vector<std::pair<std::string, std::string>> escapes{
            {"", ""},      {"\\\"", "\""},   {"\\\\", "\\"},
            {"\\n", "\n"}, {"\\u00d8", "Ø"}, {"\\ud83d\\udd29", "\U0001F529"},
            {"\\/", "/"}};
        const auto& [spelling, meaning] =
            escapes[static_cast<std::size_t>(choose(static_cast<int>(escapes.size())))];
        const std::string token = "\"" + text + spelling + "\"";
        text += meaning;
        return token;
    }

    Node boolean() {
        Node node = node_of(Node::Type::boolean);
        node.truth = choose(2) == 1;
        put(node.truth ? "true" : "false");
        return node;
    }

    Node number() {
        static const std::vector<std::pair<std::string, double>> numbers{
            {"0", 0.0},
            {"-0.0", 0.0},
            {"12", 12.0},
            {"-3.50", -3.5},
            {"1e2", 100.0},
            {"2.5E-1", 0.25},
            {"0.4995", 0.4995},
            {"1E+3", 1000.0},
            {"9007199254740993", 9007199254740992.0},
            {"18446744073709551615", 18446744073709551615.0},
            {"123456789012345678901234567890", 123456789012345678901234567890.0}};
        const auto& [spelling, number] =
            numbers[static_cast<std::size_t>(choose(static_cast<int>(numbers.size())))];
        put(spelling);
        Node node = node_of(Node::Type::number);
        node.number = number;
        node.text = spelling;
        return node;
    }

    Node text() {
        std::string words = plain_text();
        put(text_token(words));
        return text_node(words);
    }

    Node list(int depth) {
        Node node = node_of(Node::Type::list);
        put("[");
        gap();
        for (int n = choose(4), i = 0; i < n; ++i) {
            if (i > 0) put(",");
            gap();
            node.items.push_back(value(depth - 1));
            gap();
        }
        put("]");
        return node;
    }

    Node object(int depth) {
        Node node = node_of(Node::Type::object);
        put("{");
        gap();
        for (int n = choose(4), i = 0; i < n; ++i) {
            if (i > 0) put(",");
            gap();
            std::string key = std::to_string(i) + plain_text();
            note_place();
            put(text_token(key));
            gap();
            put(":");
            gap();
            node.members.push_back({key, 0, 0, value(depth - 1)});
            gap();
        }
        put("}");
        return node;
    }

    Node value(int depth) {
        note_place();
        switch (choose(depth > 0 ? 6 : 4)) {
            case 0:
                put("null");
                return {};
            case 1:
                return boolean();
            case 2:
                return number();
            case 3:
                return text();
            case 4:
                return list(depth);
            default:
                return object(depth);
        }
    }

    RandomJson result_;
};

}  // namespace fitup::parameters
