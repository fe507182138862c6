// The report as it is used: opened from the disk in a browser without a screen, its part drawn, holes picked
// by link and by pointer, and what is left of it where the browser draws nothing.
#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>

#include "cli/program.hpp"

namespace fitup::cli {
namespace {

using namespace testing;
using nlohmann::json;

/// Bore 60, holes of 20 at 70 mm to the right, to the left and below, seen on side B.
const char* const crossed_plate = R"({"format": 1, "part": "adapter_plate", "name": "cross", "units": "mm",
  "material": "aluminium 6061-T6", "thickness": 20, "outline": {"round": {"diameter": 200}}, "bore": {"diameter": 60},
  "patterns": [{"name": "arm", "seen_from": "B", "points": [[70, 0], [-70, 0], [0, -70]],
                "hole": {"kind": "drilled", "diameter": 20}}]})";

class Report : public Program {
  protected:
    /// A page in the test's folder with a script of the test's own after all others.
    void make(const std::string& text, const std::string& script = "") {
        put("p.json", text);
        const Outcome outcome = run("make p.json --only report");
        ASSERT_EQ(outcome.status, 0) << outcome.out << outcome.err;
        page_ = content(folder_ / "out/cross.html");
        ASSERT_FALSE(page_.empty());
        const std::size_t end = page_.rfind("</body>");
        put("page.html", page_.substr(0, end) + script + page_.substr(end));
    }

    /// What the browser has made of the page.
    std::string opened(const std::string& fragment, const std::string& flags = "") {
        return browse(fragment, "--dump-dom " + flags);
    }

    std::string browse(const std::string& fragment, const std::string& flags) {
        const Outcome outcome = shell(
            "timeout 100 chromium --headless=new --no-sandbox --user-data-dir=.profile --hide-scrollbars "
            "--force-prefers-reduced-motion --virtual-time-budget=4000 " +
            flags + " 'file://" + (folder_ / "page.html").string() + fragment + "' >.out");
        EXPECT_EQ(outcome.status, 0) << outcome.err;
        return outcome.out;
    }

    std::string page_;
};

std::string attribute_of(const std::string& dom, const std::string& name) {
    std::smatch found;
    const std::regex expression("<html[^>]* data-" + name + "=\"([^\"]*)\"");
    return std::regex_search(dom, found, expression) ? found[1].str() : "none";
}

/// Ids of the rows that are lit.
std::vector<std::string> lit_rows(const std::string& dom) {
    std::vector<std::string> ids;
    const std::regex expression("<tr [^>]*data-id=\"([^\"]*)\"[^>]* class=\"lit\"");
    for (std::sregex_iterator at(dom.begin(), dom.end(), expression), end; at != end; ++at)
        ids.push_back((*at)[1].str());
    return ids;
}

TEST_F(Report, draws_the_part_from_the_disk_and_a_link_lights_its_hole) {
    make(crossed_plate);
    const std::string dom = opened("#hole=arm-2");
    EXPECT_EQ(attribute_of(dom, "view"), "drawn");
    EXPECT_EQ(attribute_of(dom, "lit"), "arm-2");
    EXPECT_EQ(lit_rows(dom), std::vector<std::string>{"arm-2"});
    EXPECT_NE(dom.find("<strong>arm-2</strong>: X -70.00 (-2.7559), Y 0.00 (0.0000), size 20.000"),
              std::string::npos);
}

/// Presses along lines from the view's middle, a pixel apart; what each press lit, as a list of ids.
const char* const sweeping = R"(<script>
{
  const canvas = document.querySelector("canvas.labels"), box = canvas.getBoundingClientRect();
  const press = (x, y) => {
    for (const type of ["pointerdown", "pointerup"])
      canvas.dispatchEvent(new PointerEvent(type, {pointerId: 1, pointerType: "mouse", button: 0, bubbles: true,
        clientX: box.left + box.width / 2 + x, clientY: box.top + box.height / 2 + y}));
    return document.documentElement.dataset.lit;
  };
  const sweep = (dx, dy) => {
    const found = [];
    for (let i = -200; i <= 200; ++i) found.push(press(dx * i, dy * i));
    return found;
  };
  const result = {};
  for (const side of ["b", "a"]) {
    document.querySelector(`button[data-side=${side}]`).click();
    result[side] = {right: sweep(1, 0), down: sweep(0, 1)};
  }
  // By keys: the next rows, back, none. By the wheel: larger by exp(0.36), on what is in the middle.
  const key = name => {
    canvas.dispatchEvent(new KeyboardEvent("keydown", {key: name, bubbles: true}));
    return document.documentElement.dataset.lit;
  };
  result.keys = [key("n"), key("n"), key("p"), key("Escape")];
  document.querySelector("button[data-side=b]").click();
  canvas.dispatchEvent(new WheelEvent("wheel", {deltaY: -240, bubbles: true, cancelable: true,
    clientX: box.left + box.width / 2, clientY: box.top + box.height / 2}));
  result.larger = sweep(1, 0);
  key("Escape");
  // A drag turns it and lights nothing.
  const pointer = (type, x) => canvas.dispatchEvent(new PointerEvent(type, {pointerId: 1, pointerType: "mouse", button: 0,
    buttons: 1, bubbles: true, clientX: box.left + box.width / 2 + x, clientY: box.top + box.height / 2}));
  pointer("pointerdown", 0), pointer("pointermove", 40), pointer("pointermove", 80), pointer("pointerup", 80);
  result.dragged = [document.documentElement.dataset.lit, document.querySelector("#look").textContent,
    document.querySelectorAll("button[aria-pressed=true]").length];
  const place = document.createElement("pre");
  place.id = "swept";
  place.textContent = JSON.stringify(result);
  document.body.append(place);
}
</script>)";

/// Middle and length, in pixels from the view's middle, of the run in which an id was lit.
std::array<double, 2> run_of(const json& sweep, const std::string& id) {
    int first = 1000, last = -1000, count = 0;
    for (int i = 0; i < int(sweep.size()); ++i) {
        if (sweep.at(std::size_t(i)) != id) continue;
        first = std::min(first, i - 200);
        last = std::max(last, i - 200);
        ++count;
    }
    EXPECT_EQ(count, std::max(0, last - first + 1)) << id << ": the run is broken";
    return {(first + last) / 2.0, double(count)};
}

TEST_F(Report, pointer_keys_and_wheel_find_holes_where_the_plan_has_them) {
    make(crossed_plate, sweeping);
    const std::string dom = opened("", "--window-size=1200,900");
    const std::size_t start = dom.find("<pre id=\"swept\">");
    ASSERT_NE(start, std::string::npos);
    const std::string text = dom.substr(start + 16, dom.find("</pre>", start) - start - 16);
    const json swept = json::parse(text);
    const auto on = [&swept](const char* side, const char* way, const char* id) {
        return run_of(swept.at(side).at(way), id);
    };
    // The plan's own proportions: 140 mm between the holes at the sides, 70 down, 60 the bore. A press beside
    // a hole counts within 5 pixels.
    const double scale = (on("b", "right", "arm-1")[0] - on("b", "right", "arm-2")[0]) / 140.0;
    ASSERT_GT(scale, 0.5);
    EXPECT_NEAR(on("b", "right", "arm-1")[0], 70.0 * scale, 1.5);
    EXPECT_NEAR(on("b", "down", "arm-3")[0], 70.0 * scale, 1.5);
    EXPECT_NEAR(on("b", "right", "bore")[1], 60.0 * scale + 10.0, 3.0);
    EXPECT_NEAR(on("b", "right", "arm-1")[1], 20.0 * scale + 10.0, 3.0);
    // Turned over about Y: right and left change, below stays.
    EXPECT_NEAR(on("a", "right", "arm-1")[0], -70.0 * scale, 1.5);
    EXPECT_NEAR(on("a", "right", "arm-2")[0], 70.0 * scale, 1.5);
    EXPECT_NEAR(on("a", "down", "arm-3")[0], 70.0 * scale, 1.5);
    EXPECT_EQ(swept.at("keys"), json({"bore", "arm-1", "bore", ""}));
    EXPECT_NEAR(run_of(swept.at("larger"), "bore")[1], 60.0 * scale * std::exp(0.36) + 10.0, 3.0);
    EXPECT_EQ(swept.at("dragged"), json({"", "Turned by hand.", 0}));
    EXPECT_EQ(lit_rows(dom).size(), 0u) << "the last key was Escape";
}

TEST_F(Report, without_webgl_the_pictures_stay_and_the_table_serves) {
    make(crossed_plate);
    const std::string dom = opened("#hole=arm-2", "--disable-3d-apis");
    EXPECT_EQ(attribute_of(dom, "view"), "still");
    EXPECT_EQ(dom.find("class=\"turns\""), std::string::npos);
    EXPECT_TRUE(std::regex_search(dom, std::regex("<div id=\"turn\"[^>]* hidden")));
    EXPECT_NE(dom.find("<img alt=\"the part, side B up\" src=\"data:image/png;base64,"), std::string::npos);
    EXPECT_NE(dom.find("hole=arm-2"), std::string::npos);
}

/// The view alone, as large as the window, from side B; a page that scrolls to its row is caught half
/// painted.
const char* const alone =
    R"(<style>.stage { position: fixed !important; inset: 0; height: auto !important; z-index: 9; }
header, .rows, section:not(#part) { display: none; }</style>
<script>document.querySelector("button[data-side=b]").click();</script>)";

/// Reads a screenshot's pixels at the places given as shares of its size: a line "r g b" each.
const char* const pixel_reader = R"(
import struct, sys, zlib
data = open(sys.argv[1], 'rb').read()
at, packed = 8, b''
while at < len(data):
    size, kind = struct.unpack('>I4s', data[at:at + 8])
    body = data[at + 8:at + 8 + size]
    if kind == b'IHDR': width, height, depth, colour = struct.unpack('>IIBB', body[:10])
    if kind == b'IDAT': packed += body
    at += 12 + size
assert depth == 8 and colour in (2, 6)
step = 3 if colour == 2 else 4
raw, rows, above = zlib.decompress(packed), [], bytearray(width * step)
for y in range(height):
    start = y * (width * step + 1)
    filter, row = raw[start], bytearray(raw[start + 1:start + 1 + width * step])
    for i in range(len(row)):
        a, b, c = (row[i - step] if i >= step else 0), above[i], (above[i - step] if i >= step else 0)
        p = a + b - c
        paeth = min((abs(p - a), 0, a), (abs(p - b), 1, b), (abs(p - c), 2, c))[2]
        row[i] = (row[i] + (0, a, b, (a + b) // 2, paeth)[filter]) & 255
    rows.append(row)
    above = row
for place in sys.argv[2:]:
    x, y = (float(share) for share in place.split(','))
    start = int(x * width) * step
    print(*rows[int(y * height)][start:start + 3])
)";

using Colour = std::array<int, 3>;

TEST_F(Report, shows_metal_where_the_plan_has_metal_and_the_lit_hole_in_its_colour) {
    make(crossed_plate, alone);
    put("read.py", pixel_reader);
    browse("#hole=arm-1", "--window-size=400,400 --screenshot=shot.png");
    // Between bore and rim at 45 degrees, through the bore, outside; then across the middle.
    std::string places = "0.65,0.35 0.35,0.65 0.5,0.5 0.02,0.02 0.98,0.98";
    for (int x = 0; x < 400; ++x) places += " " + std::to_string((x + 0.5) / 400.0) + ",0.5";
    const Outcome outcome = shell("python3 read.py shot.png " + places + " >.out");
    ASSERT_EQ(outcome.status, 0) << outcome.err;
    std::istringstream lines(outcome.out);
    std::vector<Colour> colours;
    for (Colour one; lines >> one[0] >> one[1] >> one[2];) colours.push_back(one);
    ASSERT_EQ(colours.size(), 405u);
    const Colour paper = colours[3];
    EXPECT_EQ(colours[2], paper);
    EXPECT_EQ(colours[4], paper);
    for (const Colour& metal : {colours[0], colours[1]}) {
        EXPECT_GT(paper[0] - metal[0], 20) << "darker than the paper";
        EXPECT_LT(std::abs(metal[0] - metal[2]), 30) << "no colour of its own";
        EXPECT_GT(metal[0], 90);
    }
    const auto blue = [](const Colour& one) { return one[2] > one[0] + 60; };
    EXPECT_EQ(std::count_if(colours.begin() + 5, colours.begin() + 205, blue), 0) << "left of the middle";
    EXPECT_GT(std::count_if(colours.begin() + 205, colours.end(), blue), 3) << "where the lit hole is";
}

}  // namespace
}  // namespace fitup::cli
