// Whether a rod runs into itself, by halving the centreline until pieces are apart or touching.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/vector3.hpp"
#include "plan/rod_path.hpp"

namespace fitup::plan {

namespace {

/// A piece of the centreline, as distances along it.
struct Piece {
    double from_mm = 0.0;
    double to_mm = 0.0;
    double middle_mm() const { return (from_mm + to_mm) / 2.0; }
    double half_mm() const { return (to_mm - from_mm) / 2.0; }
    Piece first() const { return {from_mm, middle_mm()}; }
    Piece second() const { return {middle_mm(), to_mm}; }
};

class Search {
  public:
    Search(const Rod& rod, const RodPath& path)
        : path_(path),
          near_mm_(rod.diameter_mm),
          fine_mm_(rod.diameter_mm * 1e-3),
          neighbours_mm_(std::numbers::pi * rod.bend_radius_mm) {}

    /// The first contact found between two pieces, the first one not after the second.
    std::optional<RodContact> between(const Piece& a, const Piece& b) const {
        if (b.to_mm - a.from_mm <= neighbours_mm_) return {};
        const Vector one = path_.place_at(a.middle_mm()).at, other = path_.place_at(b.middle_mm()).at;
        const double apart_mm = length(other - one);
        const double slack_mm = a.half_mm() + b.half_mm();
        if (apart_mm - slack_mm >= near_mm_) return {};
        const bool are_strangers = b.middle_mm() - a.middle_mm() > neighbours_mm_;
        if (are_strangers && (apart_mm < near_mm_ || slack_mm < fine_mm_))
            return RodContact{apart_mm, (one + other) * 0.5, a.middle_mm(), b.middle_mm()};
        if (slack_mm < fine_mm_) return {};
        return halved(a, b);
    }

  private:
    std::optional<RodContact> halved(const Piece& a, const Piece& b) const {
        if (a.from_mm == b.from_mm && a.to_mm == b.to_mm) {
            if (const auto found = between(a.first(), a.first())) return found;
            if (const auto found = between(a.second(), a.second())) return found;
            return between(a.first(), a.second());
        }
        const bool split_a = a.half_mm() > b.half_mm();
        const Piece& whole = split_a ? b : a;
        const Piece& split = split_a ? a : b;
        for (const Piece& half : {split.first(), split.second()}) {
            if (const auto found = split_a ? between(half, whole) : between(whole, half)) return found;
        }
        return {};
    }

    const RodPath& path_;
    double near_mm_;
    double fine_mm_;
    double neighbours_mm_;
};

}  // namespace

std::optional<RodContact> rod_contact(const Rod& rod, const RodPath& path) {
    if (path.bends.empty()) return {};
    const Piece whole{0.0, path.length_mm};
    return Search(rod, path).between(whole, whole);
}

}  // namespace fitup::plan
