#include "sheets/drawing.hpp"

#include <algorithm>

namespace fitup::sheets {

double text_width_mm(const std::string& text, double size_mm) {
    // Lettering after ISO 3098 takes about 0.75 of its height a character, blanks included.
    constexpr double share = 0.75;
    const auto characters =
        std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; });
    return share * size_mm * double(characters);
}

std::string shortened(const std::string& text, std::size_t most_letters) {
    std::size_t letters = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool starts_letter = (text[i] & 0xC0) != 0x80;
        if (starts_letter && letters++ == most_letters) return text.substr(0, i) + "..";
    }
    return text;
}

std::array<double, 4> box_of(const Text& text) {
    const double width_mm = text_width_mm(text.text, text.size_mm);
    const double left_mm = text.at[0] - (text.anchor == Anchor::left     ? 0.0
                                         : text.anchor == Anchor::middle ? width_mm / 2.0
                                                                         : width_mm);
    return {left_mm, text.at[1] - text.size_mm, left_mm + width_mm, text.at[1]};
}

bool overlap(const Text& first, const Text& second) {
    const auto a = box_of(first), b = box_of(second);
    return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

std::vector<std::array<std::string, 2>> overlapping_texts(const Drawing& drawing) {
    std::vector<const Text*> texts;
    for (const auto& item : drawing.items) {
        if (const Text* text = std::get_if<Text>(&item); text != nullptr && text->turn_rad == 0.0)
            texts.push_back(text);
    }
    std::vector<std::array<std::string, 2>> pairs;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            if (overlap(*texts[i], *texts[j])) pairs.push_back({texts[i]->text, texts[j]->text});
        }
    }
    return pairs;
}

}  // namespace fitup::sheets
