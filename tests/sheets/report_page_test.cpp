// The report's page: every hole once and in its place, nothing that came from outside as markup, nothing
// fetched, small enough. What it does in a browser is tested in cli/report_test.cpp.
#include "sheets/report_page.hpp"

#include <gtest/gtest.h>

#include <map>
#include <regex>

#include "base/text.hpp"
#include "sheets/hole_list.hpp"
#include "sheets/html.hpp"
#include "sheets/report_sample.hpp"

namespace fitup::sheets {
namespace {

using namespace testing;

std::vector<std::string> all_of(const std::string& page, const std::string& pattern) {
    const std::regex expression(pattern);
    std::vector<std::string> found;
    for (std::sregex_iterator at(page.begin(), page.end(), expression), end; at != end; ++at)
        found.push_back((*at)[1].str());
    return found;
}

/// The page without what was compiled in: style, scripts and data of pictures.
std::string markup_of(const std::string& page) {
    std::string markup;
    std::size_t at = 0;
    for (std::size_t start; (start = page.find("<script", at)) != std::string::npos;) {
        const std::size_t open = page.find('>', start) + 1;
        markup += page.substr(at, open - at);
        at = page.find("</script>", open);
    }
    return markup + page.substr(at);
}

/// X and Y in millimetres of each row, by the hole's id.
std::multimap<std::string, std::array<double, 2>> places_of(const std::string& page) {
    std::multimap<std::string, std::array<double, 2>> places;
    std::size_t at = 0;
    while ((at = page.find("data-id=\"", at)) != std::string::npos) {
        const std::string row = page.substr(at, page.find("</tr>", at) - at);
        const std::vector<std::string> numbers = all_of(row, "<td class=\"n\">(-?[0-9.]+)<small>");
        const std::string id = row.substr(9, row.find('"', 9) - 9);
        if (numbers.size() >= 2) places.insert({id, {*parse_number(numbers[0]), *parse_number(numbers[1])}});
        at += row.size();
    }
    return places;
}

TEST(Base64, is_that_of_rfc_4648) {
    // The test vectors of RFC 4648, section 10.
    const std::map<std::string, std::string> vectors{{"", ""},
                                                     {"f", "Zg=="},
                                                     {"fo", "Zm8="},
                                                     {"foo", "Zm9v"},
                                                     {"foob", "Zm9vYg=="},
                                                     {"fooba", "Zm9vYmE="},
                                                     {"foobar", "Zm9vYmFy"}};
    for (const auto& [bytes, text] : vectors) EXPECT_EQ(base64(bytes), text);
}

TEST(ReportPage, has_each_hole_once_where_the_hole_list_has_it) {
    for (const char* example : {"winch-adapter.json", "selector-crank.json"}) {
        const Sample one = sample(example);
        const auto places = places_of(one.page());
        EXPECT_EQ(places.size(), one.plan.holes.size()) << example;
        for (const HoleLine& line : hole_lines(one.plan)) {
            ASSERT_EQ(places.count(line.id), 1u) << line.id;
            const auto [x_mm, y_mm] = places.find(line.id)->second;
            // A line of the list stands on the side its operation is done from; the row on the hole's own.
            EXPECT_NEAR(std::abs(x_mm), std::abs(line.x_mm), 0.0051) << line.id;
            EXPECT_NEAR(y_mm, line.y_mm, 0.0051) << line.id;
        }
        for (const plan::Hole& hole : one.plan.holes) {
            const double sign = hole.from == plan::Side::A ? -1.0 : 1.0;
            EXPECT_NEAR(places.find(hole.id)->second[0], sign * hole.at_mm.x_mm, 0.0051) << hole.id;
        }
    }
}

TEST(ReportPage, turns_x_over_for_what_is_made_from_side_a) {
    const Sample one = sample_of_text(R"({"format": 1, "part": "adapter_plate", "name": "p", "units": "mm",
        "material": "mild steel", "thickness": 10, "outline": {"round": {"diameter": 100}},
        "patterns": [{"name": "a", "seen_from": "B", "points": [[30, 5]],
                      "hole": {"kind": "tapped", "thread": "M6", "depth": 6, "from": "A"}},
                     {"name": "b", "seen_from": "B", "points": [[30, -15]], "hole": {"kind": "drilled", "diameter": 5}}]})");
    const std::string page = one.page();
    const auto places = places_of(page);
    ASSERT_EQ(places.size(), 2u);
    EXPECT_EQ(places.find("a-1")->second, (std::array<double, 2>{-30.0, 5.0}));
    EXPECT_EQ(places.find("b-1")->second, (std::array<double, 2>{30.0, -15.0}));
    EXPECT_LT(page.find("Side B up"), page.find("hole=b-1"));
    EXPECT_LT(page.find("Side A up"), page.find("hole=a-1"));
    EXPECT_NE(page.find("X has changed its sign"), std::string::npos);
}

TEST(ReportPage, of_a_rod_has_its_bends_and_ends) {
    const Sample one = sample("selector-rod.json");
    const std::vector<std::string> ids = all_of(one.page(), "data-id=\"([^\"]*)\"");
    ASSERT_EQ(ids.size(), one.plan.rod->corners.size());
    EXPECT_EQ(ids.front(), "end-1");
    EXPECT_EQ(ids[1], "bend-1");
    EXPECT_EQ(ids.back(), "end-2");
}

TEST(ReportPage, takes_nothing_from_outside_for_markup) {
    const std::string evil = "\"'><script>alert(1)</script></pre></textarea><img src=x onerror=alert(2)><!--";
    Sample one = sample("selector-crank.json");
    const std::size_t scripts = all_of(one.page(), "(<script)").size();
    const std::size_t pictures = all_of(one.page(), "(<img)").size();
    one.plan.name = one.plan.note = one.plan.revision = one.plan.material.name = evil;
    one.plan.holes[1].id = evil;
    one.bytes = evil + '\0' + evil;
    one.findings.push_back(plan::finding_of(evil, plan::Severity::warn, evil, evil));
    one.findings.back().source = evil;
    one.work.push_back({evil, evil, evil});
    const std::string page = one.page();
    EXPECT_EQ(all_of(page, "(<script)").size(), scripts);
    EXPECT_EQ(all_of(page, "(<img)").size(), pictures);
    EXPECT_EQ(page.find("<!--"), std::string::npos);
    EXPECT_EQ(page.find('\0'), std::string::npos);
    // It is there all the same, as text: name, note, revision, material, .. and the parameters twice.
    EXPECT_GE(all_of(page, "(&lt;script&gt;alert\\(1\\)&lt;/script&gt;)").size(), 11u);
}

TEST(ReportPage, fetches_nothing) {
    for (const char* example : {"winch-adapter.json", "selector-rod.json", "deck-arm.json"}) {
        const std::string markup = markup_of(sample(example).page());
        EXPECT_NE(markup.find("default-src &#39;none&#39;"), std::string::npos);
        for (const std::string& goal : all_of(markup, "(?:src|href|action|data)=\"([^\"]{0,12})"))
            EXPECT_TRUE(goal.starts_with("data:") || goal.starts_with("#")) << goal;
        for (const char* word : {"http:", "https:", "@import", "url(", "<link", "<iframe", "<object"})
            EXPECT_EQ(markup.find(word), std::string::npos) << example << ": " << word;
    }
}

TEST(ReportPage, stays_under_three_megabytes_with_six_hundred_holes) {
    std::string rings;
    for (int ring = 0; ring < 10; ++ring)
        rings += std::string(ring > 0 ? "," : "") + R"({"name": "ring-)" + std::to_string(ring) +
                 R"(", "seen_from": "B", "circle": {"diameter": )" + std::to_string(600 + 60 * ring) +
                 R"(, "count": 60}, "hole": {"kind": "clearance", "for": "M6", "fit": "normal",
                   "recess": {"diameter": 14, "depth": 6, "side": "A"}}})";
    const Sample one = sample_of_text(R"({"format": 1, "part": "adapter_plate", "name": "many", "units": "mm",
        "material": "aluminium 6061-T6", "thickness": 20, "outline": {"round": {"diameter": 1240}},
        "bore": {"diameter": 300}, "patterns": [)" +
                                      rings + "]}");
    ASSERT_EQ(one.plan.holes.size(), 601u);
    const std::string page = one.page();
    EXPECT_EQ(places_of(page).size(), 601u);
    EXPECT_LT(page.size(), 3'000'000u);
}

TEST(ReportPage, has_the_drawing_or_says_where_it_is) {
    const Sample one = sample("selector-crank.json");
    ReportInput input = one.input();
    EXPECT_EQ(report_page(input).find("Drawing</h2>"), std::string::npos);
    input.drawings = {{"sheet 1", "<svg onload=\"alert(1)\"/>"}, {"sheet 2", ""}};
    const std::string page = report_page(input);
    EXPECT_NE(page.find("src=\"data:image/svg+xml;base64," + base64(input.drawings[0].svg)),
              std::string::npos);
    EXPECT_EQ(page.find("<svg"), std::string::npos) << "never a part of the page itself";
    EXPECT_NE(page.find("sheet 2: too large for this page; see selector-crank-drawing.pdf"),
              std::string::npos);
}

TEST(ReportPage, lists_the_fasteners) {
    const Sample one = sample("selector-crank.json");
    ReportInput input = one.input();
    EXPECT_EQ(report_page(input).find("Fasteners</h2>"), std::string::npos);
    FastenerRow stud{.where = "gearbox", .count = 8, .what = "stud", .size = "M10"};
    stud.length_mm = 50.8;
    stud.made_up_of = "<b>22 mm</b> in the plate";
    FastenerRow nut{.where = "gearbox", .count = 8, .what = "nut", .size = "M10"};
    input.fasteners = {stud, nut};
    std::string page = report_page(input);
    EXPECT_NE(page.find("Fasteners</h2>"), std::string::npos);
    EXPECT_NE(page.find("<td>50.8 mm (2 in)</td>"), std::string::npos);
    EXPECT_NE(page.find("&lt;b&gt;22 mm&lt;/b&gt; in the plate"), std::string::npos);
    EXPECT_EQ(page.find("reach + "), std::string::npos);
    input.fasteners[0].plus_reach = true;
    page = report_page(input);
    EXPECT_NE(page.find("<td>reach + 50.8 mm (2 in)</td>"), std::string::npos);
}

TEST(ReportPage, tells_findings_files_figures_parameters_and_cautions) {
    Sample one = sample("deck-arm.json");
    one.bytes = "{\"name\": \"deck-arm\" /* as it was */}";
    const std::string page = one.page();
    for (const char* words : {"part.step", "read back: 7 comparisons", "developed length", "/* as it was */",
                              "A check is no approval", "centre of gravity", "offset arm"})
        EXPECT_NE(page.find(words), std::string::npos) << words;
    for (const plan::Finding& finding : one.findings) {
        EXPECT_NE(page.find(html_text(finding.message)), std::string::npos) << finding.message;
        EXPECT_NE(page.find(html_text(finding.source)), std::string::npos) << finding.source;
    }
}

}  // namespace
}  // namespace fitup::sheets
