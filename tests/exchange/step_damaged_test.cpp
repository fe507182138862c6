// Damaged and hostile STEP files: a plain reason, never a crash. The kernel alone falls over one in six of
// such.
#include <gtest/gtest.h>

#include <random>

#include "base/error.hpp"
#include "exchange/kernel.hpp"
#include "solid/plates.hpp"

namespace fitup::exchange {
namespace {

std::string sound_text() {
    plan::Plan plan = plates::many_holes(3);
    plan.pockets.push_back(
        plates::relief("relief-1", plan::Contour(plan::Circle{{-10, 10}, 6}), plan::Side::A, 3));
    return kernel().step_text(*kernel().build(plan, plan::skin(plan)).solid, plan, {});
}

/// The reason why it can't be measured; "" when it can.
std::string refusal(const std::string& text) {
    try {
        kernel().measure_step(text, "f.step");
        return "";
    } catch (const FileError& error) {
        return error.what();
    }
}

std::string with_data(const std::string& data) {
    return "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\nFILE_NAME('','',(''),(''),'','','');\n"
           "FILE_SCHEMA(('AUTOMOTIVE_DESIGN'));\nENDSEC;\nDATA;\n" +
           data + "ENDSEC;\nEND-ISO-10303-21;\n";
}

TEST(StepDamaged, each_kind_of_damage_has_a_plain_reason) {
    EXPECT_EQ(refusal(""), "f.step: the file is empty");
    EXPECT_EQ(refusal(" \n\t"), "f.step: the file is empty");
    EXPECT_EQ(refusal("solid cube\n"), "f.step: this is no STEP file: it does not start with ISO-10303-21;");
    EXPECT_EQ(refusal("ISO-10303-21;\nHEADER;"),
              "f.step: the STEP file is cut short: END-ISO-10303-21; is missing");
    EXPECT_EQ(refusal("ISO-10303-21;\nEND-ISO-10303-21;"), "f.step: the STEP file has no HEADER;");
    EXPECT_EQ(refusal(with_data("#1 = POINT('a',#2);\n")),
              "f.step: #2 is named and not there: the file is damaged");
    EXPECT_EQ(refusal(with_data("#1 = A();\n#1 = A();\n")), "f.step: #1 is there twice");
    EXPECT_EQ(refusal(with_data("#1 = A((1.);\n")), "f.step: line 8: a list is not closed");
    EXPECT_EQ(refusal(with_data("#1 = A(1.));\n")), "f.step: line 8: a list is closed that was not opened");
    EXPECT_EQ(refusal(with_data("#1 = A(" + std::string(200, '(') + std::string(200, ')') + ");\n")),
              "f.step: line 8: lists are nested deeper than 100");
    EXPECT_EQ(refusal(with_data("#99999999999 = A();\n")),
              "f.step: line 8: # without a sound instance number");
    EXPECT_EQ(refusal(with_data("#1 = A('no end);\n")),
              "f.step: line 8: a text in quotes has no end: the file is cut short");
    EXPECT_EQ(refusal(with_data(std::string("#1 = A(\0);\n", 11))),
              "f.step: line 8: a byte of value zero: this is no text");
    EXPECT_EQ(refusal(with_data("#1 = CARTESIAN_POINT('',(0.,0.,0.));\n")),
              "f.step: the STEP text holds no shape");
}

TEST(StepDamaged, a_file_cut_off_anywhere_is_refused) {
    const std::string text = sound_text();
    ASSERT_EQ(refusal(text), "");
    for (std::size_t i = 1; i < 50; ++i) EXPECT_NE(refusal(text.substr(0, text.size() * i / 50)), "") << i;
}

/// One of several ways to spoil an instance: its type, a number, a reference, or the whole of it.
std::string spoilt(std::string text, std::mt19937& random) {
    const auto one_of = [&](std::size_t count) {
        return std::uniform_int_distribution<std::size_t>(0, count - 1)(random);
    };
    const std::size_t data = text.find("DATA;") + 6;
    const std::size_t start = text.find('#', data + one_of(text.size() - data - 2000));
    const std::size_t end = text.find(';', start);
    constexpr const char* types[] = {"CIRCLE",
                                     "PLANE",
                                     "ELLIPSE",
                                     "TOROIDAL_SURFACE",
                                     "MAPPED_ITEM",
                                     "EDGE_LOOP",
                                     "TRIMMED_CURVE",
                                     "SHELL_BASED_SURFACE_MODEL",
                                     "B_SPLINE_CURVE_WITH_KNOTS",
                                     "NO_SUCH_THING"};
    constexpr const char* values[] = {"0.", "-1.", "1.E300",   "$",        "*",
                                      "''", ".T.", "(((1.)))", "1.E+9999", "#12"};
    switch (one_of(4)) {
        case 0: {
            const std::size_t equals = text.find('=', start);
            return text.replace(equals + 2, text.find('(', equals) - equals - 2, types[one_of(10)]);
        }
        case 1: {
            const std::size_t comma = text.find(',', start);
            return text.replace(comma + 1, text.find_first_of(",)", comma + 1) - comma - 1,
                                values[one_of(10)]);
        }
        case 2: {
            const std::size_t reference = text.find('#', start + 1);
            const std::size_t last = text.find_first_not_of("0123456789", reference + 1);
            return text.replace(reference + 1, last - reference - 1, std::to_string(1 + one_of(150)));
        }
        default:
            return text.erase(start, end + 1 - start);
    }
}

TEST(StepDamaged, spoilt_instances_are_measured_or_refused_and_the_process_lives) {
    const std::string text = sound_text();
    constexpr unsigned seed = 4711;
    std::mt19937 random(seed);
    int refused = 0;
    for (int i = 0; i < FITUP_PROPERTY_CASES; ++i) {
        SCOPED_TRACE("case " + std::to_string(i) + " of seed " + std::to_string(seed));
        if (!refusal(spoilt(text, random)).empty()) ++refused;
    }
    EXPECT_GT(refused, FITUP_PROPERTY_CASES / 10);
    EXPECT_EQ(refusal(text), "") << "a sound file after the damaged ones";
}

}  // namespace
}  // namespace fitup::exchange
