#pragma once

#include "parts/mockup_marks.hpp"

/// What is written on a mock-up.
namespace fitup::parts {

/// Of how many this piece is one.
struct PieceNumber {
    int number = 1;
    int count = 1;
};

/// Writes on a piece: each hole's name beside it (a dowel's size too), what the print is and which way up it
/// lies. Names and piece numbers that find no room even in small letters become findings.
/// @param source  the part; `piece` gets the marks
/// @returns words alike on all pieces that find no room on this one
std::vector<std::string> add_words(const plan::Plan& source, const plan::Mockup& settings,
                                   const PieceNumber& number, const Region& region, Room& room,
                                   plan::Plan& piece, plan::Findings& findings);

/// "There is no room for .. on the mock-up: write it on by hand."
std::string no_room_text(const std::vector<std::string>& words);

/// In capitals, with a blank for every byte that has no letter.
std::string in_letters(const std::string& text);

}  // namespace fitup::parts
