#include "exchange/paint.hpp"

namespace fitup::exchange {

namespace {

struct Paint {
    std::string_view family;
    std::array<double, 3> srgb;
};

constexpr Paint paints[] = {
    {"aluminium", {0.80, 0.82, 0.85}}, {"steel", {0.55, 0.57, 0.60}}, {"stainless", {0.70, 0.72, 0.74}},
    {"cast iron", {0.36, 0.37, 0.39}}, {"brass", {0.78, 0.65, 0.33}}, {"plastic", {0.90, 0.88, 0.80}},
};

}  // namespace

std::array<double, 3> paint_of(std::string_view family) {
    for (const Paint& paint : paints) {
        if (family == paint.family) return paint.srgb;
    }
    return {0.70, 0.70, 0.70};
}

}  // namespace fitup::exchange
