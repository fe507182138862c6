#include "calculations/stack_reading.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "parts/kinds.hpp"
#include "parts/reading.hpp"

namespace fitup::calculations {

namespace {

using parts::Field;
using parts::Reader;

class StackReader {
  public:
    explicit StackReader(Reader& reader) : reader_(reader) {}

    Stack read() {
        const Field root = reader_.root();
        stack_.name = reader_.text_or(root["name"], "");
        stack_.revision = reader_.text_or(root["revision"], "");
        stack_.units = reader_.units();
        for (std::size_t i = 0; i < root["links"].size(); ++i) read_link(root["links"].item(i), i);
        read_closings(root["closes"]);
        check_open_link(root);
        return std::move(stack_);
    }

  private:
    void read_link(const Field& field, std::size_t index) {
        StackLink link;
        link.name = reader_.text_or(field["name"], "");
        link.size_mm = reader_.length_mm_or(field["size"], 0.0);
        const double tolerance_mm = reader_.length_mm_or(field["tolerance"], 0.0);
        link.plus_mm = reader_.length_mm_or(field["plus"], tolerance_mm);
        link.minus_mm = reader_.length_mm_or(field["minus"], tolerance_mm);
        link.has_tolerance = field["plus"] || field["minus"] || field["tolerance"];
        check_link_name(field["name"], link.name);
        if (reader_.truth_or(field["solve"], false)) {
            if (stack_.solve)
                reader_.wrong_in_words(field["solve"], "a second open link; " +
                                                           stack_.links[*stack_.solve].name +
                                                           " is solved for already, and only one can be");
            else
                stack_.solve = index;
        }
        stack_.links.push_back(std::move(link));
    }

    void check_link_name(const Field& field, const std::string& name) {
        if (name.starts_with('-'))
            reader_.wrong(field, "a name that does not begin with -: that turns a sign in `through`");
        const bool is_known = std::any_of(stack_.links.begin(), stack_.links.end(),
                                          [&](const StackLink& other) { return other.name == name; });
        if (is_known && !name.empty()) reader_.wrong(field, "a name that no other link has");
    }

    void read_closings(const Field& field) {
        if (field && field.node->type == parameters::Node::Type::object) return read_closing(field, 0);
        for (std::size_t i = 0; i < field.size(); ++i) read_closing(field.item(i), i);
    }

    void read_closing(const Field& field, std::size_t index) {
        Closing closing;
        closing.name = reader_.text_or(field["name"], "closing-" + std::to_string(index + 1));
        const bool is_known = std::any_of(stack_.closings.begin(), stack_.closings.end(),
                                          [&](const Closing& other) { return other.name == closing.name; });
        if (is_known) reader_.wrong(field["name"], "a name that no other closing has");
        closing.between = read_window(field["between"]);
        read_through(field["through"], closing);
        stack_.closings.push_back(std::move(closing));
    }

    std::optional<Interval> read_window(const Field& field) {
        const auto least = reader_.length_mm(field.item(0)), most = reader_.length_mm(field.item(1));
        if (!least || !most) return {};
        if (*least >= *most) reader_.wrong(field, "the least first and the most after it");
        return Interval{*least, *most};
    }

    void read_through(const Field& field, Closing& closing) {
        if (!field) {
            for (std::size_t link = 0; link < stack_.links.size(); ++link)
                closing.through.push_back({link, 1.0});
            return;
        }
        for (std::size_t i = 0; i < field.size(); ++i) read_term(field.item(i), closing);
    }

    void read_term(const Field& field, Closing& closing) {
        const auto written = reader_.text(field);
        if (!written) return;
        const bool is_turned = written->starts_with('-');
        std::string name = is_turned ? written->substr(1) : *written;
        name.erase(0, name.find_first_not_of(' '));
        const auto found = std::find_if(stack_.links.begin(), stack_.links.end(),
                                        [&](const StackLink& link) { return link.name == name; });
        if (found == stack_.links.end()) return unknown_link(field, name);
        const auto link = std::size_t(found - stack_.links.begin());
        const bool is_twice = std::any_of(closing.through.begin(), closing.through.end(),
                                          [link](const StackTerm& term) { return term.link == link; });
        if (is_twice) return reader_.wrong(field, "each link once: " + name + " is in this closing already");
        closing.through.push_back({link, is_turned ? -1.0 : 1.0});
    }

    /// The sign before a name is no slip of the fingers.
    void unknown_link(const Field& field, const std::string& name) {
        std::vector<std::string> names;
        for (const StackLink& link : stack_.links) names.push_back(link.name);
        const auto nearest = nearest_word(name, names);
        reader_.wrong(field, "the name of a link", nearest ? "the nearest is \"" + *nearest + "\"" : "");
    }

    /// An open link must be asked for by a closing with a window, or nothing says what it must be.
    void check_open_link(const Field& root) {
        if (!stack_.solve || reader_.has_faults()) return;
        const bool is_asked =
            std::any_of(stack_.closings.begin(), stack_.closings.end(), [this](const Closing& closing) {
                return closing.between &&
                       std::any_of(closing.through.begin(), closing.through.end(),
                                   [this](const StackTerm& term) { return term.link == *stack_.solve; });
            });
        if (is_asked) return;
        reader_.wrong_in_words(root["links"].item(*stack_.solve)["solve"],
                               "no closing with `between` goes through " + stack_.links[*stack_.solve].name +
                                   ", so nothing says what it must be");
    }

    Reader& reader_;
    Stack stack_;
};

}  // namespace

ReadStack read_stack(const parameters::Document& document) {
    Reader reader(document, parts::units_of(document));
    Stack stack = StackReader(reader).read();
    if (reader.has_faults()) return {std::nullopt, parts::refused(reader).faults};
    return {std::move(stack), {}};
}

}  // namespace fitup::calculations
