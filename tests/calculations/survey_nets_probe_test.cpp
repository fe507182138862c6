// Many nets of spans alone: none may be told wrong. FITUP_NETS=6 takes six of each kind, great ones too, and
// prints a table.
#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>
#include <functional>
#include <map>

#include "calculations/net_verdict.hpp"

namespace fitup::calculations {

namespace {

using namespace testing;

struct Kind {
    std::string name;
    std::function<Net(Random&, int)> net;
};

const std::vector<Kind>& kinds() {
    static const auto ring_of = [](int reach, double off_mm, double in_out_mm) {
        return [=](Random& random, int count) { return bare_ring(random, count, reach, off_mm, in_out_mm); };
    };
    static const auto scattered_of = [](std::size_t neighbours) {
        return [=](Random& random, int count) { return scattered(random, count, neighbours); };
    };
    static const std::vector<Kind> all{{"perfect ring, next 2", ring_of(2, 0.0, 0.0)},
                                       {"ring off by 0.5, next 2", ring_of(2, 0.5, 0.0)},
                                       {"zigzag ring, next 2", ring_of(2, 3.0, 15.0)},
                                       {"perfect ring, next 3", ring_of(3, 0.0, 0.0)},
                                       {"ring off by 0.5, next 3", ring_of(3, 0.5, 0.0)},
                                       {"zigzag ring, next 3", ring_of(3, 3.0, 15.0)},
                                       {"strip, next 4", strip},
                                       {"scattered, 4 neighbours", scattered_of(4)},
                                       {"scattered, 5 neighbours", scattered_of(5)},
                                       {"scattered, 6 neighbours", scattered_of(6)}};
    return all;
}

enum class Hand { exact, noisy, blundering };

Verdict verdict(const Kind& kind, int count, Hand hand, unsigned seed) {
    Random random(seed);
    const Net net = kind.net(random, count);
    Survey survey = measured(net, random, hand == Hand::exact);
    if (hand != Hand::blundering) return verdict_on(survey, net);
    const std::vector<Reading> clean = survey.readings;
    const int wrong = blundered(survey, net, random);
    return verdict_on(survey, net, wrong, clean[std::size_t(wrong)].value);
}

using Counts = std::array<int, 6>;

void print(const std::string& what, const Counts& counts) {
    std::printf("%-36s", what.c_str());
    for (const int count : counts) std::printf("%10d", count);
    std::printf("\n");
    std::fflush(stdout);
}

TEST(NetsProbe, tells_no_net_wrong) {
    const bool all = std::getenv("FITUP_NETS") != nullptr;
    const unsigned seeds = all ? unsigned(std::atoi(std::getenv("FITUP_NETS"))) : 3;
    Counts total{};
    for (const Kind& kind : kinds())
        for (const int count : all ? std::vector{8, 12, 16, 20, 25, 40, 60, 100} : std::vector{8, 12, 16, 25})
            for (const Hand hand : {Hand::exact, Hand::noisy, Hand::blundering}) {
                Counts counts{};
                for (unsigned seed = 1; seed <= seeds; ++seed) {
                    const Verdict said = verdict(kind, count, hand, seed);
                    ++counts[std::size_t(said)], ++total[std::size_t(said)];
                    EXPECT_NE(said, Verdict::wrong)
                        << kind.name << " " << count << " " << int(hand) << " " << seed;
                }
                const char* const hands[] = {"exact", "noise", "blunder"};
                if (all) print(kind.name + " " + std::to_string(count) + " " + hands[int(hand)], counts);
            }
    if (all) print("all", total);
}

}  // namespace

}  // namespace fitup::calculations
