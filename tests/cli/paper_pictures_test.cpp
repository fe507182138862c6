// Every paper of the demo against a small picture of it that was looked at. FITUP_KEEP_PICTURES=1 takes the
// pictures anew.
#include <cstdlib>
#include <vector>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;

struct Paper {
    std::string part;
    std::string file;  ///< without ending
    int page = 1;
};

void PrintTo(const Paper& paper, std::ostream* out) { *out << paper.file << " page " << paper.page; }

class Papers : public Program, public ::testing::WithParamInterface<Paper> {
  protected:
    /// The page in grey, 30 dots an inch.
    fs::path picture() {
        const Paper& paper = GetParam();
        const Outcome made = run("make '" FITUP_SOURCE_FOLDER "/examples/" + paper.part +
                                     ".json' --quiet --only drawing,sheets,template --to papers",
                                 "env -u SOURCE_DATE_EPOCH");
        EXPECT_EQ(made.status, 0) << made.err;
        const std::string page = std::to_string(paper.page);
        const Outcome drawn = shell("pdftoppm -r 30 -gray -singlefile -f " + page + " 'papers/" + paper.file +
                                    ".pdf' page >/dev/null");
        EXPECT_EQ(drawn.status, 0) << drawn.err;
        return folder_ / "page.pgm";
    }
};

TEST_P(Papers, look_as_they_did) {
    const fs::path seen = picture();
    ASSERT_TRUE(fs::exists(seen));
    const Paper& paper = GetParam();
    const std::string reference =
        FITUP_SOURCE_FOLDER "/tests/cli/papers/" + paper.file + "-" + std::to_string(paper.page) + ".png";
    const bool keeps = std::getenv("FITUP_KEEP_PICTURES") != nullptr;
    const Outcome compared = shell("python3 '" FITUP_SOURCE_FOLDER "/tests/cli/compare_pictures.py' " +
                                   std::string(keeps ? "--keep " : "") + "'" + seen.string() + "' '" +
                                   reference + "' >'" + (folder_ / ".out").string() + "'");
    EXPECT_EQ(compared.status, 0) << compared.out << compared.err;
    EXPECT_FALSE(keeps) << "taken anew: look at " << reference;
}

INSTANTIATE_TEST_SUITE_P(Demo, Papers,
                         ::testing::ValuesIn(std::vector<Paper>{
                             {"winch-adapter", "winch-adapter-drawing", 1},
                             {"winch-adapter", "winch-adapter-drawing", 2},
                             {"winch-adapter", "winch-adapter-sheet-A", 1},
                             {"winch-adapter", "winch-adapter-sheet-B", 1},
                             {"winch-adapter", "winch-adapter-paper-A", 1},
                             {"winch-adapter", "winch-adapter-paper-B", 1},
                             {"selector-crank", "selector-crank-drawing", 1},
                             {"selector-crank", "selector-crank-sheet-B", 1},
                             {"selector-crank", "selector-crank-paper", 1},
                             {"deck-arm", "deck-arm-drawing", 1},
                             {"deck-arm", "deck-arm-drawing", 2},
                             {"deck-arm", "deck-arm-sheet", 1},
                             {"deck-arm", "deck-arm-paper", 1},
                             {"selector-rod", "selector-rod-drawing", 1},
                             {"selector-rod", "selector-rod-sheet", 1}}));

class PictureJudge : public Program {};

/// A page whose left half went black, and one of another size, are told apart from the page itself.
TEST_F(PictureJudge, tells_pages_apart) {
    const auto page = [](int width, int height, int dark) {
        std::string text = "P5\n" + std::to_string(width) + " " + std::to_string(height) + "\n255\n";
        for (int i = 0; i < width * height; ++i) text += i % width < dark ? '\0' : '\xff';
        return text;
    };
    const std::string judge = "python3 '" FITUP_SOURCE_FOLDER "/tests/cli/compare_pictures.py' ";
    put("white.pgm", page(100, 80, 0));
    put("line.pgm", page(100, 80, 2));
    put("small.pgm", page(80, 100, 0));
    ASSERT_EQ(shell(judge + "--keep white.pgm white.png").status, 0);
    EXPECT_EQ(shell(judge + "white.pgm white.png >.out").status, 0);
    EXPECT_EQ(shell(judge + "line.pgm white.png >.out").status, 1);
    EXPECT_EQ(shell(judge + "small.pgm white.png >.out").status, 1);
}

}  // namespace
}  // namespace fitup::cli
