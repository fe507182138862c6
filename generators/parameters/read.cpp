#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <unordered_map>

#include "base/text.hpp"
#include "parameters/bytes.hpp"
#include "parameters/node.hpp"
#include "parameters/place.hpp"
#include "parameters/syntax.hpp"

namespace fitup::parameters {

namespace {

using Json = nlohmann::json;

constexpr std::size_t deepest = 64;
/// A value takes some 200 bytes of memory; a long file of tiny ones is refused before it takes gigabytes.
constexpr std::size_t most_values = 500000;
/// More double keys than this say no more than these do.
constexpr std::size_t most_double_keys = 200;

/// An object or list that is still being read.
struct Open {
    Node node;
    std::string path;
    Node::Member next;                                            ///< the key that waits for its value
    std::unordered_map<std::string, std::pair<int, int>> places;  ///< of the keys so far
};

/// Builds nodes from the parser's events. Events bring no places, so the text is walked in step: each event
/// is the next token, and where that one begins and ends is known.
class Builder : public nlohmann::json_sax<Json> {
  public:
    Builder(std::string_view text, Document& document) : document_(document), at_(text) {}

    bool null() override { return literal(node_of(Node::Type::null), 4); }
    bool boolean(bool truth) override {
        Node node = node_of(Node::Type::boolean);
        node.truth = truth;
        return literal(std::move(node), truth ? 4 : 5);
    }
    bool number_integer(number_integer_t) override { return number(); }
    bool number_unsigned(number_unsigned_t) override { return number(); }
    bool number_float(number_float_t, const string_t&) override { return number(); }
    bool binary(binary_t&) override { return false; }

    bool string(string_t& text) override {
        begin_token();
        end_token(string_end(at_.text(), at_.offset()), Progress::Last::value);
        return put(placed(text_node(std::move(text))));
    }

    bool key(string_t& text) override {
        begin_token();
        end_token(string_end(at_.text(), at_.offset()), Progress::Last::key);
        Open& open = open_.back();
        open.next = {.key = std::move(text), .line = begin_.line(), .column = begin_.column(), .value = {}};
        note_double(open);
        return true;
    }

    bool start_object(std::size_t) override { return start(Node::Type::object); }
    bool start_array(std::size_t) override { return start(Node::Type::list); }
    bool end_object() override { return end(); }
    bool end_array() override { return end(); }

    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception& error) override {
        constexpr int number_overflow = 406;
        document_.root.reset();
        if (error.id == number_overflow) {
            begin_token();
            refuse_number(
                at_.text().substr(at_.offset(), number_end(at_.text(), at_.offset()) - at_.offset()));
        } else {
            document_.faults.push_back(syntax_fault(progress(), document_.file));
        }
        return false;
    }

  private:
    void begin_token() {
        at_.skip_to_token();
        begin_ = at_;
    }

    void end_token(std::size_t end, Progress::Last last) {
        at_.move_to(end);
        last_ = last;
    }

    Node placed(Node node) const {
        node.line = begin_.line();
        node.column = begin_.column();
        return node;
    }

    Fault fault_place(std::string key) const {
        return {
            .file = document_.file, .line = begin_.line(), .column = begin_.column(), .key = std::move(key)};
    }

    /// The path of the value that comes next.
    std::string next_path() const {
        if (open_.empty()) return {};
        const Open& open = open_.back();
        if (open.node.type == Node::Type::list) return key_path(open.path, open.node.items.size());
        return key_path(open.path, open.next.key);
    }

    bool literal(Node node, std::size_t length) {
        begin_token();
        end_token(at_.offset() + length, Progress::Last::value);
        return put(placed(std::move(node)));
    }

    bool number() {
        begin_token();
        const std::size_t end = number_end(at_.text(), at_.offset());
        const std::string_view spelling = at_.text().substr(at_.offset(), end - at_.offset());
        const std::optional<double> value = parse_number(spelling);
        if (!value) return refuse_number(spelling);
        end_token(end, Progress::Last::value);
        Node node = node_of(Node::Type::number);
        node.number = *value == 0.0 ? 0.0 : *value;
        node.whole = std::floor(node.number) == node.number;
        node.text = spelling;
        return put(placed(std::move(node)));
    }

    bool refuse_number(std::string_view spelling) {
        document_.root.reset();
        Node node = node_of(Node::Type::number);
        node.text = spelling;
        document_.faults.push_back(
            fault_of(fault_place(next_path()), shown(node), "a number of a size that can be worked with"));
        return false;
    }

    bool start(Node::Type type) {
        begin_token();
        if (open_.size() == deepest) {
            document_.root.reset();
            document_.faults.push_back(
                fault_of(fault_place({}), "lists and objects nested deeper than " + std::to_string(deepest),
                         "at most " + std::to_string(deepest)));
            return false;
        }
        Open open;
        open.path = next_path();
        open.node = placed(node_of(type));
        open_.push_back(std::move(open));
        end_token(at_.offset() + 1, Progress::Last::opening);
        return true;
    }

    bool end() {
        at_.skip_to_token();
        end_token(at_.offset() + 1, Progress::Last::value);
        Node node = std::move(open_.back().node);
        open_.pop_back();
        return put(std::move(node));
    }

    bool put(Node node) {
        if (++values_ > most_values) return refuse_more();
        if (open_.empty()) {
            document_.root = std::move(node);
        } else if (Open& open = open_.back(); open.node.type == Node::Type::list) {
            open.node.items.push_back(std::move(node));
        } else {
            open.next.value = std::move(node);
            open.node.members.push_back(std::move(open.next));
        }
        return true;
    }

    bool refuse_more() {
        document_.root.reset();
        const std::string most = std::to_string(most_values);
        document_.faults.push_back(
            fault_of(fault_place({}), "more than " + most + " values", "at most " + most));
        return false;
    }

    void note_double(Open& open) {
        const auto [first, is_new] = open.places.try_emplace(open.next.key, begin_.line(), begin_.column());
        if (is_new || document_.faults.size() >= most_double_keys) return;
        const std::string place =
            std::to_string(first->second.first) + ":" + std::to_string(first->second.second);
        document_.faults.push_back(fault_of(fault_place(key_path(open.path, open.next.key)),
                                            "the key a second time", "each key once in an object",
                                            "the first is at " + place));
    }

    Progress progress() const {
        Progress progress{.last = last_, .begin = begin_, .end = at_};
        if (!open_.empty()) {
            const Node& open = open_.back().node;
            progress.open = open.type == Node::Type::object ? '{' : '[';
            progress.open_line = open.line;
            progress.open_column = open.column;
        }
        return progress;
    }

    Document& document_;
    Cursor at_;
    Cursor begin_{""};
    Progress::Last last_ = Progress::Last::nothing;
    std::vector<Open> open_;
    std::size_t values_ = 0;
};

}  // namespace

Document read_json(std::string_view bytes, std::string file) {
    Document document{.file = std::move(file)};
    if (const auto fault = unreadable(bytes, document.file)) {
        document.faults.push_back(*fault);
        return document;
    }
    const std::string_view text = without_byte_order_mark(bytes);
    Builder builder(text, document);
    constexpr bool nothing_after = true;
    constexpr bool comments_allowed = true;
    Json::sax_parse(text.begin(), text.end(), &builder, Json::input_format_t::json, nothing_after,
                    comments_allowed);
    return document;
}

}  // namespace fitup::parameters
