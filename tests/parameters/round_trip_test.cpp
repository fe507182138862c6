#include <gtest/gtest.h>

#include "parameters/random_json.hpp"

namespace fitup::parameters {
namespace {

/// Places of keys and values in the order of the text.
void collect(const Node& node, std::vector<RandomJson::Place>& places) {
    places.push_back({node.line, node.column});
    for (const Node& item : node.items) collect(item, places);
    for (const Node::Member& member : node.members) {
        places.push_back({member.line, member.column});
        collect(member.value, places);
    }
}

TEST(RoundTrip, random_values_are_read_back_equal_with_their_places) {
    const bool held = rc::check([] {
        const RandomJson random = RandomWriter().write();
        const Document document = read_json(random.text, "random.json");
        RC_LOG() << random.text;
        RC_ASSERT(document.faults.empty());
        RC_ASSERT(document.root.has_value());
        RC_ASSERT(same_value(*document.root, random.value));
        std::vector<RandomJson::Place> places;
        collect(*document.root, places);
        RC_ASSERT(places.size() == random.places.size());
        for (std::size_t i = 0; i < places.size(); ++i) {
            RC_ASSERT(places[i].line == random.places[i].line);
            RC_ASSERT(places[i].column == random.places[i].column);
        }
    });
    EXPECT_TRUE(held);
}

/// Whatever one byte is put, changed or lost: a value or a fault with a place inside the text, never both,
/// never neither.
TEST(RoundTrip, a_damaged_text_ends_in_a_value_or_a_fault) {
    const bool held = rc::check([] {
        std::string text = RandomWriter().write().text;
        static constexpr char bytes[] = "\"\\{}[],:/* \n\r\t0-e.\x80\xC3\x01u";
        const auto at =
            static_cast<std::size_t>(*rc::gen::inRange<int>(0, static_cast<int>(text.size()) + 1));
        const char byte = bytes[*rc::gen::inRange<int>(0, sizeof bytes)];
        if (*rc::gen::arbitrary<bool>() && at < text.size()) {
            text[at] = byte;
        } else {
            text.insert(at, 1, byte);
        }
        const Document document = read_json(text, "damaged.json");
        RC_LOG() << text;
        RC_ASSERT(document.root.has_value() || document.faults.size() >= 1);
        for (const Fault& fault : document.faults) {
            RC_ASSERT(!fault.message.empty());
            RC_ASSERT(fault.message.find("json.exception") == std::string::npos);
            RC_ASSERT(fault.line <= 1 + static_cast<int>(text.size()));
        }
    });
    EXPECT_TRUE(held);
}

}  // namespace
}  // namespace fitup::parameters
