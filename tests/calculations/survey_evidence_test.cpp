#include "calculations/survey_evidence.hpp"

#include <gtest/gtest.h>

#include "calculations/nets.hpp"
#include "calculations/survey_settle.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

/// In and out by turns, each measured to the next two.
Net zigzag(Random& random, int count) { return bare_ring(random, count, 2, 3.0, 15.0); }

Evidence evidence_in(const Net& net) {
    Random random(1);
    return evidence_of(network_of(measured(net, random, true)));
}

TEST(Evidence, counts_what_may_lie_on_either_side) {
    Random random(1);
    // Three spans a step hold a strip; two leave each point after the first three on either side, and only
    // the closing of the ring checks that.
    EXPECT_EQ(evidence_in(strip(random, 12)).folds, 0);
    const Evidence ring = evidence_in(zigzag(random, 20));
    EXPECT_EQ(ring.folds, 17);
    EXPECT_EQ(ring.checks, 3);
    EXPECT_EQ(ring.flaps, 0);
    // A point on two spans: spans to spare within the strip say nothing of its side.
    Net flap = strip(random, 12);
    flap.at.push_back({100.0, 130.0});
    flap.measure(3, 12);
    flap.measure(6, 12);
    const Evidence open = evidence_in(flap);
    EXPECT_EQ(open.folds, 1);
    EXPECT_EQ(open.checks, 0);
    EXPECT_EQ(open.flaps, 1);
    EXPECT_FALSE(tells_one(open, 0, 40));
}

/// Every choice of sides of a ring measured to the next two, laid point by point from the first two; those
/// that nearly close are settled.
class Foldings {
  public:
    Foldings(const Net& net, const Network& network) : net_(net), network_(network), at_(net.at.size()) {
        at_[0] = {};
        at_[1] = {span(net.at, 0, 1), 0.0};
        lay(2);
    }
    int fitting = 0;

  private:
    void lay(std::size_t k) {
        if (k == at_.size()) return judge();
        const double a = span(net_.at, int(k), int(k) - 2), b = span(net_.at, int(k), int(k) - 1);
        const Point from = at_[k - 2], between = at_[k - 1] - from;
        const double d = plan::length(between), along = (a * a - b * b + d * d) / (2.0 * d);
        const double height = std::sqrt(a * a - along * along);
        const Point u = plan::unit(between);
        for (const double side : {1.0, -1.0}) {
            // The mirror image is the same arrangement.
            if (k == 2 && side < 0.0) continue;
            at_[k] = from + u * along + Point{-u.y_mm, u.x_mm} * (side * height);
            lay(k + 1);
        }
    }

    void judge() {
        const int last = int(at_.size()) - 1;
        double open_mm = 0.0;
        for (const auto& [a, b] : {std::pair{last, 0}, {last - 1, 0}, {last, 1}})
            open_mm += std::abs(span(at_, a, b) - span(net_.at, a, b));
        if (open_mm < 20.0 && settle(network_, at_).sum_of_squares < 16.3) ++fitting;
    }

    const Net& net_;
    const Network& network_;
    std::vector<Point> at_;
};

TEST(Evidence, several_foldings_of_a_zigzag_ring_fit) {
    // The other way: all 2^19 of them. 16.3: of three checks one in a thousand times.
    Random random(1);
    const Net net = zigzag(random, 22);
    Survey survey = measured(net, random, true);
    for (Reading& reading : survey.readings) reading.sigma = 0.05;
    const Network network = network_of(survey);
    EXPECT_GT(Foldings(net, network).fitting, 1);
    const Evidence evidence = evidence_of(network);
    EXPECT_FALSE(tells_one(evidence, 0, survey.readings.size()));
    // Two fewer points than bits: one alone fits.
    const Net few = zigzag(random, 12);
    Survey small = measured(few, random, true);
    for (Reading& reading : small.readings) reading.sigma = 0.05;
    const Network closed = network_of(small);
    EXPECT_EQ(Foldings(few, closed).fitting, 1);
    EXPECT_TRUE(tells_one(evidence_of(closed), 0, small.readings.size()));
}

/// Stopped, and as many spans right across added as it asks for.
void add_what_is_asked(Net& net, Random& random) {
    const Adjusted stopped = adjust(measured(net, random));
    ASSERT_FALSE(stopped.fit) << net.count();
    ASSERT_EQ(stopped.troubles.size(), 1u);
    EXPECT_NE(stopped.troubles[0].found.find("many arrangements"), std::string::npos);
    EXPECT_NE(stopped.troubles[0].found.find(std::to_string(net.count() - 3) + " points"), std::string::npos);
    EXPECT_NE(stopped.troubles[0].wanted.find("span between"), std::string::npos);
    const int count = net.count(), more = std::stoi(stopped.troubles[0].wanted);
    ASSERT_GE(more, 1);
    for (int k = 0; k < more; ++k) net.measure(k * count / (2 * more), k * count / (2 * more) + count / 2);
    EXPECT_TRUE(tells_one(evidence_in(net), 0, net.pairs.size())) << count;
}

TEST(Evidence, too_little_of_it_stops_a_survey_and_what_it_asks_for_settles_it) {
    for (const bool in_out : {false, true})
        for (const int count : in_out ? std::vector{24, 32, 60} : std::vector{24, 32}) {
            Random random(2);
            Net net = in_out ? zigzag(random, count) : bare_ring(random, count, 2, 0.5, 0.0);
            add_what_is_asked(net, random);
            const Adjusted settled = adjust(measured(net, random));
            ASSERT_TRUE(settled.fit) << count << in_out << ": " << settled.troubles[0].found;
            EXPECT_TRUE(settled.fit->is_arranged) << count << in_out;
            EXPECT_LT(most_off(*settled.fit, net.at), 6.5) << count << in_out;
        }
}

TEST(Evidence, a_hundred_holes_on_a_circle_that_know_their_neighbours_are_no_places) {
    Random random(3);
    const Adjusted adjusted = adjust(measured(bare_ring(random, 100, 2, 0.5, 0.0), random));
    ASSERT_FALSE(adjusted.fit);
    EXPECT_NE(adjusted.troubles[0].found.find("97 points"), std::string::npos) << adjusted.troubles[0].found;
}

TEST(Evidence, a_perfect_circle_is_no_mirror_image_of_itself) {
    // Nominal figures: every span exact, every triangle as wide as its image.
    for (const int count : {8, 12, 24, 40}) {
        Random random(1);
        const Net net = bare_ring(random, count, 3, 0.0, 0.0);
        const Adjusted adjusted = adjust(measured(net, random, true));
        ASSERT_TRUE(adjusted.fit) << count << ": " << adjusted.troubles[0].found;
        for (int i = 0; i < count; ++i)
            EXPECT_NEAR(span(adjusted.fit->points_mm, 0, i), span(net.at, 0, i), 1e-6);
    }
}

}  // namespace

}  // namespace fitup::calculations
