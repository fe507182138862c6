#pragma once

#include <array>

namespace fitup::sheets {

/// Advance of each letter from blank to tilde over the height of capitals, in the lettering font that
/// drawings are made with (fonts-osifont, after ISO 3098); read off the font, and held to it by a test.
inline constexpr std::array<float, 95> letter_widths{
    0.589F, 0.298F, 0.530F, 0.832F, 0.632F, 1.036F, 0.833F, 0.276F, 0.346F, 0.346F, 0.714F, 0.630F,
    0.316F, 0.630F, 0.274F, 0.666F, 0.770F, 0.658F, 0.776F, 0.779F, 0.781F, 0.826F, 0.798F, 0.783F,
    0.801F, 0.817F, 0.301F, 0.346F, 0.630F, 0.629F, 0.630F, 0.630F, 1.099F, 0.833F, 0.910F, 0.813F,
    0.891F, 0.813F, 0.831F, 0.934F, 0.968F, 0.438F, 0.561F, 0.923F, 0.797F, 1.070F, 0.954F, 0.908F,
    0.893F, 0.930F, 0.969F, 0.908F, 0.840F, 0.947F, 0.964F, 1.199F, 0.947F, 0.981F, 0.890F, 0.360F,
    0.626F, 0.360F, 0.528F, 0.630F, 0.428F, 0.736F, 0.812F, 0.679F, 0.803F, 0.802F, 0.734F, 0.830F,
    0.794F, 0.407F, 0.444F, 0.815F, 0.521F, 1.010F, 0.790F, 0.789F, 0.827F, 0.790F, 0.673F, 0.789F,
    0.647F, 0.800F, 0.789F, 1.034F, 0.807F, 0.807F, 0.629F, 0.426F, 0.299F, 0.426F, 0.632F};

/// Of the drawing signs among the others.
struct SignWidth {
    const char* letter;  ///< UTF-8
    float width;
};
inline constexpr std::array<SignWidth, 8> sign_widths{{{"\xE2\x8C\x80", 0.906F},  // diameter
                                                       {"\xE2\x8C\xB4", 1.449F},  // counterbore
                                                       {"\xE2\x8C\xB5", 1.389F},  // countersink
                                                       {"\xE2\x86\xA7", 0.713F},  // depth
                                                       {"\xC3\x98", 0.803F},      // O with stroke
                                                       {"\xC2\xB1", 0.631F},      // plus-minus
                                                       {"\xC2\xB0", 0.531F},      // degree
                                                       {"\xC3\x97", 0.635F}}};    // times

/// Of every other letter: as wide as the widest of Latin letters and drawing signs.
inline constexpr double widest_letter = 1.571;

/// How far letters reach under the base line, over the height of capitals.
inline constexpr double deepest_letter = 0.305;

}  // namespace fitup::sheets
