#include "calculations/chance.hpp"

#include <cmath>

#include "base/text.hpp"

namespace fitup::calculations {

namespace {

constexpr int most_terms = 10'000;
constexpr double relative = 1e-15;

/// x^a e^-x / Gamma(a)
double common_factor(double a, double x) { return std::exp(a * std::log(x) - x - std::lgamma(a)); }

/// P(a, x) as its power series; converges fast for x < a + 1.
double lower_by_series(double a, double x) {
    double term = 1.0 / a, sum = term;
    for (int n = 1; n < most_terms && term > sum * relative; ++n) {
        term *= x / (a + n);
        sum += term;
    }
    return sum * common_factor(a, x);
}

/// Q(a, x) as Legendre's continued fraction by Lentz's method; for x >= a + 1.
double upper_by_fraction(double a, double x) {
    constexpr double tiny = 1e-300;
    double b = x + 1.0 - a, c = 1.0 / tiny, d = 1.0 / b, product = d;
    for (int n = 1; n < most_terms; ++n) {
        const double an = -n * (n - a);
        b += 2.0;
        d = an * d + b;
        c = b + an / c;
        if (std::abs(d) < tiny) d = tiny;
        if (std::abs(c) < tiny) c = tiny;
        d = 1.0 / d;
        product *= d * c;
        if (std::abs(d * c - 1.0) < relative) break;
    }
    return product * common_factor(a, x);
}

/// Two leading digits are all that odds are worth.
double rounded(double value) {
    const double unit = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
    return unit < 1.0 ? std::round(value) : std::round(value / unit) * unit;
}

}  // namespace

double chi_square_tail(double value, int degrees_of_freedom) {
    if (degrees_of_freedom <= 0 || !(value > 0.0)) return 1.0;
    const double a = degrees_of_freedom / 2.0, x = value / 2.0;
    return x < a + 1.0 ? 1.0 - lower_by_series(a, x) : upper_by_fraction(a, x);
}

std::string once_in(double chance) {
    if (chance < 1e-6) return "once in more than a million";
    return "once in " + short_text(rounded(1.0 / chance), 0);
}

}  // namespace fitup::calculations
