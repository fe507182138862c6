#include "exchange/chains.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace fitup::exchange {

namespace {

constexpr std::uint32_t none = mesh::no_twin;
/// A facet of a round wall has two folds along it and few others; a face of the part may have any number.
constexpr std::size_t most_folds = 8;
constexpr double least_doubt_rad = 1e-6;
constexpr double most_doubt_rad = 0.02;

class Linker {
  public:
    explicit Linker(const Facets& facets) : facets_(facets), links_(facets.folds().size(), {none, none}) {
        for (std::uint32_t facet = 0; facet < facets.count(); ++facet) link_folds_of(facet);
    }

    std::vector<Chain> chains() {
        std::vector<Chain> found;
        seen_.assign(links_.size(), false);
        for (std::uint32_t fold = 0; fold < links_.size(); ++fold) {
            if (!seen_[fold]) found.push_back(chain_through(fold));
        }
        return found;
    }

  private:
    bool are_parallel(const Fold& a, const Fold& b) const {
        const double doubt =
            2.0 * facets_.rounding_mm() * (1.0 / a.length_mm + 1.0 / b.length_mm) + least_doubt_rad;
        return length(cross(a.direction, b.direction)) < std::min(doubt, most_doubt_rad);
    }

    /// The one other fold of the facet that is parallel to this; none when there are more.
    std::uint32_t partner_in(const Facet& facet, std::uint32_t fold) const {
        std::uint32_t partner = none;
        for (const std::uint32_t other : facet.folds) {
            if (other == fold || !are_parallel(facets_.folds()[fold], facets_.folds()[other])) continue;
            if (partner != none) return none;
            partner = other;
        }
        return partner;
    }

    std::uint32_t& link(std::uint32_t fold, std::uint32_t facet) {
        return links_[fold][facets_.folds()[fold].first_facet == facet ? 0 : 1];
    }

    void link_folds_of(std::uint32_t number) {
        const Facet facet = facets_[number];
        if (facet.folds.size() > most_folds) return;
        for (const std::uint32_t fold : facet.folds) {
            const std::uint32_t partner = partner_in(facet, fold);
            if (partner != none && partner_in(facet, partner) == fold) link(fold, number) = partner;
        }
    }

    /// Goes from a fold across one of its facets as far as links lead; back at the start for a ring.
    /// @returns the facet beyond the last fold
    std::uint32_t follow(std::uint32_t start, std::uint32_t facet, std::vector<std::uint32_t>& folds,
                         std::vector<std::uint32_t>& crossed) {
        for (std::uint32_t fold = start;;) {
            const std::uint32_t next = link(fold, facet);
            if (next == none) return facet;
            crossed.push_back(facet);
            if (next == start || seen_[next]) return none;
            seen_[next] = true;
            folds.push_back(next);
            facet = facets_.folds()[next].other_facet(facet);
            fold = next;
        }
    }

    Chain chain_through(std::uint32_t start) {
        Chain chain;
        seen_[start] = true;
        const Fold& fold = facets_.folds()[start];
        std::vector<std::uint32_t> folds, crossed;
        chain.facet_before = follow(start, fold.first_facet, folds, crossed);
        chain.is_ring = chain.facet_before == none;
        chain.folds.assign(folds.rbegin(), folds.rend());
        chain.folds.push_back(start);
        chain.facets.assign(crossed.rbegin(), crossed.rend());
        if (chain.is_ring)
            std::rotate(chain.facets.begin(), chain.facets.begin() + 1, chain.facets.end());
        else
            chain.facet_after = follow(start, fold.second_facet, chain.folds, chain.facets);
        return chain;
    }

    const Facets& facets_;
    std::vector<std::array<std::uint32_t, 2>> links_;
    std::vector<bool> seen_;
};

}  // namespace

std::vector<Chain> chains_of(const Facets& facets) { return Linker(facets).chains(); }

}  // namespace fitup::exchange
